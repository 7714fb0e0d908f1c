"""An overview: facts, tables and bars about many plans at once, as text, workbook and page.

``content``           what an overview is made of
``text``              on the terminal
``book``              as a workbook
``bars``              one number per line, drawn
``page``              as a self-contained HTML page (``overview.html.j2``)

It belongs to no one plan, so it carries no digest of one; what it says of limits and stock is in
its facts.
"""
