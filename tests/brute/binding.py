"""How often each rule binds over the random cases: ``python -m brute.binding --cases N``.

Run it with ``tests`` on the module path. By the enumerator alone.
"""

from __future__ import annotations

from collections import Counter
from statistics import median
from time import perf_counter

import click

from brute.loosen import RULES, loosened
from brute.random_consoles import random_case


def binding_rules(seed: int) -> tuple[bool, tuple[str, ...]]:
    """Whether a case has a plan, and the rules that bind in it."""
    case = random_case(seed)
    cost = case.best().cost
    felt = tuple(rule for rule in RULES if loosened(case, rule).best().cost != cost)
    return cost is not None, felt


@click.command()
@click.option("--cases", default=100, show_default=True, help="How many cases to try.")
@click.option("--first", default=0, show_default=True, help="The first case's number.")
def main(cases: int, first: int) -> None:
    """Print how many cases have no plan, and the share of cases in which each rule binds."""
    felt: Counter[str] = Counter()
    impossible, seconds = 0, []
    for seed in range(first, first + cases):
        start = perf_counter()
        possible, rules = binding_rules(seed)
        seconds.append((perf_counter() - start) / (1 + len(RULES)))
        felt.update(rules)
        impossible += not possible
    click.echo(f"cases            {cases}")
    click.echo(f"no plan          {impossible / cases:.1%}")
    for rule in RULES:
        click.echo(f"{rule:<16} {felt[rule] / cases:.1%}")
    click.echo(f"seconds a run    median {median(seconds):.2f}, most {max(seconds):.2f}")


if __name__ == "__main__":
    main()
