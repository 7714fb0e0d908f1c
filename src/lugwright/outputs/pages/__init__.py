"""Pages: one frame for every sheet that is a self-contained HTML file.

``render``          ``render_page``: a template of a sheet, inside the frame, to text
``compiled``        templates kept compiled
``inline``          drawings and texts made fit to stand inside a page
``base.html.j2``    the frame: cautions, rule set, waivers, digest, print and screen styles
``parts.html.j2``   tables, boxes to tick, wire swatches, drawings
``keep.js``         keeps ticks and typed values in the browser, where it can

A sheet's own template lies beside its module, extends ``pages/base.html.j2`` and is named by its
path under ``outputs``: ``job/job.html.j2``.
"""
