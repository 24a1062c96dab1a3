"""The sheets of paper a summary can be printed on, and how a grower asks for one.

What stands on them is gathered in `core.summary.describe`.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.errors import InputError
from core.language import tr

MARGIN = 14.0
"""Left and right of everything. [mm]"""
HEAD, FOOT = 17.0, 13.0
"""How far below a page's edge text begins, and above it ends. [mm]"""


@dataclass(frozen=True)
class Paper:
    """A sheet, upright. [mm]"""

    key: str
    name: str
    width: float
    height: float

    @property
    def room(self) -> tuple[float, float]:
        """Width and height that there are between head, foot and margins. [mm]"""
        return self.width - 2 * MARGIN, self.height - HEAD - FOOT


PAPERS = {
    "a4": Paper("a4", "A4", 210.0, 297.0),
    "letter": Paper("letter", "Letter", 215.9, 279.4),
    "a3": Paper("a3", "A3", 297.0, 420.0),
}


@dataclass(frozen=True)
class Wishes:
    """What a grower asks of a summary.

    Attributes
    ----------
    paper : str or None
        A key of `PAPERS`; None: A4, or Letter where the design is in feet and inches.
    scale : int or None
        How many times smaller the drawings are than the thing; None: the largest that fits.
    """

    paper: str | None = None
    scale: int | None = None

    def sheet(self, system: str) -> Paper:
        """Return the sheet for a system of units.

        Raises
        ------
        InputError
            If the paper asked for is not known.
        """
        key = self.paper or ("letter" if system == "us" else "a4")
        if key.lower() not in PAPERS:
            text = tr("Paper ‘{asked}’ must be one of {known}; choose one of them.")
            known = ", ".join(paper.name for paper in PAPERS.values())
            raise InputError(text.format(asked=key, known=known))
        return PAPERS[key.lower()]
