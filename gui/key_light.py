"""The key of light: the map's steps, the numbers of the chosen level and its curve.

The numbers come from the readings; nothing is computed here but what is read off a map.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from core.language import tr
from core.light.zone_meter import zone_meter
from core.light.zone_rows import rounded_lux
from core.light_map import breaks, equal_breaks
from core.study import Study, study
from core.units import label, show
from gui.key_blocks import Block, Curve, Fact, Facts, Note, Scale
from gui.key_page import KeyPage, place_words
from gui.overlay_light import worst_off
from gui.view import View

if TYPE_CHECKING:
    from core.light.from_design import LampSource
    from core.light.maps import LevelLight, ZoneLight
    from core.light.reading import LightReadings
    from core.readings import Readings


def light_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    look = study(readings.design, season=readings.season)
    unit = label("photon_flux_density", readings.design.units)
    zones = _zones_on(view, readings)
    level = _level_on(view, readings)
    told = worst_off(zones, readings.light)
    head = _head(view, look, told)
    if not zones and level is None:
        return KeyPage(head, unit, (Note(readings.light.nothing.render()),))
    blocks: list[Block] = [_scale(zones, level)]
    if told is not None:
        old = {zone.part: zone for zone in _zones_on(view, before)} if before else {}
        blocks.append(_light_facts(view, told, old, readings.light))
    if level is not None:
        was = _level_on(view, before) if before else None
        blocks.append(_curve(view, level, was, _want(zones)))
    if not zones:
        blocks.append(Note(tr("No plants yet, so nothing is wanted here.")))
    return KeyPage(head, unit, tuple(blocks))


def _head(view: View, look: Study, told: ZoneLight | None) -> str:
    if told is None and view.level is None:
        return tr("Light on the floor")
    place = place_words(look, view.level, told.part if told is not None else "")
    if told is None:
        return tr("{place}: light").format(place=place)
    return tr("{place}: light at the leaves").format(place=place)


def _zones_on(view: View, readings: Readings) -> list[ZoneLight]:
    return [zone for zone in readings.light.zones if zone.level == view.level]


def _level_on(view: View, readings: Readings) -> LevelLight | None:
    return next((one for one in readings.light.levels if one.level == view.level), None)


def _want(zones: Iterable[ZoneLight]) -> tuple[float | None, float | None]:
    """Return the range of the first zone that has one; the map is coloured by it."""
    for zone in zones:
        if zone.want != (None, None):
            return zone.want
    return None, None


def _scale(zones: list[ZoneLight], level: LevelLight | None) -> Scale:
    low, high = _want(zones)
    if low is not None and high is not None:
        name = next(zone.group.name for zone in zones if zone.want == (low, high))
        words = tr("{plants} want {low}–{high}").format(
            plants=name[:1].lower() + name[1:], low=f"{low:.0f}", high=f"{high:.0f}"
        )
        return Scale(tuple(f"{at:.0f}" for at in breaks(low, high)), words)
    brightest = max([1.0, *([level.high] if level else []), *(zone.high for zone in zones)])
    return Scale(tuple(f"{at:.0f}" for at in equal_breaks(brightest)), "")


def _light_facts(
    view: View, zone: ZoneLight, old: dict[str, ZoneLight], light: LightReadings
) -> Facts:
    """Return the numbers of a zone, and what they were."""
    lamps = light.survey.lamps if light.survey is not None else ()
    now = _light_numbers(view, zone) | _meter_number(view, zone, lamps)
    was = _light_numbers(view, old[zone.part]) if zone.part in old else {}
    lines = []
    for name, (value, unit) in now.items():
        before = was.get(name, ("", ""))[0]
        shown = f"≈ {value}" if light.coarse else value
        lines.append(Fact(name, shown, before, unit))
    return Facts(tuple(lines))


def _light_numbers(view: View, zone: ZoneLight) -> dict[str, tuple[str, str]]:
    cells = zone.at(view.minute)
    mean, low, high = float(cells.mean()), float(cells.min()), float(cells.max())
    even = low / mean if mean > 0 else 0.0
    found = {
        tr("Mean"): (f"{mean:.0f}", ""),
        tr("Lowest"): (f"{low:.0f}", ""),
        tr("Highest"): (f"{high:.0f}", ""),
    }
    if zone.in_range is not None:
        found[tr("In the range")] = (show(zone.in_range, "fraction", digits=2), "")
    found[tr("Uniformity")] = (f"{even:.2f}", "")
    found[tr("DLI")] = (show(zone.dli, "daily_light", unit=False, digits=2), label("daily_light"))
    share = show(zone.reflected_at(view.minute), "fraction", digits=2)
    found[tr("Reflected")] = (share, "")
    return found


def _meter_number(
    view: View, zone: ZoneLight, lamps: Sequence[LampSource]
) -> dict[str, tuple[str, str]]:
    """Return what a lux meter would show, as the mean over the leaves."""
    lux = rounded_lux(zone_meter(zone, lamps, view.minute).lux)
    return {tr("Lux meter"): (show(lux, "illuminance", unit=False), label("illuminance"))}


def _curve(
    view: View,
    level: LevelLight,
    was: LevelLight | None,
    want: tuple[float | None, float | None],
) -> Curve:
    cells = level.at(view.minute)
    before = tuple(map(float, was.at(view.minute)[was.y.size // 2])) if was is not None else ()
    middle = cells[level.y.size // 2]
    return Curve(tuple(map(float, middle)), tuple(map(float, cells[0])), want, before)
