"""Best and bound on standard error while a search runs."""

import pytest

from lugwright.cli.progress_line import PlainLines, progress_text, telling
from lugwright.plans.progress import Progress


def report(text: str) -> Progress:
    """A report without numbers."""
    return Progress(text)


def test_best_and_bound_stand_in_one_line() -> None:
    """What is best so far, and what no plan can cost less than."""
    progress = Progress("hub depth", ("stacked lugs", "wire length, 0.1 mm"), (3, 900), (2, 805))
    assert progress_text(progress) == (
        "hub depth; best so far: stacked lugs 3, wire length 90 mm; "
        "none can cost less than: stacked lugs 2, wire length 80.5 mm"
    )


def test_nothing_known_says_nothing_of_it() -> None:
    """Before the first plan there is no best, and no bound is invented."""
    assert progress_text(report("reading")) == "reading"


def test_plain_lines_come_now_and_then(capsys: pytest.CaptureFixture[str]) -> None:
    """A line at once, then at most one in five seconds, and none that repeats the last."""
    times = iter((0.0, 1.0, 6.0, 12.0, 18.0))
    lines = PlainLines(clock=lambda: next(times))
    for text in ("one", "two", "three", "three", "four"):
        lines(report(text))
    assert capsys.readouterr().err.splitlines() == ["one", "three", "four"]


def test_quiet_has_no_listener() -> None:
    """With --quiet nobody listens."""
    with telling(quiet=True) as listener:
        assert listener is None


def test_live_line_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal the line is written over; nothing fails whatever the text holds."""
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    with telling(quiet=False) as listener:
        assert listener is not None
        assert not isinstance(listener, PlainLines)
        listener(report("[bold]brackets[/] \x1b[2J"))
