"""Searches for an edit that mends a zone's air: many by their jets, the best few by the flow.

They take seconds, so they run beside the rules, after the flow has settled; the rules of
`core.findings.air` offer what was found.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from core.air.advice import Advice
from core.air.coverage import zones_of
from core.air.fields import AirField, Stage
from core.air.flow.solve import Cancel, is_cancelled, solve_flow
from core.air.flows import Jets
from core.air.from_design import RoomAir, room_air
from core.air.reach import STILL, ZoneAir
from core.air.reading import AirReadings
from core.air.reading import read as read_air
from core.air.rows import wanted_speed
from core.air.solids import solids_of
from core.air.stages import RESTARTED
from core.catalogue import Entry, load_catalogue
from core.errors import CancelledError, DesignError, InputError
from core.findings.air import betters, strongest, weakest
from core.findings.edits import Edits, after, remedy, set_to
from core.findings.moves import if_it_fits, may_move, way_words
from core.model import AnyPart, Design, Fan, Place, replace
from core.phrases import Amount, Phrase, phrase
from core.placement import Placement
from core.placing import Wish, placed
from core.reading import Reading, distance_out
from core.states import RANK
from core.study import Study

TURNS = (45, -45, 90, -90, 135, -135, 180)
"""Turns of a fan that are tried. [degrees]"""

SPEEDS = (0.8, 0.6, 0.4)
"""Speeds, over that set, at which a fan that blows too hard is tried."""

FANS = 3
"""How many of the nearest fans are tried for one zone."""

SOLVED = 3
"""How many of all edits, the best by their jets, are tried with the flow."""

ZONES = 3
"""How many of the zones that are worst off are helped."""

ON_FINE = (300, 200)
"""Steps of a trial on fine cells, and how many of them its mean is over: an edit takes twice as
many to be felt there."""

ENOUGH = 0.5
"""A jet beyond this lifts a zone no further. [m/s]"""


@dataclass(frozen=True)
class Trial:
    """An edit to try: what it does, in words, and the parts it changes."""

    words: Phrase
    edits: Edits


class Given(Jets):
    """The one field of a trial."""

    def __init__(self, field: AirField) -> None:
        self._field = field

    def field(self, air: RoomAir) -> AirField | None:
        """Return the field if it is of this air."""
        return self._field if self._field.air == air else None


def advise(
    study: Study,
    field: AirField,
    *,
    cancel: Cancel = None,
    known: Collection[tuple[str, bool]] = (),
) -> Iterator[Advice]:
    """Search for the zones of which `core.findings.air` tells, the worst first.

    Parameters
    ----------
    study : Study
        Of the design as it is, in the season that is shown.
    field : AirField
        Its settled flow, on first or on fine cells; edits are tried on the same.
    cancel : threading.Event or callable, optional
        Asked before each edit and each step of a flow.
    known : collection of tuples of str and bool, optional
        `Advice.place` and `Advice.still` of what has been searched for.

    Yields
    ------
    Advice
        One for each zone, as soon as its search has ended.

    Raises
    ------
    CancelledError
        When ``cancel`` says so.
    """
    look = _with(study, field)
    before = read_air(look)
    new = [row for row in _amiss(before) if (row.place, _is_still(row)) not in known]
    for row in new[:ZONES]:
        zone = before.zone(row.place)
        if zone is not None:
            yield _search(_Search(look, field, before, zone, row, cancel))


def _with(study: Study, field: AirField) -> Study:
    return Study(study.design, study.season, "final", document=study.drawn, flows=Given(field))


def _amiss(air: AirReadings) -> list[Reading]:
    """Return the readings that are told as findings, the worst first."""
    found = (*weakest(air), *strongest(air).values())
    return sorted(found, key=lambda row: (RANK[row.state], -distance_out(row)))


def _is_still(row: Reading) -> bool:
    return row.name == "speed"


@dataclass(frozen=True)
class _Search:
    """One zone to be helped, and how all zones are now."""

    study: Study
    field: AirField
    before: AirReadings
    zone: ZoneAir
    row: Reading
    cancel: Cancel

    @property
    def still(self) -> bool:
        """Whether the zone wants more air, not less."""
        return _is_still(self.row)

    @property
    def fine(self) -> bool:
        """Whether edits are tried on fine cells, as the flow is on them."""
        return self.field.stage is Stage.FINE

    def stop(self) -> None:
        """Raise CancelledError when the search is no longer wanted."""
        if is_cancelled(self.cancel):
            raise CancelledError("The search for better air was cancelled.")


def _search(search: _Search) -> Advice:
    trials = list(_trials(search))
    ranked = sorted(trials, key=lambda trial: _score(search, trial), reverse=True)[:SOLVED]
    found = [(trial, now) for trial in ranked for now in _solved(search, trial)]
    better = [(trial, now) for trial, now in found if betters(search.before, now, search.zone.part)]
    tried = _tried(search, len(trials), len(ranked))
    place, still = search.zone.part, search.still
    if not better:
        return Advice(place, still, None, tried)
    trial, now = max(better, key=lambda pair: _gain(search, pair[1]))
    return Advice(place, still, remedy(_told(search, trial, now), *_parts(trial)), tried)


def _tried(search: _Search, count: int, solved: int) -> Phrase:
    if search.fine:
        text = (
            "Edits tried by their jets: {count}; the best, with the flow on fine cells: {solved}."
        )
    else:
        text = "Edits tried by their jets: {count}; the best of them with the flow: {solved}."
    return phrase(text, count=count, solved=solved)


def _parts(trial: Trial) -> Iterator[AnyPart]:
    return (part for part in trial.edits.values() if part is not None)


def _told(search: _Search, trial: Trial, now: AirReadings) -> Phrase:
    """Return "Turn Fan 1 45° to the back: level 2 from 0.06 to 0.2 m/s"."""
    return phrase(
        "{edit}: {where} from {before} to {after}",
        edit=trial.words,
        where=search.row.where,
        before=Amount(_value(search.before, search.row), "speed", unit=False),
        after=Amount(_value(now, search.row), "speed"),
    )


def _value(air: AirReadings, row: Reading) -> float:
    """Return the value of the same reading of the same zone. [m/s]"""
    same = (one for one in air.rows if one.place == row.place and one.name == row.name)
    return next((one.value for one in same if one.value is not None), 0.0)


def _gain(search: _Search, now: AirReadings) -> float:
    change = _value(now, search.row) - _value(search.before, search.row)
    return change if search.still else -change


def _solved(search: _Search, trial: Trial) -> Iterator[AirReadings]:
    """Iterate over the one reading of a trial by its flow; over none where it has none."""
    search.stop()
    design = after(search.study, trial.edits)
    air, start = room_air(Placement(design)), search.field
    if air is None:
        return
    cell, steps = (air.fine_cell, ON_FINE) if search.fine else (air.cell, RESTARTED)
    try:
        flow = solve_flow(air.scene, cell, *steps, start=start.flow, cancel=search.cancel)
    except InputError:
        return
    field = AirField(air, flow, Stage.PREVIEW)
    season = search.study.season
    yield read_air(Study(design, season, "final", flows=Given(field)))


def _score(search: _Search, trial: Trial) -> float:
    """Return how much a trial promises by jets alone: what the zone gains, less harm to others."""
    search.stop()
    design = after(search.study, trial.edits)
    placement = Placement(design)
    zones = {zone.part: zone for zone in zones_of(placement, solids_of(placement), None)}
    target = zones[search.zone.part]
    met = (target.mean or 0.0) if target.met else 0.0
    gain = min(met, ENOUGH) if search.still else -(target.fast or 0.0)
    return gain - sum(_harm(search, zone) for zone in zones.values())


def _harm(search: _Search, zone: ZoneAir) -> float:
    _, high = wanted_speed(search.study, zone)
    return max(0.0, (zone.fast or 0.0) - high)


def _trials(search: _Search) -> Iterator[Trial]:
    for fan in _nearest_fans(search):
        yield from _turned(search, fan)
        yield from _moved(search, fan)
        if not search.still:
            yield from _slowed(search, fan)
    if search.still:
        yield from _added(search)


def _nearest_fans(search: _Search) -> list[Fan]:
    placement = search.study.placement
    target = (*search.zone.area.centre, search.zone.z)
    fans = [search.study.design.part(part) for part in search.field.air.fans]
    free = [fan for fan in fans if isinstance(fan, Fan) and not fan.locked]
    free.sort(key=lambda fan: math.dist(placement.box(fan.id).centre, target))
    return free[:FANS]


def _turned(search: _Search, fan: Fan) -> Iterator[Trial]:
    for turn in TURNS:
        heading = (fan.heading + turn + 180) % 360 - 180
        words = phrase(
            "Turn {name} {angle} {way}",
            name=fan.name,
            angle=Amount(abs(turn), "angle"),
            way=_way(fan.heading, heading),
        )
        yield Trial(words, {fan.id: set_to(search.study, fan.id, heading=float(heading))})


def _way(before: float, now: float) -> Phrase:
    """Return towards which side a heading has turned, in words."""
    x = math.cos(math.radians(now)) - math.cos(math.radians(before))
    y = math.sin(math.radians(now)) - math.sin(math.radians(before))
    if abs(x) > abs(y):
        return phrase("to the right") if x > 0 else phrase("to the left")
    return phrase("to the back") if y > 0 else phrase("to the front")


def _moved(search: _Search, fan: Fan) -> Iterator[Trial]:
    """Iterate over a fan moved to the height of the zone's leaf tops."""
    rise = round(search.zone.z - search.study.placement.box(fan.id).centre[2], 2)
    if abs(rise) < STILL or not may_move(search.study, fan.id):
        return
    shift = (0.0, 0.0, rise)
    edits = if_it_fits(search.study, fan.id, shift)
    if edits is not None:
        yield Trial(phrase("Move {name} {way}", name=fan.name, way=way_words(shift)), edits)


def _slowed(search: _Search, fan: Fan) -> Iterator[Trial]:
    for share in SPEEDS:
        speed = round(fan.speed_setting * share, 2)
        words = phrase("Run {name} at {speed}", name=fan.name, speed=Amount(speed, "fraction"))
        yield Trial(words, {fan.id: set_to(search.study, fan.id, speed_setting=speed)})


def _added(search: _Search) -> Iterator[Trial]:
    """Iterate over the smallest fan of the catalogue, put at the zone's level and aimed at it."""
    drawn, catalogue = search.study.drawn, load_catalogue()
    entry = min(_clipped(catalogue.of_kind("fan"), drawn.units), key=_flow, default=None)
    if entry is None:
        return
    try:
        new = catalogue.make(entry.key, drawn, Place())
        there = placed(drawn, new, Wish(level=search.zone.level))
        with_it = drawn.with_parts({there.id: there})
    except DesignError:
        return
    aimed = _aimed(search, there, with_it)
    yield Trial(phrase("Add a fan: {title}", title=entry.title(drawn.units)), {there.id: aimed})


def _clipped(entries: Iterable[Entry], units: str) -> Iterator[Entry]:
    return (entry for entry in entries if units in entry.systems and entry.fixing == "clipped")


def _flow(entry: Entry) -> float:
    return float(entry.fields["flow"])


def _aimed(search: _Search, fan: AnyPart, design: Design) -> AnyPart:
    x, y, z = Placement(design).box(fan.id).centre
    across, deep = search.zone.area.centre
    heading = math.degrees(math.atan2(deep - y, across - x))
    rise = math.degrees(math.atan2(search.zone.z - z, math.hypot(across - x, deep - y)))
    return replace(fan, heading=float(round(heading)), elevation=float(round(rise)))
