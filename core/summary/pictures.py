"""The drawings of a summary: the cover's picture, and plan and elevations to scale.

Views, dimensions and scales are `core.drawing`'s; which section they stand in is said in
`core.summary.describe`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.drawing.marks import View
from core.drawing.paper import PX, Clip, Drawing, Frame, Text
from core.drawing.pictorial import pictorial
from core.drawing.seeing import LevelKey, cut_height
from core.drawing.shapes import inset
from core.drawing.third_angle import (
    Drawings,
    Inlay,
    Titles,
    lay_out,
    scale_words,
    usual_scales,
)
from core.drawing.views import view_marks
from core.language import tr
from core.model import Design, ShelfUnit
from core.phrases import Amount, capital
from core.placement import Level
from core.reading import worst
from core.study import Study
from core.summary.blocks import Picture
from core.summary.cuts import GAP, in_pairs
from core.summary.key import key_items, level_map, map_items
from core.summary.sheet import Paper
from core.units import show, show_number

if TYPE_CHECKING:
    from core.readings import Readings

_LEAVES = ("ppfd", "ppfd-lowest")
_COVER = 0.62
"""The picture's share of the cover's height. [1]"""
_HEADING = 3.0
"""What is kept free above and below the drawings. [mm]"""
_AROUND, _TITLE = 0.04, 6.0
"""What a level's plan shows round its unit, and the room for its title. [m, mm]"""


def shown_level(readings: Readings, look: Study) -> LevelKey | None:
    """Return the level the plan is cut at: that of the light that matters most, on a unit if any.

    A bay or a platform is shown only where no plants stand on a shelf unit.
    """
    levels = {zone.part.id: zone.level for zone in look.placement.zones if zone.level}
    on_units = {key: level for key, level in levels.items() if _unit(level, look)}
    known = on_units or levels
    asked = [row for row in readings.light.rows if row.place in known and row.name in _LEAVES]
    matters = (readings.light.headline, worst(tuple(asked)))
    places = (row.place for row in matters if row and row.place in known)
    return known.get(next(places, ""), next(iter(known.values()), None))


def cover(design: Design, look: Study, paper: Paper) -> Picture:
    """Return the picture on the cover: everything from the front, the right and above."""
    width, height = paper.room
    items, high = pictorial(look.placement, width, _COVER * height)
    return Picture(items, width, high, tr("{name} from the front right").format(name=design.name))


def sheet(readings: Readings, look: Study, paper: Paper, scale: int | None) -> Picture:
    """Return plan, front and side to scale, with their dimensions and the light of one level.

    Raises
    ------
    InputError
        If the scale asked for does not fit on the paper.
    """
    design = readings.design
    width, height = paper.room
    room = (width, height - _HEADING)
    level = shown_level(readings, look)
    light = level_map(readings, level)
    over: dict[View, Inlay] = {}
    if light:
        over["plan"] = lambda frame: map_items(light, frame, look)
    titles = _titles(level, look, design.units)
    found = lay_out(
        look.placement, *room, level=level, unit=_unit(level, look), titles=titles, inlays=over,
        scale=scale, paper=paper.name,
    )  # fmt: skip
    items = found.items
    if light and level:
        words = look.level_words(level).render(design.units)
        items += key_items(light, found.spare, words, design.units)
    return Picture(items, room[0], found.height, _spoken(found, design), found.scale)


def level_plans(readings: Readings, look: Study, paper: Paper) -> tuple[Picture, ...]:
    """Return the plan of every other level that plants stand on, two side by side, to one scale.

    Each shows what its own shelf unit, bay or platform holds, and the light at its leaves.
    """
    shown = shown_level(readings, look)
    used = {zone.level for zone in look.placement.zones}
    levels = [
        level
        for level in reversed(look.placement.levels)
        if (level.host, level.number) in used and (level.host, level.number) != shown
    ]
    if not levels:
        return ()
    each = (paper.room[0] - GAP) / 2
    widest = max(level.area.width + 2 * _AROUND for level in levels)
    usual = usual_scales(readings.design.units)
    scale = next((one for one in usual if one >= 20 and 1000 * widest / one <= each), usual[-1])
    plans = (_level_plan(level, scale, readings, look) for level in levels)
    return tuple(in_pairs(plans, paper.room[0]))


def _level_plan(level: Level, scale: int, readings: Readings, look: Study) -> Drawing:
    key, system = (level.host, level.number), readings.design.units
    area = inset(level.area, -_AROUND)
    wide, deep = 1000 * area.width / scale, 1000 * area.height / scale
    frame = Frame((0.0, _TITLE + deep), (area.x0, area.y0), scale)
    light = level_map(readings, key)
    marks = view_marks(look.placement, "plan", key, _unit(key, look))
    inner = frame.items(marks) + (map_items(light, frame, look) if light else ())
    name = capital(look.level_words(key).render(system))
    want = light.want if light else None
    told = tr("{name}, {height} up").format(name=name, height=show(level.z, "length", system))
    if want:
        low, high = (show_number(round(end)) for end in want)
        told = tr("{told}; leaves want {low}–{high}").format(told=told, low=low, high=high)
    title = f"{told} · {scale_words(scale, system)}"
    head = Text((0.0, 3.5), title, 11 * PX, bold=True)
    clip = Clip((0.0, _TITLE), wide, deep, inner)
    return Drawing((head, clip), wide, _TITLE + deep + 4.0, title, scale)


def _unit(level: LevelKey | None, look: Study) -> str | None:
    """Return the shelf unit that the elevations look at."""
    host = look.design.by_id.get(level[0]) if level else None
    return host.id if isinstance(host, ShelfUnit) else None


def _titles(level: LevelKey | None, look: Study, system: str) -> Titles:
    if level is None:
        return Titles()
    title = tr("Plan at {level}").format(level=look.level_words(level).render(system))
    height = Amount(cut_height(look.placement, level), "length").render(system)
    return Titles(title, tr("{height} up").format(height=height))


def _spoken(found: Drawings, design: Design) -> str:
    scale = scale_words(found.scale, design.units)
    return tr("{name}: plan, front and side, scale {scale}; {count} parts").format(
        name=design.name, scale=scale, count=len(design.parts)
    )
