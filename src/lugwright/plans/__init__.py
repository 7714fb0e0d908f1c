"""The answer: what was decided, how the search ended, and the plan itself.

``choice``   the bare decisions (hub, jumpers, fittings)
``outcome``  how a search ends, in our own words
``schema``   the plan as it stands in ``plan.json``
"""
