"""How large a fan, cooler, fogger or heater must be to hold an air, at the worst minute of a day.

Steady balances minute by minute without the devices of the zone that a controller switches; what
a chosen device really does is for the simulated day.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.arguments import not_negative, positive, within
from core.climate.evaporation import vapour_density
from core.climate.openings import buoyant_flows
from core.climate.psychrometrics import (
    DRY_AIR_HEAT,
    LATENT_HEAT_AT_ZERO,
    VAPOUR_HEAT,
    dry_air_density,
    enthalpy,
    heat_capacity,
    humidity_ratio,
)
from core.climate.scalar import AIR_HEAT, LEWIS
from core.climate.surfaces import CONVECTIVE_FILM
from core.climate.tables import (
    OUT_DENSITY,
    OUT_T,
    OUT_W,
    ROOM_DENSITY,
    ROOM_T,
    ROOM_W,
    around_of,
)
from core.climate.zone import BTU_PER_HOUR, Floats, Room, Series, Vent, Zone, by_minute

MARGIN = 1.25
"""What is advised over what is needed (common practice, no source)."""

_SECONDS_PER_HOUR = 3600
_STEAM = LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * 20


@dataclass(frozen=True)
class Sizing:
    """An answer to "how large": ``needed`` at the worst minute, ``advised`` with a margin.

    ``minute`` is the worst minute of the day. Both are 0 where nothing is needed.
    """

    needed: float
    minute: int
    margin: float = MARGIN

    @property
    def advised(self) -> float:
        """[as ``needed``]"""
        return self.needed * self.margin

    @property
    def btu_per_hour(self) -> float:
        """The advised power of a cooler or heater. [BTU/h]"""
        return self.advised * BTU_PER_HOUR


@dataclass(frozen=True, eq=False)
class Need:
    """What an air held all day asks for by the minute, controlled devices left out.

    Attributes
    ----------
    heat : ndarray, shape (1440,)
        To be taken out; negative where it must be put in. [W]
    water : ndarray, shape (1440,)
        Vapour to be put in to make up for exchanged air and condensation; negative where the
        air brings too much. Evaporation is left out. [kg/s]
    """

    heat: Floats
    water: Floats


def coil_split(
    t: float, rh: float, coil_temperature: float = 8.0, bypass: float = 0.2
) -> tuple[float, float]:
    """Return what a cold coil takes from each kilogram of dry air that passes it.

    Parameters
    ----------
    t, rh : float
        Of the air that comes to it. [°C], 0 to 1
    coil_temperature : float
        [°C]
    bypass : float
        Share of the air that the coil does not touch.

    Returns
    -------
    sensible, latent : float
        Latent is 0 where the coil stays dry. [J/kg]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] Bypass factor of a cooling coil: ASHRAE Handbook, HVAC Systems and Equipment (from
       memory); 8 °C and 0.2 are common practice.
    """
    within("Cooler", "bypass", bypass, 0.0, 1.0)
    ratio = float(humidity_ratio(t, rh))
    coil_ratio = min(ratio, float(humidity_ratio(coil_temperature, 1.0)))
    touched = 1 - bypass
    colder = max(0.0, t - coil_temperature)
    total = float(enthalpy(t, ratio) - enthalpy(t - colder, coil_ratio)) if colder else 0.0
    sensible = float(heat_capacity(coil_ratio)) * colder
    return touched * sensible, touched * max(0.0, total - sensible)


def need(zone: Zone, room: Room, t: Series, rh: Series, evaporated: Series = 0.0) -> Need:
    """Return what it takes to hold an air in an enclosure through a day.

    Parameters
    ----------
    zone : Zone
        Of its devices only duct fans without a controller count; so do lamps, other devices,
        faces, gaps and leakage.
    room : Room
    t, rh : float or series
        To hold. [°C], 0 to 1
    evaporated : float or series
        By trays and leaves, which takes its latent heat from the air. [kg/s]

    Returns
    -------
    Need

    Raises
    ------
    InputError
        If an argument is outside its range.
    """
    around = around_of(room, zone.pressure)
    held_t = by_minute("Enclosure", "temperature", t)
    held_rh = by_minute("Enclosure", "relative humidity", rh)
    held_w = np.asarray(humidity_ratio(held_t, held_rh, zone.pressure))
    from_room, from_outdoors = _exchange(zone, around, held_t)
    heat = zone.air_watts + zone.light_watts
    heat = heat - _STEAM * by_minute("Enclosure", "evaporation", evaporated)
    water = np.zeros(held_t.size)
    for flow, brought_t, brought_w in (
        (from_room, around[ROOM_T], around[ROOM_W]),
        (from_outdoors, around[OUT_T], around[OUT_W]),
    ):
        heat = heat + flow * (DRY_AIR_HEAT + VAPOUR_HEAT * brought_w) * (brought_t - held_t)
        water += flow * (held_w - brought_w)
    for face in zone.boundaries:
        behind = around[ROOM_T] + face.outdoor_share * (around[OUT_T] - around[ROOM_T])
        heat = heat + face.u * face.area * (behind - held_t)
        surface = held_t - face.u / face.inner_film * (held_t - behind)
        excess = vapour_density(held_t, held_rh) - vapour_density(surface, 1.0)
        water += CONVECTIVE_FILM / (AIR_HEAT * LEWIS) * face.area * np.maximum(excess, 0.0)
    return Need(heat, water)


def _exchange(zone: Zone, around: Floats, t: Floats) -> tuple[Floats, Floats]:
    """Return the dry air exchanged with the room and with outdoors. [kg/s]"""
    leak = zone.leakage * zone.volume * float(around[ROOM_DENSITY].mean()) / _SECONDS_PER_HOUR
    room, outdoors = np.full(t.size, leak), np.zeros(t.size)
    for gap in zone.gaps:
        out = gap.beyond == "outdoors"
        density, behind = around[[OUT_DENSITY, OUT_T] if out else [ROOM_DENSITY, ROOM_T]]
        share = by_minute("Opening", "share", gap.share)
        flow = buoyant_flows(gap.width, gap.height, t, behind)
        into = outdoors if out else room
        into += flow * share * density
    for fan in zone.devices:
        if isinstance(fan, Vent) and fan.control is None:
            out = fan.source == "outdoors"
            density = around[OUT_DENSITY if out else ROOM_DENSITY]
            into = outdoors if out else room
            into += fan.flow * by_minute(fan.thing, "hours", fan.hours) * density
    return room, outdoors


def ventilation_needed(zone: Zone, room: Room, rise: float, rh: float = 0.5) -> Sizing:
    """Return the room air that keeps an enclosure within ``rise`` of its room. [m³/s]

    Parameters
    ----------
    zone : Zone
    room : Room
    rise : float
        Highest warming above the room, above 0. [K]
    rh : float
        Relative humidity inside; of little weight. 0 to 1

    Raises
    ------
    InputError
        If an argument is outside its range.
    """
    positive("Enclosure", "temperature rise", rise, "K")
    room_t = by_minute("Room", "temperature", room.temperature)
    left = need(zone, room, room_t + rise, rh).heat
    ratio = humidity_ratio(room_t, by_minute("Room", "humidity", room.humidity), zone.pressure)
    carried = dry_air_density(room_t, ratio, zone.pressure) * heat_capacity(ratio) * rise
    return _worst(left / carried)


def cooler_needed(
    zone: Zone,
    room: Room,
    t: Series,
    rh: Series,
    coil_temperature: float = 8.0,
    evaporated: Series = 0.0,
) -> Sizing:
    """Return the nameplate cooling, sensible and latent together, that holds an air. [W]

    The heat of the worst minute over the share of a coil's cooling that is sensible there.

    Parameters
    ----------
    zone : Zone
    room : Room
    t, rh : float or series
        To hold. [°C], 0 to 1
    coil_temperature : float
        [°C]
    evaporated : float or series
        By trays and leaves. [kg/s]

    Raises
    ------
    InputError
        If an argument is outside its range, or the coil is not colder than what it must hold.
    """
    wanted = need(zone, room, t, rh, evaporated).heat
    worst = _worst(wanted)
    held_t = float(by_minute("Enclosure", "temperature", t)[worst.minute])
    held_rh = float(by_minute("Enclosure", "relative humidity", rh)[worst.minute])
    positive("Cooler", "coil below the temperature to hold", held_t - coil_temperature, "K")
    sensible, latent = coil_split(held_t, held_rh, coil_temperature)
    return Sizing(worst.needed * (sensible + latent) / sensible, worst.minute)


def fogger_needed(zone: Zone, room: Room, t: Series, rh: Series) -> Sizing:
    """Return the fog that holds a humidity without help from trays and leaves. [kg/s]

    Parameters
    ----------
    zone : Zone
    room : Room
    t, rh : float or series
        To hold. [°C], 0 to 1

    Raises
    ------
    InputError
        If an argument is outside its range.
    """
    return _worst(need(zone, room, t, rh).water)


def heater_needed(
    zone: Zone,
    room: Room,
    t: Series,
    rh: Series,
    fogged: bool = True,
    evaporated: Series = 0.0,
) -> Sizing:
    """Return the heating that holds an air, lamps counted as they run. [W]

    Parameters
    ----------
    zone : Zone
    room : Room
    t, rh : float or series
        To hold. [°C], 0 to 1
    fogged : bool
        Whether fog holds the humidity, whose latent heat must be put in as well.
    evaporated : float or series
        By trays and leaves. [kg/s]

    Raises
    ------
    InputError
        If an argument is outside its range.
    """
    found = need(zone, room, t, rh, evaporated)
    fog = np.maximum(found.water, 0.0) if fogged else 0.0
    return _worst(-found.heat + fog * _STEAM)


def litres_per_hour(rate: float) -> float:
    """Return a water rate as it is spoken. [kg/s -> L/h]"""
    not_negative("Fogger", "output", rate, "kg/s")
    return rate * 3600


def _worst(values: Floats) -> Sizing:
    minute = int(np.argmax(values))
    return Sizing(max(0.0, float(values[minute])), minute)
