"""Plans of demo consoles for drawing, made once a run: by eye where no splice is wanted."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from support.plans import SCENARIOS, plan_of
from support.shared import shared

from lugwright import pipeline
from lugwright.assemble.hand_plan import hand_choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

BY_EYE = ("sandbar-skiff", "flying-leads", "hub-out-of-reach", "bridge-24-instruments")
PROVED = ("one-wire-per-barrel", "six-dial-console")
TWELVE = "twelve dials"
NAMES = (*BY_EYE, *PROVED, TWELVE)
SIZES = ("sandbar-skiff", TWELVE, "bridge-24-instruments")  # 4, 12 and 24 instruments


@cache
def plan_named(name: str) -> Plan:
    """A plan of one of NAMES."""
    return shared(f"drawn plan of {name}", lambda: _made(name))


def _made(name: str) -> Plan:
    if name == TWELVE:
        with TemporaryDirectory() as folder:
            path = Path(folder) / "twelve.toml"
            path.write_text(_twelve(), encoding="utf-8")
            return _by_eye(pipeline.read_inputs(path))
    if name in BY_EYE:
        return _by_eye(pipeline.read_inputs(SCENARIOS / f"{name}.toml"))
    return plan_of(name)


def _by_eye(inputs: Brief) -> Plan:
    _, routes = pipeline.pose(inputs)
    choice = hand_choice(inputs, routes)
    assert choice is not None
    return pipeline.work_up(inputs, routes, Outcome(Ending.WITHIN_BOUND, (), choice=choice))


def _twelve() -> str:
    """Twelve dials in three rows of four."""
    dials = [
        f'[[instrument]]\nname = "dial {row}{column}"\npattern = "dial-52"\n'
        f'centre = ["{80 + 95 * column} mm", "{75 + 95 * row} mm"]\n'
        for row in range(3)
        for column in range(4)
    ]
    pigtails = [
        f'{{ circuit = "{circuit}", colour = "{colour}", wire_size = "12 AWG", reach = "900 mm"'
        f"{fuse} }},"
        for circuit, colour, fuse in (
            ("ignition", "purple", ', fuse = "10 A"'),
            ("ground", "black", ""),
        )
    ]
    return "\n".join(
        [
            'title = "Twelve dials"',
            "[panel]",
            'width = "445 mm"\nheight = "340 mm"\nthickness = "5 mm"',
            *dials,
            "[[harness]]",
            'entry = ["200 mm", "0 mm"]',
            "pigtails = [",
            *pigtails,
            "]",
        ]
    )
