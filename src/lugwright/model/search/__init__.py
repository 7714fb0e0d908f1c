"""Best-first search over hubs.

``best_first``   a search put together, run, and read; start here
``loop``         open trials taken lowest bound first, and why the last word is true
``open_trials``  the queue of trials by bound
``incumbent``    the best plan so far, and what it takes to become it
``parts``        the part solver: each part bounded and solved once
``coupled``      trials whose circuits do not stand side by side, asked together
``coupling``     which circuits electrical rules couple
``first_plan``   a plan within seconds on a large console; proves nothing
``equal_plans``  which of equal plans it is; the lot itself: ``solving``
``telling``      progress told to a listener
``found``        a trial under search, a best plan, what a search ends with
``speed``        the short ways, each to be switched off
"""
