"""What climate takes for granted where nobody said, and the words for it.

Numbers that a part gives go before these; how they act is told where they are used.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from core.climate.heat import DRIVER_SHARE, FLOOR_U, USUAL_U, duct_fans, open_sides
from core.model import Cooler, Enclosure, Lamp, Plants, RoomWindow
from core.phrases import Amount, Phrase, phrase
from core.study import Study

LEAF_AREA_INDEX = 2.5
"""Taken for a planted zone; 1 for seedlings (common practice, no source)."""

USUAL_PPFD = 100.0
"""Taken at leaves while the lamps are on, where light is not known. [µmol/(m² s)]"""

USUAL_SPEED = 0.15
"""Taken for air that is not known. [m/s]"""


@dataclass(frozen=True)
class Known:
    """What other engines found, by the id of a zone's plants; nothing by default.

    ``speed`` is of the air at the leaves [m/s], ``ppfd`` of the light [µmol/(m² s)]; ``lost`` the
    share of the lamps' light that leaves through covers and open faces, None where not known.
    """

    speed: Mapping[str, float] = field(default_factory=dict)
    ppfd: Mapping[str, float] = field(default_factory=dict)
    lost: float | None = None


def assumptions(
    study: Study, enclosure: Enclosure, zones: tuple[Plants, ...], known: Known
) -> Iterator[Phrase]:
    """Iterate over what was taken because nobody said."""
    yield from _about_room(study)
    yield from _about_covers(enclosure)
    yield from _about_devices(study)
    yield from _about_plants(zones, known)


def _about_room(study: Study) -> Iterator[Phrase]:
    if study.season.room is None:
        yield phrase("the room is as by day from 07:00 to 22:00 and passes over two hours")
    yield phrase("walls close behind a face are taken as inner walls, as warm as the room")
    if any(isinstance(item, RoomWindow) for item in study.design.room.fixtures):
        if study.season.sun is None:
            yield phrase("sun through the window is left out")
        else:
            yield phrase("sun counts through windows that a face stands close to, by six tenths")


def _about_covers(enclosure: Enclosure) -> Iterator[Phrase]:
    if any(cover.sheet.u_value is None for cover in enclosure.covers):
        yield phrase("covers without a U-value are taken at {u}", u=Amount(USUAL_U, "u_value"))
    if enclosure.cover("bottom") is None:
        words = "the floor is taken at {u}, to a floor at room temperature"
        yield phrase(words, u=Amount(FLOOR_U, "u_value"))
    if open_sides(enclosure):
        yield phrase("air moves through each open face as through one opening by itself")


def _about_devices(study: Study) -> Iterator[Phrase]:
    design, inside = study.design, study.placement.inside
    if any(not lamp.driver_inside and inside(lamp.id) for lamp in design.of(Lamp)):
        share = Amount(DRIVER_SHARE, "fraction")
        yield phrase("drivers outside are taken to keep {share} of the lamps' power", share=share)
    if any(fan.filter_drop > 0 or fan.duct_length > 0 for fan in duct_fans(design)):
        yield phrase("duct fans are taken at their free flow, ducts and filters in the range")
    if any(True for _ in design.of(Cooler)):
        yield phrase("a cooler's coil is taken at 8\u2009°C, with a fifth of the air passing by it")


def _about_plants(zones: tuple[Plants, ...], known: Known) -> Iterator[Phrase]:
    if any(zone.id not in known.speed for zone in zones):
        yield phrase("air at the plants is taken at {speed}", speed=Amount(USUAL_SPEED, "speed"))
    if any(zone.id not in known.ppfd for zone in zones):
        light = Amount(USUAL_PPFD, "photon_flux_density")
        yield phrase("light at the plants is taken at {light}", light=light)
    if zones:
        yield phrase("leaves have {index} times the area they cover", index=f"{LEAF_AREA_INDEX:g}")
