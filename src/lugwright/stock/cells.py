"""One row's cells read as values. A fault is kept and reading goes on, so all are told at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from math import ceil
from typing import TypeVar

from lugwright.base import units
from lugwright.base.csv_marks import with_point
from lugwright.base.errors import Complaint
from lugwright.base.letters import letters_fault
from lugwright.base.spelling import did_you_mean
from lugwright.electrics.tables import cmil_to_um2
from lugwright.stock.table import Row

T = TypeVar("T")

# No part of a small craft's harness comes near these; a cell beyond them is a slip of the pen.
MAX_AREA_UM2 = 1_000_000_000  # 1000 mm2
MAX_LENGTH_MM = 10_000_000  # 10 km
MAX_PRICE = 1_000_000
MAX_COUNT = 1_000_000

UM_PER_MM = 1000


class Cells:
    """The cells of one row, and the complaints found while reading them.

    Every method returns a value that only counts while ``complaints`` is empty.
    """

    def __init__(self, row: Row, name_column: str) -> None:
        self._row = row
        self._name = row.cells[name_column]
        self.complaints: list[Complaint] = []

    def complain(self, column: str, message: str, hint: str = "") -> None:
        """Keep a fault of one column of this row."""
        field = f'row "{self._name[:40]}", column "{column}"'
        number = self._row.numbers.get(column, 1)
        self.complaints.append(
            Complaint(self._row.file, self._row.line, number, field, message, hint)
        )

    def written(self, column: str) -> str:
        """What stands in the cell; "" when it is empty or the table has no such column."""
        return self._row.cells.get(column, "")

    def _parsed(self, column: str, parse: Callable[[str], T], default: T) -> T:
        try:
            return parse(with_point(self.written(column), self._row.mark))
        except ValueError as error:
            self.complain(column, str(error))
            return default

    def text(self, column: str) -> str:
        """A name: printable, not empty, at most 80 characters."""
        written = self.note(column, 80)
        if not written:
            self.complain(column, "nothing is written")
        return written

    def note(self, column: str, most: int = 500) -> str:
        """A note that may be empty: printable, at most so many characters."""
        written = self.written(column)
        if len(written) > most or not written.isprintable():
            self.complain(column, f"must be at most {most} printable characters")
        elif fault := letters_fault(written):
            self.complain(column, fault)
        return written

    def choice(self, column: str, allowed: Iterable[str]) -> str:
        """One word of a closed set."""
        written, words = self.written(column), list(allowed)
        if written not in words:
            message = f'must be one of {", ".join(words)} (got "{written[:40]}")'
            self.complain(column, message, did_you_mean(written, words))
        return written

    def spelled(self, column: str, parse: Callable[[str], str]) -> str:
        """A wire size, colour, thread or tab size in its one spelling."""
        return self._parsed(column, parse, "")

    def must_be_empty(self, column: str, why: str) -> None:
        """A cell that means nothing in this row must not pretend to."""
        if self.written(column):
            self.complain(column, f"must be empty: {why}")

    def length_mm(self, column: str, *, zero: bool = False) -> Fraction:
        """A length with its unit, above zero unless ``zero`` is allowed too."""
        length = self._parsed(column, units.parse_length_mm, Fraction(1))
        if length > MAX_LENGTH_MM or (length == 0 and not zero):
            least = "zero or more" if zero else "more than zero"
            self.complain(
                column, f'must be {least} and at most 10 km (got "{self.written(column)}")'
            )
        return length

    def length_dmm_up(self, column: str, *, zero: bool = False) -> int:
        """A length in 0.1 mm, rounded up."""
        return units.to_dmm_up(self.length_mm(column, zero=zero))

    def length_dmm(self, column: str) -> int:
        """A length in 0.1 mm, to the nearest."""
        return units.to_dmm(self.length_mm(column))

    def length_um_up(self, column: str) -> int:
        """A length in micrometres, rounded up."""
        return ceil(self.length_mm(column) * UM_PER_MM)

    def length_um(self, column: str) -> int:
        """A length in whole micrometres, rounded down."""
        return int(self.length_mm(column) * UM_PER_MM)

    def whole(self, column: str, least: int, most: int = MAX_COUNT) -> int:
        """A whole number between two bounds, both allowed."""
        number = self._parsed(column, lambda text: units.parse_decimal(text, "number"), Fraction(1))
        if number.denominator != 1 or not least <= number <= most:
            written = self.written(column)
            self.complain(
                column, f'must be a whole number from {least} to {most} (got "{written[:40]}")'
            )
            return least
        return int(number)

    def price_micro(self, column: str) -> int:
        """Money in millionths of the currency, zero or more."""
        price = self._parsed(column, units.parse_money_micro, 0)
        if price > MAX_PRICE * 1_000_000:
            self.complain(column, f"must be at most {MAX_PRICE}")
        return price

    def limit_ma(self, column: str) -> int:
        """A current limit in mA, rounded down; an empty cell is no limit (0)."""
        if not self.written(column):
            return 0
        limit = self._parsed(column, lambda text: units.parse_current_ma(text, round_up=False), 1)
        if limit == 0:
            self.complain(column, "must be more than zero; leave it empty for no limit")
        return limit

    def yes(self, column: str) -> bool:
        """``yes`` or ``no``."""
        return self.choice(column, ("yes", "no")) == "yes"

    def area_um2(self, stem: str) -> int:
        """An area in square micrometres, from ``<stem>_cmil`` or ``<stem>_mm2``: exactly one."""
        cmil, mm2 = f"{stem}_cmil", f"{stem}_mm2"
        if bool(self.written(cmil)) == bool(self.written(mm2)):
            which = "not in both" if self.written(cmil) else "nothing is written"
            self.complain(cmil, f"write the area here or in {mm2}, {which}")
            return 1
        column = cmil if self.written(cmil) else mm2
        number = self._parsed(column, lambda text: units.parse_decimal(text, "area"), Fraction(1))
        # Through the one conversion of the tables, so that equal areas stay equal.
        in_cmil = column == cmil
        area = cmil_to_um2(units.decimal_text(number)) if in_cmil else round(number * 1_000_000)
        if not 0 < area <= MAX_AREA_UM2:
            self.complain(column, f'must be more than zero and at most 1000 mm2 (got "{number}")')
        return area
