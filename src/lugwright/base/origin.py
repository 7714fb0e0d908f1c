"""Where a value comes from: every limit carries one of these."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Origin:
    """Layer, file, line and published source of one value, and what it replaced.

    ``layer`` is one of ``built-in practice``, ``limits file``, ``scenario``, ``command line``.
    ``source`` is the published source of the value, or the words "common practice, no source".
    """

    layer: str
    file: str = ""
    line: int = 0
    source: str = ""
    replaced: str = ""

    def __str__(self) -> str:
        place = self.layer
        if self.file:
            place += f", {self.file}"
            if self.line:
                place += f":{self.line}"
        return place
