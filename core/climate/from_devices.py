"""The devices of a design as those of a simulated zone, with their controllers, by day and night.

Faces, plants and the room are in `from_design`; what devices do to the air, in the day's kernel.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.climate import zone as engine
from core.climate.heat import DRIVER_SHARE, LIGHT_SHARE, PHOTONS_PER_JOULE, duct_fans
from core.climate.zone import LEAST_DIFFERENTIAL, MINIMUM_OFF, Control, Floats, LampHeat
from core.light.lamp_light import photon_flux
from core.model import (
    Cooler,
    Design,
    DuctFan,
    Fogger,
    Heater,
    Humidistat,
    Lamp,
    Powered,
    Thermostat,
)
from core.model.base import Half
from core.model.electric import SetPoint
from core.placement import Placement
from core.power.tree import PlugTree, running_watts

USUAL_COP = 2.9
"""Taken for a cooler without watts (common practice)."""

FAN_SHARE = 0.1
"""Share of a cooler's watts that its fan inside turns into heat (common practice)."""

Climatic = engine.Heater | engine.Fogger | engine.Vent | engine.Cooler


@dataclass(frozen=True, eq=False)
class HalfDay:
    """A design as it is by day or by night, and the minutes at which it is so."""

    half: Half
    season: str
    placement: Placement
    minutes: Floats

    @property
    def design(self) -> Design:
        """The parts present."""
        return self.placement.design

    def level(self, part: Powered) -> Floats:
        """Return the share of full power that a part's timers let through in this half."""
        return self._tree.level(part) * self.minutes

    @cached_property
    def _tree(self) -> PlugTree:
        return PlugTree(self.design)


def lamps(halves: Iterable[HalfDay]) -> tuple[LampHeat, ...]:
    """Return the lamps inside."""
    return tuple(
        LampHeat(
            running_watts(lamp) * _duty(lamp) * half.level(lamp),
            light_share(lamp),
            DRIVER_SHARE,
            lamp.driver_inside,
        )
        for half in halves
        for lamp in half.design.of(Lamp)
        if half.placement.inside(lamp.id)
    )


def light_share(lamp: Lamp) -> float:
    """Return the share of a lamp's power that leaves it as light, by its photon flux. [0–1]"""
    light = photon_flux(lamp).value / PHOTONS_PER_JOULE
    if light <= 0 or lamp.watts <= 0:
        return LIGHT_SHARE
    return min(light / lamp.watts, 1.0 - DRIVER_SHARE)


def other_watts(halves: Iterable[HalfDay]) -> Floats:
    """Return the heat of what is inside and neither lamp nor climate device, by the minute. [W]"""
    total = np.zeros(engine.MINUTES)
    for half in halves:
        for part in half.design.of(Powered):
            if isinstance(part, Lamp | Heater | Cooler | Fogger | DuctFan):
                continue
            if half.placement.inside(part.id):
                total += running_watts(part) * _duty(part) * half.level(part)
    return total


def devices(halves: tuple[HalfDay, ...]) -> tuple[tuple[str, Climatic], ...]:
    """Return all climate devices with the ids of their parts; those alike by day and night once."""
    found = [one for half in halves for one in _of_half(half)]
    ids = list(dict.fromkeys(part_id for part_id, _ in found))
    joined = (_joined([one for part_id, one in found if part_id == wanted]) for wanted in ids)
    return tuple((part_id, one) for part_id, many in zip(ids, joined, strict=True) for one in many)


def _joined(versions: list[Climatic]) -> list[Climatic]:
    """Join the day's and the night's version of a device where only hours and set-points differ."""
    if len(versions) != 2 or _fixed(versions[0]) != _fixed(versions[1]):
        return versions
    day, night = versions
    hours = np.asarray(day.hours) + np.asarray(night.hours)
    control = _both(day.control, night.control, np.asarray(day.hours) > 0)
    if (day.control is None) != (night.control is None):
        return versions
    return [_with(day, hours=hours, control=control)]


def _fixed(device: Climatic) -> dict[str, object]:
    return {
        "kind": type(device),
        **{key: value for key, value in vars(device).items() if key not in ("hours", "control")},
    }


def _with(device: Climatic, **changes: object) -> Climatic:
    return type(device)(**{**vars(device), **changes})


def _both(day: Control | None, night: Control | None, by_day: np.ndarray) -> Control | None:
    if day is None or night is None:
        return None
    on, off = (np.where(by_day, one, other) for one, other in ((day.on, night.on),
                                                              (day.off, night.off)))  # fmt: skip
    return Control(day.quantity, on, off, day.minimum_off)


def _of_half(half: HalfDay) -> Iterator[tuple[str, Climatic]]:
    design, inside = half.design, half.placement.inside
    for heater in design.of(Heater):
        if inside(heater.id):
            yield heater.id, _heater(half, heater)
    for fogger in design.of(Fogger):
        yield fogger.id, _fogger(half, fogger)
    for cooler in design.of(Cooler):
        if cooler.joins[0] == "enclosure":
            yield cooler.id, _cooler(half, cooler)
    yield from _vents(half)


def _heater(half: HalfDay, part: Heater) -> engine.Heater:
    control = _control(half, part.control, Control.below)
    return engine.Heater(
        name=part.name, watts=part.watts, control=control, hours=_hours(half, part, control)
    )


def _fogger(half: HalfDay, part: Fogger) -> engine.Fogger:
    control = _control(half, part.control, Control.below)
    return engine.Fogger(
        name=part.name,
        watts=part.watts if half.placement.inside(part.id) else 0.0,
        control=control,
        hours=_hours(half, part, control),
        output=part.output,
    )


def _cooler(half: HalfDay, part: Cooler) -> engine.Cooler:
    control = _control(half, part.control, Control.beyond, least_off=MINIMUM_OFF)
    compressor = part.watts * (1 - FAN_SHARE)
    portable = part.style == "portable"
    return engine.Cooler(
        name=part.name,
        watts=part.watts * FAN_SHARE,
        control=control,
        hours=_hours(half, part, control),
        cooling=part.cooling,
        air_flow=part.air_flow,
        cop=part.cooling / compressor if compressor > 0 and part.cooling > 0 else USUAL_COP,
        make_up=part.air_flow if portable else 0.0,
    )


def _vents(half: HalfDay) -> Iterator[tuple[str, engine.Vent]]:
    """Iterate over duct fans; exhausts bring in what intakes running with them do not serve."""
    fans = duct_fans(half.design)
    into = sum(fan.flow for fan in fans if fan.joins[1] == "enclosure")
    out = sum(fan.flow for fan in fans if fan.joins[0] == "enclosure")
    unserved = max(0.0, out - into) / out if out > 0 else 0.0
    for fan in fans:
        intake = fan.joins[1] == "enclosure"
        control = _fan_control(half, fan)
        yield (
            fan.id,
            engine.Vent(
                name=fan.name,
                watts=fan.watts if half.placement.inside(fan.id) else 0.0,
                control=control,
                hours=_hours(half, fan, control),
                flow=fan.flow * (1.0 if intake else unserved),
                source="outdoors" if intake and fan.joins[0] == "outdoors" else "room",
            ),
        )


def _fan_control(half: HalfDay, fan: DuctFan) -> Control | None:
    return _control(half, fan.control, Control.beyond)


def _control(
    half: HalfDay, part_id: str | None, kind: Callable[..., Control], least_off: float = 0.0
) -> Control | None:
    """Return a controller's set-point in force; None where there is none."""
    part = half.design.by_id.get(part_id) if part_id else None
    if not isinstance(part, Thermostat | Humidistat):
        return None
    point = in_force(part.set_points, half.season, half.half)
    if point is None:
        return None
    quantity = "temperature" if isinstance(part, Thermostat) else "humidity"
    differential = max(point.differential, LEAST_DIFFERENTIAL[quantity])
    return kind(quantity, point.value, differential, max(least_off, float(part.minimum_off)))


def in_force(points: Iterable[SetPoint], season: str, half: Half) -> SetPoint | None:
    """Return the set-point for a season and half; the one that says most goes first."""
    fit = [one for one in points if one.season in (None, season) and one.half in (None, half)]
    return max(fit, key=lambda one: (one.season is not None) + (one.half is not None), default=None)


def _hours(half: HalfDay, part: Powered, control: Control | None) -> Floats:
    """Return a device's hours; without a controller its duty counts as a share of its power."""
    return half.level(part) * (1.0 if control else _duty(part))


def _duty(part: Powered) -> float:
    return 1.0 if part.duty is None else part.duty
