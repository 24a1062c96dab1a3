"""The light map over the plan on paper, and the key that stands beside the plan.

The colours and breaks of the map are `core.light_map`'s, the light itself `core.light`'s.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from core.drawing.ink import PAPER
from core.drawing.lamps import lamp_marks
from core.drawing.paper import PX, Curve, Frame, Item, Shape, Text, rectangle
from core.drawing.seeing import LevelKey, is_seen
from core.geometry import Rectangle
from core.language import tr
from core.light.maps import LevelLight
from core.light_map import (
    COLOURS,
    TOO_LITTLE,
    TOO_MUCH,
    Steps,
    breaks,
    equal_breaks,
    sign_points,
    step_image,
)
from core.model import Lamp, PlantGroup
from core.study import Study
from core.units import label, show, show_number

if TYPE_CHECKING:
    from core.readings import Readings

_HEAD, _TEXT = 13 * PX, 12 * PX
_BAR, _STEP, _ROW = 7.5, 5.4, 4.6
_LEAST = (50.0, 48.0)
"""Width and height a key needs. [mm]"""
_WIDE = 78.0
"""Where there is less width than this, the key says less. [mm]"""
_PITCH = 2.0
"""Distance between the signs of the map's outer steps. [mm]"""
_DARK = "#10201E"
_WHITE = "#FFFFFF"
_KIND = "photon_flux_density"


@dataclass(frozen=True, eq=False)
class LevelMap:
    """A level's light with what its plants want, ready to draw. [µmol m⁻² s⁻¹]"""

    light: LevelLight
    want: tuple[float, float] | None
    group: PlantGroup | None

    @property
    def at(self) -> tuple[float, ...]:
        """The breaks between the steps."""
        if self.want:
            return breaks(*self.want)
        return equal_breaks(max(self.light.high, 1.0))

    @property
    def steps(self) -> Steps:
        """The step of each cell, the backmost row first."""
        steps: Steps = step_image(self.light.usual, self.at)[::-1]
        return steps


def level_map(readings: Readings, level: LevelKey | None) -> LevelMap | None:
    """Return the light map of a level; None where there is no light to draw."""
    light = readings.light.level(level)
    if light is None or light.high <= 0:
        return None
    zone = next((one for one in readings.light.zones if one.level == level), None)
    low, high = zone.want if zone else (None, None)
    want = (low, high) if low is not None and high is not None else None
    return LevelMap(light, want, zone.group if zone else None)


def map_items(found: LevelMap, frame: Frame, look: Study) -> tuple[Item, ...]:
    """Return the map over the plan: steps, signs, the wanted range's edges, lamps, two numbers."""
    area = found.light.area
    x, y = frame.point((area.x0, area.y1))
    size = frame.size(area.width), frame.size(area.height)
    box = Rectangle(x, y, x + size[0], y + size[1])
    return (
        *_cells(found.steps, box),
        *_signs(found.steps, box),
        *(_edges(found, box) if found.want else ()),
        rectangle(x, y, *size, PAPER["ink"], 1.2 * PX),
        *_lamps(found, frame, look),
        *_numbers(found, box),
    )


def _cells(steps: Steps, box: Rectangle) -> Iterator[Item]:
    """Yield one rectangle for each run of cells of one step in a row."""
    rows, columns = steps.shape
    high, wide = box.height / rows, box.width / columns
    for row in range(rows):
        runs = groupby(range(columns), key=lambda column: int(steps[row, column]))
        for step, run in runs:
            cells = list(run)
            # A hair of overlap hides the seams between rectangles.
            yield rectangle(
                box.x0 + cells[0] * wide,
                box.y0 + row * high,
                min(len(cells) * wide + 0.02, box.x1 - box.x0 - cells[0] * wide),
                high + (0.02 if row < rows - 1 else 0.0),
                None,
                fill=COLOURS[step],
            )


def _signs(steps: Steps, box: Rectangle) -> Iterator[Item]:
    """Yield white dots where there is too little and dark strokes where there is too much."""
    for x, y in sign_points(steps, box.width, box.height, TOO_LITTLE, _PITCH):
        yield Curve((box.x0 + x, box.y0 + y), 0.22, colour=None, fill=_WHITE)
    for x, y in sign_points(steps, box.width, box.height, TOO_MUCH, _PITCH):
        ends = ((box.x0 + x - 0.5, box.y0 + y + 0.5), (box.x0 + x + 0.5, box.y0 + y - 0.5))
        yield Shape(ends, _DARK, PX)


def _edges(found: LevelMap, box: Rectangle) -> Iterator[Item]:
    """Yield the borders of what is wanted as white lines over dark ones."""
    lines = list(_borders(found.steps >= 2, box)) + list(_borders(found.steps >= 5, box))
    for colour, width in ((_DARK, 3.0 * PX), (_WHITE, 1.5 * PX)):
        yield from (Shape(ends, colour, width) for ends in lines)


def _borders(
    inside: np.ndarray[tuple[int, int], np.dtype[np.bool_]], box: Rectangle
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield the cell borders between inside and outside. [mm]"""
    rows, columns = inside.shape
    high, wide = box.height / rows, box.width / columns
    for row, column in np.argwhere(inside[:, 1:] != inside[:, :-1]):
        x, y = box.x0 + (column + 1) * wide, box.y0 + row * high
        yield (x, y), (x, y + high)
    for row, column in np.argwhere(inside[1:] != inside[:-1]):
        x, y = box.x0 + column * wide, box.y0 + (row + 1) * high
        yield (x, y), (x + wide, y)


def _lamps(found: LevelMap, frame: Frame, look: Study) -> Iterator[Item]:
    """Yield the outlines of the level's lamps again, in white over the map."""
    for lamp in look.design.of(Lamp):
        if is_seen(look.placement, lamp.id, "plan", found.light.level) != "dashed":
            continue
        if not look.placement.box(lamp.id).footprint.overlap(found.light.area):
            continue
        for item in frame.items(lamp_marks(look.placement, lamp, "plan")):
            if isinstance(item, Shape):
                yield Shape(item.points, _WHITE, item.width, item.dash, None, True, item.radius)
            elif isinstance(item, Curve):
                yield Curve(item.centre, item.radius, 0, 360, _WHITE, item.width, item.dash)


def _numbers(found: LevelMap, box: Rectangle) -> Iterator[Item]:
    """Yield the lowest and the highest value on dark tags at their places."""
    values = found.light.usual[::-1]
    rows, columns = values.shape
    for index in dict.fromkeys((int(values.argmin()), int(values.argmax()))):
        row, column = divmod(index, columns)
        text = show_number(round(float(values[row, column])))
        half = 1.1 * len(text) + 0.9
        x = min(max(box.x0 + (column + 0.5) / columns * box.width, box.x0 + half), box.x1 - half)
        y = min(max(box.y0 + (row + 0.5) / rows * box.height, box.y0 + 2), box.y1 - 2)
        yield rectangle(x - half, y - 1.9, 2 * half, 3.8, None, fill=_DARK, radius=0.7)
        yield Text((x, y + 1.0), text, 11 * PX, _WHITE, True, "centre")


def key_items(
    found: LevelMap, spare: tuple[float, float, float, float], level: str, system: str
) -> tuple[Item, ...]:
    """Return the key in a free rectangle (x, y, width, height), or nothing if it is too small."""
    x, y, width, height = spare
    if width < _LEAST[0] or height < _LEAST[1]:
        return ()
    wide = width >= _WIDE
    words = tr("Light at the leaves, {level}").format(level=level) if wide else tr("Light")
    head = Text((x, y + 4.5), words, _HEAD, bold=True)
    unit = Text((x + width, y + 4.5), label(_KIND, system), _TEXT, PAPER["ink2"], anchor="right")
    facts = _facts(found, wide, system)
    return (head, unit, *_scale(found, x, y + 7.5), *_listed(facts, x + 33, y + 10.5))


def _scale(found: LevelMap, x: float, y: float) -> Iterator[Item]:
    """Yield the seven steps, the brightest on top, with their breaks and what is wanted."""
    for step, colour in enumerate(COLOURS):
        top = y + (6 - step) * _STEP
        yield rectangle(x, top, _BAR, _STEP, PAPER["ink"], 0.8 * PX, fill=colour)
        if found.want:
            yield from _step_signs(step, x, top)
    for k, value in enumerate(found.at):
        line = y + (6 - k) * _STEP
        yield Shape(((x + _BAR, line), (x + _BAR + 1.5, line)), PAPER["ink"], PX)
        yield Text((x + _BAR + 2.5, line + 1.0), show_number(round(value)), _TEXT)
    if found.want:
        yield from _bracket(x + _BAR + 11.0, y + 2 * _STEP, y + 5 * _STEP)


def _step_signs(step: int, x: float, top: float) -> Iterator[Item]:
    middles = [(x + share * _BAR, top + _STEP / 2) for share in (0.25, 0.5, 0.75)]
    if step in TOO_LITTLE:
        yield from (Curve(at, 0.22, colour=None, fill=_WHITE) for at in middles)
    if step in TOO_MUCH:
        for a, b in middles:
            yield Shape(((a - 0.6, b + 0.9), (a + 0.6, b - 0.9)), _DARK, PX)


def _bracket(x: float, top: float, foot: float) -> Iterator[Item]:
    yield Shape(((x - 1.2, top), (x, top), (x, foot), (x - 1.2, foot)), PAPER["ink"], 1.2 * PX)
    middle = (top + foot) / 2 + 1.0
    yield Text((x + 1.8, middle), tr("wanted"), _TEXT)


def _facts(found: LevelMap, wide: bool, system: str) -> list[tuple[str, str]]:
    """Return the few numbers of the level's light by name."""
    light = found.light
    rows = [
        (tr("Mean"), show_number(round(light.mean))),
        (tr("Lowest"), show_number(round(light.low))),
        (tr("Highest"), show_number(round(light.high))),
        (tr("Uniformity"), show(light.uniformity, "fraction", system)),
    ]
    if found.want and (share := light.share_inside(found.want)) is not None:
        rows.insert(3, (tr("In range"), show(share, "fraction", system)))
    if wide:
        rows.append((tr("DLI"), show(light.dli, "daily_light", system)))
    if wide and found.group and found.want:
        low, high = (show_number(round(value)) for value in found.want)
        words = tr("{plants} want {low}–{high}")
        rows.append((words.format(plants=found.group.name, low=low, high=high), ""))
    return rows


def _listed(rows: list[tuple[str, str]], x: float, y: float) -> Iterator[Item]:
    for k, (name, value) in enumerate(rows):
        yield Text((x, y + k * _ROW), name, _TEXT, PAPER["ink2"])
        yield Text((x + 19, y + k * _ROW), value, _TEXT, bold=True)
