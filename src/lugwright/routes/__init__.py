"""Where wires run, how long they are, and where a splice may hang.

From the last made to the first needed:

``build``          the routes of a console; start here
``schema``         paths, ways (paths without their corners) and splice points
``splice_points``  the candidate splice points; ``meeting_point`` of three posts
``finder``         which paths go direct and which over the loom
``loom``           paths over the tie points
``visibility``     paths over the open back: straight, else round what is in the way
``sight``          the visibility graph of one layer of obstacles
``many_ways``      shortest ways through it from many joints at once; ``shortest`` from one
``many_lines``     what cuts through outlines, many lines at once
``obstacles``      what is in the way of a leg, and how a crowded joint leaves
``nuts``           how far a nut and its driver reach, and what comes too near
``geometry``       outlines and what cuts through them, exactly; ``arrays`` of whole numbers
``free_ends``      where the free ends of leads with a length may go
``errors``         what is raised on purpose
"""
