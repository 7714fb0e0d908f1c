"""Rules of the trade that several rooms ask, each said once.

``RULES``      every counting rule by number: its words, where posed, checked and tried
``names``      wires, joints, pigtails, leads, splices, labels of wire ends: how each is called
``demand``     what each post draws or returns, and each circuit's total, worst case
``barrels``    which wire ends one crimp barrel takes, as they are or folded back
``threads``    thread taken and left on a stud
``fuses``      which fuse stands before a wire, and how large the smallest conductor lets it be
``lengths``    from a path to a cut piece: slack, rounding up to the cut step, reach
``money``      what wire and labour cost, each rounded up
``objective``  what is compared, level by level, and how a plan names it

The rooms that judge a plan say every rule for themselves and see nothing of this room: the
second opinion stays a second one.
"""
