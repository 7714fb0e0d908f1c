"""The paper a sheet is made for, and the printer's own error."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

# Width and height in 0.1 mm, upright: ISO 216 and ANSI/ASME Y14.1 (8.5 × 11 in).
PAGES_DMM: dict[str, tuple[int, int]] = {"A4": (2100, 2970), "Letter": (2159, 2794)}


@dataclass(frozen=True)
class Paper:
    """What a sheet is printed on.

    ``page`` is a key of PAGES_DMM. ``scale_x`` and ``scale_y`` correct a printer that stretches:
    drawn length over printed length, so 100 mm that came out 99 mm asks for 100/99. Only 1:1
    sheets use them. ``full_size``: 1:1 pages are asked for, however large the plate.
    """

    page: str = "A4"
    scale_x: Fraction = Fraction(1)
    scale_y: Fraction = Fraction(1)
    full_size: bool = False

    @property
    def width_dmm(self) -> int:
        """Width of the upright page, 0.1 mm."""
        return PAGES_DMM[self.page][0]

    @property
    def height_dmm(self) -> int:
        """Height of the upright page, 0.1 mm."""
        return PAGES_DMM[self.page][1]
