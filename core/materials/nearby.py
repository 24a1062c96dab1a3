"""Sizes of an enclosure close to the one drawn that save a bar, a roll or a board.

What a size takes is worked out in `core.materials.from_design`; nothing is changed here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from core.errors import DesignError
from core.materials.from_design import bare, hung_mass, made_of
from core.materials.plans import EnclosureMaterials
from core.model import Design, Enclosure, Prices, System
from core.model.building import replace

STEPS: Mapping[System, tuple[float, ...]] = {
    "metric": (0.01, 0.02, 0.05, 0.10),
    "us": (0.0127, 0.0254, 0.0508, 0.1016),
}
"""How much smaller an edge is tried: 1 to 10 cm, ½ to 4 in. [m]"""

TIME_EACH = 0.5
"""For the cut list of one size. [s]"""

_EDGES = ("width", "depth", "height")


@dataclass(frozen=True)
class Saving:
    """A size that saves something.

    Attributes
    ----------
    edge : str
        ``"width"``, ``"depth"`` or ``"height"``.
    length : float
        Of that edge; the others stay. [m]
    bars_length : float
        Length of frame bars that need not be bought. [m]
    sheet_area : float
        Area of rolls and boards that need not be bought. [m²]
    bars, rolls, boards : int
        How many fewer of each, whatever their size: one longer bar in place of two is fewer, two
        shorter in place of one are more.
    """

    edge: str
    length: float
    bars_length: float
    sheet_area: float
    bars: int
    rolls: int
    boards: int


def nearby_savings(design: Design, steps: Sequence[float] | None = None) -> tuple[Saving, ...]:
    """Return for each edge the smallest step down that saves, and larger ones that save more.

    Sizes in which a door no longer fits its face are left out, as are those that save on one thing
    and cost on another. Whether what stands inside still fits is for the reader of fit to say.

    Parameters
    ----------
    design : Design
    steps : sequence of float, optional
        How much smaller, in rising order; by default `STEPS` of the design's units. [m]
    """
    box = design.enclosure
    if box is None:
        return ()
    tried = STEPS[design.units] if steps is None else tuple(steps)
    prices = Prices(stock=design.prices.stock)
    return _savings(bare(box), round(hung_mass(design, box), 6), prices, design.units, tried)


@lru_cache(maxsize=64)
def _savings(
    box: Enclosure, hung: float, prices: Prices, units: System, steps: tuple[float, ...]
) -> tuple[Saving, ...]:
    """Return the savings, kept as long as nothing changes that they depend on."""

    def made(size: Enclosure) -> EnclosureMaterials:
        return made_of(size, hung, prices, units, time_limit=TIME_EACH)

    now = made(box)
    return tuple(saving for edge in _EDGES for saving in _along(box, now, edge, steps, made))


def _along(
    box: Enclosure,
    now: EnclosureMaterials,
    edge: str,
    steps: Sequence[float],
    made: Callable[[Enclosure], EnclosureMaterials],
) -> Iterator[Saving]:
    best = (0.0, 0.0)
    for step in steps:
        smaller = _smaller(box, edge, step)
        if smaller is None:
            return
        saving = _saving(edge, round(getattr(box, edge) - step, 6), now, made(smaller))
        saved = (saving.bars_length, saving.sheet_area)
        if _beats(saved, best):
            best = saved
            yield saving


def _saving(edge: str, length: float, now: EnclosureMaterials, then: EnclosureMaterials) -> Saving:
    return Saving(
        edge,
        length,
        round(_bars_length(now) - _bars_length(then), 6),
        round(_sheet_area(now) - _sheet_area(then), 6),
        now.frame.cuts.bars - then.frame.cuts.bars,
        _rolls(now) - _rolls(then),
        _boards(now) - _boards(then),
    )


def _beats(saved: tuple[float, float], best: tuple[float, float]) -> bool:
    """Return whether more is saved of one thing and no less of the other."""
    pairs = list(zip(saved, best, strict=True))
    return all(a >= b for a, b in pairs) and any(a > b for a, b in pairs)


def _smaller(box: Enclosure, edge: str, step: float) -> Enclosure | None:
    """Return an enclosure with one edge shorter; None where it or a door in it would not fit."""
    if getattr(box, edge) <= step:
        return None
    try:
        return replace(box, **{edge: getattr(box, edge) - step})
    except DesignError:
        return None


def _bars_length(found: EnclosureMaterials) -> float:
    return sum(length * count for length, count in found.frame.cuts.bought.items())


def _sheet_area(found: EnclosureMaterials) -> float:
    return sum(plan.count * plan.each for plan in found.sheets)


def _rolls(found: EnclosureMaterials) -> int:
    return sum(plan.count for plan in found.rolls)


def _boards(found: EnclosureMaterials) -> int:
    return sum(plan.count for plan in found.boards)
