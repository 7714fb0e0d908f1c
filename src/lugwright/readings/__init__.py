"""Readings: what a meter should show on a sound panel, and which joint is bad when it does not.

``wiring``     the plan as metal: every wire, crimp, lug, stack, push-on and what they join
``bands``      pass bands, computed exactly, with where every tolerance comes from
``lines``      the lines of the test sheet, in the order of work
``read_csv``   readings typed into the sheet's CSV
``judge``      verdict per line
``network``    what every reading would be with one joint open or resistive
``diagnose``   the joints that explain the readings, and what to measure next
"""
