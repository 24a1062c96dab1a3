"""Readings on carrying in and putting together as sentences: doors, corners, what goes first.

What goes through what is found in `way_in` and `assembly`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from core.fit.assembly import Close, First
from core.fit.carrying import tilt_height
from core.fit.lengths import EXACT, length_row, metres, name_of
from core.fit.way_in import Carried, Pass
from core.language import tr
from core.model import RoomDoor, ShelfUnit
from core.phrases import Phrase, phrase
from core.reading import Method, Reading, with_words
from core.states import State
from core.study import Study

CARRY = Method(
    tr("The two smaller sides of a thing in one piece against the easiest of the room’s doors."),
    tr("Geometry; width and height of the opening as entered."),
    EXACT,
    (tr("Stairs on the way, and the turn behind the door, are not looked at."),),
)
CORNER = Method(
    tr(
        "The longest box that goes round a right-angled corner between two corridors, on any of "
        "its sides, level or with one end raised as far as the ceiling lets it."
    ),
    tr("Least over the angle of a/sin θ + b/cos θ − t (tan θ + cot θ)."),
    EXACT,
    (tr("Hands and walls that must not be scratched take some more."),),
)
FIRST = Method(
    tr(
        "The sides of a part against the enclosure’s doors and open faces: carried through "
        "standing, or lying where it can be tilted up inside."
    ),
    tr("Geometry: √(h² + d²) to tilt up."),
    EXACT,
    (tr("Free floor inside to turn it on is not looked at."),),
)
_NO_CORNERS = phrase("no corners on the way to the room are drawn")


def carry_rows(study: Study, found: Iterable[Carried]) -> Iterator[Reading]:
    """Return what of the carrying matters: all shelf units, and whatever does not go in whole."""
    for item in found:
        unit = isinstance(study.design.part(item.load.part), ShelfUnit)
        for row in (_door_row(study, item), _corner_row(study, item)):
            if row is not None and (unit or row.state is not State.FINE):
                yield row


def carry_readings(study: Study, found: Iterable[Carried]) -> Iterator[tuple[Carried, Reading]]:
    """Iterate over every load with the reading of its tightest place; none where none is drawn."""
    for item in found:
        rows = [_door_row(study, item), _corner_row(study, item)]
        known = [row for row in rows if row is not None]
        if known and item.tightest is not None:
            yield item, known[-1] if item.tightest is item.corner else known[0]


def _door_row(study: Study, item: Carried) -> Reading | None:
    """Return the tighter of the load's two smaller sides at the door where it has most room."""
    if item.door is None:
        return None
    door = study.design.by_id[item.door.door]
    assert isinstance(door, RoomDoor)
    least, middle, _ = item.load.size
    line = phrase(
        "{unit}, {least} × {middle} on end; {door} is {width} × {height}",
        unit=item.load.name,
        least=metres(least),
        middle=metres(middle),
        door=door.name,
        width=metres(door.width),
        height=metres(door.height),
    )
    assumed = () if study.design.room.way_in else (_NO_CORNERS,)
    return _pass_row(item, item.door, "carry", line, CARRY, assumed)


def _corner_row(study: Study, item: Carried) -> Reading | None:
    if item.corner is None:
        return None
    corner = study.design.room.way_in[item.corner.number - 1]
    words = (
        "{load} takes {needed} at corner {number} on the way in; {limit} goes round"
        if item.corner.limit
        else "{load} does not go into corner {number} on the way in, {before} × {after} wide"
    )
    line = phrase(
        words,
        load=item.load.name,
        needed=metres(item.corner.needed),
        number=item.corner.number,
        limit=metres(item.corner.limit),
        before=metres(corner.before),
        after=metres(corner.after),
    )
    return _pass_row(item, item.corner, "corner", line, CORNER, ())


def _pass_row(
    item: Carried,
    place: Pass,
    name: str,
    line: Phrase,
    method: Method,
    assumed: tuple[Phrase, ...],
) -> Reading:
    where = phrase("{name}", name=item.load.name)
    want = (None, place.limit)
    return length_row(name, item.load.part, where, place.needed, line, method, want, assumed)


def first_rows(study: Study, found: Iterable[First]) -> list[Reading]:
    """Return the parts that go in before the covers; a caution, since there is a way."""
    rows = []
    for item in found:
        name = name_of(study, item.part)
        words = (
            "{name} goes in before the covers: {side} at the {face}, which opens {limit}"
            if item.face
            else "{name} goes in before the covers, which have no opening"
        )
        line = phrase(
            words, name=name, side=metres(item.side), face=_opening(item.face),
            limit=metres(item.limit),
        )  # fmt: skip
        where = phrase("{name}", name=name)
        row = length_row("first", item.part, where, item.side, line, FIRST, (None, item.limit))
        rows.append(with_words(row, State.CAUTION, tr("goes in first")))
    return rows


def _opening(face: str) -> Phrase:
    return phrase("{face} face", face=face)


def steps(
    study: Study, loads: Iterable[Carried], first: Iterable[First], close: Iterable[Close]
) -> tuple[Phrase, ...]:
    """Return in which order to put together what cannot be put together in any; else nothing."""
    found = [*_in_parts(loads), *_upright(study), *_covers_first(close)]
    found += [
        phrase("Put {name} in its place before the covers go on.", name=name_of(study, item.part))
        for item in first
    ]
    if not found:
        return ()
    last = "Then the covers, the trays and lamps, and the plants last."
    return (*found, phrase(last)) if study.design.enclosure else tuple(found)


def _in_parts(loads: Iterable[Carried]) -> Iterator[Phrase]:
    words = {
        "part": "Carry {name} in in parts and put it together in the room.",
        "bar": "Cut {name} from two pieces, or bring it in through a window.",
        "board": "Cut {name} to size before it is carried in.",
    }
    for item in loads:
        place = item.tightest
        if place is not None and place.spare < 0:
            yield phrase(words[item.load.kind], name=item.load.name)


def _upright(study: Study) -> Iterator[Phrase]:
    box = study.design.enclosure
    if box is None:
        return
    needed = tilt_height(box.height, min(box.width, box.depth))
    if needed > study.design.room.height:
        yield phrase("Put the frame of {name} together standing.", name=box.name)


def _covers_first(close: Iterable[Close]) -> Iterator[Phrase]:
    """Return the covers that nobody gets at once the enclosure stands in its place."""
    tight = sorted(close, key=lambda item: item.left)
    if len(tight) == 1:
        yield phrase(
            "Fix the {face} cover before the frame is pushed into its place: {left} is left there.",
            face=tight[0].face,
            left=metres(tight[0].left),
        )
    elif tight:
        names: Phrase = phrase("{face}", face=tight[0].face)
        for item in tight[1:-1]:
            names = phrase("{names}, {face}", names=names, face=item.face)
        yield phrase(
            "Fix the {names} and {face} covers before the frame is pushed into its place: {least} "
            "to {most} is left there.",
            names=names,
            face=tight[-1].face,
            least=metres(tight[0].left),
            most=metres(tight[-1].left),
        )
