"""The readings of fit as sentences with their limits: what is in the way, and what is clear.

The distances come from the modules beside this one; outlets, aisles and routes are told in
`rows_access`, carrying in and what goes first in `rows_carry`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from core.fit.carrying import tilt_height
from core.fit.fronts import STANDING, Clear
from core.fit.lengths import EXACT, length_row, metres, name_of, wide_enough
from core.fit.overlaps import Outside, Overlap
from core.fit.reach import HAND, Reach
from core.fit.swings import SQUARE, Swing
from core.language import tr
from core.model import Enclosure, ShelfUnit
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, reading, with_words
from core.states import State
from core.study import Study

OVERLAP = Method(
    tr(
        "Upright boxes of all parts, a shelf unit as its shelves and posts, a platform as its "
        "top; how far one must move to be free. Leaves count as a box up to the highest leaf."
    ),
    tr("Geometry."),
    EXACT,
    (
        tr("Tilted lamps and fans count as upright boxes."),
        tr("Covers, floor liner and leads have no thickness here."),
    ),
)
OUTSIDE = Method(
    tr("Boxes of the parts against the enclosure they belong in, or the room's outline."),
    tr("Geometry."),
    EXACT,
)
SWING = Method(
    tr(
        "The quarter circle that a leaf sweeps against the walls, fixed things and parts at its "
        "height; how far it opens before it meets the first."
    ),
    tr("Geometry; 90 degrees asked for by common practice, no source."),
    EXACT,
    (tr("Leaves have no thickness, and handles are not counted."),),
)
WALKWAY = Method(
    tr(
        "Clear floor straight ahead of the whole door, up to the nearest wall, fixed thing or "
        "part below head height, less a leaf that stands open."
    ),
    tr("Geometry; the width asked for is the grower's own."),
    EXACT,
)
REACH = Method(
    tr(
        "Level distance from the nearest place to stand, before a door or open face or on free "
        "floor inside, to the farthest spot, found on a grid of 1 cm."
    ),
    tr("Geometry; 0.5 to 0.6 m from one side by common practice, no source."),
    EXACT,
    (
        tr("What stands in between is not looked at."),
        tr("High levels need a step, which is not counted."),
    ),
)
CEILING = Method(
    tr("Height of the room less the top of what stands in it."), tr("Geometry."), EXACT
)
TILT = Method(
    tr("Diagonal of height and shorter side, for a frame built lying and tilted up."),
    tr("Geometry: √(h² + d²)."),
    EXACT,
    (tr("Free floor to lay it down on is not looked at."),),
)


def overlap_rows(study: Study, found: Iterable[Overlap]) -> list[Reading]:
    """Return a reading for each overlap."""
    return [_overlap(study, item) for item in found]


def _overlap(study: Study, item: Overlap) -> Reading:
    line = phrase(
        _overlap_words(study, item),
        a=name_of(study, item.a),
        b=name_of(study, item.b),
        depth=metres(item.depth),
    )
    where = phrase("{a} and {b}", a=name_of(study, item.a), b=name_of(study, item.b))
    return length_row("overlap", item.a, where, item.depth, line, OVERLAP, (None, 0.0))


def _overlap_words(study: Study, item: Overlap) -> str:
    if item.kind == "bay":
        return "{a} stands {depth} inside {b}"
    if item.kind == "enclosure":
        return "{a} reaches {depth} through a face of {b}"
    if item.kind == "leaves":
        shelf = isinstance(study.design.by_id[item.b], ShelfUnit)
        above = "a shelf of {b}" if shelf else "{b}"
        return "The leaves of {a} reach {depth} into " + above
    return "{a} and {b} overlap by {depth}"


def outside_rows(study: Study, found: Iterable[Outside]) -> list[Reading]:
    """Return a reading for each part that sticks out of where it belongs."""
    words = {
        "enclosure": "{part} sticks out of the enclosure by {by}",
        "room": "{part} sticks out of the room by {by}",
        "ceiling": "{part} is {by} higher than the ceiling",
    }
    return [
        length_row(
            "outside",
            item.part,
            phrase("{name}", name=name_of(study, item.part)),
            item.by,
            phrase(words[item.of], part=name_of(study, item.part), by=metres(item.by)),
            OUTSIDE,
            (None, 0.0),
        )
        for item in found
    ]


def swing_rows(study: Study, found: Iterable[Swing]) -> list[Reading]:
    """Return how far each door leaf opens."""
    return [_swing(study, swing) for swing in found]


def _swing(study: Study, swing: Swing) -> Reading:
    angle = Amount(swing.angle, "angle")
    free = phrase("{door} opens square", door=swing.name)
    stopped = phrase(
        "{door} opens to {angle}: {thing} is in its way; want {want}",
        door=swing.name,
        angle=angle,
        thing=name_of(study, swing.against) if swing.against else phrase("the wall"),
        want=Amount(SQUARE, "angle"),
    )
    return reading(
        "fit",
        "door-swing",
        swing.place,
        phrase("{door} opens", door=swing.name),
        swing.angle,
        "angle",
        free if swing.angle >= SQUARE else stopped,
        SWING,
        spread=(swing.least, swing.most),
        want=(SQUARE, None),
    )


def meeting_rows(found: Iterable[tuple[Swing, Swing, float]]) -> list[Reading]:
    """Return the doors that are in each other's way; borderline, since one can be shut."""
    return [
        with_words(_meeting(a, b, depth), State.BORDERLINE, tr("in each other's way"))
        for a, b, depth in found
    ]


def _meeting(a: Swing, b: Swing, depth: float) -> Reading:
    line = phrase(
        "{a} and {b} meet by {depth} when both stand open", a=a.name, b=b.name, depth=metres(depth)
    )
    where = phrase("{a} and {b}", a=a.name, b=b.name)
    return length_row("doors-meet", a.place, where, depth, line, SWING, (None, 0.0))


def walkway_row(study: Study, clear: Clear) -> Reading:
    """Return the clear walk before a door, or before what stands in the room."""
    want = wide_enough(study, study.design.targets.walkway)
    front = clear.front
    enclosure = isinstance(study.design.by_id[front.place], Enclosure)
    if front.door is not None:
        before = phrase("the {face} door", face=front.face)
    elif enclosure:
        before = phrase("the {face} face", face=front.face)
    else:
        before = phrase("{name}", name=name_of(study, front.place))
    line = phrase(
        "{depth} before {thing}{leaf}; want {want}",
        depth=metres(clear.left),
        thing=before,
        leaf=phrase(", its leaf open") if front.leaf else "",
        want=metres(want),
    )
    where = phrase("walk before {thing}", thing=before)
    return length_row("walkway", front.place, where, clear.left, line, WALKWAY, (want, None))


def reach_rows(study: Study, found: Sequence[Reach]) -> list[Reading]:
    """Return the farthest reach on each level."""
    worst: dict[tuple[str, int] | None, Reach] = {}
    for item in found:
        known = worst.get(item.level)
        if known is None or _farther(item, known):
            worst[item.level] = item
    order = {(level.host, level.number): n for n, level in enumerate(study.placement.levels)}
    in_order = sorted(worst.values(), key=lambda item: order.get(item.level or ("", 0), -1))
    return [_reach(study, item) for item in in_order]


def _farther(item: Reach, known: Reach) -> bool:
    if item.distance is None or known.distance is None:
        return item.distance is None
    return item.distance > known.distance


def _reach(study: Study, item: Reach) -> Reading:
    want = study.design.targets.reach
    where = study.level_words(item.level)
    place = item.zone or (item.level[0] if item.level else "")
    if item.distance is None:
        line = _why_not(item, where)
        return reading("fit", "reach", place, where, None, "length", line, REACH,
                       want=(None, want))  # fmt: skip
    line = phrase(
        "{reach} to the farthest spot of {where}; want at most {want}",
        # It is found on a grid of 1 cm.
        reach=Amount(item.distance, "length", digits=2),
        where=where,
        want=metres(want),
    )
    return length_row("reach", place, where, item.distance, line, REACH, (None, want))


def _why_not(item: Reach, where: Phrase) -> Phrase:
    """Return why a level cannot be reached: no floor to stand on, or no opening at its height."""
    if item.opening is None:
        return phrase(
            "{depth} of clear floor to stand on is wanted before {where}; there is less",
            depth=metres(STANDING),
            where=where,
        )
    low, high = item.opening
    height, end = item.spot[2], high if item.spot[2] > low else low
    words = (
        "{height} up, {where} is above the opening, which ends at {end}"
        if height > high - HAND
        else "{height} up, {where} is below the opening, which begins at {end}"
        if height < low
        else "{height} up, {where} has less than {hand} open before it"
    )
    return phrase(words, height=metres(height), where=where, end=metres(end), hand=metres(HAND))


def ceiling_rows(study: Study) -> list[Reading]:
    """Return the gap to the ceiling, and the height needed to tilt a frame up, of all that is tall.

    The enclosure comes first; units inside it are bounded by it.
    """
    rows = []
    for part in _tall(study):
        rows += [_ceiling(study, part), _tilt(study, part)]
    return rows


def _tall(study: Study) -> list[Enclosure | ShelfUnit]:
    design = study.design
    enclosure = design.enclosure
    units = [unit for unit in design.of(ShelfUnit) if not study.placement.inside(unit.id)]
    return [*([enclosure] if enclosure else []), *units]


def _ceiling(study: Study, part: Enclosure | ShelfUnit) -> Reading:
    gap = study.design.room.height - study.placement.box(part.id).hi[2]
    line = phrase("{gap} between {name} and the ceiling", gap=metres(gap), name=part.name)
    where = phrase("ceiling over {name}", name=part.name)
    return length_row("ceiling", part.id, where, gap, line, CEILING, (0.0, None))


def _tilt(study: Study, part: Enclosure | ShelfUnit) -> Reading:
    height = study.design.room.height
    needed = tilt_height(part.height, min(part.width, part.depth))
    line = phrase(
        "{name} needs {needed} to be tilted up; the ceiling is {ceiling}",
        name=part.name,
        needed=metres(needed),
        ceiling=metres(height),
    )
    where = phrase("{name}", name=part.name)
    return length_row("tilt", part.id, where, needed, line, TILT, (None, height))
