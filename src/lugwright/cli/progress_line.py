"""Best and bound on standard error while a search runs: a live line, or plain ones."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from lugwright.outputs.words import levels_text, one_line
from lugwright.plans.progress import Listener, Progress

SECONDS_BETWEEN_LINES = 5.0


def progress_text(progress: Progress) -> str:
    """What is known so far, in one line: the best plan and what no plan can cost less than."""
    parts = [one_line(progress.text)] if progress.text else []
    if progress.best_cost is not None:
        parts.append(f"best so far: {levels_text(progress.levels, progress.best_cost)}")
    if progress.bound is not None:
        parts.append(f"none can cost less than: {levels_text(progress.levels, progress.bound)}")
    return "; ".join(parts)


@contextmanager
def telling(*, quiet: bool) -> Iterator[Listener | None]:
    """A listener that tells of the search on standard error; None when quiet."""
    if quiet:
        yield None
    elif sys.stderr.isatty():
        with _live_line() as listener:
            yield listener
    else:
        yield PlainLines()


class PlainLines:
    """A line when something has changed, at most one every few seconds; the first plan at once."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._last_text = ""
        self._last_s: float | None = None
        self._has_plan = False

    def __call__(self, progress: Progress) -> None:
        """Tell of this report, unless it says nothing new or comes too soon."""
        text, now_s = progress_text(progress), self._clock()
        too_soon = self._last_s is not None and now_s - self._last_s < SECONDS_BETWEEN_LINES
        first_plan = progress.best_cost is not None and not self._has_plan
        if text == self._last_text or (too_soon and not first_plan):
            return
        self._has_plan = self._has_plan or first_plan
        self._last_text, self._last_s = text, now_s
        click.echo(text, err=True)


@contextmanager
def _live_line() -> Iterator[Listener]:
    """A line that is written over as the search goes on, and gone when it ends."""
    from rich.console import Console
    from rich.text import Text

    with Console(stderr=True).status(Text("searching")) as status:
        yield lambda progress: status.update(Text(progress_text(progress)))
