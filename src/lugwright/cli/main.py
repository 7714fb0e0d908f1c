"""The group of commands, and what becomes of an error.

A command's name and one line of help are known here, so that ``--help`` imports none of them.
"""

from __future__ import annotations

import contextlib
import errno
import gc
import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any, NoReturn

import click

from lugwright.base import stop
from lugwright.base.errors import BadInput, Complaint, own_words
from lugwright.base.version import __version__
from lugwright.cli.exits import Exit
from lugwright.cli.nearest_group import NearestGroup
from lugwright.cli.options import tell_faults
from lugwright.cli.talk import hush, steady_streams

PROGRAM = "lugwright"
_GC_AFTER = 50_000  # objects more than before: some 5 MB
_OUTPUT_LOST = (errno.ENOSPC, errno.EFBIG, errno.EIO)
# name: (module, one line of help), in the order a job runs through them
COMMANDS: dict[str, tuple[str, str]] = {
    "new": ("lugwright.cli.cmd_new", "Write a starter scenario to fill in."),
    "plan": ("lugwright.cli.cmd_plan", "Plan a console, check the plan, write its folder."),
    "hubs": ("lugwright.cli.cmd_hubs", "Set every hub side by side, each at its own best."),
    "sheets": ("lugwright.cli.cmd_sheets", "Write some of a plan's sheets again."),
    "check": ("lugwright.cli.cmd_check", "Judge a plan, or a jumper list of a built panel."),
    "readings": ("lugwright.cli.cmd_readings", "Judge readings taken with the test sheet."),
    "catalogue": (
        "lugwright.cli.cmd_catalogue",
        "Plan a folder of consoles; weigh a change over all of them.",
    ),
    "family": (
        "lugwright.cli.cmd_family",
        "Plan a model with options so that variants share parts.",
    ),
    "kits": ("lugwright.cli.cmd_kits", "Make a run of N boats: kits, batches, buy list, sheets."),
    "spools": (
        "lugwright.cli.cmd_spools",
        "Cut a run's wire from spools and offcuts, proved least.",
    ),
    "lengths": (
        "lugwright.cli.cmd_lengths",
        "Choose the standard jumper lengths that waste least wire.",
    ),
    "rework": ("lugwright.cli.cmd_rework", "Plan a built console again; keep what pays to keep."),
    "changes": (
        "lugwright.cli.cmd_changes",
        "Say what changed between two plans, and what to rework.",
    ),
    "patterns": (
        "lugwright.cli.cmd_patterns",
        "List the instrument library: posts, threads, currents.",
    ),
    "guide": (
        "lugwright.cli.cmd_guide",
        "Read the guide: rigging, keys, limits, production, Python.",
    ),
    "limits": ("lugwright.cli.cmd_limits", "Show the limits in force and where they come from."),
    "stock": ("lugwright.cli.cmd_stock", "Show the stock, or copy its tables to edit."),
}


@dataclass
class Call:
    """What the whole call was asked for, whichever command it runs."""

    traceback: bool = False


class LateGroup(NearestGroup):
    """A group that imports a command's module only when that command is run."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names of the commands, in the order of the job."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, imported now; None when there is none."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(COMMANDS[cmd_name][0])
        commands = (x for x in vars(module).values() if isinstance(x, click.Command))
        return next(command for command in commands if command.name == cmd_name)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands on the help page, without importing one."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in COMMANDS.items()])

    def make_context(
        self,
        info_name: str | None,
        args: list[str],
        parent: click.Context | None = None,
        **extra: Any,
    ) -> click.Context:
        """Read the call. A reader of the help page who has gone is no fault of anybody's."""
        try:
            return super().make_context(info_name, args, parent, **extra)
        except BrokenPipeError as gone:
            hush()
            raise click.exceptions.Exit(Exit.DONE) from gone

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command. A reader who has gone is no fault of anybody's."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError as gone:
            hush()
            raise click.exceptions.Exit(Exit.DONE) from gone


@click.group(
    cls=LateGroup,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Exit codes: 0 done, 1 our fault, 2 call or input at fault, 3 no plan exists, "
    "4 planned but not proved best in time, 5 no answer in time, 6 the checker or a reading "
    "rejects, 130 interrupted.",
)
@click.option("--traceback", is_flag=True, help="Show where in the program a fault of ours is.")
@click.version_option(__version__, prog_name=PROGRAM)
@click.pass_context
def cli(ctx: click.Context, traceback: bool) -> None:
    """Plan the wiring harness behind a small craft's instrument panel.

    A plan says where the supply lands, which jumper is cut how long, what goes in each barrel
    and which lug goes on which stud in which order, and whether any plan could cost less.
    """
    ctx.ensure_object(Call).traceback = traceback
    if os.environ.get("NO_COLOR"):
        ctx.color = False


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one call and return its exit code; every error has become words on standard error."""
    call = Call()
    try:
        code = _dispatch(arguments, call)
        sys.stdout.flush()
    except BrokenPipeError:
        hush()
        return Exit.DONE
    except OSError as error:
        return _refused_by_the_system(error, call)
    except Exception as error:
        return _our_fault(error, call)
    return code


def _dispatch(arguments: Sequence[str] | None, call: Call) -> int:
    """Run the call; errors raised on purpose become messages and exit codes here."""
    try:
        _refuse_letters(sys.argv[1:] if arguments is None else arguments)
        result = cli.main(
            args=None if arguments is None else list(arguments),
            prog_name=PROGRAM,
            standalone_mode=False,
            obj=call,
        )
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("interrupted", err=True)
        return Exit.INTERRUPTED
    except BadInput as fault:
        tell_faults(fault.complaints, as_json=False)
        return Exit.BAD_INPUT
    return result if isinstance(result, int) else Exit.DONE


def _refuse_letters(arguments: Sequence[str]) -> None:
    """Raises BadInput for what no name of a file can be told by: a zero byte, no UTF-8."""
    for number, text in enumerate(arguments, start=1):
        if "\0" in text or any("\ud800" <= char <= "\udfff" for char in text):
            what = "a zero byte" if "\0" in text else "bytes that are not UTF-8"
            fault = Complaint("the call", 0, 0, f"word {number}", f"holds {what}: {text[:60]!r}")
            raise BadInput(fault)


def _refused_by_the_system(error: OSError, call: Call) -> int:
    """One line about a file, a folder or a stream that the system would not give.

    A name too long, a folder that has gone, a full disk: the call's surroundings are at fault.
    """
    if call.traceback:
        _show_trace(error)
    place, what = str(error.filename or "the folder you stand in")[:200], "cannot be used"
    if error.filename is None and error.errno in _OUTPUT_LOST:
        hush()  # else the end of the program would try to write what is left, and fail again
        place, what = "standard output", "cannot be written"
    fault = Complaint(place, 0, 0, "", f"{what}: {error.strerror or error}")
    tell_faults((fault,), as_json=False)
    return Exit.BAD_INPUT


def _show_trace(error: Exception) -> None:
    """Where in the program an error came from, on standard error."""
    import traceback

    traceback.print_exception(error)


def _our_fault(error: Exception, call: Call) -> int:
    """One clear line about a fault of ours, or the whole trace where it was asked for."""
    if call.traceback:
        _show_trace(error)
        return Exit.OUR_FAULT
    said = own_words(error)
    told = f": {said}" if said else "."
    click.echo(f"{PROGRAM}: this is our fault, not yours{told}", err=True)
    click.echo(f"To see where, put --traceback right after {PROGRAM} and run it again.", err=True)
    return Exit.OUR_FAULT


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """The program's entry: run the call and end with its exit code.

    After a stop nothing is waited for: a search that was left to itself may still be running.
    """
    stop.install()
    # No plug-in that stands in the same Python changes how our files are read; and pydantic need
    # not look through everything installed for one.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # Nearly all that is made here stands until the end; Python's own measure has it looked through
    # for rings of garbage hundreds of times, and once more as it ends.
    gc.set_threshold(_GC_AFTER, 20, 20)
    # One thread multiplies small matrices sooner than two share them; the cores have solves to do.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    steady_streams()
    code = run(arguments)
    if stop.asked():
        _leave(code)
    gc.freeze()
    sys.exit(code)


def _leave(code: int) -> NoReturn:
    """End after a stop, whatever else is running; what was found wrong is still told."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):
            stream.flush()
    os._exit(code if code == Exit.REJECTED else Exit.INTERRUPTED)
