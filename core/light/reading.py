"""Readings of light: each zone's leaf tops and lowest leaves against what its plants want.

The light itself is computed in `core.light.survey`; here it becomes readings and sentences.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from core.language import tr
from core.light.from_design import LampSource
from core.light.maps import USUAL_HOURS, LevelLight, ZoneLight
from core.light.survey import Survey, survey
from core.model import FeedLine, Humidistat, Lead, Outlet, Thermostat
from core.phrases import Amount, Phrase, phrase
from core.power.tree import PlugTree, running_watts
from core.reading import Method, Reading, SubjectReadings, reading, worst
from core.states import State, judge_spread, words
from core.study import Study

METHOD_OFF = 0.05
"""Relative uncertainty of the method: shapes of lamps, wires of shelves, width of cells. [1]"""

_NO_PART_IN_LIGHT = (FeedLine, Lead, Humidistat, Thermostat)
_MOST_REFLECTED = 0.25

ZoneRows = tuple[Reading, Reading, Reading]
"""A zone's light at its leaf tops, at its lowest leaves, and of a day."""

PPFD = Method(
    tr(
        "Direct light of every lamp as a lit face that sends its photons evenly (spots: a power of "
        "the cosine), past shelves, trays, lamp casings and other solid things; the mean over "
        "cells of at most 5 cm, over the lit hours."
    ),
    tr(
        "Lambert's formula for a polygon and the cosine law (Siegel and Howell, Thermal Radiation "
        "Heat Transfer); photons from lumens by CIE data."
    ),
    tr(
        "Root of the squares of the lamps' flux (10 % from watts, 5 % from a measured value) and "
        "of the method (5 %). The upper end adds all that reflections could."
    ),
    (
        tr(
            "Reflections from covers, linings and shelves are not counted: they add about 5 to "
            "25 %, the upper end by the integrating sphere of each level's walls."
        ),
        tr("Daylight and lamps of the room are not counted."),
        tr("Leaves do not shade each other; posts and rims of trays cast no shade."),
        tr(
            "The body of a tilted lamp shades as an upright box; cut-outs of covers, and linings "
            "on part of a unit's side, are not counted."
        ),
    ),
)
DLI = Method(
    tr("The light of each minute, timers, dimming and ramps included, summed over the day."),
    tr("Definition (ANSI/ASABE S640, from a secondary copy)."),
    PPFD.uncertainty,
    PPFD.omissions,
)
EFFICACY = Method(
    tr("Photons of all lamps over their watts, both as they are dimmed."),
    tr("Definition."),
    tr("As uncertain as the lamps' flux."),
)


@dataclass(frozen=True, kw_only=True, eq=False)
class LightReadings(SubjectReadings):
    """Light: readings by zone, and the maps that are drawn.

    Attributes
    ----------
    zones : tuple of ZoneLight
        In the order of the parts.
    levels : tuple of LevelLight
        Levels that have plants or lamps.
    method : float
        Relative uncertainty of the method. [1]
    efficacy : float or None
        Photons per energy of all lamps together. [µmol/J]
    kwh_per_mol : float or None
        Energy for each mole of photons that lands on a zone's leaf tops. [kWh/mol]
    survey : Survey or None
        What the readings were made of, for the next time.
    """

    subject: str = "light"
    zones: tuple[ZoneLight, ...] = ()
    levels: tuple[LevelLight, ...] = ()
    method: float = METHOD_OFF
    efficacy: float | None = None
    kwh_per_mol: float | None = None
    survey: Survey | None = None

    def zone(self, part_id: str) -> ZoneLight | None:
        """Return the light of one zone by its plants' id."""
        return next((zone for zone in self.zones if zone.part == part_id), None)

    def level(self, level: tuple[str, int] | None) -> LevelLight | None:
        """Return the light of one level."""
        return next((one for one in self.levels if one.level == level), None)


def inputs(study: Study) -> Any:
    """Return everything light looks at: all parts but those that neither shine nor shade."""
    design = study.design
    fixtures = tuple(item for item in design.room.fixtures if not isinstance(item, Outlet))
    parts = tuple(part for part in design.parts if not isinstance(part, _NO_PART_IN_LIGHT))
    return design.room.outline, design.room.height, fixtures, design.groups, parts


def read(study: Study) -> LightReadings:
    """Return the light readings of a design."""
    coarse = study.quality == "coarse"
    tree = PlugTree(study.design)
    before = study.before.get("light")
    known = before if isinstance(before, LightReadings) else None
    found = survey(study.placement, tree, coarse=coarse, before=known.survey if known else None)
    look = _Look(study, found, METHOD_OFF)
    rows_before = _known_rows(look, known)
    by_zone = [look.kept_rows(zone, rows_before) for zone in found.zones]
    tops, lowest, daily = zip(*by_zone, strict=True) if by_zone else ((), (), ())
    efficacy = _efficacy(found)
    return LightReadings(
        rows=(*tops, *lowest, *daily, *_efficacy_row(found, efficacy)),
        headline=_headline((*tops, *lowest)),
        nothing=_nothing(found),
        coarse=coarse,
        zones=found.zones,
        levels=found.levels,
        efficacy=efficacy,
        kwh_per_mol=_kwh_per_mol(found),
        survey=found,
    )


def _known_rows(look: _Look, known: LightReadings | None) -> dict[ZoneLight, ZoneRows]:
    """Return last time's readings of each zone; none when lamps are told of in other words."""
    if known is None or known.survey is None:
        return {}
    if list(map(_told_of, known.survey.lamps)) != list(map(_told_of, look.found.lamps)):
        return {}
    count = len(known.zones)
    rows = known.rows[: 3 * count]
    thirds = (rows[:count], rows[count : 2 * count], rows[2 * count :])
    return dict(zip(known.zones, zip(*thirds, strict=True), strict=True))


def _told_of(lamp: LampSource) -> tuple[str, str, str, bool]:
    """Return what the readings of zones may say of a lamp."""
    return lamp.part.id, lamp.part.name, lamp.flux.assumption, lamp.ppf == 0


def _nothing(found: Survey) -> Phrase:
    if not found.lamps:
        return phrase("no lamp yet")
    return phrase("no plants yet")


def _headline(rows: tuple[Reading, ...]) -> Reading | None:
    """Return the reading farthest out among those that something is wanted of."""
    asked = tuple(row for row in rows if row.state is not State.UNASKED)
    return worst(asked) or worst(tuple(row for row in rows if row.name == "ppfd"))


@dataclass(frozen=True, eq=False)
class _Look:
    """What is needed to word the readings of one zone."""

    study: Study
    found: Survey
    method: float

    def kept_rows(self, zone: ZoneLight, known: dict[ZoneLight, ZoneRows]) -> ZoneRows:
        """Return a zone's readings: the known ones where its light and its name are the same."""
        rows = known.get(zone)
        return rows if rows and rows[0].where == self.where(zone) else self.rows(zone)

    def rows(self, zone: ZoneLight) -> ZoneRows:
        """Return the light at a zone's leaf tops, at its lowest leaves, and that of a day."""
        taken = self.assumptions(zone)
        return self.tops(zone, taken), self.lowest(zone, taken), self.daily(zone, taken)

    def tops(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
        """Return the light at the leaf tops."""
        made = reading(
            "light", "ppfd", zone.part, self.where(zone), zone.mean, "photon_flux_density",
            self.line(zone, zone.mean, ""), PPFD,
            spread=zone.bubble(self.method),
            want=zone.want,
            assumptions=taken,
        )  # fmt: skip
        return _spread_judged(made, zone)

    def lowest(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
        """Return the light at the lowest leaves, which may be too weak but not too strong."""
        below = zone.lowest
        share = below.mean / zone.mean if zone.mean > 0 else 1.0
        low, high = zone.bubble(self.method)
        return reading(
            "light", "ppfd-lowest", zone.part, self.where(zone), below.mean,
            "photon_flux_density", self.line(zone, below.mean, "lowest"), PPFD,
            spread=(low * share, high * share),
            want=(zone.want[0], None),
            assumptions=taken,
        )  # fmt: skip

    def daily(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
        """Return the daily light, judged where the plants' range is one of daily light."""
        day = zone.group.daily_light if zone.group.ppfd is None else None
        want = (day.low, day.high) if day else (None, None)
        low, high = zone.bubble(self.method)
        scale = zone.dli / zone.mean if zone.mean > 0 else 0.0
        gaps: dict[str, Any] = {
            "dli": Amount(zone.dli, "daily_light"),
            "where": self.where(zone),
            "want": _want_words(want, zone.group.name),
        }
        line = phrase("{dli} at {where}; {want}" if day else "{dli} at {where}", **gaps)
        return reading(
            "light", "dli", zone.part, self.where(zone), zone.dli, "daily_light", line, DLI,
            spread=(low * scale, high * scale),
            want=want,
            assumptions=taken,
        )  # fmt: skip

    def where(self, zone: ZoneLight) -> Phrase:
        """Return the level's name, with the plants' where the level has several zones."""
        level = self.study.level_words(zone.level)
        shared = sum(1 for other in self.found.zones if other.level == zone.level) > 1
        return phrase("{level}, {name}", level=level, name=zone.name) if shared else level

    def line(self, zone: ZoneLight, value: float, which: str) -> Phrase:
        gaps: dict[str, Any] = {
            "value": light_number(value),
            "where": self.where(zone),
            "want": _want_words((zone.want[0], None) if which else zone.want, zone.group.name),
        }
        if which:
            return phrase("{value} at the lowest leaves, {where}; {want}", **gaps)
        return phrase("{value} at {where}; {want}", **gaps)

    def assumptions(self, zone: ZoneLight) -> tuple[Phrase, ...]:
        """Return what was taken for granted about a zone and the lamps that light it."""
        near = set(zone.lit_by())
        lamps = [lamp for lamp in self.found.lamps if lamp.part.id in near or lamp.ppf == 0]
        found = [_lamp_words(lamp) for lamp in lamps]
        said = [words for words in found if words is not None]
        day = zone.group.daily_light
        if zone.group.ppfd is None and day is not None:
            said.append(_daily_words(zone))
        if zone.reflected > _MOST_REFLECTED * zone.mean > 0:
            said.append(
                phrase(
                    "Reflections could add as much as {value} here",
                    value=Amount(zone.reflected, "photon_flux_density"),
                )
            )
        return tuple(said)


def _spread_judged(made: Reading, zone: ZoneLight) -> Reading:
    """Return the reading as uneven where its mean is inside but too little of its area is."""
    share = zone.in_range
    if share is None or made.state not in (State.FINE, State.BORDERLINE):
        return made
    state = judge_spread(made.state, share)
    if judge_spread(State.FINE, share) is State.FINE:
        return made
    return replace(made, state=state, words=words(state, "light", uneven=True))


def light_number(value: float) -> str:
    """Return a photon flux density without its unit, whole from 10 up: "184", "7.5"."""
    return f"{value:.0f}" if value >= 9.95 else f"{value:.1f}"


def _want_words(want: tuple[float | None, float | None], plants: str) -> Phrase:
    low, high = want
    if low is not None and high is not None:
        return phrase("want {low}–{high}", low=light_number(low), high=light_number(high))
    if low is not None:
        return phrase("want {low} or more", low=light_number(low))
    if high is not None:
        return phrase("want at most {high}", high=light_number(high))
    return phrase("{plants}: enter yours", plants=plants)


def _lamp_words(lamp: LampSource) -> Phrase | None:
    if not lamp.flux.assumption:
        return None
    return phrase("{name}: {taken}", name=lamp.part.name, taken=lamp.flux.assumption)


def _daily_words(zone: ZoneLight) -> Phrase:
    hours = zone.hours or USUAL_HOURS
    return phrase(
        "The wanted light is the daily light of {plants} over {hours} h",
        plants=zone.group.name,
        hours=f"{hours:.3g}",
    )


def _efficacy(found: Survey) -> float | None:
    watts = sum(running_watts(lamp.part) for lamp in found.lamps)
    photons = sum(lamp.ppf * lamp.part.dimming for lamp in found.lamps)
    return photons / watts if watts > 0 else None


def _efficacy_row(found: Survey, efficacy: float | None) -> tuple[Reading, ...]:
    if efficacy is None:
        return ()
    flux = found.lighting.ppf * found.lighting.dimming
    total = float(flux.sum())
    off = float(flux @ found.lighting.uncertainty) / total if total > 0 else 0.0
    line = phrase("{value} by all lamps", value=Amount(efficacy, "photon_efficacy"))
    return (
        reading(
            "light", "efficacy", "", phrase("all lamps"), efficacy, "photon_efficacy", line,
            EFFICACY, spread=(efficacy * (1 - off), efficacy * (1 + off)),
        ),
    )  # fmt: skip


def _kwh_per_mol(found: Survey) -> float | None:
    """Return the lamps' energy for each mole that lands on leaf tops. [kWh/mol]"""
    hours = found.lighting.levels.sum(axis=1) / 60
    energy = sum(
        running_watts(lamp.part) * lit / 1000 for lamp, lit in zip(found.lamps, hours, strict=True)
    )
    moles = sum(zone.dli * zone.area.area for zone in found.zones)
    return float(energy) / moles if moles > 0 else None
