"""The cautions of one panel: those of every sheet, and what the panel adds."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.cautions import ALWAYS
from lugwright.base.scale import amps_text
from lugwright.scenario.console import Console
from lugwright.trade.given_wires import fused_by_maker, thin_wires
from lugwright.trade.live import live_posts


def cautions_for(console: Console, rule_set: str) -> tuple[str, ...]:
    """The cautions of a plan: those of its panel, then the rule set it was planned under."""
    return (*cautions_before(console), f"Planned under the rule set: {rule_set}.")


def cautions_before(console: Console) -> tuple[str, ...]:
    """The fixed cautions, then what this panel adds; nothing needs to be planned for them."""
    found = list(ALWAYS)
    found += [
        f"The feed {circuit.name} has no fuse: {circuit.pigtail.fuse_reason.rstrip('.')}."
        for circuit in console.circuits
        if circuit.pigtail is not None and circuit.pigtail.fuse_reason
    ]
    found.extend(_thin(console))
    live_pigtails = sorted(item.label for item in console.unused_pigtails if item.live)
    if live_pigtails:
        found.append(f"Live even when unused: {', '.join(live_pigtails)}. Cap these first.")
    if live := live_posts(console):
        found.append(f"Live {live_when(console)}: {', '.join(live)}. A boot covers each stud.")
    found.extend(_feeds_alike(console))
    found.extend(console.questions)
    found.extend(console.notes)
    return tuple(found)


def live_when(console: Console) -> str:
    """In which state a post that is always live stands out."""
    return "with everything off" if console.ways else "with the key off"


def _thin(console: Console) -> Iterator[str]:
    """Wires exempt from the table of sizes, and fuses that a maker's word allows."""
    for name, wire in thin_wires(console):
        yield (
            f"Thinner than 18 AWG: {name}, {wire.wire_size}, carries "
            f"{amps_text(wire.carries_ma)} A by its maker's word, {wire.exempt}: exempt "
            "from the table of sizes (33 CFR 183.425(g)), not from a fuse."
        )
    for fuse, names in sorted(fused_by_maker(console).items()):
        yield (
            f"The fuse of {fuse} stands before {', '.join(names)} by the maker's word, which is "
            "practice and not law."
        )


def _feeds_alike(console: Console) -> Iterator[str]:
    """Feeds that a colour does not tell apart; what is taken from a feed belongs to it."""
    colours: dict[str, set[str]] = {}
    for circuit in console.circuits:
        if circuit.side == "feed":
            mine = colours.setdefault(circuit.taken_from or circuit.name, set())
            mine.add(circuit.colour)
            if circuit.pigtail is not None:
                mine.add(circuit.pigtail.wire.colour)
    for colour in sorted(set().union(*colours.values())):
        feeds = sorted(name for name, mine in colours.items() if colour in mine)
        if len(feeds) > 1:
            named = f"{', '.join(feeds[:-1])} and {feeds[-1]}"
            yield f"Feeds of one colour ({colour}): {named}. Go by label and test, not by colour."
