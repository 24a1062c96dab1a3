"""How fit words its numbers: a length judged with the tolerance of building, names, amounts.

The rows themselves are in `rows`, `rows_access` and `rows_carry`.
"""

from __future__ import annotations

from core.fit.standards import SEATED_ROUTE
from core.fit.swings import TOLERANCE
from core.language import tr
from core.phrases import Amount, Phrase
from core.reading import Method, Reading, reading
from core.study import Study

EXACT = tr("±5 mm for building and placing (common practice, no source).")


def length_row(
    name: str,
    place: str,
    where: Phrase,
    value: float | None,
    line: Phrase,
    method: Method,
    want: tuple[float | None, float | None],
    assumptions: tuple[Phrase, ...] = (),
) -> Reading:
    """Return a judged length with the tolerance of building; only gaps may be negative. [m]"""
    spread = None
    if value is not None:
        low = value - TOLERANCE if value < 0 else max(0.0, value - TOLERANCE)
        spread = (low, value + TOLERANCE)
    return reading("fit", name, place, where, value, "length", line, method,
                   spread=spread, want=want, assumptions=assumptions)  # fmt: skip


def wide_enough(study: Study, asked: float) -> float:
    """Return a width that the grower asks for, for a wheelchair that of its route at least. [m]"""
    return max(asked, SEATED_ROUTE) if study.design.targets.seated else asked


def name_of(study: Study, thing_id: str) -> str:
    """Return the name of a part or fixture."""
    return study.design.by_id[thing_id].name


def metres(value: float) -> Amount:
    """Return a length for a sentence. [m]"""
    return Amount(value, "length")
