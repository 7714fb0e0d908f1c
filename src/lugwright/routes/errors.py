"""What the routes room raises on purpose."""

from __future__ import annotations

from lugwright.base.errors import LugwrightError


class NoPath(LugwrightError):
    """No wire can be led between two joints: every way round is shut.

    ``a`` and ``b`` name the joints, ``blocks`` what stands in the straight way between them.
    """

    def __init__(self, a: str, b: str, blocks: tuple[str, ...]) -> None:
        self.a, self.b, self.blocks = a, b, blocks
        what = ", ".join(blocks) if blocks else "what stands round them"
        super().__init__(f"no way for a wire between {a} and {b}: blocked by {what}")
