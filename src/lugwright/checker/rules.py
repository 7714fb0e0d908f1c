"""The rules of the second opinion: a closed list of short names, one line of meaning each."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

RULES: Mapping[str, str] = MappingProxyType(
    {
        # what the plan is about
        "inputs": "the plan was made from these inputs and under these limits",
        "printed": "what the plan prints follows from its inputs and its own decisions",
        "hold": "the plan keeps what is held, and says so",
        "waiver": "the plan states the scenario's waivers, all of them and no other",
        "panel": "the panel the plan repeats for its drawings is that of the scenario",
        "names": "every name in the plan is a thing of the console, the stock or the plan",
        "labels": "wires are labelled once, and numbered 1 to n in their circuit",
        "wire ends": "every wire end is in one barrel or one ready-made lug, at its own joint",
        # hub and trees
        "hub": "all supplies land on one hub, and the instrument may be one",
        "landing": "a supply lands on a stud or tab of its circuit and its pigtail ends there",
        "missing post": "every post that the circuit must reach is reached",
        "cycle": "a circuit is a tree: no wire closes a ring",
        "direction": "a jumper's end a is the one nearer the supply",
        "foreign post": "a circuit's wire touches only posts of its circuit",
        "signal post": "a post fed by a sender never sees a feed",
        "take-off": "a taken circuit is taken off where and as often as the limit says",
        "bypass": "no wire passes round a way, joins two feeds, or meets a stop circuit",
        "live": "the live table says what is live in each state",
        "way": "a way carries no more than its contact and its near post may",
        "splice": "a splice is allowed, joins enough ends and not too many, hangs at its height",
        # lengths
        "run": "a wire's corners start and end on its joints, and turn at the right height",
        "loom": "a wire runs over tie points, along the stated links",
        "obstacle": "a wire keeps clear of what stands higher than both ends of its leg",
        "path length": "the path is the sum of its legs",
        "cut length": "the cut length follows from the path, slack, allowance and cut step",
        "splice distance": "a splice is far enough from every post it is joined to",
        "reach": "a supply or boat wire reaches its post, or is extended by what is short",
        # electricity
        "current": "stated currents are those of the network",
        "resistance": "stated resistances are those of the wire",
        "drop": "the drop to every load is as stated and within its limit",
        "ground shift": "sender and dial see the same ground, within the limit",
        "ampacity": "no wire carries more than its size and bundle allow",
        "fuse": "a fuse protects the thinnest wire behind it",
        "fuse load": "a fuse carries no more than its share of load",
        "fuse distance": "a fuse sits near enough to the source",
        "current limit": "no post or fitting carries more than its own limit",
        "minimum size": "no wire is cut thinner than the limit",
        "one size": "a circuit is wired in one size where the limit says so",
        "colour": "a wire has its circuit's colour",
        "spool": "a wire is cut from a spool in stock",
        # barrels
        "barrel": "a fitting has its own number of barrels, with wire in each",
        "barrel area": "the summed strand area lies in the barrel's range, and is printed right",
        "barrel sleeve": "the summed insulation fits the barrel's sleeve",
        "barrel count": "a barrel or splice holds no more wires than allowed",
        "barrel mix": "only wires of one circuit and one block in time share a barrel",
        "size ratio": "wires in a barrel are not too unlike in size",
        "fold": "only a lone wire is folded back, where that is allowed",
        "fitting kind": "the kind of fitting is allowed there, and is described as in stock",
        "fitting fit": "a ring or spade fits the thread, a push-on fits the tab",
        "strip length": "the stripped length is the barrel's with its clearance",
        # studs
        "lug count": "no more lugs or conductors on a stud than allowed",
        "thread": "the stack leaves enough thread",
        "room": "the barrels have room round the stud",
        "stack": "a stack lists the lugs that are on the stud, as they are",
        "stack order": "lugs lie by current, the highest at the base",
        "nut": "a nut that waits for something aboard is left loose",
        "washer": "a lock washer where the limit says so",
        "boot": "a live stud gets a boot",
        "one push-on": "a tab takes exactly one push-on, a lead exactly one joint",
        # sums
        "totals": "the totals are the sums over the plan",
        "cost": "the stated cost is the plan's cost",
        "proof": "a plan is proved best only when cost and bound are equal",
        "buy list": "the buy list covers what the plan needs, in whole packs",
        "ties": "every tie point in use is tied, and long runs are held in between",
        "caps": "every unused pigtail is capped, live ones first",
        "production run": "a production run adds up: pieces, packs, spools, minutes and money",
        # steps played on a virtual panel
        "step order": "a step needs what an earlier one made",
        "step stage": "nothing aboard is touched early, nothing is left for later",
        "step nut": "nothing goes under a nut that is on, each nut is run down once a stage",
        "step end": "what stands at the end is the plan",
        "test lines": "the tests at key-on are those of the test sheet, with its numbers",
    }
)
