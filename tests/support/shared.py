"""What is dear to make and asked for by many tests: made once a run, shared by its workers.

``tests/conftest.py`` names a folder that belongs to one run of the tests; without it each process
makes what it asks for itself. A name must say all that what is made hangs on.
"""

from __future__ import annotations

import copyreg
import os
import pickle
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

try:
    import fcntl
except ImportError:  # a system without file locks
    fcntl = None  # type: ignore[assignment]

T = TypeVar("T")
FOLDER = "LUGWRIGHT_TEST_RUN"


def _fixed(rows: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    """A mapping nobody can change, made again from its rows."""
    return MappingProxyType(rows)


copyreg.pickle(MappingProxyType, lambda one: (_fixed, (dict(one),)))


def shared(name: str, make: Callable[[], T]) -> T:
    """What ``make`` gives, made by whichever worker asks first while the others wait for it."""
    folder = os.environ.get(FOLDER)
    if folder is None or fcntl is None:
        return make()
    file = Path(folder) / sha256(name.encode()).hexdigest()
    with file.with_suffix(".lock").open("a") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not file.exists():
            made = make()
            part = file.with_suffix(".part")
            part.write_bytes(pickle.dumps(made))
            part.replace(file)
            return made
    kept: T = pickle.loads(file.read_bytes())  # noqa: S301 - written by a worker of this run
    return kept
