"""Standard output that survives a reader who has gone, and has the same bytes everywhere."""

from __future__ import annotations

import io
import os
import sys

import click


def steady_streams() -> None:
    """Write UTF-8 with LF into files and pipes; on a terminal never fail over a character."""
    for stream in (sys.stdout, sys.stderr):
        if not isinstance(stream, io.TextIOWrapper):
            continue
        if stream.isatty():
            stream.reconfigure(errors="replace")
        else:
            stream.reconfigure(encoding="utf-8", newline="\n")


def say(text: str) -> None:
    """Write a result to standard output. A reader who has gone (``| head``) is no error.

    The command goes on and ends with the exit code it has earned.
    """
    try:
        click.echo(text, nl=not text.endswith("\n"))
        sys.stdout.flush()
    except BrokenPipeError:
        hush()


def hush() -> None:
    """Send what is still to be written nowhere, so that the end of the program stays silent."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)
