"""Questions that are many at once.

``family``         variants of a console that share a hub and as many jumpers as pays
``family_model``   a circuit of every variant in one model
``frontier``       every plan that no other beats in two things at once
``frontier_drop``  the same against the worst drop
``trade``          which two things are set against each other
"""
