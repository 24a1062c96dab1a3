"""A design in one season as a zone and a room for the simulated day, and what was assumed.

Devices are in `from_devices`; nothing is simulated here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import get_args

import numpy as np

from core.climate.assumed import LEAF_AREA_INDEX, USUAL_PPFD, USUAL_SPEED, Known, assumptions
from core.climate.balance import INNER_FILM
from core.climate.draught import Slot, joined
from core.climate.from_devices import Climatic, HalfDay, devices, lamps, other_watts
from core.climate.heat import PHOTONS_PER_JOULE, area, open_sides, transmittance, u_value
from core.climate.surfaces import FILM, INNER_WALL_U, WINDOW_U, Boundary, against
from core.climate.zone import (
    DAY_FROM,
    DAY_TO,
    MINUTES,
    Beyond,
    Floats,
    Gap,
    LampHeat,
    Leaves,
    Room,
    WetTray,
    Zone,
    from_hours,
)
from core.geometry import Box
from core.model import (
    FACES,
    DayProfile,
    Design,
    Enclosure,
    Face,
    Lamp,
    Opening,
    Plants,
    Reservoir,
    RoomWindow,
    Season,
    ShelfUnit,
    Tray,
)
from core.phrases import Phrase
from core.placement import Placement, fixture_box, wall_ends
from core.power.tree import PlugTree
from core.study import Study

CLOSE = 0.10
"""A face nearer than this to a wall has the wall behind it. [m]"""

EASED = 120
"""Time in which the room passes from day to night (common practice). [min]"""

WARMEST = 15 * 60
"""When outdoors it is warmest; coldest 12 hours later (common practice). [min]"""

LIGHT_AT_COVERS = 0.5
"""Share of the lamps' light that meets the covers, where light is not known (common practice, no
source)."""

LIGHT_AT_LEAVES = 0.6
"""Most of the light left inside that leaves absorb (common practice, no source)."""

ABSORBED = 0.9
"""Share of the light on leaves that they absorb (common practice, no source)."""


BARE_BETWEEN_POTS = 0.3
"""Least share of a planted tray that is bare and wet (common practice, no source)."""

GLASS_PASSES = 0.6
"""Share of the sun's heat that a double-glazed window lets pass (common practice)."""

WATER_HEAT = 4.18e6
"""Of a volume of water. [J/(m³ K)]"""

DRY_HEAT = 900.0
"""Of what shelves, pots and devices are made of (from memory). [J/(kg K)]"""

WET_SUBSTRATE_HEAT = 3000.0
"""Of wet substrate (from memory). [J/(kg K)]"""

SKIN_OF_COVERS, SKIN_OF_LEAVES = 150.0, 900.0
"""Heat capacity that follows the air at once: half of a film's, and that of leaves 0.25 mm thick
(from memory). [J/(m² K)]"""

LEAST_CAPACITY, LEAST_COUPLING = 2e4, 10.0
"""Of covers and frame, with nothing inside. [J/K, W/K]"""

SURFACE_FILM = 8.0
"""Of both sides of shelves and trays. [W/(m² K)]"""


@dataclass(frozen=True, eq=False)
class Setup:
    """What a simulated day starts from, and which part each of its pieces comes from.

    Attributes
    ----------
    zone, room : Zone, Room
    day : ndarray, shape (1440,)
        1 where it is day: while lamps are on.
    devices, trays, leaves, boundaries : tuple of str
        Ids of the parts, and the faces, in the zone's order.
    sun_share : float
        Heat inside for each W/m² of sun on the window. [m²]
    assumptions : tuple of Phrase
    """

    zone: Zone
    room: Room
    day: Floats
    devices: tuple[str, ...]
    trays: tuple[str, ...]
    leaves: tuple[str, ...]
    boundaries: tuple[Face, ...]
    sun_share: float
    assumptions: tuple[Phrase, ...]


def setup(study: Study, known: Known | None = None) -> Setup | None:
    """Return the zone and the room of a design in its season.

    Parameters
    ----------
    study : Study
    known : Known, optional
        Air speed and light at the plants, and light lost, where other engines have found them.

    Returns
    -------
    Setup or None
        None without an enclosure, or where it is open above: its air follows the room's.
    """
    enclosure = study.design.enclosure
    if enclosure is None or enclosure.cover("top") is None:
        return None
    known = known or Known()
    season = study.season
    day = _day(study.placement)
    halves = _halves(study, day)
    placement = study.placement
    box = placement.box(enclosure.id)
    faces = tuple(_boundaries(placement, enclosure, box))
    trays = tuple(tray for tray in study.design.of(Tray) if _holds(placement, tray))
    zones = tuple(zone for zone in study.design.of(Plants) if placement.inside(zone.id))
    lit = lamps(halves)
    light_out = known.lost
    if light_out is None:
        light_out = LIGHT_AT_COVERS * transmittance(enclosure, box)
    leaves = _leaves(study.design, zones, day, known, _brightest(lit) * (1 - light_out))
    found: tuple[tuple[str, Climatic], ...] = devices(halves)
    sun_share = _sun_share(enclosure, faces)
    made = Zone(
        volume=box.volume,
        boundaries=tuple(boundary for _, boundary in faces),
        leakage=enclosure.air_changes_per_hour,
        lamps=lit,
        light_out=light_out,
        other_watts=other_watts(halves) + sun_share * from_hours(season.sun or [0.0] * 24),
        heat_capacity=_capacity(placement),
        coupling=_coupling(placement),
        skin=_skin(faces, leaves),
        trays=tuple(_tray(study.design, tray, known) for tray in trays),
        leaves=leaves,
        gaps=(*_open_faces(enclosure, box), *(gap for half in halves for gap in _flaps(half))),
        devices=tuple(device for _, device in found),
    )
    return Setup(
        made,
        room_of(season),
        day,
        tuple(part_id for part_id, _ in found),
        tuple(tray.id for tray in trays),
        tuple(zone.id for zone in zones),
        tuple(face for face, _ in faces),
        sun_share,
        tuple(assumptions(study, enclosure, zones, known)),
    )


def _day(placement: Placement) -> Floats:
    """Return 1 while lamps inside are on; without lamps, in the room's own day."""
    tree = PlugTree(placement.design)
    lit = np.zeros(MINUTES)
    for lamp in placement.design.of(Lamp):
        if placement.inside(lamp.id):
            lit = np.maximum(lit, tree.level(lamp))
    if not lit.any():
        minute = np.arange(MINUTES)
        return ((minute >= DAY_FROM) & (minute < DAY_TO)).astype(float)
    return (lit > 0).astype(float)


def _halves(study: Study, day: Floats) -> tuple[HalfDay, ...]:
    """Return the design by day and by night."""
    season = study.season.id
    night = study.drawn.at(season, "night")
    return (
        HalfDay("day", season, study.placement, day),
        HalfDay("night", season, Placement(night), 1 - day),
    )


def by_day_indoors() -> Floats:
    """Return how far a room is as it is by day, by the minute: in straight lines over `EASED`."""
    minute = np.arange(MINUTES)
    risen = np.clip((minute - DAY_FROM) / EASED + 0.5, 0.0, 1.0)
    fallen = np.clip((minute - DAY_TO) / EASED + 0.5, 0.0, 1.0)
    return risen - fallen


@lru_cache(maxsize=64)
def room_of(season: Season) -> Room:
    """Return the room and the outdoors of a season by the minute.

    Hour by hour where the season tells them so; else the room by its own hours, and outdoors as
    one wave from night to day.
    """
    minute = np.arange(MINUTES)
    indoors = by_day_indoors()
    outdoors = 0.5 + 0.5 * np.cos(2 * np.pi * (minute - WARMEST) / MINUTES)

    def between(night: float, by_day: float, share: Floats) -> Floats:
        return night + (by_day - night) * share

    within = _hourly(season.room) or (
        between(season.room_night, season.room_day, indoors),
        between(season.room_humidity_night, season.room_humidity_day, indoors),
    )
    beyond = _hourly(season.outdoors) or (
        between(season.outdoor_night, season.outdoor_day, outdoors),
        between(season.outdoor_humidity_night, season.outdoor_humidity_day, outdoors),
    )
    return Room(*within, *beyond)


def _hourly(profile: DayProfile | None) -> tuple[Floats, Floats] | None:
    if profile is None:
        return None
    return from_hours(profile.temperature), from_hours(profile.humidity)


def _sun_share(enclosure: Enclosure, faces: tuple[tuple[Face, Boundary], ...]) -> float:
    """Return what of the sun on the windows that faces stand close to becomes heat. [W/(W/m²)]

    What a cover lets pass ends as heat inside; of what it keeps, it gives in as much as goes
    through it.
    """
    total = 0.0
    for face, part in faces:
        cover = enclosure.cover(face)
        if part.outdoor_share > 0 and cover is not None:
            sheet = cover.sheet
            kept = 1 - sheet.transmittance - sheet.reflectance
            taken = sheet.transmittance + kept * part.u / INNER_FILM
            total += GLASS_PASSES * taken * part.area
    return total


def _boundaries(
    placement: Placement, enclosure: Enclosure, box: Box
) -> Iterator[tuple[Face, Boundary]]:
    """Iterate over the covered faces, in parts where a wall or a room window is close behind."""
    for face in FACES:
        u, left = u_value(enclosure, face), area(box, face)
        if u == 0:
            continue
        if face not in ("top", "bottom") and 1 / u > FILM:
            for part in _behind(placement, box, face, u):
                left -= part.area
                yield face, part
        if left > 1e-9:
            yield face, Boundary(left, u, name=face)


def _behind(placement: Placement, box: Box, face: Face, u: float) -> Iterator[Boundary]:
    """Iterate over the parts of a face that have a wall or a window of the room close behind."""
    room = placement.design.room
    across = 0 if face in ("left", "right") else 1
    along = 1 - across
    plane = box.lo[across] if face in ("left", "front") else box.hi[across]
    for wall in range(1, len(room.outline) + 1):
        a, b = wall_ends(room, wall)
        gap = abs(a[across] - plane)
        if abs(a[across] - b[across]) > 1e-6 or gap > CLOSE:
            continue
        shared = _overlap(box.lo[along], box.hi[along], *sorted((a[along], b[along])))
        if shared <= 0:
            continue
        glass = sum(
            _over_face(placement, window, box, along)
            for window in room.fixtures
            if isinstance(window, RoomWindow) and window.wall == wall
        )
        masonry = shared * box.size[2] - glass
        if glass > 0:
            yield Boundary(glass, against(u, WINDOW_U, gap), 1.0, name=face)
        if masonry > 1e-9:
            yield Boundary(masonry, against(u, INNER_WALL_U, gap), 0.0, name=face)


def _over_face(placement: Placement, window: RoomWindow, box: Box, along: int) -> float:
    """Return how much of a room window a face covers. [m²]"""
    glass = fixture_box(placement.design.room, window)
    wide = _overlap(box.lo[along], box.hi[along], glass.lo[along], glass.hi[along])
    high = _overlap(box.lo[2], box.hi[2], glass.lo[2], glass.hi[2])
    return max(0.0, wide) * max(0.0, high)


def _overlap(low: float, high: float, other_low: float, other_high: float) -> float:
    return min(high, other_high) - max(low, other_low)


def _open_faces(enclosure: Enclosure, box: Box) -> Iterator[Gap]:
    for face in open_sides(enclosure):
        yield Gap(area(box, face) / box.size[2], box.size[2])


def _flaps(half: HalfDay) -> Iterator[Gap]:
    """Iterate over the openings of the enclosure that are there in this half of the day.

    Several to the same side are one gap, since air enters by the lower and leaves by the higher.
    """
    flaps = [flap for flap in half.design.of(Opening) if flap.joins.count("enclosure") == 1]
    for beyond in get_args(Beyond):
        found = [flap for flap in flaps if ("outdoors" in flap.joins) == (beyond == "outdoors")]
        slots = [_slot(flap, half.placement.box(flap.id)) for flap in found]
        if len({(slot.low, slot.high) for slot in slots}) > 1:
            yield Gap(*joined(slots), beyond, half.minutes)
        else:
            yield from (Gap(flap.width, flap.height, beyond, half.minutes) for flap in found)


def _slot(flap: Opening, box: Box) -> Slot:
    return Slot(flap.width * flap.height, box.lo[2], box.hi[2])


def _holds(placement: Placement, tray: Tray) -> bool:
    return placement.inside(tray.id) and tray.fill > 0


def _tray(design: Design, tray: Tray, known: Known) -> WetTray:
    planted = [part for part in design.carried(tray.id) if isinstance(part, Plants)]
    covered = sum(zone.width * zone.depth for zone in planted) / (tray.width * tray.depth)
    speeds = [known.speed[zone.id] for zone in planted if zone.id in known.speed]
    speed = float(np.mean(speeds)) if speeds else USUAL_SPEED
    wet = max(BARE_BETWEEN_POTS, 1 - covered) if planted else 1.0
    return WetTray(tray.width, tray.depth, speed, wet)


def _leaves(
    design: Design, zones: tuple[Plants, ...], day: Floats, known: Known, light: float
) -> tuple[Leaves, ...]:
    """Return the leaves of all zones; together they take no more than their share of the light."""
    ground = sum(zone.width * zone.depth for zone in zones)
    found = []
    for zone in zones:
        group = design.group(zone.species)
        own = zone.width * zone.depth
        ppfd = known.ppfd.get(zone.id, USUAL_PPFD)
        taken = ABSORBED * ppfd / PHOTONS_PER_JOULE * own
        share = min(taken / light, LIGHT_AT_LEAVES * own / ground) if light > 0 else 0.0
        found.append(
            Leaves(
                own,
                1.0 if group and group.seedlings else LEAF_AREA_INDEX,
                ppfd * day,
                share,
                known.speed.get(zone.id, USUAL_SPEED),
            )
        )
    return tuple(found)


def _brightest(lit: tuple[LampHeat, ...]) -> float:
    """Return the light of all lamps together at their brightest. [W]"""
    total = sum((one.light_share * np.asarray(one.watts) for one in lit), np.zeros(MINUTES))
    return float(total.max())


def _capacity(placement: Placement) -> float:
    """Return the heat capacity of what stands inside: water, substrate, and all else. [J/K]"""
    total = LEAST_CAPACITY
    for part in placement.design.parts:
        if isinstance(part, Enclosure) or not placement.inside(part.id):
            continue
        total += part.own_mass * DRY_HEAT
        if isinstance(part, Tray | Reservoir):
            total += part.width * part.depth * part.fill * WATER_HEAT
        if isinstance(part, Plants) and part.pots:
            pot = np.pi / 4 * part.pots.diameter**2 * part.pots.height * part.pots.count
            total += float(pot) * part.pots.density * WET_SUBSTRATE_HEAT
    return total


def _skin(faces: tuple[tuple[Face, Boundary], ...], leaves: tuple[Leaves, ...]) -> float:
    """Return the heat capacity of what is always as warm as the air. [J/K]"""
    covers = sum(boundary.area for _, boundary in faces)
    leaf_area = sum(one.area * one.leaf_area_index for one in leaves)
    return SKIN_OF_COVERS * covers + SKIN_OF_LEAVES * leaf_area


def _coupling(placement: Placement) -> float:
    """Return the conductance from the air to what stands inside. [W/K]"""
    surface = 0.0
    for part in placement.design.parts:
        if isinstance(part, ShelfUnit | Tray) and placement.inside(part.id):
            levels = len(part.levels) if isinstance(part, ShelfUnit) else 1
            surface += 2 * levels * part.width * part.depth
    return LEAST_COUPLING + SURFACE_FILM * surface
