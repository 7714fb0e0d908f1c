"""A second, plain solver for small consoles: it tries everything there is to try.

``enumerate``        the least cost of a small console, over everything that can be chosen
``search``           one way for each supply, put together in the order of cost
``circuits``         every way to wire one circuit, judged as far as it stands alone
``trees``            every labelled tree, with its degrees held
``parts``            the pieces that a way to wire a circuit is made of
``supplies``         what a pigtail or a way brings to the posts it lands on
``straps``           metal across instruments: what is one node, and what flows through it
``grounds``          two ground pigtails of one circuit: each alone carries everything
``leads``            leads with a length: where their free ends may be brought
``statements``       what a case says beyond its console
``joints``           every way to crimp and stack the wire ends of one joint
``judged``           drops and ground shift, which reach over several circuits
``given``            what is not chosen: boat wires, and the checks of given wires
``hubs``             every choice of where the supplies land
``states``           what may be on together, position by position
``sections``         the fuse over each circuit, and what a way carries
``setting``          the console looked up: nodes, currents, wires, lengths
``tally``            the counted quantities, and how the objective compares them
``straight_routes``  paths without obstacles, and candidate splice points
``case``             one question; ``random_consoles`` draws them (``random_parts``: instruments,
                     ``random_stock``: stock and limits)
``loosen``           a case with one rule taken away; ``binding`` counts how often that matters
``linked_far_posts``  the same with a stud linked to each far post
``random_signals``   small consoles with shared senders, and with one or two harnesses
``random_statements``  a random case with a strap, with joined grounds, with leads of a length
``random_ways``      small consoles with devices (``random_devices``), and ``binding_ways``
``by_hand``          tiny consoles written out, for tests that reckon every number
"""
