"""Lugwright plans the wiring harness behind a small craft's instrument panel.

``read``, ``plan``, ``check``, ``hubs`` and ``write`` are the door for scripts and notebooks; they
and the types they return are loaded when first asked for, so that importing costs nothing.
"""

from __future__ import annotations

TYPE_CHECKING = False  # as in typing, whose import alone would be most of this one's time
if TYPE_CHECKING:
    from typing import Any

    from lugwright.base.errors import BadInput
    from lugwright.base.version import __version__
    from lugwright.door.answer import Answer
    from lugwright.door.calls import check, hubs, plan, read, write
    from lugwright.door.view import PlanView

__all__ = [
    "Answer",
    "BadInput",
    "PlanView",
    "__version__",
    "check",
    "hubs",
    "plan",
    "read",
    "write",
]

_PLACES = {
    "Answer": "lugwright.door.answer",
    "BadInput": "lugwright.base.errors",
    "PlanView": "lugwright.door.view",
    "__version__": "lugwright.base.version",
    **dict.fromkeys(("check", "hubs", "plan", "read", "write"), "lugwright.door.calls"),
}


def __getattr__(name: str) -> Any:
    """A public name, loaded when it is first asked for."""
    if name not in _PLACES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    found = globals()[name] = getattr(import_module(_PLACES[name]), name)
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
