"""Rules of the trade that several rooms ask, each said once.

``names``   wires, joints, pigtails, leads, splices and wire ends: how each is called

The rooms that judge a plan say every rule for themselves and see nothing of this room: the
second opinion stays a second one.
"""
