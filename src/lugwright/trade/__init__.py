"""Rules of the trade that several rooms ask, each said once.

``RULES``      every counting rule by number: its words, where posed, checked and tried
``names``      wires, joints, pigtails, leads, splices, labels of wire ends: how each is called
``states``     load states: which loads may be on together, by the positions of devices
``demand``     what each post draws or returns, and each circuit's total, worst case
``currents``   what each jumper of a tree carries
``ratings``    what passes through each way, and what it is judged by
``live``       what is live with devices in which position, the live table
``barrels``    which wire ends one crimp barrel takes, as they are or folded back
``fittings``   which fittings go on a post, and how many wire ends they may hold there
``hubs``       which circuits have no hub
``threads``    thread taken and left on a stud
``studs``      what is counted on a stud, and room all round it
``wire_sizes`` the least size of a circuit, and what lengthens a boat wire
``given_wires`` what a supplied wire may carry, and the fuse its maker allows
``fuses``      which fuse stands before a wire, and how large the smallest conductor lets it be
``drops``      the drop a load may have, and the resistance of wire that drops it
``lengths``    from a path to a cut piece: slack, rounding up to the cut step, reach
``money``      what wire and labour cost, each rounded up
``straps``     what flows in a strap and drops in its contacts
``objective``  what is compared, level by level: quantities, weights, and how a plan names them

The rooms that judge a plan say every rule for themselves and see nothing of this room: the
second opinion stays a second one.
"""
