"""The job sheet: one page to build from, on a tablet or on paper.

``job_sheet``    ``job_sheet`` and the file it is written to
``needs``        what to have on the bench
``tasks``        one line with a box for each step, or for a few steps that are one movement
``tables``       cells of the plain tables
``wires``        patch of colour, code, size of every wire
``cards``        tasks that belong together, in the plan's order, with the wires they touch
``job.html.j2``  the page; ``cards.html.j2`` its cards; ``light.js`` lights a wire everywhere
"""
