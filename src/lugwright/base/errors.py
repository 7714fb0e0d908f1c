"""The one family of errors the program raises on purpose.

"No plan exists" is not here: it is a way a planning run ends (an outcome), not an error.
"""

from __future__ import annotations

from dataclasses import dataclass


class LugwrightError(Exception):
    """Base of everything raised on purpose."""


@dataclass(frozen=True, order=True)
class Complaint:
    """One fault of an input file, in the reader's words.

    ``line`` and ``column`` count from 1; 0 means the whole file or the command line.
    ``field`` is the path in the file's own words (``instrument "fuel", centre``).
    """

    file: str
    line: int
    column: int
    field: str
    message: str
    hint: str = ""

    def __str__(self) -> str:
        place = self.file
        if self.line:
            place += f":{self.line}:{self.column}"
        text = f"{place}: "
        if self.field:
            text += f"{self.field}: "
        text += self.message
        return f"{text} ({self.hint})" if self.hint else text


def own_words(error: BaseException) -> str:
    """What one of our own errors says; "" for any other, whose text is no sentence for a reader."""
    return " ".join(str(error).split()) if isinstance(error, LugwrightError) else ""


class BadInput(LugwrightError):
    """Something the caller wrote cannot be used. Carries every complaint found."""

    def __init__(self, *complaints: Complaint) -> None:
        self.complaints = tuple(complaints)
        super().__init__("\n".join(str(complaint) for complaint in complaints))


class OutsideTable(LugwrightError):
    """A value was asked of a published table that the table does not hold."""
