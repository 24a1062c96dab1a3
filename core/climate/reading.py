"""Readings of climate, part one: how far lamps and devices warm the enclosure above the room.

A steady balance only; the day simulated minute by minute and humidity are not here yet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal

from core.climate.from_devices import in_force
from core.climate.heat import (
    DRIVER_SHARE,
    FLOOR_U,
    USUAL_U,
    Flags,
    Heat,
    Losses,
    duct_fans,
    flaps_to_the_room,
    halves,
    heat,
    losses,
    open_sides,
    thermostatted,
    transmittance,
)
from core.language import tr
from core.model import (
    Cooler,
    Design,
    DuctFan,
    Enclosure,
    Fogger,
    Heater,
    Lamp,
    PlantGroup,
    Plants,
    Powered,
    Span,
    Thermostat,
)
from core.phrases import Amount, Phrase, phrase
from core.power.reading import NAMEPLATE, PowerReadings
from core.power.reading import read as read_power
from core.reading import Method, Reading, SubjectReadings, reading, worst
from core.study import Study

U_SPREAD = 0.20
"""Relative uncertainty of U-values: thin film passes thermal infrared (from memory)."""

Half = Literal["day", "night"]
HALVES: tuple[Half, ...] = ("day", "night")

METHOD = Method(
    tr(
        "Steady balance of one well-mixed air: mean heat of all devices inside, over covers "
        "(U-value times area) and exchanged air (leakage, duct fans, buoyancy through open faces). "
        "A duct fan with a thermostat runs only as far as it holds the set-point."
    ),
    tr(
        "P = (UA + ṁ c_p) ΔT, moist air after ASHRAE Fundamentals, chapter 1; openings after Kiel "
        "and Wilson 1989 (coefficient from memory)."
    ),
    tr(
        "UA ± 20 %, watts ± 5 %; a duct fan moves 60 to 100 % of its free flow, one with a "
        "controller 0 to 100 %; light may leave through clear covers."
    ),
    (
        tr(
            "No cooler, heater or fog, no sun, no evaporation: each litre of water that leaves in "
            "a day takes 28 W with it."
        ),
        tr("Walls and water store no heat: peaks come later and lower."),
        tr("Humidity is not computed yet."),
        tr("Faces close to a wall count as if they stood free in the room's air."),
    ),
)


@dataclass(frozen=True)
class Warmth:
    """The balance while the lamps are on, or off. [W, W/K, m³/s, K, °C]

    ``low`` and ``high`` are the ends of the rise's own range.
    """

    half: Half
    heat: Heat
    losses: Losses
    room: float
    rise: float
    low: float
    high: float

    @property
    def inside(self) -> float:
        """Temperature of the air inside. [°C]"""
        return self.room + self.rise


@dataclass(frozen=True, kw_only=True)
class ClimateReadings(SubjectReadings):
    """Climate: the warming by day and by night; ``night`` is None where lamps never go off."""

    subject: str = "climate"
    day: Warmth | None = None
    night: Warmth | None = None


def inputs(study: Study) -> Any:
    """Return what climate looks at: season, enclosure, devices inside, fans, plants, and power."""
    design, placement = study.design, study.placement
    devices = tuple(
        (part.id, part.name, type(part), placement.inside(part.id), _settings(part))
        for part in design.of(Powered)
    )
    wants = tuple((_group(design, zone), placement.inside(zone.id)) for zone in design.of(Plants))
    enclosure = design.enclosure
    box = (enclosure, placement.box(enclosure.id).size) if enclosure else None
    fans, flaps = duct_fans(design), flaps_to_the_room(design)
    vents = tuple(_vents_above(study, half) for half in HALVES)
    return study.season, box, devices, fans, vents, flaps, wants, study.done.get("power")


def _settings(part: Powered) -> Any:
    control = getattr(part, "control", None)
    driver = part.driver_inside if isinstance(part, Lamp) else None
    return part.hours, part.duty, part.watts, control, driver


def read(study: Study) -> ClimateReadings:
    """Return the climate readings of a design."""
    enclosure = study.design.enclosure
    if enclosure is None:
        return ClimateReadings(nothing=phrase("no enclosure yet"))
    if enclosure.cover("top") is None:
        return ClimateReadings(nothing=phrase("open above: its air follows the room's"))
    power = _power(study)
    when = halves(study.placement, power)
    day = _warmth(study, enclosure, power, when.lit, "day")
    dark = when.dark
    night = None if dark is None else _warmth(study, enclosure, power, dark, "night")
    taken = _assumptions(study, enclosure)
    told = [(day, _words(when.lamps))]
    if night is not None:
        told.append((night, phrase("while the lamps are off")))
    rises = [_rise_row(warmth, words, taken) for warmth, words in told]
    rows = [row for warmth, words in told for row in _temperatures(study, warmth, words, taken)]
    wanted = tuple(row for row in rows if (row.want_low, row.want_high) != (None, None))
    return ClimateReadings(
        rows=(*rises, *rows), headline=worst(wanted) or rises[0], day=day, night=night
    )


def _power(study: Study) -> PowerReadings:
    done = study.done.get("power")
    return done if isinstance(done, PowerReadings) else read_power(study)


def _words(lamps: bool) -> Phrase:
    return phrase("while the lamps are on") if lamps else phrase("all day")


def _warmth(
    study: Study, enclosure: Enclosure, power: PowerReadings, when: Flags, half: Half
) -> Warmth:
    """Return the balance over some minutes of the day, with its range."""
    found = heat(study.placement, power, when)
    lost = losses(study.placement, enclosure, power, when)
    let_out = transmittance(enclosure, study.placement.box(enclosure.id))
    t, rh = _room(study, half)
    weak = replace(lost, covers=lost.covers * (1 - U_SPREAD), fans=lost.least_fans)
    strong = replace(lost, covers=lost.covers * (1 + U_SPREAD))
    least = found.power * (1 - NAMEPLATE) - found.light * let_out
    above = _vents_above(study, half)
    return Warmth(
        half,
        found,
        lost,
        t,
        _vented(lost, found.power, t, rh, above),
        _vented(strong, max(least, 0.0), t, rh, above),
        weak.rise(found.power * (1 + NAMEPLATE), t, rh),
    )


def _vents_above(study: Study, half: Half) -> float | None:
    """Return the lowest set-point in force among thermostats that switch duct fans. [°C]"""
    controls = {fan.control for fan in thermostatted(study.design)}
    stats = (stat for stat in study.design.of(Thermostat) if stat.id in controls)
    points = [in_force(stat.set_points, study.season.id, half) for stat in stats]
    return min((point.value for point in points if point is not None), default=None)


def _vented(lost: Losses, power: float, t: float, rh: float, above: float | None) -> float:
    """Return the rise where fans with a thermostat run only as far as they hold it. [K]"""
    running = lost.rise(power, t, rh)
    if above is None:
        return running
    resting = replace(lost, fans=lost.unswitched).rise(power, t, rh)
    return min(resting, max(running, above - t))


def _room(study: Study, half: Half) -> tuple[float, float]:
    season = study.season
    if half == "day":
        return season.room_day, season.room_humidity_day
    return season.room_night, season.room_humidity_night


def _rise_row(warmth: Warmth, words: Phrase, taken: tuple[Phrase, ...]) -> Reading:
    line = phrase(
        "{rise} above the room {while_}; {heat} inside",
        rise=_kelvin(warmth.rise),
        while_=words,
        heat=Amount(warmth.heat.power, "power"),
    )
    return reading(
        "climate",
        f"rise-{warmth.half}",
        "",
        phrase("warming {half}", half=_where(warmth)),
        warmth.rise,
        "temperature_difference",
        line,
        METHOD,
        spread=(warmth.low, warmth.high),
        assumptions=taken,
    )


def _where(warmth: Warmth) -> Phrase:
    return phrase("by day") if warmth.half == "day" else phrase("by night")


def _temperatures(
    study: Study, warmth: Warmth, words: Phrase, taken: tuple[Phrase, ...]
) -> Iterator[Reading]:
    """Iterate over the temperature against what all plants want, or against each group's own."""
    for name, want in _wants(study, warmth.half):
        line = phrase(
            "{inside} {while_}, {rise} above the room{want}",
            inside=Amount(warmth.inside, "temperature"),
            while_=words,
            rise=_kelvin(warmth.rise),
            want=_want_words(name, want),
        )
        yield reading(
            "climate",
            f"temperature-{warmth.half}",
            "",
            phrase("{half}, {name}", half=_where(warmth), name=name) if name else _where(warmth),
            warmth.inside,
            "temperature",
            line,
            METHOD,
            spread=(warmth.room + warmth.low, warmth.room + warmth.high),
            want=(want.low, want.high),
            assumptions=(*taken, _room_taken(warmth)),
        )


def _room_taken(warmth: Warmth) -> Phrase:
    return phrase("the room is taken at {room}, as the season says",
                  room=Amount(warmth.room, "temperature"))  # fmt: skip


def _wants(study: Study, half: Half) -> list[tuple[str, Span]]:
    """Return one range that suits all plants inside; where there is none, each group's own."""
    wants = [(group.name, _range(group, half)) for group in _groups(study)]
    spans = [span for _, span in wants]
    low = _most((span.low for span in spans), max)
    high = _most((span.high for span in spans), min)
    if low is not None and high is not None and low > high:
        return wants
    return [("", Span(low=low, high=high))]


def _range(group: PlantGroup, half: Half) -> Span:
    span = group.temperature_day if half == "day" else group.temperature_night
    return span or Span()


def _most(values: Iterable[float | None], choose: Callable[[list[float]], float]) -> float | None:
    known = [value for value in values if value is not None]
    return choose(known) if known else None


def _groups(study: Study) -> list[PlantGroup]:
    zones = (zone for zone in study.design.of(Plants) if study.placement.inside(zone.id))
    found = (_group(study.design, zone) for zone in zones)
    return list(dict.fromkeys(group for group in found if group is not None))


def _group(design: Design, zone: Plants) -> PlantGroup | None:
    return design.group(zone.species)


def _want_words(name: str, want: Span) -> Phrase | str:
    ends = {key: Amount(value, "temperature")
            for key, value in (("low", want.low), ("high", want.high))
            if value is not None}  # fmt: skip
    if not ends:
        return ""
    text = {
        ("low", "high"): "want {low} to {high}",
        ("low",): "want at least {low}",
        ("high",): "want at most {high}",
    }[tuple(ends)]
    if name:
        return phrase("; {name} {want}", name=name, want=Phrase(text, ends))
    return phrase("; {want}", want=Phrase(text, ends))


def _assumptions(study: Study, enclosure: Enclosure) -> tuple[Phrase, ...]:
    """Name what was taken because nobody said."""
    return (*_about_covers(enclosure), *_about_devices(study), *_about_air(study, enclosure))


def _about_covers(enclosure: Enclosure) -> Iterator[Phrase]:
    if any(cover.sheet.u_value is None for cover in enclosure.covers):
        yield phrase("covers without a U-value are taken at {u}", u=Amount(USUAL_U, "u_value"))
    if enclosure.cover("bottom") is None:
        yield phrase(
            "the floor is taken at {u}, to a floor at room temperature",
            u=Amount(FLOOR_U, "u_value"),
        )


def _about_devices(study: Study) -> Iterator[Phrase]:
    design, placement = study.design, study.placement
    if any(not lamp.driver_inside and placement.inside(lamp.id) for lamp in design.of(Lamp)):
        share = Amount(DRIVER_SHARE, "fraction")
        yield phrase("drivers outside are taken to keep {share} of the lamps' power", share=share)
    left_out = [part.name for part in design.parts if isinstance(part, Cooler | Heater)]
    if left_out:
        yield phrase("left out: {names}", names=", ".join(left_out))
    if any(True for _ in design.of(Fogger)):
        yield phrase("foggers count by their watts; the cooling of their fog is left out")


def _about_air(study: Study, enclosure: Enclosure) -> Iterator[Phrase]:
    if open_sides(enclosure):
        yield phrase("air moves through each open face as through one opening by itself")
    fans = duct_fans(study.design)
    held = [fan for fan in thermostatted(study.design) if _has_set_point(study)]
    switched = [fan for fan in fans if fan.control and fan.duty is None and fan not in held]
    if held:
        yield phrase("taken as running above their set-points only: {names}", names=_names(held))
    if switched:
        yield phrase("taken as running while their hours are on: {names}", names=_names(switched))
    if any("outdoors" in fan.joins for fan in fans):
        yield phrase("air that fans bring from outdoors is taken as warm as the room's")


def _has_set_point(study: Study) -> bool:
    return any(_vents_above(study, half) is not None for half in HALVES)


def _names(parts: Iterable[DuctFan]) -> str:
    return ", ".join(part.name for part in parts)


def _kelvin(value: float) -> Amount:
    return Amount(value, "temperature_difference")
