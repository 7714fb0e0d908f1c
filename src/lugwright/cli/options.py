"""Options that several commands share, stated once, and how faults are told.

Every decorator adds keyword arguments of fixed names to the command's function:

==============================  ===========================================================
decorator                       keyword arguments
==============================  ===========================================================
``scenario_argument``           ``scenario: Path``
``optional_scenario_argument``  ``scenario: Path | None``
``limits_options``              ``limits_file: Path | None``, ``rule_set: str | None``,
                                ``settings: tuple[str, ...]``
``objective_option``            ``objective: str | None``
``stock_option``                ``stock_folder: Path | None``
``hold_option``                 ``holds: tuple[tuple[str, str], ...]``
``time_option``                 ``seconds: float | None``
``out_option``                  ``out: Path | None``
``page_option``                 ``page: str``
``full_size_option``            ``full_size: bool``
``json_option``                 ``as_json: bool``
==============================  ===========================================================

``ends_well`` turns faults of the input into messages and an exit code.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any, TypeVar, cast

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say
from lugwright.outputs.paper_size import PAGES_DMM, Paper

Command = TypeVar("Command", bound=Callable[..., Any])
Decorator = Callable[[Command], Command]

OBJECTIVES = ("default", "shortest", "lowest-stacks", "cheapest", "weights")
FAULTS_FORMAT = 1
MOST_TOLD = 200
ALONE = ("no-splice",)  # holds that name nothing

_FILE = click.Path(exists=True, dir_okay=False, readable=True, path_type=Path)
_FOLDER = click.Path(exists=True, file_okay=False, readable=True, path_type=Path)


def scenario_argument(command: Command) -> Command:
    """The scenario file to work on, required."""
    return click.argument("scenario", type=_FILE)(command)


def optional_scenario_argument(command: Command) -> Command:
    """A scenario file that may be left out (None)."""
    return click.argument("scenario", type=_FILE, required=False)(command)


def limits_options(command: Command) -> Command:
    """Which limits hold: a limits file, a built-in rule set, single limits."""
    command = click.option(
        "--set",
        "settings",
        multiple=True,
        metavar="NAME=VALUE",
        help="Set one limit, over everything else, e.g. --set 'slack=3 %'. May be repeated.",
    )(command)
    command = click.option(
        "--rule-set",
        metavar="NAME",
        help="Built-in rule set to start from (usual, strict).",
    )(command)
    return click.option(
        "--limits",
        "limits_file",
        type=_FILE,
        metavar="FILE",
        help="Limits file of the shop, over the built-in rule set and under the scenario's own.",
    )(command)


def objective_option(command: Command) -> Command:
    """What to minimise; the same as ``--set objective=NAME``."""
    return click.option(
        "--objective",
        type=click.Choice(OBJECTIVES),
        help="What to minimise (default: what the limits say).",
    )(command)


def with_objective(settings: tuple[str, ...], objective: str | None) -> tuple[str, ...]:
    """The settings with ``--objective`` added as one more."""
    return (*settings, f"objective={objective}") if objective else settings


def stock_option(command: Command) -> Command:
    """The shop's own stock tables instead of the ones that come with the program."""
    return click.option(
        "--stock",
        "stock_folder",
        type=_FOLDER,
        metavar="FOLDER",
        help="Folder with the shop's stock tables (default: those that come with the program).",
    )(command)


def hold_option(command: Command) -> Command:
    """Fix a part of the answer beforehand."""
    return click.option(
        "--hold",
        "holds",
        multiple=True,
        metavar="WHAT=NAME",
        callback=_pairs,
        help="Hold a part of the answer: hub=NAME, jumper=POST>POST, no-jumper=POST>POST, "
        "last=POST, no-splice, size=CIRCUIT:SIZE. May be repeated.",
    )(command)


def _pairs(
    _context: click.Context, parameter: click.Parameter, values: tuple[str, ...]
) -> tuple[tuple[str, str], ...]:
    pairs = []
    for text in values:
        name, sign, value = text.partition("=")
        if text.strip() in ALONE:
            pairs.append((text.strip(), ""))
            continue
        if not sign or not name.strip() or not value.strip():
            raise click.BadParameter(f"{text!r} is not WHAT=NAME", param=parameter)
        pairs.append((name.strip(), value.strip()))
    return tuple(pairs)


def time_option(command: Command) -> Command:
    """When to stop; the best so far is kept."""
    return click.option(
        "--time",
        "seconds",
        type=float,
        callback=_seconds,
        metavar="SECONDS",
        help="Stop after so many seconds and keep what is known so far (default: no end).",
    )(command)


def _seconds(
    _context: click.Context, parameter: click.Parameter, value: float | None
) -> float | None:
    """A time that ends. ``nan`` and ``inf`` are numbers to a parser, not to a clock."""
    if value is not None and not (math.isfinite(value) and value > 0):
        raise click.BadParameter("must be a number of seconds above 0", param=parameter)
    return value


def out_option(command: Command) -> Command:
    """The folder the plan's files go into."""
    return click.option(
        "--out",
        type=click.Path(file_okay=False, writable=True, path_type=Path),
        metavar="FOLDER",
        help="Folder to write into (made when missing).",
    )(command)


def overwrite_option(command: Command) -> Command:
    """Whether a file that stands where one is to be written may be written over."""
    return click.option(
        "--overwrite", is_flag=True, help="Write over a file that is there already."
    )(command)


def inputs_of(ctx: click.Context, *outputs: str) -> tuple[Path, ...]:
    """Every path the call names, but for what it is to write (the names of those parameters)."""
    given = (value for name, value in ctx.params.items() if name not in outputs)
    parts = (value if isinstance(value, tuple) else (value,) for value in given)
    return tuple(path for part in parts for path in part if isinstance(path, Path))


def tell(line: str) -> None:
    """One line of talk."""
    click.echo(line, err=True)


def page_option(command: Command) -> Command:
    """The paper the sheets are printed on."""
    return click.option(
        "--page",
        type=click.Choice(tuple(PAGES_DMM), case_sensitive=False),
        default=Paper.page,
        show_default=True,
        help="Paper the sheets are made for.",
    )(command)


def full_size_option(command: Command) -> Command:
    """Pages at 1:1 of a plate so large that they are not made without it."""
    return click.option(
        "--full-size",
        is_flag=True,
        help="Drill template and build board at 1:1 however large the plate "
        "(without it: up to the limit full_size_side).",
    )(command)


def json_option(command: Command) -> Command:
    """Answer as JSON on standard output."""
    return click.option(
        "--json", "as_json", is_flag=True, help="Answer as JSON on standard output."
    )(command)


def ends_well(command: Command) -> Command:
    """End with exit code 2 where BadInput was raised, every complaint told.

    Complaints go to standard error; with ``--json`` one JSON object goes to standard output.
    Everything else passes through, to be told by the program's entry.
    """

    @wraps(command)
    def wrapped(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except BadInput as fault:
            tell_faults(fault.complaints, as_json=bool(kwargs.get("as_json")))
            click.get_current_context().exit(Exit.BAD_INPUT)

    return cast(Command, wrapped)


def tell_faults(complaints: tuple[Complaint, ...], *, as_json: bool) -> None:
    """Tell every complaint once, in the order of file, line and column.

    A reader mends no more than ``MOST_TOLD`` at a time; the rest are counted. JSON has them all.
    """
    ordered = sorted(set(complaints))
    if as_json:
        say(json_text("faults", FAULTS_FORMAT, {"faults": [vars(one) for one in ordered]}))
        return
    for complaint in ordered[:MOST_TOLD]:
        click.echo(_plain(str(complaint)), err=True)
    if len(ordered) > MOST_TOLD:
        click.echo(f"... and {len(ordered) - MOST_TOLD} more", err=True)
    click.echo("1 fault" if len(ordered) == 1 else f"{len(ordered)} faults", err=True)


def _plain(text: str) -> str:
    """The text on one line, without characters that could repaint a terminal."""
    return " ".join("".join(char if char.isprintable() else " " for char in text).split())


def json_text(kind: str, form: int, content: dict[str, Any]) -> str:
    """One JSON answer: ``answer`` names its kind and ``format`` the version of its layout."""
    return json_document({"answer": kind, "format": form, **content})


def json_document(content: dict[str, Any]) -> str:
    """JSON as every command prints it."""
    return json.dumps(content, indent=2, ensure_ascii=False)
