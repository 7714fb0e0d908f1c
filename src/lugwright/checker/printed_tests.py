"""The printed tests: one procedure, the same numbers on every sheet.

The test sheet is made from the plan's own facts, which other checks compare with the scenario's.
Here every step at key-on is made from the same lines again and compared, and the volts of each
line are held against this room's own solution of the network.
"""

from __future__ import annotations

from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.checker.network import Loads, Setting, solve_setting
from lugwright.checker.positions import Closed
from lugwright.readings.bands import SUPPLY_HIGH_PERMILLE
from lugwright.readings.lines import sheet_of
from lugwright.readings.procedure import proving_steps

_NV_PER_MV = 1_000_000


def check_proving(facts: Facts, _: Loads, book: Book) -> None:
    """Every step at key-on is one of the procedure's, in its order and its words."""
    plan = facts.plan
    stated = [step for step in plan.steps if step.stage == "key-on"]
    own = proving_steps(sheet_of(plan), len(plan.steps) - len(stated) + 1)
    book.same(len(stated), len(own), "test lines", "key-on", "number of its steps")
    for mine, real in zip(stated, own, strict=False):
        message = "the step is not that of the test sheet"
        book.expect(
            mine == real, "test lines", f"step {mine.number}", message, mine.text, real.text
        )


def check_test_volts(facts: Facts, loads: Loads, book: Book) -> None:
    """No band of volts fails a sound panel: each takes in the drop worked out here, with the
    devices as they stand for that line.
    """
    solved: dict[Closed, Setting] = {one.closed: one for one in loads.settings}
    for line in sheet_of(facts.plan).lines:
        if line.part != "volts" or not line.at.startswith("post "):
            continue
        if line.closed not in solved:
            solved[line.closed] = solve_setting(facts, line.closed)
        drop_nv = solved[line.closed].drop_nv(line.at.removeprefix("post "))
        sag_mv = -(line.low or 0) if line.of_supply else line.high or 0
        if drop_nv is not None:
            book.expect(
                drop_nv * SUPPLY_HIGH_PERMILLE <= sag_mv * _NV_PER_MV * 1000, "test lines", line.id,
                "the band of the test sheet fails a sound panel",
                f"{sag_mv} mV", f"{float(drop_nv) / _NV_PER_MV:.1f} mV",
            )  # fmt: skip
