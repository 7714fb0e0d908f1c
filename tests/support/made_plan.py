"""A small plan written by hand: three dials, two circuits and lamps, with one of everything.

It has an extension with its butt, a splice, a ready-made ring, a folded wire, a tab, a stud that
stays open for a sender's wire, caps, ties and a changed limit. Its numbers are plausible but are
nobody's answer: outputs only repeat what a plan says.
"""

from __future__ import annotations

from lugwright.plans import schema as p
from lugwright.plans.panel import Panel

_COLOURS = {"ignition": ("purple", "PU"), "ground": ("black", "B"), "lamps": ("dark blue", "DU")}


def jumper(label: str, a: str, b: str, length_dmm: int, role: str = "jumper") -> p.Jumper:
    """One piece of wire of the circuit its label names, 16 AWG, carrying 1.5 A."""
    circuit, number = label.rsplit(" ", 1)
    colour, code = _COLOURS[circuit]
    return p.Jumper.model_validate(
        {
            "label": label,
            "circuit": circuit,
            "number": int(number),
            "role": role,
            "stage": "bench",
            "from_joint": a,
            "to_joint": b,
            "path": (p.Waypoint(x_dmm=0, y_dmm=0, z_dmm=300),),
            "path_dmm": length_dmm - 300,
            "length_dmm": length_dmm,
            "wire_size": "16 AWG",
            "colour": colour,
            "colour_code": code,
            "spool": f"16 AWG {colour}",
            "current_ma": 1500,
            "resistance_uohm": 14000,
            "strip_a_dmm": 75,
            "strip_b_dmm": 80,
        }
    )


def ends(*texts: str) -> tuple[p.EndRef, ...]:
    """Wire ends from words: ``ground 1-a``, or a given wire's name alone."""
    refs = []
    for text in texts:
        wire, _, end = text.rpartition("-")
        cut = end in ("a", "b")
        refs.append(
            p.EndRef.model_validate({"wire": wire if cut else text, "end": end if cut else "a"})
        )
    return tuple(refs)


def crimp(
    number: int,
    kind: str,
    joint: str,
    *barrels: tuple[p.EndRef, ...],
    folded: bool = False,
    stage: str = "bench",
) -> p.Crimp:
    """A blue fitting whose barrels take 1.040 to 2.630 mm²; each wire end fills 1.310 mm²."""
    return p.Crimp.model_validate(
        {
            "number": number,
            "item": f"{kind} blue",
            "kind": kind,
            "colour": "blue",
            "die": "blue nest",
            "joint": joint,
            "stage": stage,
            "barrels": barrels,
            "folded": folded,
            "area_um2": tuple(1_310_000 * (2 if folded else len(barrel)) for barrel in barrels),
            "area_min_um2": tuple(1_040_000 for _ in barrels),
            "area_max_um2": tuple(
                2_630_000 if kind != "closed end" else 4_000_000 for _ in barrels
            ),
            "current_ma": 1500,
        }
    )


def lug(number: int, circuit: str, *, ready: str = "", stage: str = "bench") -> p.StackedLug:
    """A lug with a tongue of 0.8 mm at clock 3."""
    return p.StackedLug.model_validate(
        {
            "crimp": number,
            "ready": ready,
            "circuit": circuit,
            "stage": stage,
            "current_ma": 1500,
            "tongue_dmm": 8,
            "conductors": 1,
            "clock": 3,
        }
    )


def stack(post: str, *lugs: p.StackedLug, free_dmm: int = 95, reserved: int = 0) -> p.Stack:
    """A stack of those lugs; its nut is loose at the bench when one of them comes aboard."""
    bench = sum(1 for one in lugs if one.stage == "bench")
    return p.Stack(
        post=post,
        thread="M4",
        driver="7 mm nut driver",
        lugs=lugs,
        reserved=reserved,
        lock_washer=True,
        used_dmm=50 + 8 * len(lugs),
        free_dmm=free_dmm,
        bench_lugs=bench,
        nut_at_bench="snug" if bench == len(lugs) else "loose",
        boot=post == "depth.ignition",
    )


JUMPERS = (
    jumper("ignition 1", "join pigtail ignition", "depth.ignition", 2500, "extension"),
    jumper("ignition 2", "depth.ignition", "ignition splice 1", 1235),
    jumper("ignition 3", "ignition splice 1", "fuel.ignition", 1500),
    jumper("ignition 4", "ignition splice 1", "revs.ignition", 1750),
    jumper("ground 1", "depth.ground", "fuel.ground", 2050),
    jumper("ground 2", "depth.ground", "revs.ground", 1900),
    jumper("lamps 1", "depth.ignition", "depth.lamp", 1000),
    jumper("lamps 2", "depth.lamp", "fuel.lamp", 2100),
)

CRIMPS = (
    crimp(1, "ring", "depth.ignition", ends("ignition 1-b", "ignition 2-a")),
    crimp(2, "ring", "depth.ignition", ends("lamps 1-a")),
    crimp(3, "butt", "join pigtail ignition", ends("pigtail ignition"), ends("ignition 1-a")),
    crimp(
        4,
        "closed end",
        "ignition splice 1",
        ends("ignition 2-b", "ignition 3-a", "ignition 4-a"),
    ),
    crimp(5, "ring", "fuel.ignition", ends("ignition 3-b"), folded=True),
    crimp(6, "push-on", "revs.ignition", ends("ignition 4-b")),
    crimp(7, "ring", "depth.ground", ends("ground 1-a", "ground 2-a")),
    crimp(8, "ring", "fuel.ground", ends("ground 1-b")),
    crimp(9, "captive spade", "fuel.ground", ends("fuel sender: black"), stage="aboard"),
    crimp(10, "ring", "revs.ground", ends("ground 2-b")),
    crimp(11, "ring", "depth.lamp", ends("lamps 1-b", "lamps 2-a")),
    crimp(12, "push-on", "fuel.lamp", ends("lamps 2-b")),
)

STACKS = (
    stack("depth.ignition", lug(1, "ignition"), lug(2, "lamps")),
    stack("depth.ground", lug(0, "ground", ready="pigtail ground"), lug(7, "ground"), reserved=1),
    stack("depth.lamp", lug(11, "lamps")),
    stack("fuel.ignition", lug(5, "ignition")),
    stack("fuel.ground", lug(8, "ground"), lug(9, "ground", stage="aboard"), free_dmm=70),
    stack("revs.ground", lug(10, "ground")),
)


def _step(number: int, stage: str, verb: str, target: str, *parts: str, text: str = "") -> p.Step:
    """One step; without ``text`` the outputs find the words."""
    return p.Step.model_validate(
        {
            "number": number,
            "stage": stage,
            "verb": verb,
            "target": target,
            "parts": parts,
            "text": text,
        }
    )


STEPS = (
    _step(1, "bench", "cap", "trim sender", "cap blue"),
    _step(2, "bench", "cut", "ignition 2"),
    _step(3, "bench", "crimp", "5", "ignition 3-b"),
    _step(4, "bench", "land", "depth.ignition", "1"),
    _step(5, "bench", "land", "depth.ground", "ready pigtail ground"),
    _step(6, "bench", "push on", "revs.ignition", "6"),
    _step(7, "bench", "washer", "depth.ground"),
    _step(8, "bench", "nut snug", "depth.ground"),
    _step(9, "bench", "nut loose", "fuel.ground"),
    _step(10, "bench", "boot", "depth.ignition"),
    _step(11, "bench", "tie", "ignition 4", "1"),
    _step(12, "aboard", "nut off", "fuel.ground"),
    _step(13, "aboard", "land", "fuel.ground", "9", text="Slip crimp 9 under the nut."),
    _step(14, "key-on", "test", "revs", "the needle rises"),
)


_PLACES = {"depth": (700, 900), "fuel": (2000, 900), "revs": (3300, 900)}
_SPOTS = {"ignition": (0, 150), "ground": (-150, -50), "lamp": (150, -50)}


def small_panel() -> Panel:
    """The plate of the small plan: three round dials in a row, three posts each."""
    posts = [
        {
            "id": f"{dial}.{name}", "instrument": dial, "name": name,
            "kind": "tab" if (dial, name) in {("revs", "ignition"), ("fuel", "lamp")} else "stud",
            "function": name, "circuit": "lamps" if name == "lamp" else name,
            "x_dmm": x + dx, "y_dmm": y + dy, "z_dmm": 700, "link": "", "optional": False,
            "thread": "M4", "free_thread_dmm": 95, "tab_size": "", "lead_size": "",
            "lead_colour": "", "lead_colour_code": "",
            "reserved": 1 if (dial, name) == ("depth", "ground") else 0,
            "live": (dial, name) == ("depth", "ignition"), "demand_ma": 250,
            "carries": ("fuel sender",) if (dial, name) == ("fuel", "ground") else (),
        }
        for dial, (x, y) in _PLACES.items()
        for name, (dx, dy) in _SPOTS.items()
        if (dial, name) != ("revs", "lamp")
    ]  # fmt: skip
    entry = {"x_dmm": 2000, "y_dmm": 0, "z_dmm": 0, "wire_size": "14 AWG", "stage": "bench"}
    black = {"colour": "black", "colour_code": "B"}
    return Panel.model_validate(
        {
            "width_dmm": 4000, "height_dmm": 1800, "thickness_dmm": 60, "nominal_mv": 12_000,
            "service_travel_dmm": 0, "conductor_temp_c": 50, "crimp_uohm": 0,
            "edge_margin_dmm": 100, "full_size_side_dmm": 12_000,
            "instruments": [
                {
                    "name": name, "pattern": "dial", "x_dmm": x, "y_dmm": y, "cut_out_dmm": 520,
                    "bezel_dmm": 600, "body_dmm": 500, "body_depth_dmm": 600, "body_width_dmm": 0,
                    "body_height_dmm": 0, "key_on": "the needle rises", "hub_candidate": True,
                }
                for name, (x, y) in _PLACES.items()
            ],
            "posts": posts,
            "keep_outs": [
                {"name": "rib", "x0_dmm": 0, "y0_dmm": 1600, "x1_dmm": 4000, "y1_dmm": 1800,
                 "height_dmm": 200},
            ],
            "tie_points": [{"name": "mid", "x_dmm": 2105, "y_dmm": 500, "z_dmm": 300, "to": ()}],
            "entries": [
                {**entry, "wire": "pigtail ignition", "circuit": "ignition", "reach_dmm": 4500,
                 "colour": "purple", "colour_code": "PU"},
                {**entry, **black, "wire": "pigtail ground", "circuit": "ground",
                 "reach_dmm": 4500},
                {**entry, **black, "wire": "fuel sender: black", "circuit": "ground",
                 "reach_dmm": 0, "stage": "aboard"},
            ],
            "circuits": [
                {
                    "name": name, "side": "ground" if name == "ground" else "feed",
                    "taken_from": "ignition" if name == "lamps" else "",
                    "posts": [post["id"] for post in posts if post["circuit"] == name],
                    "pigtail": "" if name == "lamps" else name,
                    "pigtail_uohm": 0 if name == "lamps" else 5000,
                    "run_uohm": 0 if name == "lamps" else 60_000,
                    "fuse_ma": 10_000 if name == "ignition" else 0,
                }
                for name in ("ignition", "ground", "lamps")
            ],
            "loads": [
                {"name": dial, "feed_post": f"{dial}.ignition", "ground_post": f"{dial}.ground",
                 "current_ma": 250}
                for dial in _PLACES
            ],
            "boat_blocks": [
                {"name": "fuel sender", "is_sender": True, "current_ma": 100,
                 "drawn_from": "fuel.ignition", "returns_to": "fuel.ground",
                 "wires": ("fuel sender: black",), "lands_on": ("fuel.ground",)},
            ],
        }
    )  # fmt: skip


def small_plan(**changes: object) -> p.Plan:
    """The plan, with whole fields replaced by ``changes``."""
    fields: dict[str, object] = {
        "title": "Three dials",
        "rule_set": "usual",
        "made_with": "lugwright 0.1.0",
        "inputs": {"stock": "b" * 64, "scenario": "a" * 64},
        "panel": small_panel(),
        "hub": "depth",
        "landings": (
            p.Landing(
                circuit="ignition",
                post="depth.ignition",
                pigtail="pigtail ignition",
                extension="ignition 1",
            ),
            p.Landing(circuit="ground", post="depth.ground", pigtail="pigtail ground"),
        ),
        "circuit_wires": tuple(
            p.CircuitWire(circuit=name, colour=colour, colour_code=code, wire_size="16 AWG")
            for name, (colour, code) in _COLOURS.items()
        ),
        "jumpers": JUMPERS,
        "given": (
            _given("pigtail ignition", "ignition", "join pigtail ignition", "purple"),
            _given("pigtail ground", "ground", "depth.ground", "black", ready=True),
            _given("fuel sender: black", "ground", "fuel.ground", "black", stage="aboard"),
        ),
        "crimps": CRIMPS,
        "splices": (
            p.Splice(
                label="ignition splice 1",
                circuit="ignition",
                at=p.Waypoint(x_dmm=2105, y_dmm=900, z_dmm=300, tie="mid"),
                crimp=4,
            ),
        ),
        "stacks": STACKS,
        "caps": (
            p.Cap(pigtail="tilt", colour="brown", live=False, item="cap blue"),
            p.Cap(pigtail="trim sender", colour="white", live=True, item="cap blue"),
        ),
        "ties": (p.Tie(where="mid", count=1),),
        "steps": STEPS,
        "drops": (
            _drop("depth lamp", 20_000_000, 120_000_000),
            _drop("revs", 300_000_001, 360_000_000),
        ),
        "fuses": ("10 A in pigtail ignition, 150 mm from the source",),
        "buy": (
            p.BuyLine(
                item="16 AWG purple",
                unit="mm",
                need=699,
                pack=30_000,
                packs=1,
                cost_micro=12_340_000,
            ),
            p.BuyLine(
                item="ring blue", unit="piece", need=7, pack=25, packs=1, cost_micro=5_000_001
            ),
        ),
        "totals": p.Totals(
            wire_dmm=14035,
            jumpers=8,
            fittings=12,
            stacked_lugs=3,
            tallest_stack=2,
            splices=1,
            wire_cost_micro=700_000,
            fitting_cost_micro=1_900_000,
            minutes_cmin=2750,
            labour_cost_micro=20_000_000,
            money_micro=22_600_000,
        ),
        "proof": p.Proof(
            objective="default",
            levels=("cost_dmm",),
            cost=(21035,),
            bound=(21035,),
            proved=True,
            tie_rule="less money first, then names",
        ),
        "limits": (
            p.LimitUsed(
                name="slack",
                value="3 %",
                origin="limits file, shop.toml:4",
                source="common practice, no source",
            ),
            p.LimitUsed(
                name="currency",
                value="EUR",
                origin="built-in rule set, usual.toml:9",
                source="common practice, no source",
            ),
        ),
        "cautions": (
            "Battery disconnected before any wire is touched.",
            "Local rules and a licensed electrician govern.",
        ),
    }
    return p.Plan.model_validate({**fields, **changes})


def _given(
    wire: str, circuit: str, joint: str, colour: str, *, ready: bool = False, stage: str = "bench"
) -> p.Given:
    """A wire that is not cut, 14 AWG, carrying 2 A."""
    return p.Given.model_validate(
        {
            "wire": wire,
            "circuit": circuit,
            "stage": stage,
            "joint": joint,
            "wire_size": "14 AWG",
            "colour": colour,
            "current_ma": 2000,
            "ready_ring": ready,
            "strip_dmm": 0 if ready else 70,
        }
    )


def _drop(load: str, drop_nv: int, limit_nv: int) -> p.LoadDrop:
    """A drop, half of it on either side."""
    return p.LoadDrop(
        load=load,
        current_ma=250,
        feed_nv=drop_nv - drop_nv // 2,
        ground_nv=drop_nv // 2,
        drop_nv=drop_nv,
        limit_nv=limit_nv,
    )
