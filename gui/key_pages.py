"""What stands in the key for each subject: its signs, and its few numbers for the chosen level.

The numbers come from the readings; nothing is computed here but what a grower reads off a map.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.language import tr
from core.light_map import breaks, equal_breaks
from core.phrases import Amount
from core.states import State
from core.study import Study, study
from core.units import label, show
from gui.key_blocks import Bar, Bars, Block, Curve, Fact, Facts, Legend, Note, Said, Scale, Sign
from gui.overlay_light import worst_off
from gui.spoken import aloud
from gui.subjects import title
from gui.view import View

if TYPE_CHECKING:
    from core.light.maps import LevelLight, ZoneLight
    from core.power.reading import DeviceLoad
    from core.readings import Readings
    from core.water.use import Supply
    from core.weight.reading import ShelfLoad

_MOST_ROWS = 9


@dataclass(frozen=True)
class KeyPage:
    """One page of the key: its head, the unit at the right, and its blocks."""

    title: str
    unit: str
    blocks: tuple[Block, ...]

    def spoken(self) -> str:
        """Return the page as an assistive tool says it."""
        said = [self.title]
        for block in self.blocks:
            if isinstance(block, Facts):
                said += [f"{fact.name} {fact.value} {fact.unit}".strip() for fact in block.lines]
            elif isinstance(block, Bars):
                said += [f"{bar.name} {bar.value}, {bar.more}".strip(", ") for bar in block.lines]
            elif isinstance(block, Note):
                said.append(block.text)
            elif isinstance(block, Said):
                said += [words for _, words in block.lines]
            elif isinstance(block, Scale) and block.want:
                said.append(block.want)
        return aloud(". ".join(part for part in said if part))


def page_for(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return the page of the chosen subject; ``before`` are the readings from before a drag."""
    level = view.level
    if level is not None and level[0] not in readings.design.by_id:
        # Another design is open already and its readings are still to come.
        return KeyPage("", "", ())
    page = _PAGES.get(view.subject or "", _rows_page)
    return page(view, readings, before)


# Light -------------------------------------------------------------------------------------------


def _light_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    look = study(readings.design, season=readings.season)
    head = tr("Light at the leaves, {place}").format(
        place=look.level_words(view.level).render(readings.design.units)
    )
    unit = label("photon_flux_density", readings.design.units)
    zones = _zones_on(view, readings)
    level = _level_on(view, readings)
    if not zones and level is None:
        return KeyPage(head, unit, (Note(readings.light.nothing.render()),))
    blocks: list[Block] = [_scale(zones, level)]
    if zones:
        old = {zone.part: zone for zone in _zones_on(view, before)} if before else {}
        blocks.append(_light_facts(view, zones, old, readings.light.coarse))
    if level is not None:
        was = _level_on(view, before) if before else None
        blocks.append(_curve(view, level, was, _want(zones)))
    if not zones:
        blocks.append(Note(tr("No plants yet, so nothing is wanted here.")))
    return KeyPage(head, unit, tuple(blocks))


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
    view: View, zones: list[ZoneLight], old: dict[str, ZoneLight], coarse: bool
) -> Facts:
    """Return the numbers of the zone worst off on this level."""
    zone = worst_off(zones)
    if zone is None:
        return Facts(())
    now = _light_numbers(view, zone)
    was = _light_numbers(view, old[zone.part]) if zone.part in old else {}
    lines = []
    for name, (value, unit) in now.items():
        before = was.get(name, ("", ""))[0]
        shown = f"≈ {value}" if coarse else value
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
    return found


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


# Air ---------------------------------------------------------------------------------------------


def _air_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    system = readings.design.units

    def at(speed: float) -> str:
        return show(speed, "speed", system, unit=False)

    signs = (
        Sign(0, tr("still, under {to}").format(to=at(0.1)), tr("look here"), still=True),
        Sign(1.0, tr("gentle, {low}–{high}").format(low=at(0.1), high=at(0.3)), tr("enough")),
        Sign(1.5, tr("gentle, {low}–{high}").format(low=at(0.3), high=at(0.5)), tr("best")),
        Sign(2.4, tr("brisk, over {low}").format(low=at(0.5)), tr("watch soft leaves")),
    )
    note = tr("True to ± 30 % or ± {off}, whichever is more. A place that may fall on either side "
              "says “borderline” or “likely”.").format(off=show(0.1, "speed", system))  # fmt: skip
    head = tr("Air at the leaves")
    return KeyPage(head, label("speed", system), (Legend(signs), Note(note)))


# Power -------------------------------------------------------------------------------------------


def _power_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    power, design = readings.power, readings.design
    head = tr("Load along the circuit")
    unit = show(design.practice.voltage, "voltage")
    if not power.by_device:
        return KeyPage(head, unit, (Note(power.nothing.render()),))
    loads = _loads_together(readings)
    top = max(watts for _, watts, _ in loads) or 1.0
    bars = [Bar(name, watts / top, show(watts, "power"), hours) for name, watts, hours in loads]
    notes = [tr("A lead is drawn as wide as its load.")]
    lasting = Amount(power.continuous_va, "apparent_power").render(design.units)
    notes.append(tr("Lasting three hours or more: {load}.").format(load=lasting))
    notes.append(tr("Local wiring rules and a licensed electrician decide."))
    return KeyPage(head, unit, (Bars(tuple(bars), "lead"), Note(" ".join(notes))))


_ALIKE = {
    "board": "{count} boards",
    "tube": "{count} tubes",
    "spot": "{count} spots",
    "fan": "{count} fans",
    "duct-fan": "{count} duct fans",
    "heater": "{count} heaters",
    "fogger": "{count} foggers",
}


def _loads_together(readings: Readings) -> list[tuple[str, float, str]]:
    """Return (name, watts, hours), devices of one kind and the same hours together."""
    groups: dict[tuple[str, str], list[DeviceLoad]] = {}
    for device in readings.power.by_device:
        thing = readings.design.by_id[device.id]
        kind = getattr(thing, "form", None) or thing.kind
        groups.setdefault((kind if kind in _ALIKE else device.id, device.hours), []).append(device)
    found = []
    for (kind, hours), members in groups.items():
        several = tr(_ALIKE.get(kind, "")).format(count=len(members))
        name = several if len(members) > 1 else members[0].name
        found.append((name, sum(device.watts for device in members), hours))
    return sorted(found, key=lambda load: -load[1])


# Water -------------------------------------------------------------------------------------------


def _water_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    water, system = readings.water, readings.design.units
    if not water.supplies:
        return _rows_page(view, readings, before)
    most = max(supply.volume for supply in water.supplies) or 1.0
    states = {row.place: row.state for row in water.rows if row.name == "refill"}
    bars = [_supply_bar(supply, most, states, system) for supply in _soonest(water.supplies)]
    blocks: list[Block] = [Bars(tuple(bars), "water", framed=True)]
    blocks += [Note(row.line.render(system)) for row in water.rows if row.name != "refill"][:1]
    return KeyPage(tr("Water, and when to refill"), tr("days"), tuple(blocks))


def _soonest(supplies: Iterable[Supply]) -> list[Supply]:
    """Return containers, the first to run dry first."""
    return sorted(supplies, key=lambda one: one.days.value if one.days else float("inf"))


def _supply_bar(supply: Supply, most: float, states: dict[str, State], system: str) -> Bar:
    volume = Amount(supply.volume, "volume").render(system)
    state = states.get(supply.id, State.FINE)
    if supply.days is None:
        return Bar(supply.name, supply.volume / most, volume, "–", state)
    ends = [f"{end:.0f}" for end in (supply.days.low, supply.days.high)]
    days = tr("{low} to {high}").format(low=ends[0], high=ends[1])
    return Bar(supply.name, supply.volume / most, volume, days, state)


def _cost_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    cost = readings.cost
    if not cost.by_device:
        return _rows_page(view, readings, before)
    top = max(device.per_day for device in cost.by_device) or 1.0
    bars = [
        Bar(device.name, device.per_day / top, f"{device.per_day:.2f}") for device in cost.by_device
    ]
    year = tr("A year’s running: {cost} {currency}.").format(
        cost=f"{cost.per_year:.0f}", currency=cost.currency
    )
    unit = tr("{currency} a day").format(currency=cost.currency)
    return KeyPage(tr("What running costs"), unit, (Bars(tuple(bars), "ink2"), Note(year)))


# Weight, fit, cost, climate: their few numbers ---------------------------------------------------


def _weight_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    weight, design = readings.weight, readings.design
    if not weight.shelves:
        return _rows_page(view, readings, before)
    look = study(design, season=readings.season)
    bars = [_shelf_bar(look, shelf, design.units) for shelf in reversed(weight.shelves)]
    floor = Amount(weight.floor_mass, "mass").render(design.units)
    text = (
        tr("Everything in the enclosure together: {mass} on the floor.")
        if design.enclosure
        else tr("All parts together: {mass} on the floor.")
    )
    note = text.format(mass=floor)
    blocks = (Bars(tuple(bars), "ink2", framed=True), Note(note))
    return KeyPage(tr("Weight on each shelf"), "", blocks)


def _shelf_bar(look: Study, shelf: ShelfLoad, system: str) -> Bar:
    name = look.level_words((shelf.unit, shelf.level)).render(system)
    value = Amount(shelf.mass, "mass").render(system)
    if shelf.rating is None:
        return Bar(name, 0.0, value, tr("no rating given"))
    limit = tr("of {limit}").format(limit=Amount(shelf.rating, "mass").render(system))
    state = State.HIGH if shelf.mass > shelf.rating else State.FINE
    return Bar(name, shelf.mass / shelf.rating if shelf.rating else 1.0, value, limit, state)


def _rows_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return the readings nearest their limits, as plain numbers."""
    subject = view.subject or ""
    found = readings.subject(subject)
    if not found.rows:
        return KeyPage(title(subject), "", (Note(found.nothing.render()),))
    system = readings.design.units
    first = [row for row in found.rows if row is found.headline]
    rows = [*first, *(row for row in found.rows if row is not found.headline)]
    lines = tuple((row.state, _capital(row.line.render(system))) for row in rows)
    return KeyPage(title(subject), "", (Said(lines[:_MOST_ROWS]),))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


_PAGES: dict[str, Callable[[View, Readings, Readings | None], KeyPage]] = {
    "light": _light_page,
    "air": _air_page,
    "power": _power_page,
    "water": _water_page,
    "weight": _weight_page,
    "cost": _cost_page,
}
