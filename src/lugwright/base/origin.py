"""Where a value comes from: every limit carries one of these."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Origin:
    """Layer, file, line and published source of one value, and what it replaced.

    ``layer`` is one of ``built-in rule set``, ``limits file``, ``scenario``, ``command line``.
    ``source`` is the published source of the value, or the words "common practice, no source".
    """

    layer: str
    file: str = ""
    line: int = 0
    source: str = ""
    replaced: str = ""

    def __str__(self) -> str:
        return f"{self.on_paper}:{self.line}" if self.file and self.line else self.on_paper

    @property
    def on_paper(self) -> str:
        """The same without the line, which a comment above it would move."""
        return f"{self.layer}, {self.file}" if self.file else self.layer
