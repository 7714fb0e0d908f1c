"""Paper in PDF: what is printed at 1:1, and the frame every printed sheet stands in.

For every printed sheet
-----------------------
``fonts``           the two shipped faces, registered once
``lettering``       text measured, shortened or wrapped so that it stays in its box
``frame``           a sheet: pages with title, side, rule set, digest, page n of m
``flow``            words, tables and drawings one under another over pages
``cautions``        cautions and waivers, never cut short

At 1:1
------
``tiling``          a drawing cut into pages that are put together again
``rulers``          rulers, register crosses, the key map of the pages
``plate``           the plate's outline, and the mark that tells front from back
``boxes``           places for letters
``reduced``         a drawing made smaller where it is larger than the page
``holes``           the plate from the front: the one place where paper turns the panel round
``drill_template``  the sheet ``drill``; ``drill_overview`` its first page
``pegs``            what to drill on the build board
``board_words``     what is written on it; ``board_places``, ``board_labels`` where it stands
``board_drawing``   all of it as ink
``build_board``     the sheet ``board``
"""
