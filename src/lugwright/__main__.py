"""``python -m lugwright`` is the same as ``lugwright``: the program's first lines.

Signals are taken before anything else is imported, since imports are most of what a short call
does.
"""

from __future__ import annotations

from typing import NoReturn

from lugwright.base import stop


def main() -> NoReturn:
    """Run the call that the command line holds, and end with its exit code."""
    stop.install()
    from lugwright.cli.main import main as run

    run()


if __name__ == "__main__":
    main()
