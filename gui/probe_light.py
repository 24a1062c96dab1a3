"""What the probe says of light: how much, of a day, how much of it directly, and by which lamps.

The light is read off the maps by `core.light.point`; here it becomes lines.
"""

from __future__ import annotations

from core.language import tr
from core.light.point import Place, PointLight, light_at, lux_of_point, map_at
from core.light.zone_rows import light_number, rounded_lux
from core.units import label, show
from gui.overlay_look import Look

MOST_LAMPS = 3
"""How many lamps are named one by one."""
_COUNTS = 0.01
"""A lamp is named when it gives at least this share of the light. [1]"""


def light_lines(look: Look, place: Place) -> tuple[str, ...]:
    """Return the light at a place in a few lines, the most important first; none off all maps."""
    light = look.readings.light
    over = map_at(light.zones, light.levels, look.placement, place)
    if over is None:
        return ()
    found = light_at(over, place[0], place[1], look.minute)
    sign = "≈\N{THIN SPACE}" if light.coarse else ""
    unit = label("photon_flux_density", look.system)
    lines = [f"{sign}{light_number(found.ppfd)} {unit}"]
    lines.append(tr("DLI {value}").format(value=show(found.daily, "daily_light", look.system)))
    if found.direct_share is not None:
        share = show(found.direct_share, "fraction", digits=2)
        lines.append(tr("{share} of it direct").format(share=share))
    if light.survey is not None:
        lux = rounded_lux(lux_of_point(found, light.survey.lamps))
        lines.append(tr("a lux meter: {lux}").format(lux=show(lux, "illuminance")))
    lines += _lamp_lines(look, found)
    height = show(over.z, "length", look.system)
    lines.append(tr("at the leaves, {height} up").format(height=height))
    return tuple(lines)


def _lamp_lines(look: Look, found: PointLight) -> list[str]:
    """Return what each lamp gives, the strongest first; the weak ones together."""
    named = [(key, value) for key, value in found.lamps if value >= _COUNTS * found.ppfd]
    if len(named) > MOST_LAMPS + 1:
        named = named[:MOST_LAMPS]
    lines = [f"{_name(look, key)} {light_number(value)}" for key, value in named]
    rest = found.ppfd - sum(value for _, value in named)
    if rest >= _COUNTS * found.ppfd > 0:
        count = len(found.lamps) - len(named)
        lines.append(tr("{count} more {value}").format(count=count, value=light_number(rest)))
    return lines


def _name(look: Look, lamp: str) -> str:
    part = look.readings.design.by_id.get(lamp)
    return part.name if part is not None else tr("a lamp")
