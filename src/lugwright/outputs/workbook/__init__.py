"""The workbook: every table of a plan in one file that a spreadsheet opens.

=================  ==============================================================================
module             what it does
=================  ==============================================================================
``columns``        what stands over a column and how its cells are kept: as numbers or as text
``book``           an empty workbook with its styles; one table to one worksheet, ready to print
``front``          the first worksheet: title, verdict, totals, cautions, waivers, what is inside
``plan_workbook``  the sheet ``workbook``: ``workbook.xlsx`` of a plan
=================  ==============================================================================

Nothing of the user's can run: text is written as text, never as a formula or a link.
"""
