"""Readings on getting at things as sentences: outlets, windows, ways, aisles, both hands, heat.

The distances come from `things`, `walk`, `inside` and `clearances`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from core.fit.clearances import Drop, Heat
from core.fit.fronts import Clear
from core.fit.inside import Hands, Head, Sill
from core.fit.lengths import EXACT, length_row, metres, name_of, wide_enough
from core.fit.reach import STEP
from core.fit.standards import (
    CLEAR_OF_HEATER,
    CLEAR_OF_HOT_LAMP,
    HEAD_ROOM,
    SEATED_DOOR,
    SEATED_HIGH,
    SEATED_LOW,
    SEATED_PINCH,
    SEATED_PINCH_LENGTH,
    SEATED_SILL,
    SHOULDERS,
)
from core.fit.swings import TOLERANCE
from core.fit.things import Access, Kept
from core.fit.walk import WIDEST
from core.language import tr
from core.model import Lamp, Outlet, RoomDoor
from core.phrases import Phrase, phrase
from core.placement import Level
from core.reading import Method, Reading, with_words
from core.states import State
from core.study import Study

_ADA = tr("2010 ADA Standards for Accessible Design, {sections}; local code decides.")

ACCESS = Method(
    tr(
        "Level distance from the nearest floor that one can walk to through the room’s doors; "
        "covered where what stands before it leaves less than 10 cm for a hand."
    ),
    tr("Geometry; 0.5 to 0.6 m from one side by common practice, no source."),
    EXACT,
    (tr("Window sashes that open inwards need room of their own."),),
)
KEPT_CLEAR = Method(
    tr("Clear floor straight ahead of the side that is worked at, where it is deepest."),
    tr("Electrical panel: NEC 110.26, 36 × 30 in (from memory); local code decides."),
    EXACT,
)
ROUTE = Method(
    tr(
        "The widest square that can be pushed over free floor from a door of the room to the "
        "enclosure, between all that stands below head height."
    ),
    tr("Geometry; the width asked for is the grower’s own."),
    EXACT,
    (tr("Doors count as open, their leaves as gone."),),
)
SEATED = Method(
    tr("Widths and heights as drawn, for use from a wheelchair."),
    _ADA.format(sections=tr("sections 308, 403.5.1, 404.2.3 and 404.2.5")),
    EXACT,
    (tr("A leaf and its hinges take some 5 cm of a door’s width, which is not counted."),),
)
AISLE = Method(
    tr("Clear floor straight ahead of the unit’s longest side that one stands before inside."),
    tr("Geometry; the width asked for is the grower’s own."),
    EXACT,
)
HEAD = Method(
    tr("From the enclosure’s floor to the lowest thing over the floor one stands on."),
    tr("1.9 m by common practice, no source."),
    EXACT,
)
SILL = Method(
    tr("The door’s lower edge or the liner’s lip, whichever is higher."),
    tr("0.3 m by common practice, no source."),
    EXACT,
)
HANDS = Method(
    tr(
        "Level distance to the middles of two opposite sides of the tray, the farther of the two, "
        "from where one stands best; the pair that is nearer."
    ),
    tr("Geometry; the reach asked for is the grower’s own."),
    EXACT,
    (tr("Shoulders have no width here, and what stands in between is not looked at."),),
)
HEIGHT = Method(
    tr("The shelf’s height above the floor one stands on."),
    tr("1.8 m by common practice, no source."),
    EXACT,
)
DROP = Method(
    tr("From the highest leaf up to the lamp above it, the least of each unit."),
    tr("Geometry; hot lamps: judgement, their maker decides."),
    EXACT,
)
HEATER = Method(
    tr("The shortest distance from the heater to a cover of the enclosure."),
    tr("Fire code 605.10, 3 ft (secondary copy); local code decides."),
    EXACT,
)


def access_rows(study: Study, found: Iterable[Access]) -> list[Reading]:
    """Return how far every outlet and window is from where one can stand."""
    return [_access(study, item) for item in found]


def _access(study: Study, item: Access) -> Reading:
    want = study.design.targets.reach
    thing = study.design.by_id[item.thing]
    name = "outlet" if isinstance(thing, Outlet) else "window"
    line = phrase(
        "{distance} from where one can stand to {thing}; want at most {want}",
        distance=metres(item.distance or 0.0), thing=thing.name, want=metres(want),
    )  # fmt: skip
    if item.distance is not None and item.distance < TOLERANCE:
        line = phrase("Free floor right before {thing}", thing=thing.name)
    if item.distance is None:
        line = phrase("There is no floor to stand on to reach {thing}", thing=thing.name)
    if item.against:
        line = phrase(
            "{other} leaves no room for a hand before {thing}",
            other=name_of(study, item.against), thing=thing.name,
        )  # fmt: skip
    where = phrase("{name}", name=thing.name)
    row = length_row(name, item.thing, where, item.distance, line, ACCESS, (None, want))
    return with_words(row, State.HIGH, tr("covered")) if item.against else row


def kept_rows(study: Study, found: Iterable[Kept]) -> list[Reading]:
    """Return how much floor is clear before each thing that is worked at."""
    return [_kept(study, item) for item in found]


def _kept(study: Study, item: Kept) -> Reading:
    thing = study.design.by_id[item.thing]
    want = getattr(thing, "clear_depth", 0.0)
    line = phrase(
        "{depth} of clear floor before {thing}; want {want}",
        depth=metres(item.depth), thing=thing.name, want=metres(want),
    )  # fmt: skip
    where = phrase("floor before {name}", name=thing.name)
    return length_row("kept-clear", item.thing, where, item.depth, line, KEPT_CLEAR, (want, None))


def route_row(study: Study, width: float, narrow: float | None) -> Reading:
    """Return the widest way to the enclosure; ``narrow`` is how long it is less than 36 in. [m]"""
    asked, enclosure = study.design.targets, study.design.enclosure
    place, name = (enclosure.id, enclosure.name) if enclosure else ("", "")
    want = wide_enough(study, asked.walkway)
    if asked.seated and narrow is not None and narrow <= SEATED_PINCH_LENGTH:
        want = max(asked.walkway, SEATED_PINCH)
    want = min(want, WIDEST)
    words = (
        "No way to {name} that is wide enough to walk; want {want}"
        if width == 0
        else "A way {width} wide or more to {name}; want {want}"
        if width >= WIDEST
        else "A way {width} wide to {name}; want {want}"
    )
    line = phrase(words, width=metres(width), name=name, want=metres(want))
    where = phrase("way to {name}", name=name)
    method = SEATED if asked.seated else ROUTE
    return length_row("route", place, where, width, line, method, (want, None))


def aisle_rows(study: Study, found: Iterable[Clear]) -> list[Reading]:
    """Return how wide the aisle before each unit inside is."""
    want = wide_enough(study, study.design.targets.aisle)
    return [_aisle(study, clear, want) for clear in found]


def _aisle(study: Study, clear: Clear, want: float) -> Reading:
    name = name_of(study, clear.front.place)
    line = phrase(
        "{depth} of aisle before {name}; want {want}",
        depth=metres(clear.depth), name=name, want=metres(want),
    )  # fmt: skip
    where = phrase("aisle before {name}", name=name)
    return length_row("aisle", clear.front.place, where, clear.depth, line, AISLE, (want, None))


def head_rows(study: Study, head: Head | None) -> Iterator[Reading]:
    """Return the head-room inside; less is borderline, since one can stoop."""
    enclosure = study.design.enclosure
    if head is None or enclosure is None:
        return
    below = name_of(study, head.thing) if head.thing else phrase("the top")
    line = phrase(
        "{height} of head-room below {thing}; {want} to stand upright",
        height=metres(head.height), thing=below, want=metres(HEAD_ROOM),
    )  # fmt: skip
    where = phrase("head-room inside")
    place = head.thing or enclosure.id
    row = length_row("head-room", place, where, head.height, line, HEAD, (HEAD_ROOM, None))
    yield row if row.state is State.FINE else with_words(row, State.BORDERLINE, tr("stooping"))


def sill_rows(study: Study, sill: Sill | None) -> Iterator[Reading]:
    """Return what one steps over on the way in."""
    enclosure, seated = study.design.enclosure, study.design.targets.seated
    if sill is None or enclosure is None:
        return
    want = SEATED_SILL if seated else STEP
    line = phrase(
        "{height} to step over at the {face} face; want at most {want}",
        height=metres(sill.height), face=sill.face, want=metres(want),
    )  # fmt: skip
    where = phrase("sill of the {face} face", face=sill.face)
    method = SEATED if seated else SILL
    yield length_row("sill", enclosure.id, where, sill.height, line, method, (None, want))


def hands_rows(study: Study, found: Iterable[Hands]) -> list[Reading]:
    """Return how far both hands reach for the tray that is hardest to take, for each unit."""
    want = study.design.targets.reach
    return [
        length_row(
            "hands",
            item.tray,
            phrase("{name}", name=name_of(study, item.tray)),
            item.distance,
            phrase(
                "{distance} for both hands to take {name}; want at most {want}",
                distance=metres(item.distance),
                name=name_of(study, item.tray),
                want=metres(want),
            ),
            HANDS,
            (None, want),
        )
        for item in found
    ]


def height_rows(study: Study, found: Iterable[tuple[Level, float]]) -> Iterator[Reading]:
    """Return each unit's lowest and highest shelf, where they ask for a step or for an arm."""
    seated = study.design.targets.seated
    want = (SEATED_LOW, SEATED_HIGH) if seated else (None, SHOULDERS)
    for level, height in found:
        where = study.level_words((level.host, level.number))
        line = phrase(
            "{where} is {height} up; want {low} to {high}" if seated
            else "{where} is {height} up; above {high} a step is needed",
            where=where, height=metres(height), low=metres(SEATED_LOW), high=metres(want[1] or 0.0),
        )  # fmt: skip
        method = SEATED if seated else HEIGHT
        row = length_row("height", level.host, where, height, line, method, want)
        if seated or row.state is not State.FINE:
            yield row


def door_width_rows(study: Study) -> Iterator[Reading]:
    """Return the room's doors against the width that a wheelchair needs, where that is asked."""
    if not study.design.targets.seated:
        return
    for door in study.design.room.fixtures:
        if isinstance(door, RoomDoor):
            line = phrase(
                "{door} is {width} wide; want {want}",
                door=door.name, width=metres(door.width), want=metres(SEATED_DOOR),
            )  # fmt: skip
            where = phrase("{name}", name=door.name)
            yield length_row(
                "door-width", door.id, where, door.width, line, SEATED, (SEATED_DOOR, None)
            )


def drop_rows(study: Study, found: Iterable[Drop]) -> list[Reading]:
    """Return the least gap between leaves and lamp; only hot lamps ask for one."""
    return [_drop(study, item) for item in found]


def _drop(study: Study, item: Drop) -> Reading:
    lamp = study.design.part(item.lamp)
    hot = isinstance(lamp, Lamp) and lamp.surface_hot
    words: Phrase = phrase(
        "{gap} from the leaves of {plants} to {lamp}, which gets hot; want {want}"
        if hot
        else "{gap} from the leaves of {plants} to {lamp}",
        gap=metres(item.gap), plants=name_of(study, item.plants), lamp=lamp.name,
        want=metres(CLEAR_OF_HOT_LAMP),
    )  # fmt: skip
    where = phrase("{lamp} over {plants}", lamp=lamp.name, plants=name_of(study, item.plants))
    want = (CLEAR_OF_HOT_LAMP if hot else None, None)
    return length_row("drop", item.plants, where, item.gap, words, DROP, want)


def heat_rows(study: Study, found: Iterable[Heat]) -> list[Reading]:
    """Return how far heaters are from covers; too near is a caution, local code decides."""
    rows = []
    for item in found:
        name = name_of(study, item.heater)
        line = phrase(
            "{gap} from {heater} to the {face} cover; a fire code asks for {want}",
            gap=metres(item.gap), heater=name, face=item.face, want=metres(CLEAR_OF_HEATER),
        )  # fmt: skip
        where = phrase("{name}", name=name)
        row = length_row(
            "heater", item.heater, where, item.gap, line, HEATER, (CLEAR_OF_HEATER, None)
        )
        near = row.state is not State.FINE
        rows.append(with_words(row, State.CAUTION, tr("caution")) if near else row)
    return rows
