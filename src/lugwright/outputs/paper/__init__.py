"""Paper in PDF: what is printed at 1:1, and the frame every printed sheet stands in.

``fonts``      the two shipped faces, registered once
``lettering``  text measured, shortened or wrapped so that it stays in its box
``frame``      a sheet: pages with title, side, rule set, digest, cautions, page n of m
"""
