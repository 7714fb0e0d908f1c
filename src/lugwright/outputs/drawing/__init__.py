"""Drawings: lines on white, in millimetres, one source of geometry for all of them.

Doors
-----
``panel``          ``drawn_panel(scene)``, ``panel_view``: the full rear view
``step``           ``step_view(scene, wires=..., joints=...)``: what one step is about
``small``          ``small_view(scene)``, ``small_blank(panel, title)``: plans side by side
``blank``          ``blank_view(panel, title)``: the rear view before planning
``rear_view``      the sheet ``rear-view.svg``
``paint``          ``paint_of(colour)``: what each published wire colour looks like

All give a ``Drawing``, which writes itself as a file or, with looks that a page shares, into a page
(``outputs/looks.py``). Every wire's group carries
``data-wire`` (a jumper's label, or ``Given.wire``), every post's ``data-post``, so that a page can
light them up and a test can read the facts back.

Behind them
-----------
``frame``          points, boxes; from 0.1 mm seen from the back to mm with y down
``runs``           every wire along its path, where it begins and ends
``lanes``          which stretches wires share, and in which lane each lies
``passing_posts``  how wires go round the posts they only pass
``lines``          the line each wire is drawn along
``scene``          a plan laid out: places, entries, wires, lines
``letters``        how wide a text is
``crowd``          what already stands on the sheet
``placing``        a place for every label
``labels``         which words are wanted, and where they may stand
``tags``           the tags of wires
``given_labels``   the same for what comes from outside
``pen``            strokes, letters, groups
``svg``            a finished ``Drawing``: the only file that knows the SVG library
``parts``          bodies, posts, joints, keep-outs, scale bar
``layers``         all of them in the order in which they lie
``label_marks``    labels as they are drawn
``details``        what is too crowded, drawn again, larger; ``detail_marks``: how it is drawn
``captions``       title and side, legend

Everything is seen from the back, x to the right and y down from the plate's upper edge.
"""
