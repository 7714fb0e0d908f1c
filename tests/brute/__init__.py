"""A second, plain solver for small consoles: it tries everything there is to try.

``enumerate``       the least cost of a small console, over everything that can be chosen
``search``          one choice per supply, put together in cost order
``circuits``        every way to wire one circuit, judged as far as it stands alone
``trees``           every labelled tree, with its degrees held
``joints``          every way to crimp and stack the wire ends of one joint
``setting``         the console looked up: nodes, currents, wires, lengths
``given``           what is not chosen: arriving wires, pigtails, leads, their own checks
``straight_routes`` paths without obstacles, and candidate splice points
``random_consoles`` small random consoles; ``loosen`` takes one rule away; ``binding`` counts
"""
