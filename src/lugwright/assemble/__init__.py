"""A bare choice worked up into the whole plan, and choices made without a search.

``build``                 from an outcome's choice to the plan; start here
``stated``                what a plan states of its limits and files
``working_order``         the orders a plan is told in
``currents``              demands of posts, currents in jumpers, totals of circuits
``ends``                  every wire that ends behind the panel, and what a barrel must know of it
``barrels``               whether a fitting takes given wire ends
``wires``                 the cut list: labels, paths, lengths, resistance, strip
``part_numbers``          numbers of cut wires, the same for the same part in a family
``crimps``                the crimp list
``stacks``                lugs on each stud from base to nut; ``clocks`` how each is turned
``drops``                 drop to each load; ``way_rows`` what each way carries
``caps``, ``cable_ties``  unused pigtails; ties and supports
``worked_up``             all of that together, as the steps are written from it
``panel``                 the console as a plan repeats it, so that paper needs nothing else
``steps``                 the working order; ``phrases`` its sentences; those at key-on come from
                          ``readings``
``totals``, ``buy``       sums; whole spools and packs
``cautions``              what every sheet says
``grouping``              wire ends put into barrels as a rigger does it
``hand_plan``             the plan a rigger makes by eye
``jumper_list``           a written list of a panel that is already built; ``written_lengths`` the
                          lengths in it by label
"""
