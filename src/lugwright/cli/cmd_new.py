"""``lugwright new``: a starter scenario to fill in, with its layout for the editor beside it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.talk import say

VOLTAGES = ("12 V", "24 V")
DEFAULT_FILE = Path("console.toml")
HOW_MANY_DIALS = 4
ANSWER_FORMAT = 1


@click.command("new", short_help="Write a starter scenario to fill in.")
@click.argument("file", type=click.Path(path_type=Path), default=DEFAULT_FILE)
@click.option("--title", metavar="TEXT", help="One line that names the console.")
@click.option(
    "--dial",
    "dials",
    multiple=True,
    metavar="NAME=PATTERN",
    help="A dial and its pattern, e.g. --dial fuel=dial-52; the pattern may be left out. "
    f"May be repeated (default: {HOW_MANY_DIALS} usual dials).",
)
@click.option("--voltage", type=click.Choice(VOLTAGES), help="Nominal voltage (default: 12 V).")
@click.option("--yes", is_flag=True, help="Ask nothing; what is not given is as usual.")
@click.option("--overwrite", is_flag=True, help="Write over files that are there already.")
@options.json_option
@options.ends_well
def command(
    file: Path,
    title: str | None,
    dials: tuple[str, ...],
    voltage: str | None,
    yes: bool,
    overwrite: bool,
    as_json: bool,
) -> None:
    """Write a starter scenario to FILE (default: console.toml) that can be planned as it stands.

    On a terminal it asks for what is not given. The layout of a scenario, for an editor that
    checks it while you type, is written beside it.
    """
    from lugwright.scenario.json_schema import SCHEMA_FILE, schema_text
    from lugwright.scenario.new import starter

    if not str(file).isprintable():
        raise _fault(file, "is not a name for a file", "use letters and digits")
    if file.is_dir():
        raise _fault(file, "is a folder", "name a file")
    layout_file, layout = file.with_name(SCHEMA_FILE), schema_text()
    _refuse_to_overwrite(file, layout_file, layout, overwrite)
    usual_title = " ".join(file.stem.replace("-", " ").replace("_", " ").split()) or "console"
    if sys.stdin.isatty() and not yes:
        title = title or _ask("Title of the console", usual_title)
        voltage = voltage or _ask_voltage()
        dials = dials or _ask_dials()
    text = starter(
        title or usual_title, dials=dials or HOW_MANY_DIALS, voltage=voltage or VOLTAGES[0]
    )
    _write(file, text)
    _write(layout_file, layout)
    written = [str(file), str(layout_file)]
    say(
        options.json_text("new", ANSWER_FORMAT, {"files": written})
        if as_json
        else "\n".join(written)
    )
    click.echo(f"Fill it in, then: lugwright plan {file}", err=True)


def _fault(place: Path, message: str, hint: str = "") -> BadInput:
    """One complaint about a place to write to."""
    return BadInput(Complaint(str(place), 0, 0, "", message, hint))


def _ask(question: str, usual: str) -> str:
    """One answer from the terminal; the question goes to standard error."""
    return str(click.prompt(question, default=usual, err=True)).strip()


def _ask_voltage() -> str:
    """The voltage, from the terminal."""
    kinds = click.Choice(VOLTAGES)
    return str(click.prompt("Nominal voltage", default=VOLTAGES[0], type=kinds, err=True))


def _ask_dials() -> tuple[str, ...]:
    """The dials, from the terminal, in one line."""
    from lugwright.scenario.library import pattern_names
    from lugwright.scenario.new import USUAL_DIALS

    click.echo(f"Patterns: {', '.join(pattern_names())}", err=True)
    usual = ", ".join(USUAL_DIALS[:HOW_MANY_DIALS])
    answer = _ask("Dials, with commas between them, each NAME or NAME=PATTERN", usual)
    return tuple(part.strip() for part in answer.split(",") if part.strip())


def _refuse_to_overwrite(file: Path, layout_file: Path, layout: str, overwrite: bool) -> None:
    """Raises BadInput when a file stands in the way, or the place is no place for a file."""
    if file == layout_file:
        raise _fault(file, "is the name of the layout that is written beside a scenario")
    if layout_file.is_dir():
        raise _fault(layout_file, "is a folder", "move it out of the way")
    if not file.parent.is_dir():
        raise _fault(file.parent, "is not a folder", "make it first")
    if overwrite:
        return
    if os.path.lexists(file):
        raise _fault(file, "is there already", "name another file, or add --overwrite")
    if layout_file.exists() and layout_file.read_bytes() != layout.encode():
        raise _fault(layout_file, "is there already and differs", "add --overwrite to renew it")


def _write(file: Path, text: str) -> None:
    """Write a file whole or not at all. Raises BadInput when it cannot be written."""
    new = file.with_name(f".{file.name}.lugwright-new-{os.getpid()}")
    try:
        try:
            new.write_text(text, encoding="utf-8", newline="\n")
            new.replace(file)
        finally:
            new.unlink(missing_ok=True)
    except OSError as error:
        raise _fault(file, f"cannot be written: {error.strerror or error}") from error
