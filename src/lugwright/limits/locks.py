"""How a shop closes a limit: locked, only to be tightened, or kept within a range."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.base.origin import Origin
from lugwright.limits.compare import loosens, on_scale
from lugwright.limits.spec import LimitSpec, Value
from lugwright.limits.values import value_text


@dataclass(frozen=True)
class Span:
    """A range the shop gives for a limit, both ends allowed, and where it says so."""

    least: Value
    most: Value
    origin: Origin

    def holds(self, value: Value) -> bool:
        """Whether a value lies in the range."""
        return on_scale(self.least) <= on_scale(value) <= on_scale(self.most)

    def text(self, spec: LimitSpec) -> str:
        """``2 to 5``, in the limit's own unit."""
        return f"{value_text(spec, self.least)} to {value_text(spec, self.most)}"


@dataclass(frozen=True)
class Lock:
    """How one limit is held: by any of the three, each with where the shop says so.

    ``value`` is what stands at the end of the shop's files, ``set_by`` where it was set.
    """

    spec: LimitSpec
    value: Value
    set_by: Origin
    locked: Origin | None = None
    tighten_only: Origin | None = None
    span: Span | None = None

    @property
    def origin(self) -> Origin:
        """Where the shop says that it is held; the strictest way first."""
        if self.locked or self.tighten_only:
            return self.locked or self.tighten_only or self.set_by
        return self.span.origin if self.span else self.set_by

    def refusal(self, value: Value) -> str:
        """Why the shop refuses a value of everything below it; "" where it does not."""
        own = f"{value_text(self.spec, self.value)} ({self.set_by})"
        if self.locked and value != self.value:
            return f"the shop has locked it at {own}; locked by {self.locked}"
        new = value_text(self.spec, value)
        if self.tighten_only and loosens(self.spec, value, self.value):
            if self.spec.tighter == "none":
                return (
                    f"the shop has it at {own}, only to be tightened, and no value of it is the "
                    "safer one"
                )
            return (
                f"{new} is looser than the shop's {own}; it may only be tightened "
                f"({self.tighten_only})"
            )
        return self.out_of_range(value)

    def out_of_range(self, value: Value) -> str:
        """Why a value lies outside the shop's range; "" where it does not."""
        if self.span and not self.span.holds(value):
            span = f"{self.span.text(self.spec)} ({self.span.origin})"
            return f"{value_text(self.spec, value)} lies outside the shop's range, {span}"
        return ""

    def allows(self, value: Value) -> bool:
        """Whether what stands below the shop may set a value."""
        return not self.refusal(value)

    @property
    def told(self) -> str:
        """The same in a sentence about what may be done."""
        parts = []
        if self.locked:
            parts.append(f"locked by the shop ({self.locked})")
        elif self.tighten_only:
            parts.append(f"only to be tightened, says the shop ({self.tighten_only})")
        if self.span and not self.locked:
            span = f"{self.span.text(self.spec)} ({self.span.origin})"
            parts.append(f"kept by the shop within {span}")
        return ", ".join(parts)

    @property
    def words(self) -> str:
        """How it is held, as the list of limits prints it."""
        parts = []
        if self.locked:
            parts.append(f"locked ({self.locked})")
        if self.tighten_only:
            parts.append(f"may only be tightened ({self.tighten_only})")
        if self.span:
            parts.append(f"{self.span.text(self.spec)} ({self.span.origin})")
        return ", ".join(parts)
