"""One small plan with its test sheet, readings of a sound panel, and the sheet filled in.

The plan is ``small_plan`` of the outputs with a signal post for its sender, so that it has
one of everything: extension, splice, ready-made ring, tab, stack, sender.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from support.made_plan import small_plan

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.test_sheet.csv_form import form_text
from lugwright.plans.schema import Plan
from lugwright.readings.lines import Line, Sheet, sheet_of
from lugwright.readings.read_csv import Reading


@cache
def small_sheet() -> Sheet:
    """The test sheet of the small plan."""
    return sheet_of(small_plan())


def line_at(sheet: Sheet, part: str, post: str) -> Line:
    """The line of a part that ends at a post."""
    (line,) = (one for one in sheet.lines if one.part == part and one.at == f"post {post}")
    return line


def reading(value: str) -> Reading:
    """A number in the line's unit."""
    return Reading(Fraction(value) * 1000)


def sound_readings(sheet: Sheet, supply_v: str = "12.00") -> dict[str, Reading]:
    """What a meter shows on a panel without any fault: volts sag by 20 mV, wires read 0.1 ohm."""
    found = {}
    for line in sheet.lines:
        if line.unit == "yes or no":
            found[line.id] = Reading(seen=True)
        elif line.part in ("feed to ground", "signal to feed"):
            found[line.id] = Reading(is_open=True)
        elif line.part == "first current" or line.part == "feeds apart":
            found[line.id] = Reading()
        elif line.part in ("supply", "powered feed"):
            found[line.id] = reading(supply_v)
        elif line.unit == "ohm":
            found[line.id] = reading("0.1")
        else:
            base = Fraction(supply_v) - Fraction("0.02")
            found[line.id] = reading(str(base if line.of_supply else Fraction("0.02")))
    return found


def filled_in(plan: Plan, typed: Mapping[str, str], mark: str = ",") -> str:
    """The plan's form as CSV with these cells typed into the column ``reading``."""
    rows = list(csv.reader(io.StringIO(form_text(sheet_of(plan), plan_digest(plan)))))
    for row in rows[1:]:
        row[-1] = typed.get(row[0], "")
    out = io.StringIO()
    csv.writer(out, delimiter=mark, lineterminator="\n").writerows(rows)
    return out.getvalue()
