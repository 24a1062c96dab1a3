"""What frame stock, rolls and boards can be bought as: lengths, widths, stiffness, joints.

Keyed by catalogue entry; sizes of a member and the light and heat of a sheet are in the catalogue
itself. Cutting is in `core.materials.cutting` and `core.materials.sheets`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from typing import Literal

from core.model import Sheet, System
from core.units.table import FOOT, INCH

Joint = Literal["socket", "plug", "butt"]
"""How members meet: in fittings around them, on cubes between them, or end against side."""

SOCKET_STOP = 0.001
"""From the side of a pipe to where the pipe across it stops in a socket fitting (z-length d/2 + 1
mm of the 90° elbow in ISO 264, from memory). [m]"""

COUPLER_STOP = 0.003
"""Ridge in the middle of a straight pipe coupler (ISO 264, from memory). [m]"""


@dataclass(frozen=True)
class FrameStock:
    """Bars for frames.

    Attributes
    ----------
    section : str
        ``"round"`` or ``"square"``; solid where ``wall`` is None.
    wall : float or None
        Thickness of the wall. [m]
    lengths : tuple of float
        As sold. [m]
    stiffness : float
        Modulus of elasticity, for short loads. [Pa]
    density : float
        [kg/m³]
    joint : Joint
    kerf : float
        What the usual saw takes. [m]
    source : str
        Where the numbers come from.
    """

    section: Literal["round", "square"]
    wall: float | None
    lengths: tuple[float, ...]
    stiffness: float
    density: float
    joint: Joint
    kerf: float
    source: str

    def area(self, member: float) -> float:
        """Return the cross-section of a bar this thick. [m²]"""
        inner = self._inner(member)
        return (pi / 4 if self.section == "round" else 1.0) * (member**2 - inner**2)

    def second_moment(self, member: float) -> float:
        """Return the second moment of area of a bar this thick. [m⁴]"""
        inner = self._inner(member)
        return (pi / 64 if self.section == "round" else 1 / 12) * (member**4 - inner**4)

    def _inner(self, member: float) -> float:
        return 0.0 if self.wall is None else max(0.0, member - 2 * self.wall)


@dataclass(frozen=True)
class Roll:
    """A roll of sheet. [m]"""

    width: float
    length: float


@dataclass(frozen=True)
class Board:
    """A rigid sheet. [m]"""

    width: float
    length: float


_SOLD = "Lengths: common practice, no source. "
_PVC = _SOLD + "Wall: EN ISO 1452-2, pressure class 16 (from memory). Modulus 3 GPa (from memory)."
_PVC_US = _SOLD + "Wall: ASTM D1785 schedule 40; modulus 400,000 psi: ASTM D1784 (from memory)."
_SOFTWOOD = _SOLD + "Modulus 8 GPa and 370 kg/m³: class C16 of EN 338 (from memory)."
_STEEL = _SOLD + "Wall: common practice. Modulus 210 GPa: EN 1993-1-1 (from memory)."
_ALUMINIUM = _SOLD + "Wall: common practice. Modulus 70 GPa: EN 1999-1-1 (from memory)."

FRAME_STOCK: Mapping[str, FrameStock] = {
    "pipe-25": FrameStock("round", 0.0019, (2.0, 3.0), 3.0e9, 1400, "socket", 0.002, _PVC),
    "pipe-32": FrameStock("round", 0.0024, (2.0, 3.0), 3.0e9, 1400, "socket", 0.002, _PVC),
    "pipe-three-quarter-in": FrameStock(
        "round", 0.113 * INCH, (10 * FOOT,), 2.76e9, 1400, "socket", 0.002, _PVC_US
    ),
    "pipe-1-in": FrameStock(
        "round", 0.133 * INCH, (10 * FOOT,), 2.76e9, 1400, "socket", 0.002, _PVC_US
    ),
    "timber-38": FrameStock("square", None, (2.4, 3.0), 8.0e9, 370, "butt", 0.003, _SOFTWOOD),
    "lumber-2x2": FrameStock("square", None, (8 * FOOT,), 8.0e9, 370, "butt", 0.003, _SOFTWOOD),
    "steel-tube-20": FrameStock(
        "square", 0.0015, (2.0, 3.0, 6.0), 210e9, 7850, "plug", 0.003, _STEEL
    ),
    "aluminium-20": FrameStock(
        "square", 0.0015, (1.0, 2.0, 3.0), 70e9, 2700, "plug", 0.003, _ALUMINIUM
    ),
}
"""By the catalogue entry of the frame."""

FRAME_STOCK_UNKNOWN = FRAME_STOCK["timber-38"]
"""Taken for a frame of no catalogue entry, and named as an assumption."""

_FILMS = (Roll(2.0, 10.0), Roll(3.0, 10.0), Roll(4.0, 10.0))
_LININGS = (Roll(1.2, 10.0), Roll(1.2, 25.0))
_BLACKS = (Roll(1.5, 10.0),)
_BUBBLES = (Roll(1.5, 10.0), Roll(2.0, 10.0))
_WIDE_BOARDS = (Board(1.25, 2.5),)
_FOAM_BOARDS = (Board(1.2, 2.4), Board(0.6, 1.25))
_PANES = (Board(1.0, 2.0), Board(1.25, 2.5))

SHEET_STOCK: Mapping[str, tuple[Roll, ...] | tuple[Board, ...]] = {
    "film-clear": _FILMS,
    "film-diffuse": _FILMS,
    "film-white": _FILMS,
    "film-black-white": _FILMS,
    "film-double": _FILMS,
    "film-bubble": _BUBBLES,
    "glass-4": _PANES,
    "acrylic-3": _PANES,
    "board-eps-25": _FOAM_BOARDS,
    "board-xps-25": _FOAM_BOARDS,
    "board-pir-25": _FOAM_BOARDS,
    "plywood-12": _WIDE_BOARDS,
    "lining-foil": _LININGS,
    "lining-foil-crinkled": _LININGS,
    "lining-white": _LININGS,
    "lining-white-board": _WIDE_BOARDS,
    "lining-black": _BLACKS,
}
"""By the catalogue entry of the sheet: sizes sold widely (common practice, no source)."""

SHEET_STOCK_UNKNOWN = _FILMS
"""Taken for a sheet of no catalogue entry, and named as an assumption."""

_FILMS_US = tuple(Roll(width * FOOT, 25 * FOOT) for width in (6, 10, 20))
_LININGS_US = (Roll(4 * FOOT, 25 * FOOT), Roll(4 * FOOT, 50 * FOOT))
_BOARDS_US = (Board(4 * FOOT, 8 * FOOT),)

_IN_FEET: Mapping[object, tuple[Roll, ...] | tuple[Board, ...]] = {
    _FILMS: _FILMS_US,
    _LININGS: _LININGS_US,
    _BLACKS: (Roll(4 * FOOT, 25 * FOOT),),
    _BUBBLES: (Roll(4 * FOOT, 25 * FOOT),),
    _WIDE_BOARDS: _BOARDS_US,
    _FOAM_BOARDS: _BOARDS_US,
    _PANES: (Board(2 * FOOT, 4 * FOOT), Board(4 * FOOT, 8 * FOOT)),
}
"""What is sold where feet are used in place of metric sizes (common practice, no source)."""

LAYERS: Mapping[str, int] = {"film-double": 2}
"""Sheets that are made of more than one layer of the roll."""

LINER_ROLLS: Mapping[System, tuple[Roll, ...]] = {
    "metric": (Roll(2.0, 5.0), Roll(3.0, 5.0), Roll(4.0, 5.0)),
    "us": (Roll(5 * FOOT, 15 * FOOT), Roll(10 * FOOT, 15 * FOOT), Roll(15 * FOOT, 15 * FOOT)),
}
"""Rolls of pond liner for the floor (common practice, no source)."""


def sheet_stock(sheet: Sheet, units: System) -> tuple[Roll, ...] | tuple[Board, ...]:
    """Return the rolls or boards that a sheet is sold as where these units are used."""
    sold = SHEET_STOCK.get(sheet.catalogue or "", SHEET_STOCK_UNKNOWN)
    return _IN_FEET.get(sold, sold) if units == "us" else sold
