"""How a command can end: one number each, the same for every command.

====  ==========================================================
code  meaning
====  ==========================================================
0     planned and checked; or the question was answered
1     our fault: a bug
2     the call or an input file is at fault
3     no plan exists
4     planned, but not proved best in the time given
5     no answer in time
6     the checker rejects, or a reading does not pass
130   interrupted; the best plan so far is kept
====  ==========================================================
"""

from __future__ import annotations

from enum import IntEnum

from lugwright.plans.outcome import Ending


class Exit(IntEnum):
    """Exit codes of every command."""

    DONE = 0
    OUR_FAULT = 1
    BAD_INPUT = 2
    NO_PLAN = 3
    NOT_PROVED = 4
    NO_ANSWER = 5
    REJECTED = 6
    INTERRUPTED = 130


_BY_ENDING = {
    Ending.PROVED: Exit.DONE,
    Ending.WITHIN_BOUND: Exit.NOT_PROVED,
    Ending.IMPOSSIBLE: Exit.NO_PLAN,
    Ending.NO_ANSWER: Exit.NO_ANSWER,
}


def exit_for(ending: Ending, *, interrupted: bool = False, rejected: bool = False) -> Exit:
    """The exit code of a search that ended so.

    A plan the checker rejects outweighs everything else; an interruption outweighs how far
    the search had come.
    """
    if rejected:
        return Exit.REJECTED
    if interrupted:
        return Exit.INTERRUPTED
    return _BY_ENDING[ending]
