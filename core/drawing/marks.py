"""The few marks every drawing is made of, in metres of the view they are drawn in.

Which marks make up a part is in `core.drawing.symbols`; who paints them (the window, the summary)
decides what a role's colour is.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

View = Literal["plan", "front", "side"]
VIEWS: tuple[View, ...] = ("plan", "front", "side")

AXES: dict[View, tuple[int, int]] = {"plan": (0, 1), "front": (0, 2), "side": (1, 2)}
"""Which room axis runs across and which runs up in each view (0 x, 1 y, 2 z)."""

Point = tuple[float, float]
Role = Literal[
    "ink",
    "ink2",
    "edge",
    "hair",
    "cover",
    "wall",
    "lamp",
    "plant",
    "plant_bg",
    "water",
    "water_bg",
    "air",
    "lead",
    "sheet",
    "raised",
]
"""What a line or fill stands for; the palette gives it a colour (LOOK: one subject has colour)."""


@dataclass(frozen=True)
class Pen:
    """A line: ``width`` in px on screen (× 0.25 mm on paper), ``dash`` in the same."""

    role: Role = "ink"
    width: float = 1.0
    dash: tuple[float, ...] = ()


@dataclass(frozen=True)
class Path:
    """Straight lines through ``points``; closed ones may be filled. [m]"""

    points: tuple[Point, ...]
    pen: Pen | None = Pen()
    fill: Role | None = None
    closed: bool = False
    radius: float = 0.0
    """Rounding of a closed path's corners. [px]"""


@dataclass(frozen=True)
class Arc:
    """Part of a circle; angles in degrees, anticlockwise from across. [m]"""

    centre: Point
    radius: float
    start: float = 0.0
    span: float = 360.0
    pen: Pen | None = Pen()
    fill: Role | None = None


@dataclass(frozen=True)
class Dot:
    """A square of fixed size in px whatever the scale (posts)."""

    at: Point
    size: float
    fill: Role = "ink"


@dataclass(frozen=True)
class Words:
    """Text at a point; ``size`` in px, ``turn`` in degrees; on a halo where ``halo``."""

    at: Point
    text: str
    size: float = 11.0
    role: Role = "ink"
    bold: bool = False
    anchor: Literal["left", "centre", "right"] = "centre"
    turn: float = 0.0
    halo: bool = False


Mark = Path | Arc | Dot | Words
