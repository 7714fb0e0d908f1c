"""Measuring sheets: where to hold the callipers, and boxes to write in what they say.

``fields``           what is asked for: keys of a scenario's pattern, what each means and its datum
``dials``            the distinct dials of a panel, and what is known of them so far
``boxes``            rows of boxes to write in
``pictures``         a dial from the back, posts numbered, and from the side, with heights
``measuring_sheet``  ``measuring-sheet.pdf``, with and without a panel

Every box is headed by the key under which the measure is written into a scenario.
"""
