"""What is asked, as variables and rows.

``pose``          an ask as a model, started from a known answer, and read; start here
``ask``           what is put to the solver in one go, and what comes back
``trials``        how a problem falls into trials, and a trial into parts
``objective``     what is minimised, as levels and as one integer
``variables``     the decisions by the names of the trade
``trees``         one way into every node, and directed cuts of what is not joined
``leaves``        trees must have ends enough for the drop limits
``joints``        ends grouped into fittings
``wire_ends``     how many ends can meet at a joint, and the ways to take them
``stud_room``     places, thread and room round a stud
``lug_currents``  which wire goes into which lug, and what each carries
``electrics``     currents, ampacity, drop and bundles
``reach``         what drop and current a jumper can have, known before any search
``costs``         wire, stacked lugs, fittings, money as sums
``rework``        what of a harness that is built is kept, moved, taken out
"""
