"""Joints drawn one by one: every stud in section, every tab, lead, splice and extension butt.

``views``         the doors: ``stack_view``, ``tab_view``, ``joint_view``; ``JointViews`` for many
``book``          what a plan says of each joint, found once
``stud``          a stud in section, base to nut; ``layers`` what lies on it
``mid_air``       a push-on on its tab, and fittings in mid-air
``barrel``        a barrel with its wires leading to their names; shared by all of them
``clock``         where each barrel points, on a clock face seen from the back
``sketch``        lines, boxes and measured text of one drawing
``stacks_sheet``  the page ``stacks.html``

Drawings are schematic (not to scale), 340 units wide, so that two stand side by side on paper.
"""
