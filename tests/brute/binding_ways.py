"""How often each rule of ways binds: ``python -m brute.binding_ways --cases N``.

Run it with ``tests`` on the module path. By the enumerator alone.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from statistics import median
from time import perf_counter

import click

from brute.case import Case
from brute.loosen import AMPLE, loosened
from brute.random_ways import random_way_case
from lugwright.base.origin import Origin
from lugwright.limits.waivable import Waiver

OF_WAYS = ("contact", "section", "rating", "carries in", "positions apart")
RULES = (*OF_WAYS, "drop")
ORIGIN = Origin("scenario", "case.toml", 1)


def without(case: Case, rule: str) -> Case:
    """The case without one rule of ways (or one of all consoles)."""
    console = case.console
    if rule == "contact":
        ways = tuple(replace(way, contact_uohm=0) for way in console.ways)
        return replace(case, console=replace(console, ways=ways))
    if rule == "section":
        behind = [circuit.name for circuit in console.circuits if circuit.supplied_by]
        waivers = tuple(
            Waiver("fuse_share", name, AMPLE, "tried out", "AB", "2026-01-31", ORIGIN)
            for name in behind
        )
        return replace(case, limits=replace(case.limits, waivers=waivers))
    if rule == "rating":
        ways = tuple(replace(way, carries_ma=0) for way in console.ways)
        return replace(case, console=replace(console, ways=ways))
    if rule == "carries in":
        devices = tuple(replace(device, carries_in_ma=0) for device in console.instruments)
        return replace(case, console=replace(console, instruments=devices))
    if rule == "positions apart":
        devices = tuple(
            replace(device, positions=(*device.positions, "everything"))
            for device in console.instruments
        )
        ways = tuple(
            replace(way, closed=(*way.closed, "everything") if way.closed else ())
            for way in console.ways
        )
        return replace(case, console=replace(console, instruments=devices, ways=ways))
    return loosened(case, rule)


@click.command()
@click.option("--cases", default=100, show_default=True, help="How many cases to try.")
@click.option("--first", default=0, show_default=True, help="The first case's number.")
def main(cases: int, first: int) -> None:
    """Print how many cases have no plan, and the share of cases in which each rule binds."""
    felt: Counter[str] = Counter()
    traits: Counter[str] = Counter()
    impossible, seconds = 0, []
    for seed in range(first, first + cases):
        case = random_way_case(seed)
        start = perf_counter()
        cost = case.best().cost
        seconds.append(perf_counter() - start)
        impossible += cost is None
        traits.update(case.traits)
        felt.update(rule for rule in RULES if without(case, rule).best().cost != cost)
    click.echo(f"cases            {cases}")
    click.echo(f"no plan          {impossible / cases:.1%}")
    for rule in RULES:
        click.echo(f"{rule:<16} {felt[rule] / cases:.1%}")
    for trait, count in sorted(traits.items()):
        click.echo(f"  {trait:<24} {count}")
    click.echo(f"seconds a run    median {median(seconds):.2f}, most {max(seconds):.2f}")


if __name__ == "__main__":
    main()
