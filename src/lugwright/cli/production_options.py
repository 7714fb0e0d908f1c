"""What the commands of a production run share: plans, boats, offcuts, how wire is saved."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli.options import Command

if TYPE_CHECKING:
    from lugwright.packing.question import Least
    from lugwright.production.run import Model

BOATS = click.IntRange(1, 100_000)
PATH = click.Path(exists=True, readable=True, path_type=Path)


def plans_argument(command: Command) -> Command:
    """One or more plan folders (or plan.json)."""
    return click.argument("plans", metavar="PLAN...", type=PATH, nargs=-1, required=True)(command)


def boats_option(command: Command) -> Command:
    """How many boats: one number for all plans, or one for each in their order."""
    return click.option(
        "--boats",
        multiple=True,
        type=BOATS,
        required=True,
        metavar="N",
        help="How many boats; once for all plans, or once for each plan in order.",
    )(command)


def wire_options(command: Command) -> Command:
    """Offcuts on hand, and what counts as saved."""
    for option in (
        click.option(
            "--on-hand",
            type=click.Path(exists=True, dir_okay=False, path_type=Path),
            metavar="CSV",
            help="Offcuts and begun spools to cut first: columns spool,length.",
        ),
        click.option(
            "--keep",
            default="1 m",
            show_default=True,
            metavar="LENGTH",
            help="A piece left over this long is kept as an offcut; a shorter one is scrap.",
        ),
        click.option(
            "--least",
            type=click.Choice(["spools", "scrap"]),
            default="spools",
            show_default=True,
            help="What counts first: new spools, or scrap.",
        ),
    ):
        command = option(command)
    return command


def read_models(
    plans: Sequence[Path], boats: Sequence[int], serials: Sequence[str] = ()
) -> tuple[Model, ...]:
    """The models of a run. Raises BadInput for a bad plan or numbers that do not match."""
    from lugwright.base.letters import letters_fault
    from lugwright.outputs.plan_json import read_unedited
    from lugwright.production.run import Model

    numbers = _one_each("--boats", [str(number) for number in boats], len(plans))
    first = _one_each("--serial", list(serials), len(plans)) if serials else [""] * len(plans)
    for serial in first:
        if fault := letters_fault(serial) or ("" if serial.isprintable() else "one line is wanted"):
            raise BadInput(Complaint("--serial", 0, 0, "", fault))
    return tuple(
        Model(read_unedited(path), int(number), serial)
        for path, number, serial in zip(plans, numbers, first, strict=True)
    )


def _one_each(option: str, given: list[str], plans: int) -> list[str]:
    if len(given) == 1 and (plans == 1 or option == "--boats"):
        return given * plans
    if len(given) != plans:
        message = f"given {len(given)} times for {plans} plans"
        raise BadInput(Complaint(option, 0, 0, "", message, "give it once for each plan"))
    return given


def keep_dmm(text: str) -> int:
    """The ``--keep`` length in 0.1 mm. Raises BadInput for one that is none."""
    from lugwright.base.units import parse_length_mm, to_dmm

    try:
        return max(1, to_dmm(parse_length_mm(text)))
    except ValueError as error:
        raise BadInput(Complaint("--keep", 0, 0, "", str(error))) from error


def least_of(text: str) -> Least:
    """The ``--least`` choice as the packing question names it."""
    return "scrap" if text == "scrap" else "spools"
