"""What the readings say, as text and as data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isinf
from typing import TYPE_CHECKING, Any

from lugwright.outputs.test_sheet.words import band_at, reading_text, what_text
from lugwright.outputs.words import one_line
from lugwright.plans.schema import Plan
from lugwright.readings.judge import PASSED, Judged
from lugwright.readings.schema import EXTRA, Line
from lugwright.readings.wiring import Branch

if TYPE_CHECKING:  # numpy is behind it, and nothing may be wrong
    from lugwright.readings.diagnose import Diagnosis, Suspect

MOST_TOLD = 12  # the answer as data has them all
_BAD = {"low": "LOW", "high": "HIGH", "no": "NO", "pass": "pass", "not measured": "-"}
_IF = {"pass": "passes", "low": "is low", "high": "is high", "no": "is no"}


@dataclass(frozen=True)
class Report:
    """A plan's readings judged, with what may be wrong where a joint can be blamed."""

    plan: Plan
    judged: tuple[Judged, ...]
    diagnosis: Diagnosis | None

    @property
    def failing(self) -> tuple[Judged, ...]:
        """The lines that do not pass."""
        return tuple(one for one in self.judged if one.verdict not in PASSED)

    @property
    def measured(self) -> int:
        """How many lines have a reading."""
        return sum(one.reading is not None for one in self.judged)


def report_text(report: Report) -> str:
    """The verdicts, then what may be wrong, then what to measure next."""
    measured = [one for one in report.judged if one.reading is not None]
    lines = [_head(report), "", *map(_verdict_line, measured)]
    missing = [one.line.id for one in report.judged if one.reading is None]
    if missing:
        lines.append(f"not measured: {', '.join(missing)}")
    if report.failing:
        lines += ["", *_finding(report)]
    return "\n".join(one_line(line) if line else "" for line in lines) + "\n"


def _head(report: Report) -> str:
    count, failing = len(report.judged), len(report.failing)
    end = f"{failing} of them {'fails' if failing == 1 else 'fail'}" if failing else "all pass"
    return f"{report.plan.title}: {report.measured} of {count} lines measured, {end}"


def _verdict_line(one: Judged) -> str:
    read = reading_text(one.line, one.reading)
    told = f"read {read}, wanted {band_at(one)}"
    return f"{one.line.id}: {_BAD[one.verdict]}: {what_text(one.line)}: {told}"


def _finding(report: Report) -> list[str]:
    """What may be wrong, in the order to look at it."""
    told = [text for one in report.failing if (text := _other_cause(one))]
    diagnosis = report.diagnosis
    if diagnosis is None:
        return told
    if not diagnosis.suspects:
        return [
            *told,
            "No single bad joint comes near to these readings: look for two faults at once, a "
            "wire on the wrong post, a fault inside an instrument, or a mistaken reading.",
        ]
    return [*told, *_suspects(diagnosis), *_next(diagnosis)]


def _other_cause(one: Judged) -> str:
    """What a failing line means that no bad joint brings about."""
    name = one.line.id
    if one.line.part in ("feed to ground", "signal to feed") and one.verdict == "low":
        return f"{name}: a short or a wire on a wrong post; no power until it is found."
    if one.line.part == "way open":
        return f"{name}: this way conducts where it stands open; find what joins its posts."
    if one.line.part == "stop apart":
        return f"{name}: a stop wire meets a feed; no power until it is found."
    if one.line.part == "live":
        return f"{name}: not all that should be live is, or the lamp takes the volts; power off."
    if one.line.part == "not live":
        return f"{name}: something is live that should not be; power off, look for what feeds it."
    if one.line.part == "powered feed":
        return f"{name}: the lamp takes the volts, or none come; power off, look for a short."
    if one.line.part == "feeds apart":
        return f"{name}: two feeds are joined; power off, look for the wire on a wrong post."
    if one.line.part in ("alone", "pulled", "key off", "engine"):
        return f"{name}: something is fed from elsewhere or stays live; find it before going on."
    if one.line.part == "fuse":
        return f"{name}: the wrong fuse; put the one of the list in."
    if one.line.part == "first current":
        return f"{name}: more current than all loads draw together; power off, look for a short."
    if one.line.part == "supply":
        return f"{name}: the supply itself is out of its range; put that right and measure again."
    return ""


def _suspects(diagnosis: Diagnosis) -> list[str]:
    """The joints, likeliest first; more than one is said to be more than one."""
    suspects = diagnosis.suspects
    joints = [joint for suspect in suspects for joint in suspect.joints]
    if not diagnosis.explained:
        head = (
            f"No single bad joint explains every reading ({', '.join(diagnosis.unexplained)} "
            "would stay unexplained: measure again, or look for a second fault). Nearest:"
        )
    elif len(joints) == 1:
        head = "One bad joint explains every reading:"
    else:
        head = f"One bad joint explains every reading; {len(joints)} would, likeliest first:"
    told = [f"- {joint} ({_how(one)})" for one in suspects for joint in one.joints]
    return [head, *told[:MOST_TOLD], *_more(len(told), "- ")]


def _more(count: int, mark: str = "") -> list[str]:
    """How many are not told one by one."""
    return [f"{mark}and {count - MOST_TOLD} more"] if count > MOST_TOLD else []


def _how(suspect: Suspect) -> str:
    """How bad the joint would be."""
    least, most = _ohm_data(suspect.least_ohm), _ohm_data(suspect.most_ohm)
    if least is None:
        return "open"
    if most is None:
        return f"open, or at least {least:g} ohm"
    return f"about {least:g} ohm" if least == most else f"about {least:g} to {most:g} ohm"


def _next(diagnosis: Diagnosis) -> list[str]:
    """What to measure next, and what each outcome would leave."""
    joints = sum(len(suspect.joints) for suspect in diagnosis.suspects)
    line = diagnosis.next_line
    if joints == 1:
        return []
    if line is None:
        if len(diagnosis.suspects) == 1:
            return ["They lie on one wire with nothing between to measure on: make it again."]
        return ["No further line of the sheet tells them apart: open them one after the other."]
    told = [f"Measure next: {_ask(line)}."]
    for verdict, left in diagnosis.outcomes:
        told.append(f"- if it {_IF[verdict]}: {_left(left)}")
    return told


def _ask(line: Line) -> str:
    start = f" from {line.start_words}" if line.start_words else ""
    add = f" (in a new row {line.id} of the CSV)" if line.id.startswith(EXTRA) else ""
    return f"{line.id}, {line.part}{start} to {line.at_words}{add}"


def _left(branches: Sequence[Branch]) -> str:
    """What is left, in few words."""
    words = [
        str(branch.joints[0]) if len(branch.joints) == 1 else f"an end of {branch.name}"
        for branch in branches
    ]
    return "; ".join([*words[:MOST_TOLD], *_more(len(words))])


def report_data(report: Report) -> dict[str, Any]:
    """The same as data."""
    diagnosis = report.diagnosis
    return {
        "measured": report.measured,
        "lines": [
            {
                "line": one.line.id,
                "part": one.line.part,
                "at": one.line.at_words,
                "reading": reading_text(one.line, one.reading),
                "passes": band_at(one),
                "verdict": one.verdict,
            }
            for one in report.judged
        ],
        "other_causes": [text for one in report.failing if (text := _other_cause(one))],
        "explained": diagnosis.explained if diagnosis else None,
        "unexplained": list(diagnosis.unexplained) if diagnosis else [],
        "suspects": [
            {
                "joint": joint.what,
                "kind": joint.kind,
                "where": joint.where,
                "least_ohm": _ohm_data(suspect.least_ohm),
                "most_ohm": _ohm_data(suspect.most_ohm),
            }
            for suspect in (diagnosis.suspects if diagnosis else ())
            for joint in suspect.joints
        ],
        "next": _ask(diagnosis.next_line) if diagnosis and diagnosis.next_line else None,
    }


def _ohm_data(ohm: float) -> float | None:
    """A resistance with two digits; None is open."""
    return None if isinf(ohm) else float(f"{ohm:.2g}")
