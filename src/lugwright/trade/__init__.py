"""Rules of the trade that several rooms ask, each said once.

``RULES``      every counting rule by number: its words, where posed, checked and tried
``names``      wires, joints, pigtails, leads, splices and wire ends: how each is called
``states``     load states: which loads may be on together, by the positions of devices
``demand``     what each post draws or returns, and each circuit's total, worst case
``ratings``    what passes through each way, and what it is judged by
``live``       what is live with devices in which position, the live table
``barrels``    which wire ends one crimp barrel takes, as they are or folded back
``threads``    thread taken and left on a stud
``fuses``      which fuse stands before a wire, and how large it may be over a conductor
``lengths``    from a path to a cut piece: slack, cut step, reach
``money``      what wire and labour cost, rounded up
``objective``  what is compared, level by level, and how a plan names it

The rooms that judge a plan say every rule for themselves and see nothing of this room: the
second opinion stays a second one.
"""
