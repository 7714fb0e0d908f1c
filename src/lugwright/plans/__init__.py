"""The answer: what was decided, how the search ended, and the plan itself.

``choice``    the bare decisions (hub, jumpers, fittings)
``free_ends`` a choice told by its leads, where their ends were chosen
``outcome``   how a search ends, in our own words
``progress``  what is known while it runs
``schema``    the plan as it stands in ``plan.json``; ``panel`` the panel in it
``record``    the base of every part of a plan
``whole``     whether a plan hangs together
"""
