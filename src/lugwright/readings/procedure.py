"""The proving procedure: its parts in order, what to do first in each, and its steps.

The test sheet prints the parts with room to write; job sheet and build list print the steps made
here from the same lines. No sheet works out a band of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from lugwright.base.scale import amps_text
from lugwright.plans.panel import PanelFuse
from lugwright.plans.schema import Landing, Plan, Step
from lugwright.readings import bands as b
from lugwright.readings.feeds import feeds_of, is_keyed, landed, lead_fuses
from lugwright.readings.fuses import protectors
from lugwright.readings.schema import Line, Part, Sheet
from lugwright.readings.settings import START, Devices
from lugwright.readings.words import band_at_nominal, band_text, nominal_text, supply_place

_ORDER: tuple[tuple[Part, ...], ...] = (
    (
        "continuity", "far end", "way closed", "way open", "feed to ground", "signal to feed",
        "stop apart",
    ),
    ("first current", "powered feed", "feeds apart", "live", "not live"),
    ("fuse", "setting"),
    ("supply", "volts", "does", "alone", "pulled", "key off"),
    ("engine",),
)


# What a step is about, where the part's own name does not say it to a rigger.
_WORDS: dict[str, str] = {
    "far end": "end to end",
    "way closed": "ways",
    "way open": "ways",
    "stop apart": "stop to feeds",
    "first current": "first power",
    "powered feed": "first power",
    "feeds apart": "first power",
    "live": "what is live",
    "not live": "what is live",
    "fuse": "read aloud",
    "setting": "set before it went in",
    "does": "with the key on",
    "alone": "each switch by itself",
    "pulled": "each fuse by itself",
    "key off": "last",
    "engine": "by a qualified person",
}


FUSES_IN = "3. Fuses in, key off"


@dataclass(frozen=True)
class Section:
    """One part of the procedure: what to do before its lines, and what to do after them."""

    heading: str
    first: tuple[str, ...]
    lines: tuple[Line, ...]
    after: tuple[str, ...] = ()


def sections(sheet: Sheet) -> tuple[Section, ...]:
    """The parts that have lines, in the order of work; none where no supply lands."""
    if not sheet.plan.landings:
        return ()
    made = zip(_ORDER, (_ohms, _first_power, _fuses_in, _key_on, _engine), strict=True)
    found = (
        make(sheet, tuple(line for line in sheet.lines if line.part in parts))
        for parts, make in made
    )
    fed = bool(landed(sheet.plan, "feed"))
    return tuple(one for one in found if one.lines or (fed and one.heading == FUSES_IN))


def _ohms(sheet: Sheet, lines: tuple[Line, ...]) -> Section:
    first = (
        "Every battery and the shore charger disconnected, every fuse out, every switch off"
        f"{_opened(sheet.plan)}.",
        "Engine plug apart; senders and loads unplugged at their far ends.",
        "Hold the tips together first: take what the meter shows off every reading.",
    )
    after = ["Put back what you took off. If a line fails: no power until the fault is found."]
    if sheet.untold:
        after.append(
            f"Ohms cannot tell a short of {', '.join(sheet.untold)} from its loads: "
            "first power through the lamp does."
        )
    return Section("1. Ohms, battery off", first, lines, tuple(after))


def _opened(plan: Plan) -> str:
    """Breakers, and devices that close least where they are not at rest."""
    devices = Devices(plan.panel)
    told = ", every breaker open" if any(one.kind == "breaker" for one in plan.panel.ways) else ""
    other = devices.changed(devices.parted, devices.rest)
    return told + (f" ({other})" if other else "")


def _first_power(sheet: Sheet, lines: tuple[Line, ...]) -> Section:
    plan = sheet.plan
    out = sorted(lead_fuses(plan))
    leads = f" Fuses of the leads {', '.join(out)} out." if out else ""
    lamp = f"a lamp of {b.TEST_LAMP_W} to {b.TEST_LAMP_MOST_W} W for {nominal_text(plan)}"
    plus = _goes_back([one.pigtail for one in landed(plan, "feed")], "positive")
    minus = _goes_back([one.pigtail for one in landed(plan, "ground")], "negative")
    first = (
        "Senders and loads stay unplugged, every switch off, every fuse out"
        f"{_opened(plan)}.{leads}",
        f"Check where the wires go: {'; '.join(one for one in (plus, minus) if one)}; every feed "
        "lands on the post marked for it. Then join the engine plug, then battery on.",
        f"One feed at a time, in place of its fuse (where it has none, in series at its pigtail): "
        f"{lamp}: dim or dark is right, full glow is a short; or a supply of {nominal_text(plan)} "
        "limited to the amperes of its line. With the lamp, write no amperes.",
        *_key_words(plan),
        *_way_words(plan),
    )
    after = ("If it is not right: key off, battery off, and back to part 1.",)
    return Section("2. First power, through a lamp", first, lines, after)


def _goes_back(pigtails: list[str], pole: str) -> str:
    """Where those pigtails come from; "" for none."""
    verb = "goes" if len(pigtails) == 1 else "go"
    return f"{', '.join(pigtails)} {verb} back to battery {pole}" if pigtails else ""


def _key_words(plan: Plan) -> Iterator[str]:
    feeds = landed(plan, "feed")
    keyed = [one.circuit for one in feeds if is_keyed(plan, one.circuit)]
    if keyed:
        only = f"Key on only while {', '.join(keyed)} is powered" if len(feeds) > 1 else "Key on"
        yield f"{only}; key off before the lamp comes out."


def _way_words(plan: Plan) -> Iterator[str]:
    """How feeds behind ways are powered, and what goes in before the table of what is live."""
    if any(not one.pigtail for one in feeds_of(plan)):
        yield (
            "A feed behind a way is powered at that way's far post, from the battery's plus "
            "through the lamp."
        )
    if plan.live:
        yield (
            "Before the lines of what is live: lamp in at a pigtail again, then the fuses of "
            "blocks in and breakers closed; take these out again when the last of them is read."
        )


def _fuses_in(sheet: Sheet, lines: tuple[Line, ...]) -> Section:
    plan = sheet.plan
    fuses = ", ".join(map(_rated, plan.panel.fuses))
    breakers = [
        f"{where} {amps_text(rated_ma)} A"
        for where, rated_ma, what in protectors(plan)
        if what == "breaker"
    ]
    put = f"put the fuses in, each read aloud against the list: {fuses}." if fuses else ""
    bare = [one.pigtail for one in landed(plan, "feed") if not _fused(plan, one)]
    if bare:
        put += f" {'C' if put else 'c'}onnect {', '.join(bare)}, which has no fuse."
    if breakers:
        put += f" Close the breakers, each read aloud too: {', '.join(breakers)}."
    first = (f"Lamp out, key off, battery off. Plug senders and loads in; {put.strip()}",)
    return Section(FUSES_IN, first, lines)


def _key_on(sheet: Sheet, lines: tuple[Line, ...]) -> Section:
    first = (
        f"Battery on, then {_all_on(sheet.plan)}: fuses hold, nothing warms. If not: key off, "
        "battery off, and back to part 1.",
        *_held(lines),
        "Volts with all lamps, dials, senders and loads on, engine off, no charger. The black "
        "tip stays on the minus of the supply. The supply is measured "
        f"{supply_place(sheet.plan)}, and again when the volts have drifted.",
        "Sender check: touch a sender's wire to ground only, never to a feed, and no longer than "
        "the dial needs.",
    )
    return Section("4. Key on, everything on", first, lines)


def _rated(fuse: PanelFuse) -> str:
    """A fuse in the list, with what it protects by a maker's word alone."""
    told = f"{fuse.wire} {amps_text(fuse.fuse_ma)} A"
    if not fuse.by_maker:
        return told
    return f"{told} (over {' and '.join(fuse.by_maker)} by the maker's word: practice, not law)"


def _all_on(plan: Plan) -> str:
    """Where the devices stand with everything on."""
    devices = Devices(plan.panel)
    return devices.changed(devices.working, devices.rest) or "key on"


def _held(lines: Sequence[Line]) -> Iterator[str]:
    """What a position asks that starts an engine."""
    if len({line.closed for line in lines if line.part == "volts"}) > 1:
        yield "A line that names a position is read in that position, then back to everything on."
    if any(START in (line.what.partition(":")[0]).split() for line in lines):
        yield (
            "In a position that starts an engine: out of gear, hands and clothes clear of it, "
            "blower run first, and no longer than the meter needs."
        )


def _fused(plan: Plan, landing: Landing) -> bool:
    return any(fuse.wire == landing.pigtail for fuse in plan.panel.fuses)


def _engine(sheet: Sheet, lines: tuple[Line, ...]) -> Section:
    first = (
        "By a qualified person only; hands and clothes clear of belts and pulleys.",
        "Never disconnect a battery or the alternator while it runs.",
    )
    return Section("5. Engine running", first, lines)


def proving_steps(sheet: Sheet, number: int) -> tuple[Step, ...]:
    """The steps at key-on, numbered from ``number``: each part's own words, then its lines."""
    told = [item for section in sections(sheet) for item in _told(sheet.plan, section)]
    return tuple(
        Step(number=n, stage="key-on", verb="test", target=what, parts=parts, text=text)
        for n, (what, parts, text) in enumerate(told, number)
    )


def _told(plan: Plan, section: Section) -> Iterator[tuple[str, tuple[str, ...], str]]:
    """What is tested, where, and the sentence to work from."""
    yield section.heading, (), f"{section.heading}. {' '.join(section.first)}"
    for _, group in groupby(section.lines, _alike):
        lines = list(group)
        yield ids_text(lines), _places(lines), f"{ids_text(lines)}, {_sentence(plan, lines)}"
    if section.after:
        yield f"after part {section.heading[0]}", (), " ".join(section.after)


def _alike(line: Line) -> tuple[str, str]:
    """Lines told in one step: of one part, and of one circuit where that sets them apart."""
    apart = line.part not in ("far end", "feed to ground", "signal to feed")
    return _WORDS.get(line.part, line.part), line.circuit if apart else ""


def ids_text(lines: Sequence[Line]) -> str:
    """The numbers of lines that follow one another: ``ohms 1 to 4``."""
    found = []
    for _, group in groupby(lines, lambda line: line.unit):
        run = list(group)
        last = run[-1].id.rpartition(" ")[2]
        found.append(run[0].id if len(run) == 1 else f"{run[0].id} to {last}")
    return ", ".join(found)


def _places(lines: Sequence[Line]) -> tuple[str, ...]:
    """The posts that tips touch, and what is looked at."""
    nodes = [node for line in lines for node in (line.start, line.at)]
    posts = [node.removeprefix("post ") for node in nodes if node.startswith("post ")]
    return tuple(dict.fromkeys(posts or [line.at_words for line in lines]))


def _sentence(plan: Plan, lines: Sequence[Line]) -> str:
    """Where the tips go and what passes; places with the same band together."""
    words, circuit = _alike(lines[0])
    head = f"{words}, {circuit}" if circuit else words
    if lines[0].unit == "yes or no":
        told = (f"{line.at_words}: {line.what}" if line.at_words else line.what for line in lines)
        return f"{head}: {'; '.join(told)}."
    runs = [
        (*key, ", ".join(line.at_words for line in run if line.at_words))
        for key, run in groupby(
            lines, lambda line: (line.start_words, line.what, _passes(plan, line))
        )
    ]
    start = runs[0][0] if len({run[0] for run in runs}) == 1 else ""
    told = (_run(start, *run) for run in runs)
    return f"{head}{f', from {start}' if start else ''}: {'; '.join(told)}."


def _run(told: str, start: str, what: str, band: str, places: str) -> str:
    """Places with one band; ``told`` is where all of the step begin, and is not said again."""
    way = "" if start == told else start
    way = f"{way} to {places}" if way and places else way or (f"to {places}" if places else "")
    return ": ".join(part for part in (what, way, band) if part)


def _passes(plan: Plan, line: Line) -> str:
    """The band, and what it is at nominal supply."""
    nominal = band_at_nominal(plan, line)
    return band_text(line) + (f" ({nominal} at {nominal_text(plan)})" if nominal else "")
