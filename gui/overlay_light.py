"""The light map in the plan, and the strips of light at leaf height in the elevations.

Steps and colours are `core.light_map`'s, their painting `gui.light_map`'s, the light the engine's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from core.contours import blocks, refined
from core.drawing.marks import AXES, View
from core.light_map import breaks, equal_breaks, step_image
from core.model import Bay, Lamp, ShelfUnit
from core.reading import worst
from gui.light_contours import Contour, contours, paint_contours, paint_value, value_labels
from gui.light_map import paint_map as paint_steps
from gui.overlay_look import TAG_GROUND, TAG_TEXT, Look, dark_tag, tag_rect

if TYPE_CHECKING:
    from core.light.maps import LevelLight, LightMap, ZoneLight
    from core.light.reading import LightReadings

FINER = 5
"""How many places are taken between cells, so that the steps' edges run smoothly."""
STRIP = 7.0
"""Height of the strip at the leaves in the elevations. [px]"""
_BLOCKS = (16, 8)
_FEW_NUMBERS = 110.0
"""Below this scale a map carries two numbers instead of four. [px/m]"""

Want = tuple[float | None, float | None]


def wanted(look: Look, level: tuple[str, int]) -> Want:
    """Return the range that a level's map is coloured by: that of its first zone with one."""
    for zone in look.readings.light.zones:
        if zone.level == level and zone.want != (None, None):
            return zone.want
    return None, None


def breaks_for(want: Want, highest: float) -> tuple[float, ...]:
    """Return the six breaks for a wanted range, equal ones where none is given."""
    low, high = want
    if low is None or high is None or high <= low:
        return equal_breaks(max(1.0, highest))
    return breaks(low, high)


def maps_in_plan(look: Look) -> Iterator[LevelLight]:
    """Iterate over the chosen level's map and those of the levels seen beside it."""
    beside = {
        zone.level
        for zone in look.readings.light.zones
        if zone.part in look.shown and zone.level is not None
    }
    for one in look.readings.light.levels:
        if one.level == look.level or (one.level in beside and one.level[0] in look.shown):
            yield one


def paint_map(painter: QPainter, view: View, look: Look) -> None:
    """Draw the light at the leaves of the chosen level, with the edges of what is wanted."""
    for one in maps_in_plan(look):
        _paint_one(painter, look, one)
    _paint_lamps(painter, look)


def _paint_one(painter: QPainter, look: Look, one: LevelLight) -> None:
    values = one.at(look.minute)
    want = wanted(look, one.level)
    at = breaks_for(want, float(values.max(initial=0.0)))
    coarse = look.readings.light.coarse
    fine = blocks(values, *_BLOCKS) if coarse else refined(values, FINER)
    rect = look.camera.rect("plan", one.area)
    paint_steps(painter, rect, step_image(fine, at)[::-1])
    if not coarse:
        paint_contours(painter, look, _contours(look, one))


def _contours(look: Look, one: LevelLight) -> list[Contour]:
    """Return the lines between the map's steps, those of the wanted range's edges first."""
    values = one.at(look.minute)
    want = wanted(look, one.level)
    return contours(one, values, breaks_for(want, float(values.max(initial=0.0))), want)


def paint_values(painter: QPainter, view: View, look: Look) -> None:
    """Write their values on the lines of equal light, where the map's numbers leave room."""
    if look.readings.light.coarse:
        return
    painter.setFont(look.inks.theme.font("drawing"))
    taken = number_rects(look)
    for one in maps_in_plan(look):
        room = look.camera.rect("plan", one.area)
        found = _contours(look, one)
        if look.camera.scale < _FEW_NUMBERS:
            found = [each for each in found if each.edge]
        for rect, text in value_labels(look, found, room, taken):
            paint_value(painter, rect, text)


def _paint_lamps(painter: QPainter, look: Look) -> None:
    """Draw the lamps' outlines so that they are seen on dark steps and on bright ones."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for lamp in look.placement.design.of(Lamp):
        if lamp.id not in look.shown:
            continue
        rect = look.camera.box("plan", look.placement.box(lamp.id))
        ground = QColor(TAG_GROUND)
        ground.setAlphaF(0.55)
        painter.setPen(QPen(ground, 2.6))
        painter.drawRect(rect)
        pen = QPen(QColor(TAG_TEXT), 1.2)
        pen.setDashPattern([5 / 1.2, 3 / 1.2])
        painter.setPen(pen)
        painter.drawRect(rect)


def paint_numbers(painter: QPainter, view: View, look: Look) -> None:
    """Write up to four numbers on the level's leaves; they lie over all lines."""
    painter.setFont(look.inks.theme.font("drawing", bold=True))
    for one in maps_in_plan(look):
        for rect, text in number_tags(look, one):
            dark_tag(painter, look, rect.center(), text)


def worst_off(zones: Iterable[ZoneLight], light: LightReadings) -> ZoneLight | None:
    """Return the zone of a level that the key and its row tell of: the one farthest out."""
    by_part = {zone.part: zone for zone in zones}
    rows = tuple(row for row in light.rows if row.name == "ppfd" and row.place in by_part)
    item = worst(rows)
    return by_part[item.place] if item is not None else next(iter(by_part.values()), None)


def number_rects(look: Look) -> list[QRectF]:
    """Return where the numbers in the plan stand. [px]"""
    return [rect for one in maps_in_plan(look) for rect, _ in number_tags(look, one)]


def number_tags(look: Look, one: LevelLight) -> list[tuple[QRectF, str]]:
    """Return the numbers of a level's map, each in its rectangle; none covers another. [px]"""
    sign = "≈" if look.readings.light.coarse else ""
    room = look.camera.rect("plan", one.area)
    most = 2 if look.camera.scale < _FEW_NUMBERS else 4
    found: list[tuple[QRectF, str]] = []
    for x, y, value in numbers_on(look, one)[:most]:
        text = f"{sign}{value:.0f}"
        rect = tag_rect(look, look.camera.to_px("plan", x, y), text)
        rect.moveLeft(max(room.left(), min(rect.left(), room.right() - rect.width())))
        rect.moveTop(max(room.top(), min(rect.top(), room.bottom() - rect.height())))
        if not any(rect.intersects(other.adjusted(-2, -1, 2, 1)) for other, _ in found):
            found.append((rect, text))
    return found


def numbers_on(look: Look, one: LevelLight) -> list[tuple[float, float, float]]:
    """Return (x, y, light) of a level's numbers, whatever the scale. [m, µmol m⁻² s⁻¹]

    They are cells of the zone that the key tells of, of the whole level where nothing grows: its
    lowest and its highest first, then its middle and its near left corner.
    """
    zones = (zone for zone in look.readings.light.zones if zone.level == one.level)
    cells: LightMap = worst_off(zones, look.readings.light) or one
    values = cells.at(look.minute)
    rows, columns = values.shape
    lowest, highest = int(values.argmin()), int(values.argmax())
    middle = rows // 2 * columns + columns // 2
    places = [divmod(at, columns) for at in (lowest, highest, middle, 0)]
    return [(float(cells.x[k]), float(cells.y[j]), float(values[j, k])) for j, k in places]


def levels_seen(look: Look, view: View) -> Iterator[LevelLight]:
    """Iterate over the levels whose strips an elevation shows.

    Where one stands behind another, the one whose level is chosen hides it.
    """
    chosen = look.level[0] if look.level is not None else ""
    solid = isinstance(look.placement.design.by_id.get(chosen), ShelfUnit | Bay)
    front = look.placement.box(chosen).seen(*AXES[view]) if solid else None
    for one in look.readings.light.levels:
        host = one.level[0]
        if host not in look.shown:
            continue
        behind = look.placement.box(host).seen(*AXES[view])
        if host == chosen or front is None or front.overlap(behind) is None:
            yield one


def paint_strips(painter: QPainter, view: View, look: Look) -> None:
    """Draw a strip along every shelf at leaf height: the mean light across its depth."""
    for one in levels_seen(look, view):
        values = one.at(look.minute).mean(axis=0 if view == "front" else 1)[None, :]
        at = breaks_for(wanted(look, one.level), float(values.max(initial=0.0)))
        fine = values if look.readings.light.coarse else refined(values, FINER)
        start, end = (one.area.x0, one.area.x1) if view == "front" else (one.area.y0, one.area.y1)
        left, right = look.camera.to_px(view, start, one.z), look.camera.to_px(view, end, one.z)
        rect = QRectF(left - QPointF(0, STRIP / 2), right + QPointF(0, STRIP / 2))
        paint_steps(painter, rect, step_image(fine, at))
