"""Drawings: lines on white, in millimetres, one source of geometry for all of them.

``paint``   what each published wire colour looks like: fill, stripe, border

Everything is seen from the back, x to the right and y down from the plate's upper edge.
"""
