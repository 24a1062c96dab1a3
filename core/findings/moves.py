"""Straight moves of parts that remedies are made of, tried out before they are offered.

What has to move, and where to, the rules say.
"""

from __future__ import annotations

import math

from core.findings.edits import Edits, is_clear, rests_well, shifted
from core.fit.reading import FitReadings
from core.fit.swings import TOLERANCE
from core.geometry import Vector
from core.model import Part
from core.phrases import Amount, Phrase, phrase
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


def way_words(shift: Vector) -> Phrase:
    """Return a straight move in words: "6 cm to the left"."""
    axis = max(range(3), key=lambda each: abs(shift[each]))
    ways = (
        ("{length} to the left", "{length} to the right"),
        ("{length} to the front", "{length} to the back"),
        ("{length} down", "{length} up"),
    )
    return phrase(ways[axis][shift[axis] > 0], length=metres(abs(shift[axis])))


def name_of(study: Study, thing_id: str) -> str:
    """Return the name of a part or fixture."""
    return study.design.by_id[thing_id].name


def metres(value: float) -> Amount:
    """Return a length for a sentence."""
    return Amount(value, "length")
