"""``python -m lugwright`` is the same as ``lugwright``: the program's first lines.

Signals are taken before anything else is imported, since imports are most of what a short call
does: first by two lines that need no import of a file, then by ``base.stop``.
"""

import _signal  # type: ignore[import-not-found]  # in the interpreter itself: no file is read
import os


def _end_at_once(_number: int, _frame: object) -> None:
    """Nothing has been done yet, so nothing is lost."""
    os.write(2, b"interrupted\n")
    os._exit(130)


def main() -> None:
    """Run the call that the command line holds, and end with its exit code."""
    for number in (_signal.SIGINT, _signal.SIGTERM):
        if _signal.getsignal(number) != _signal.SIG_IGN:
            _signal.signal(number, _end_at_once)
    from lugwright.base import stop

    stop.install()
    from lugwright.cli.main import main as run

    run()


if __name__ == "__main__":
    main()
