"""Streams that are closed, full or read by nobody, and that have the same bytes everywhere.

Standard output carries the answer: where it cannot be written, the call has failed. Standard
error carries talk: where that cannot be written, nothing is lost but the talk.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
from typing import Any

import click

from lugwright.outputs.words import one_line


def steady_streams() -> None:
    """Write UTF-8 with LF into files and pipes; on a terminal never fail over a character.

    A stream that was closed before the program began is opened to nowhere.
    """
    _fill_closed()
    if isinstance(sys.stderr, io.TextIOWrapper):
        sys.stderr = _talk_stream(sys.stderr)
    for stream in (sys.stdout, sys.stderr):
        if not isinstance(stream, io.TextIOWrapper):
            continue
        if stream.isatty():
            stream.reconfigure(errors="replace")
        else:
            stream.reconfigure(encoding="utf-8", newline="\n")


def _fill_closed() -> None:
    """Open what is closed of the three streams, lest a file of ours take its place and number."""
    for number, name, mode in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        if getattr(sys, name) is None:
            nowhere = os.open(os.devnull, os.O_RDWR)
            if nowhere != number:
                os.dup2(nowhere, number)
                os.close(nowhere)
            stream = open(number, mode, encoding="utf-8", closefd=False)  # noqa: SIM115
            setattr(sys, name, stream)


class _Talk(io.FileIO):
    """A file that takes every write, whether or not it can be kept."""

    def write(self, data: Any, /) -> int:
        """Write what can be written; the count of everything given."""
        with contextlib.suppress(OSError):
            super().write(data)
        return memoryview(data).nbytes


def _talk_stream(stream: io.TextIOWrapper) -> io.TextIOWrapper:
    """The same stream, but one that never fails."""
    stream.flush()
    raw = _Talk(stream.fileno(), "wb", closefd=False)
    return io.TextIOWrapper(
        io.BufferedWriter(raw), encoding=stream.encoding, errors=stream.errors, line_buffering=True
    )


def say(text: str) -> None:
    """Write a result to standard output. A reader who has gone (``| head``) is no error.

    The command goes on and ends with the exit code it has earned. Raises OSError where the
    answer cannot be written for another reason.
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


def clean_line(line: str) -> str:
    """A line without control characters and doubled blanks, its indent kept."""
    return line[: len(line) - len(line.lstrip())] + one_line(line)
