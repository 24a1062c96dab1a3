"""What the window says of the air: how far its flow has come, and which way it moves.

Readings bring their own sentences; here are those of the status line, the key and the probe.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from core.air.stage import Stage
from core.language import tr
from core.units.numerals import show_number
from core.units.table import INCH

if TYPE_CHECKING:
    from core.air.reading import AirReadings
    from core.air.stages import StageProgress

_STEEP, _SLANTED = 0.92, 0.38
"""Share of the speed that goes up or down: hardly anything else, or worth a word."""


def work_words(progress: StageProgress | None, system: str) -> str:
    """Return what the flow's thread is doing: "Air on 10 cm cells: a first picture"."""
    if progress is None:
        return tr("Trying what would mend the air")
    cell = cell_words(progress.cell, system)
    if progress.stage in (Stage.MOVING, Stage.PREVIEW):
        return tr("Air on {cell} cells: a first picture").format(cell=cell)
    if progress.stage is Stage.SETTLED:
        return tr("Air on {cell} cells: settling").format(cell=cell)
    return tr("Air on finer cells, {cell}").format(cell=cell)


def cell_words(cell: float, system: str) -> str:
    """Return the size of cells in round numbers: "5 cm", "2 in"."""
    if system == "us":
        return tr("{size} in").format(size=show_number(cell / INCH, digits=1))
    return tr("{size} cm").format(size=show_number(cell * 100, digits=2))


def stage_words(air: AirReadings, system: str) -> str:
    """Return what the numbers shown come from: "From the flow on 5 cm cells, settled"."""
    if air.field is None:
        if air.awaited:
            return tr("≈ From jets alone; the flow is on its way.")
        if air.stale is not None:
            return tr("From before the last change.")
        return tr("From jets alone: where none reaches is not known.")
    cell = cell_words(air.field.cell, system)
    if air.stage.settled and air.coarse:
        return tr("≈ From the flow on {cell} cells, settled; finer ones follow.").format(cell=cell)
    if air.stage.settled:
        return tr("From the flow on {cell} cells, settled.").format(cell=cell)
    return tr("≈ From the flow on {cell} cells, not settled yet.").format(cell=cell)


def way_words(velocity: Sequence[float]) -> str:
    """Return which way air moves: "to the back right, rising"; empty where it hardly does."""
    x, y, z = velocity
    speed = math.sqrt(x * x + y * y + z * z)
    if speed < 0.01:
        return ""
    steep = z / speed
    if abs(steep) >= _STEEP:
        return tr("straight up") if steep > 0 else tr("straight down")
    octant = round(math.atan2(y, x) / (math.pi / 4)) % 8
    way = (
        tr("to the right"), tr("to the back right"), tr("to the back"), tr("to the back left"),
        tr("to the left"), tr("to the front left"), tr("to the front"), tr("to the front right"),
    )[octant]  # fmt: skip
    if abs(steep) < _SLANTED:
        return way
    return (
        tr("{way}, rising").format(way=way) if steep > 0 else tr("{way}, sinking").format(way=way)
    )
