"""Readings: what a meter should show on a sound panel, and which joint is bad when it does not.

``schema``       one line of the test sheet, and the sheet
``procedure``    the proving procedure: its parts in order, and its steps
``lines``        the lines of the test sheet, in the order of work
``fuses``        ratings; what each fuse, device and key feeds and turns off
``settings``     how the devices stand for a line, what is closed and live then
``contacts``     the ways of devices on ohms; ``live_table`` what is live in each position
``feeds``        which posts, loads and fuses belong to which supply
``first_power``  first power through a lamp
``signals``      signal circuits: apart from their feed, and what follows a sender
``rest``         feed to ground on ohms; ``touch`` where the tips of a meter go
``wiring``       the plan as metal: every wire, crimp, lug, stack, push-on and what they join
``bands``        pass bands, computed exactly, with where every tolerance comes from; ``words``
``read_csv``     readings typed into the sheet's CSV
``judge``        verdict per line
``network``      what every reading would be with one joint open or resistive
``diagnose``     the joints that explain the readings, and what to measure next; ``agree``
"""
