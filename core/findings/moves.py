"""Straight moves of parts that remedies are made of, tried out before they are offered.

What has to move, and where to, the rules say.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from core.finding import Remedy
from core.findings.edits import Edits, after, is_clear, rests_well, shifted
from core.findings.words import AMISS
from core.fit.lengths import metres, name_of
from core.fit.reading import FitReadings
from core.fit.reading import read as read_fit
from core.fit.swings import TOLERANCE
from core.geometry import Rectangle, Vector
from core.model import Part
from core.phrases import Phrase, phrase
from core.reading import Reading
from core.study import Study

GAP = TOLERANCE + 0.001
"""What is moved apart stands this far off, so that building it by a hair differently is fine. [m]
"""
STEP = 0.005
"""Moves are rounded up to this, as a tape is read. [m]"""


def fit_readings(study: Study) -> FitReadings | None:
    """Return the readings of fit, or None before there are any."""
    found = study.done.get("fit")
    return found if isinstance(found, FitReadings) else None


def fit_rows(study: Study, name: str) -> list[Reading]:
    """Return the rows of fit with one name."""
    fit = fit_readings(study)
    return [row for row in (fit.rows if fit else ()) if row.name == name]


def may_move(study: Study, part_id: str) -> bool:
    """Tell whether a thing is a part that may be moved: not locked, in no face, not the room's."""
    thing = study.design.by_id[part_id]
    return isinstance(thing, Part) and not thing.locked and thing.place.fixing != "face"


def along(axis: int, length: float) -> Vector:
    """Return a move along one axis, its length rounded up to 5 mm. [m]"""
    length = math.copysign(math.ceil(abs(length) / STEP - 1e-9) * STEP, length)
    shift = [0.0, 0.0, 0.0]
    shift[axis] = length
    return (shift[0], shift[1], shift[2])


def if_it_fits(study: Study, part_id: str, shift: Vector) -> Edits | None:
    """Return a part moved, or None where it would be in the way or leave what holds it."""
    place = study.drawn.part(part_id).place
    rising = shift[2] if place.fixing in ("under", "hung") else -shift[2]
    if place.z - rising < 0:
        return None
    edits = shifted(study, part_id, shift)
    return edits if is_clear(study, edits) and rests_well(study, edits) else None


def moved_where_better(study: Study, part_id: str, shifts: Iterable[Vector]) -> Remedy | None:
    """Return the first move of a part that fits and leaves less amiss, as a remedy."""
    if not may_move(study, part_id):
        return None
    for shift in shifts:
        edits = if_it_fits(study, part_id, shift)
        if edits is not None and less_amiss(study, edits):
            name = name_of(study, part_id)
            return Remedy(phrase("Move {name} {way}", name=name, way=way_words(shift)), edits)
    return None


def less_amiss(study: Study, edits: Edits) -> bool:
    """Tell whether fit finds less amiss with some edits than without."""
    fit = fit_readings(study)
    now = read_fit(Study(after(study, edits), study.season, study.quality))
    return fit is not None and _amiss(now.rows) < _amiss(fit.rows)


def _amiss(rows: Iterable[Reading]) -> int:
    return sum(row.state in AMISS for row in rows)


def clear_of(moving: Rectangle, area: Rectangle) -> list[Vector]:
    """Return the straight level moves that take a footprint off an area, the shortest first. [m]"""
    found = []
    for axis in (0, 1):
        for length in (area[axis + 2] - moving[axis] + GAP, area[axis] - moving[axis + 2] - GAP):
            found.append(along(axis, length))
    return sorted(found, key=lambda shift: sum(map(abs, shift)))


def way_words(shift: Vector) -> Phrase:
    """Return a straight move in words: "6 cm to the left"."""
    axis = max(range(3), key=lambda each: abs(shift[each]))
    ways = (
        ("{length} to the left", "{length} to the right"),
        ("{length} to the front", "{length} to the back"),
        ("{length} down", "{length} up"),
    )
    return phrase(ways[axis][shift[axis] > 0], length=metres(abs(shift[axis])))
