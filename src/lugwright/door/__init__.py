"""The door for engineers: a few functions and what they return, for scripts and notebooks.

``calls``    read, plan, check, hubs, write: what ``import lugwright`` offers, and the commands use
``answer``   how a question ended: status, cost, bound, gap, reasons, and the plan
``view``     a plan that shows itself: tables, wiring as a graph, drawing in a notebook
``tables``   every table of a plan as a pandas frame, figures as numbers
``graph``    a plan's wiring as a networkx multigraph
``side_by_side``  hubs compared, as a table

Nothing here decides anything. Only bad input raises (``BadInput``); how a search ends is a value.
"""
