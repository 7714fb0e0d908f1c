"""A stop asked for from outside: Ctrl-C, or the system's request to end.

From the moment ``install`` is called, a thread of its own waits for such a signal, so that one
is seen whatever the main thread is at: an import, a long solve, a line of Python. What comes of
it depends on what the program has in hand:

* nothing yet: it ends at once with exit code 130 (files are only ever put in place whole, so
  there is nothing to tidy);
* ``noted``: there is something to keep. The stop is noted, and whoever opened the block looks with
  ``asked`` and comes to an end within a second;
* ``raised``: as noted, and KeyboardInterrupt is raised in the main thread as well.

A second signal always ends the program at once. Without ``install`` (the program used as a
library) Python's own KeyboardInterrupt is all there is.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
from collections.abc import Iterator
from types import FrameType

INTERRUPTED = 130
_AT_ONCE, _NOTED, _RAISED = "at once", "noted", "raised"


class _Stop:
    """What is known of a stop, and what is to come of one."""

    def __init__(self) -> None:
        self.asked = threading.Event()
        self.way = _AT_ONCE
        self.keeps = False
        self.words = "interrupted"
        self.installed = False

    def take(self) -> None:
        """One signal has come."""
        if self.asked.is_set() or self.way == _AT_ONCE:
            self.end()
        self.asked.set()

    def end(self) -> None:
        """End the program, and the processes it has started, without another word of Python."""
        with contextlib.suppress(Exception):
            os.write(2, f"{self.words}\n".encode())
        with contextlib.suppress(Exception):
            _end_children()
        os._exit(INTERRUPTED)


_stop = _Stop()


def install() -> None:
    """Take signals from here on. Does nothing a second time, or outside the main thread."""
    usable = os.name == "posix" and threading.current_thread() is threading.main_thread()
    if _stop.installed or not usable:
        return
    _stop.installed = True
    read, write = os.pipe()
    os.set_blocking(write, False)
    signal.set_wakeup_fd(write, warn_on_full_buffer=False)
    threading.Thread(target=_watch, args=(read,), name="stop", daemon=True).start()
    for kind in (signal.SIGINT, signal.SIGTERM):
        if signal.getsignal(kind) is not signal.SIG_IGN:  # as under nohup
            signal.signal(kind, _in_main_thread)


def asked() -> bool:
    """Whether a stop has been asked for."""
    return _stop.asked.is_set()


def tell(words: str) -> None:
    """What is said where the program ends at once: what has been kept by now."""
    _stop.words = words


@contextlib.contextmanager
def noted() -> Iterator[None]:
    """A stop is only noted in this block: whoever opens it has something to keep, and looks.

    Inside ``keeping`` it stays so when the block ends.
    """
    before = _stop.way
    with _way(_NOTED):
        yield
    if _stop.keeps and before == _AT_ONCE:
        _stop.way = _NOTED


@contextlib.contextmanager
def keeping() -> Iterator[None]:
    """From the first ``noted`` block in this one to its end, what was found there is kept."""
    with _way(_stop.way):
        _stop.keeps = True
        try:
            yield
        finally:
            _stop.keeps = False


@contextlib.contextmanager
def raised() -> Iterator[None]:
    """A stop becomes KeyboardInterrupt in this block; one asked for before it does so at once."""
    with _way(_RAISED):
        if asked():
            raise KeyboardInterrupt
        yield


@contextlib.contextmanager
def _way(way: str) -> Iterator[None]:
    before, _stop.way = _stop.way, way
    try:
        yield
    finally:
        _stop.way = before


def _watch(read: int) -> None:
    """Take signals as they come; each is one byte, its number."""
    taken = (signal.SIGINT, signal.SIGTERM)
    while True:
        for number in os.read(read, 1):
            if number in taken:
                _stop.take()


def _in_main_thread(_number: int, _frame: FrameType | None) -> None:
    """What Python does of a signal between two lines of the main thread."""
    if _stop.way == _RAISED:
        _stop.asked.set()
        raise KeyboardInterrupt


def _end_children() -> None:
    """End the processes that plan models beside this one."""
    processes = sys.modules.get("multiprocessing.process")
    for child in processes.active_children() if processes is not None else ():
        os.kill(child.pid, signal.SIGKILL)
