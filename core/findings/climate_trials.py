"""Edits that may better the air, tried out by the engine of climate before they are offered.

Which finding asks for which of them is said in `climate`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from core.climate.from_devices import in_force
from core.climate.heat import duct_fans, u_value
from core.climate.reading import ClimateReadings
from core.climate.reading import read as read_climate
from core.climate.results import Half
from core.climate.sketch import sketch
from core.finding import Remedy
from core.findings.dimming import lamps_words
from core.findings.edits import remedy, set_to
from core.language import tr
from core.model import (
    AnyPart,
    Cooler,
    Cover,
    DuctFan,
    Enclosure,
    Face,
    Fogger,
    Heater,
    Hours,
    Humidistat,
    Lamp,
    Opening,
    Period,
    Place,
    SetPoint,
    Sheet,
    Thermostat,
    Timer,
    replace,
)
from core.phrases import Amount, Phrase, phrase
from core.power.tree import PlugTree
from core.reading import Reading, shifted
from core.states import RANK
from core.study import Study

HAND = 0.10
"""A hand's breadth. [m]"""

FOAM = 0.025
"""Thickness of the foam board that is tried behind a face. [m]"""

FOAM_U = 1.09
"""Of a face with 25 mm of EPS foam, both films included: 0.24 and 0.676 m² K/W. [W/(m² K)]"""

MOST_TRIED = 2
"""So many of the edits that the steady estimate likes best are simulated."""

_HALF_DAY = 720
_COLDER = 1.0


Made = TypeVar("Made")


@dataclass(frozen=True)
class Trial:
    """One edit: its words and the parts that it changes or adds."""

    words: Phrase
    parts: tuple[AnyPart, ...]

    @property
    def remedy(self) -> Remedy:
        """The edit as it is offered."""
        return remedy(self.words, *self.parts)


def best(study: Study, row: Reading, trials: Iterable[Trial]) -> Remedy | None:
    """Return the edit that betters a reading without making another worse; None for none.

    The steady estimate sorts them by the state they lead to, those alike stay in the order given;
    then the best are simulated.
    """
    sketched = [(_guess(study, row, trial), trial) for trial in trials]
    hopeful = [pair for pair in sketched if pair[0] > RANK[row.state]]
    for _, trial in sorted(hopeful, key=lambda pair: -pair[0])[:MOST_TRIED]:
        if betters(study, row, tried(study, trial)):
            return trial.remedy
    return None


def _guess(study: Study, row: Reading, trial: Trial) -> int:
    """Return the rank of a reading's state after an edit; -1 where it cannot be told."""
    climate = study.done["climate"]
    assert isinstance(climate, ClimateReadings)
    before = _kept(climate, "", lambda: sketch(study)).value(row.name)
    name = trial.words.render()
    now = _kept(climate, name, lambda: sketch(_look(study, trial.parts))).value(row.name)
    if before is None or now is None or row.value is None:
        return -1
    return RANK[shifted(row, now - before).state]


def tried(study: Study, trial: Trial) -> ClimateReadings:
    """Return the climate readings after an edit, with light and air as they were."""
    climate = study.done["climate"]
    assert isinstance(climate, ClimateReadings)
    name = trial.words.render()
    return _kept(climate, f"{name}!", lambda: read_climate(_look(study, trial.parts)))


def _kept(climate: ClimateReadings, name: str, make: Callable[[], Made]) -> Made:
    """Return what was found for an edit: as long as the readings stay, so does what it leads to."""
    if name not in climate.tried:
        climate.tried[name] = make()
    found: Made = climate.tried[name]
    return found


def _look(study: Study, parts: Iterable[AnyPart]) -> Study:
    edits: Mapping[str, AnyPart | None] = {part.id: part for part in parts}
    drawn = study.drawn.with_parts(edits)
    return Study(
        drawn.at(study.season.id, "day"),
        study.season,
        study.quality,
        done=study.done,
        document=drawn,
        flows=study.flows,
    )


def betters(study: Study, row: Reading, now: ClimateReadings) -> bool:
    """Tell whether a reading's state is better, and no other's worse."""
    found = study.done["climate"]
    assert isinstance(found, ClimateReadings)
    same = _like(row, now.rows)
    if same is None or RANK[same.state] <= RANK[row.state]:
        return False
    others = [(old, _like(old, now.rows)) for old in found.rows if _asked(old)]
    return all(new is None or RANK[new.state] >= RANK[old.state] for old, new in others)


def _asked(row: Reading) -> bool:
    return (row.want_low, row.want_high) != (None, None)


def _like(row: Reading, rows: Iterable[Reading]) -> Reading | None:
    return next((one for one in rows if (one.name, one.where) == (row.name, row.where)), None)


# --- The edits


def drivers_outside(study: Study) -> Iterator[Trial]:
    """Yield the lamps' drivers put outside."""
    inside = study.placement.inside
    lamps = [lamp for lamp in study.design.of(Lamp) if lamp.driver_inside and inside(lamp.id)]
    if lamps:
        words = phrase("Put the drivers of {lamps} outside", lamps=lamps_words(lamps))
        yield Trial(words, tuple(set_to(study, lamp.id, driver_inside=False) for lamp in lamps))


def open_a_hand(study: Study) -> Iterator[Trial]:
    """Yield the enclosure's openings a hand's breadth wider, or a new one in its front."""
    wider = [one for one in study.design.of(Opening) if "enclosure" in one.joins]
    for one in wider:
        words = phrase("Open {name} a hand’s breadth wider", name=one.name)
        yield Trial(words, (set_to(study, one.id, width=one.width + HAND),))
    if not wider and study.design.enclosure is not None:
        gap = _gap(study, study.design.enclosure)
        if gap is not None:
            yield Trial(phrase("Leave the front open a hand’s breadth"), (gap,))


def _gap(study: Study, enclosure: Enclosure) -> Opening | None:
    if enclosure.cover("front") is None:
        return None
    door = next((one for one in enclosure.doors if one.face == "front"), None)
    x, z = (door.x, door.z) if door else (0.02, 0.1)
    height = door.height if door else enclosure.height - 0.2
    if height <= 0 or x + HAND > enclosure.width:
        return None
    place = Place(host=enclosure.id, fixing="face", face="front", x=x, z=z)
    new_id = study.drawn.new_id("opening")
    return Opening(id=new_id, name=tr("Gap"), width=HAND, height=height, place=place)


def exhaust_all_day(study: Study) -> Iterator[Trial]:
    """Yield each duct fan that its own hours hold back let run day and night."""
    for fan in duct_fans(study.design):
        if fan.hours.periods:
            words = phrase("Let {name} run at night as well", name=fan.name)
            yield Trial(words, (set_to(study, fan.id, hours=Hours()),))


def set_points(
    study: Study, kinds: tuple[type, ...], what: type, value: float, half: Half | None
) -> Iterator[Trial]:
    """Yield the controllers of devices of some kinds set to another value, in this season."""
    seen = set()
    for part in study.design.parts:
        control = getattr(part, "control", None)
        stat: Any = study.design.by_id.get(control) if control else None
        fits = isinstance(part, kinds) and isinstance(stat, what)
        if not fits or stat.id in seen:
            continue
        seen.add(stat.id)
        yield from _set_to(study, stat, part.name, value, half)


def _set_to(study: Study, stat: Any, name: str, value: float, half: Half | None) -> Iterator[Trial]:
    season = study.season.id
    halves: tuple[Half, ...] = (half,) if half else ("day", "night")
    before = [in_force(stat.set_points, season, one) for one in halves]
    if any(point is None for point in before) or all(p and p.value == value for p in before):
        return
    kept = [p for p in stat.set_points if (p.season, p.half) not in [(season, h) for h in halves]]
    new = [
        SetPoint(value=value, differential=point.differential, season=season, half=one)
        for one, point in zip(halves, before, strict=True)
        if point is not None
    ]
    kind = "temperature" if isinstance(stat, Thermostat) else "fraction"
    text = {
        None: "Set {stat}, which switches {name}, to {value}",
        "day": "Set {stat}, which switches {name}, to {value} by day",
        "night": "Set {stat}, which switches {name}, to {value} by night",
    }[half]
    words = phrase(text, stat=stat.name, name=name, value=Amount(round(value, 2), kind))
    yield Trial(words, (set_to(study, stat.id, set_points=(*kept, *new)),))


def heat_held(study: Study, row: Reading, half: Half) -> Iterator[Trial]:
    """Yield controllers of heaters, coolers and exhausts set to hold what is wanted."""
    if row.want_high is not None and row.value is not None and row.value > row.want_high:
        kinds: tuple[type, ...] = (Cooler, DuctFan)
        yield from set_points(study, kinds, Thermostat, row.want_high - _COLDER, half)
        yield from set_points(study, (Heater,), Thermostat, row.want_high - 2 * _COLDER, half)
    elif row.want_low is not None:
        yield from set_points(study, (Heater,), Thermostat, row.want_low + _COLDER, half)
        yield from set_points(study, (Cooler, DuctFan), Thermostat, row.want_low + 2, half)


def fog_held(study: Study, row: Reading) -> Iterator[Trial]:
    """Yield controllers of foggers and exhausts set to hold the humidity that is wanted."""
    low, high = row.want_low, row.want_high
    middle = (low + high) / 2 if low is not None and high is not None else None
    if high is not None and row.value is not None and row.value > high:
        aim = middle if middle is not None else high - 0.05
        yield from set_points(study, (Fogger, DuctFan), Humidistat, aim, None)
    elif low is not None:
        aim = middle if middle is not None else min(low + 0.05, 0.95)
        yield from set_points(study, (Fogger, DuctFan), Humidistat, aim, None)


def lamps_at_night(study: Study) -> Iterator[Trial]:
    """Yield all lamps inside shifted by twelve hours, with the timers that switch nothing else."""
    tree, inside = PlugTree(study.design), study.placement.inside
    lamps = [lamp for lamp in study.design.of(Lamp) if inside(lamp.id)]
    own: dict[str, Any] = {lamp.id: lamp for lamp in lamps if lamp.hours.periods}
    for timer in study.design.of(Timer):
        fed = tree.devices(timer.id)
        if fed and all(part in lamps for part in fed) and timer.hours.periods:
            own[timer.id] = timer
    timed = [lamp for lamp in lamps if lamp.id in own or set(tree.path(lamp.id)) & set(own)]
    if lamps and len(timed) == len(lamps):
        parts = tuple(set_to(study, key, hours=_shifted(part.hours)) for key, part in own.items())
        yield Trial(phrase("Light at night: shift the lamps by 12 h"), parts)


def _shifted(hours: Hours) -> Hours:
    periods = tuple(
        Period(on=(one.on + _HALF_DAY) % 1440, off=(one.off + _HALF_DAY) % 1440)
        for one in hours.periods
    )
    return replace(hours, periods=periods)


def foam_behind(study: Study, face: Face) -> Iterator[Trial]:
    """Yield foam board behind a face that is not the front, where the face is thin."""
    enclosure = study.design.enclosure
    cover = enclosure.cover(face) if enclosure else None
    if enclosure is None or cover is None or face == "front":
        return
    if u_value(enclosure, face) <= FOAM_U:
        return
    drawn = study.drawn.part(enclosure.id)
    assert isinstance(drawn, Enclosure)
    foamed = Cover(face=face, sheet=_foamed(cover.sheet), cutouts=cover.cutouts)
    covers = tuple(foamed if one.face == face else one for one in drawn.covers)
    words = phrase(
        "Put {thick} of foam behind the {face}",
        thick=Amount(FOAM, "length"),
        face=_FACES[face],
    )
    yield Trial(words, (set_to(study, enclosure.id, covers=covers),))


_FACES: dict[Face, Phrase] = {
    "left": phrase("left face"),
    "right": phrase("right face"),
    "back": phrase("back"),
    "top": phrase("top"),
    "bottom": phrase("floor"),
}


def _foamed(sheet: Sheet) -> Sheet:
    """Return a cover with foam behind it: no light passes any more."""
    return replace(
        sheet,
        u_value=FOAM_U,
        transmittance=0.0,
        thickness=sheet.thickness + FOAM,
        catalogue=None,
    )


def wider_differential(study: Study, part_id: str, factor: float) -> Iterator[Trial]:
    """Yield a device's controller with all its differentials widened."""
    part = study.design.part(part_id)
    stat: Any = study.design.by_id.get(getattr(part, "control", None) or "")
    if not isinstance(stat, Humidistat | Thermostat):
        return
    points = tuple(
        replace(point, differential=point.differential * factor) for point in stat.set_points
    )
    kind = "fraction" if isinstance(stat, Humidistat) else "temperature_difference"
    widest = max((point.differential for point in points), default=0.0)
    words = phrase(
        "Widen the differential of {stat} to {widest}", stat=stat.name, widest=Amount(widest, kind)
    )
    yield Trial(words, (set_to(study, stat.id, set_points=points),))
