"""Tables on standard output: the same bytes on a terminal and in a pipe, but for the bold head."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import click

from lugwright.outputs.layout import aligned


def table(head: Sequence[str], rows: Iterable[Sequence[str]], *, right: Sequence[int] = ()) -> str:
    """Columns under a head; those named in ``right`` are set to the right."""
    first, *others = aligned(head, rows, right)
    return "\n".join((click.style(first, bold=True), *others))
