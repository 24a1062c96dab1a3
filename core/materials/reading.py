"""Readings of materials: parts, what the enclosure is made of, the shopping list and its cost.

Every part as drawn is listed, whatever the season. What running costs is in `core.cost`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from core.cost.money import money
from core.language import tr
from core.materials.from_design import materials_read
from core.materials.parts import Item, parts_list
from core.materials.pieces import CutPiece, lettered
from core.materials.plans import Bend, EnclosureMaterials, FramePlan
from core.materials.sag import SAG_LIMIT
from core.materials.shopping import Line, bought_whole, shopping_list
from core.model import Enclosure
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, SubjectReadings, reading
from core.study import Study

METHOD = Method(
    tr(
        "Prices as entered, times what is needed and spare and not owned already. What the "
        "enclosure is made of follows from its size, doors, covers and stock."
    ),
    tr("Addition; spares and fixings: common practice."),
    "",
    (tr("What has no price counts as nothing."), tr("Tools, glue and paint are not listed.")),
)

CUT_METHOD = Method(
    tr(
        "Column generation for the cutting-stock problem, then whole bars; every cut takes the "
        "saw's width."
    ),
    "Gilmore, Gomory, A linear programming approach to the cutting-stock problem, Operations "
    "Research 9 (1961).",
    tr("Lengths are cut to a millimetre; fittings differ by maker: try one joint first."),
)

SAG_METHOD = Method(
    tr(
        "A bar on two supports under an even load: its own weight and its share of what hangs "
        "from the frame."
    ),
    "Gere, Goodno, Mechanics of Materials, 8th ed. 2013, table H-2, case 1.",
    tr(
        "Between ends held fast, a fifth of it, and free ones; stiffness within 25 % (from "
        "memory). Plastic and wood go on sinking for months."
    ),
)

HELD, SOFT = 0.2 / 1.25, 1.25
"""The ends of a sag's range: a beam held fast at both ends bends 1/5 of one on two supports (w l⁴ /
384 E I against 5 w l⁴ / 384 E I), and the stiffness may be 25 % off either way. [1]"""


@dataclass(frozen=True, kw_only=True)
class MaterialsReadings(SubjectReadings):
    """What a design is built from.

    Attributes
    ----------
    items : tuple of Item
        The parts in the order in which they were placed, the enclosure as one.
    lines : tuple of Line
        The shopping list, group by group.
    made : EnclosureMaterials or None
        What the enclosure is made of; None without one.
    pieces : tuple of CutPiece
        What its frame is sawn into.
    total : float
        Of what has a price and is still needed. [currency]
    unpriced : int
        How many lines are still needed and have no price.
    currency : str
    """

    subject: str = "materials"
    items: tuple[Item, ...] = ()
    lines: tuple[Line, ...] = ()
    made: EnclosureMaterials | None = None
    pieces: tuple[CutPiece, ...] = ()
    total: float = 0.0
    unpriced: int = 0
    currency: str = ""

    @property
    def by_group(self) -> Mapping[str, float]:
        """What the lines of each group take, as far as they have prices. [currency]"""
        found: dict[str, float] = {}
        for line in self.lines:
            found[line.group] = found.get(line.group, 0.0) + (line.cost or 0.0)
        return found

    def cost_of(self, part_id: str) -> float | None:
        """Return what a part takes that is still to be bought; None where no price is known.

        Equal parts share evenly what is not owned of them; an enclosure takes what it is built of.
        """
        mine = [line for line in self.lines if part_id in line.ids]
        known = [line.cost / len(line.ids) for line in mine if line.cost is not None]
        return sum(known) if known else None


def inputs(study: Study) -> Any:
    """Return what the list looks at: every part as drawn, and prices of what is bought."""
    prices = study.drawn.prices
    return study.drawn.parts, prices.currency, prices.stock


def read(study: Study) -> MaterialsReadings:
    """Return what a design is built from."""
    design = study.drawn
    items = parts_list(design)
    if not items:
        return MaterialsReadings(nothing=phrase("no parts yet"), currency=design.prices.currency)
    made = materials_read(design, _meanwhile(study))
    lines = shopping_list(design, items, made)
    total = sum(line.cost or 0.0 for line in lines)
    unpriced = sum(1 for line in lines if line.cost is None)
    row = _total_row(study, total, unpriced, len(lines))
    rows = () if made is None else tuple(_enclosure_rows(study, made))
    return MaterialsReadings(
        rows=(row, *rows),
        headline=row,
        items=items,
        lines=lines,
        made=made,
        pieces=() if made is None else lettered(made.frame.pieces),
        total=total,
        unpriced=unpriced,
        currency=design.prices.currency,
    )


def _meanwhile(study: Study) -> EnclosureMaterials | None:
    """Return what was cut last; while something is dragged nothing is cut anew."""
    last = study.before.get("materials")
    if study.quality == "final" or not isinstance(last, MaterialsReadings):
        return None
    return last.made


def _total_row(study: Study, total: float, unpriced: int, lines: int) -> Reading:
    words = "{total} for parts"
    if unpriced:
        words = "{total} for parts; no price for {unpriced} of {lines} lines"
    design = study.drawn
    text = phrase(words, total=money(total, design.prices.currency), unpriced=unpriced, lines=lines)
    whole = phrase("the enclosure is bought, or owned, as one thing")
    taken = (whole,) if bought_whole(design) else ()
    return reading(
        "materials", "parts", "", phrase("parts"), total, "count", text, METHOD, assumptions=taken
    )


def _enclosure_rows(study: Study, made: EnclosureMaterials) -> Iterator[Reading]:
    box = study.drawn.enclosure
    assert box is not None
    yield _frame_row(box, made)
    worst = worst_bend(made.frame.bends)
    if worst is not None:
        yield sag_row(box, worst)


def _frame_row(box: Enclosure, made: EnclosureMaterials) -> Reading:
    cuts = made.frame.cuts
    length = sum(bar * count for bar, count in cuts.bought.items())
    text = phrase(
        "{bars} bars, {length} in all, for the frame; {sure}",
        bars=cuts.bars, length=Amount(length, "length"), sure=sure_words(made.frame),
    )  # fmt: skip
    taken = tuple(phrase(text) for text in made.assumptions)
    return reading(
        "materials", "frame", box.id, phrase("{name}", name=box.name), length, "length", text,
        CUT_METHOD, assumptions=taken,
    )  # fmt: skip


def sure_words(frame: FramePlan) -> Phrase:
    """Return how good a frame's cut list is known to be."""
    if frame.cuts.proven:
        return phrase("no plan needs less")
    gap = Amount(frame.cuts.gap, "fraction")
    return phrase("a better plan could save {gap} at most; the search was stopped", gap=gap)


def worst_bend(bends: Iterable[Bend]) -> Bend | None:
    """Return the level member that bends most for its length."""
    return max(bends, key=lambda bend: bend.depth / bend.span.length, default=None)


def sag_row(box: Enclosure, bend: Bend) -> Reading:
    """Return how far a member of an enclosure's frame sags against what it should."""
    most = SAG_LIMIT * bend.span.length
    text = phrase(
        "{role} of {span} sags {depth}; want at most {most}",
        role=_ROLES[bend.span.role], span=Amount(bend.span.length, "length"),
        depth=Amount(bend.depth, "length", digits=2), most=Amount(most, "length", digits=2),
    )  # fmt: skip
    return reading(
        "weight", "sag", box.id, phrase("{name}", name=box.name), bend.depth, "length", text,
        SAG_METHOD, spread=(HELD * bend.depth, SOFT * bend.depth), want=(None, most),
    )  # fmt: skip


_ROLES = {
    "rail": tr("Rail"),
    "header": tr("Door header"),
    "sill": tr("Door sill"),
}
