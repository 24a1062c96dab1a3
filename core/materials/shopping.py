"""The shopping list: placed parts, and all that is bought to build the enclosure and connect them.

How much of each is needed follows from the plans in `core.materials.plans`; what things are called
and keyed by is in `core.materials.wares`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from core.language import tr
from core.materials import wares
from core.materials.from_design import frame_graph, frame_stock
from core.materials.parts import Item
from core.materials.plans import EnclosureMaterials
from core.materials.stock import LINER_ROLLS, Board, sheet_stock
from core.materials.wares import SMALL, By, Group, Ware
from core.model import Design, Enclosure, FeedLine, Lamp, Sheet, System
from core.phrases import Phrase, phrase
from core.units.table import FOOT

GROUPS: tuple[Group, ...] = ("parts", "frame", "sheets", "water", "electric")
"""In the order in which they are listed."""

SPARE_FITTINGS = 0.05
"""So many more fittings than are needed, and at least one of each (common practice). [1]"""

SPARE_SMALL = 0.10
"""So much more of clamps and tape than is needed (common practice). [1]"""

TALL_LEAF = 1.2
"""A leaf higher than this hangs on three hinges, else on two (common practice). [m]"""

HANGERS, CLIPS, CONNECTORS = 2, 2, 2
"""Hangers for a lamp, clips for a drip loop, connectors for a tube (common practice)."""

_WATER = ("tray", "reservoir", "feed")
_ELECTRIC = ("strip", "lead", "timer", "thermostat", "humidistat")


@dataclass(frozen=True)
class Need:
    """So much of a ware, ``spare`` on top, for the enclosure in ``ids``. [pieces or m]"""

    ware: Ware
    count: float
    spare: float = 0.0
    ids: tuple[str, ...] = ()


@dataclass(frozen=True)
class Line:
    """One line of the shopping list.

    Attributes
    ----------
    key : str
        Stable; of a ware also the key of its price.
    group : str
        One of `GROUPS`.
    name : Phrase
    by : str
        ``"piece"`` or ``"length"``: then counts are metres.
    needed, spare, owned : float
        What is built in, what is bought on top, and what need not be bought. [pieces or m]
    price : float or None
        For one piece or one metre. [currency]
    ids : tuple of str
        The parts it is, or the enclosure that is built of it.
    """

    key: str
    group: Group
    name: Phrase
    by: By
    needed: float
    spare: float
    owned: float
    price: float | None
    ids: tuple[str, ...] = ()

    @property
    def to_buy(self) -> float:
        """How much is still needed. [pieces or m]"""
        return max(0.0, self.needed + self.spare - self.owned)

    @property
    def cost(self) -> float | None:
        """What that takes; None where the price is not known and some is needed. [currency]"""
        if self.to_buy == 0:
            return 0.0
        return None if self.price is None else self.price * self.to_buy


def group_name(group: Group) -> str:
    """Return what a group of lines is called."""
    return {
        "parts": tr("Parts"),
        "frame": tr("Frame"),
        "sheets": tr("Sheets"),
        "water": tr("Water"),
        "electric": tr("Electric"),
    }[group]


def shopping_list(
    design: Design, items: Iterable[Item], made: EnclosureMaterials | None
) -> tuple[Line, ...]:
    """Return everything that the design takes, group by group.

    An enclosure that has a price of its own, or is owned, is one line; else it is bought as what
    it is made of.

    Parameters
    ----------
    design : Design
    items : iterable of Item
        Of all its parts.
    made : EnclosureMaterials or None
        What its enclosure is made of.
    """
    whole = bought_whole(design)
    parts = [_part_line(item) for item in items if whole or item.kind != "enclosure"]
    needs = [*(() if whole or made is None else _enclosure_needs(design, made)), *_extras(design)]
    lines = [*parts, *(_ware_line(design, need) for need in needs)]
    return tuple(sorted(lines, key=lambda line: GROUPS.index(line.group)))


def bought_whole(design: Design) -> bool:
    """Tell whether the enclosure is bought, or owned, as one thing."""
    box = design.enclosure
    return box is not None and (box.owned or box.price is not None)


def _part_line(item: Item) -> Line:
    group: Group = "parts"
    if item.kind in _WATER:
        group = "water"
    elif item.kind in _ELECTRIC:
        group = "electric"
    name = phrase("{name}", name=item.name)
    if max(item.extent) > 0:
        name = phrase("{name}, {size}", name=item.name, size=item.size)
    key = f"part-{item.kind}-{item.ids[0]}"
    return Line(key, group, name, "piece", item.count, 0.0, item.owned, item.price, item.ids)


def _ware_line(design: Design, need: Need) -> Line:
    known = design.prices.of(need.ware.key)
    ware = need.ware
    return Line(
        ware.key, ware.group, ware.name, ware.by, need.count, need.spare,
        min(known.owned, need.count + need.spare), known.price, need.ids,
    )  # fmt: skip


# What the enclosure takes ------------------------------------------------------------------------


def _enclosure_needs(design: Design, made: EnclosureMaterials) -> Iterator[Need]:
    box = design.enclosure
    assert box is not None
    ids = (box.id,)
    for length, count in made.frame.cuts.bought.items():
        yield Need(wares.bar(box, length), count, ids=ids)
    for kind, count in made.frame.fittings.items():
        yield Need(wares.fitting(kind, box), count, _spare(count, SPARE_FITTINGS), ids)
    for plan in made.sheets:
        yield Need(plan.ware, plan.count, ids=ids)
    yield from _fixings(design, made, ids)
    yield from _door_needs(box)
    if made.liner is not None:
        yield Need(wares.liner(made.liner.roll), _asked(made.liner.length, design), ids=ids)


def _fixings(design: Design, made: EnclosureMaterials, ids: tuple[str, ...]) -> Iterator[Need]:
    clamps = sum(plan.clamps for plan in made.sheets)
    seams = sum(plan.seams for plan in made.rolls)
    if clamps:
        yield Need(SMALL["clamp"], clamps, _spare(clamps, SPARE_SMALL), ids)
    if seams:
        length = _asked(seams, design)
        yield Need(SMALL["seam-tape"], length, _asked(SPARE_SMALL * length, design), ids)
    zips = sum(plan.zips for plan in made.rolls)
    if zips:
        yield Need(SMALL["zip"], _asked(zips, design), ids=ids)


def _door_needs(box: Enclosure) -> Iterator[Need]:
    leaves = [door for door in box.doors if door.style == "leaf"]
    hinges = sum(door.leaves * (3 if door.height > TALL_LEAF else 2) for door in leaves)
    if leaves:
        yield Need(SMALL["hinge"], hinges, ids=(box.id,))
        yield Need(SMALL["latch"], sum(door.leaves for door in leaves), ids=(box.id,))


# What parts take besides -------------------------------------------------------------------------


def _extras(design: Design) -> Iterator[Need]:
    lamps = [part for part in design.of(Lamp) if part.place.fixing in ("under", "hung")]
    feeds = list(design.of(FeedLine))
    counts = {
        "lamp-hanger": HANGERS * sum(lamp.count for lamp in lamps),
        "lead-clip": CLIPS * sum(1 for part in design.parts if _has_drip_loop(part)),
        "tube-connector": CONNECTORS * len(feeds),
        "tube-tap": sum(1 for feed in feeds if feed.valve == "tap"),
        "float-valve": sum(1 for feed in feeds if feed.valve == "float"),
        "pump": sum(1 for feed in feeds if feed.drive == "pump"),
    }
    yield from (Need(SMALL[key], count) for key, count in counts.items() if count)


def _has_drip_loop(part: object) -> bool:
    plug = getattr(part, "plug", None)
    return plug is not None and plug.drip_loop


def _spare(count: float, share: float) -> int:
    return max(1, math.ceil(share * count - 1e-9))


STEPS: dict[System, float] = {"metric": 0.1, "us": FOOT}
"""Lengths are asked for in a shop in whole decimetres, or feet. [m]"""


def _asked(length: float, design: Design) -> float:
    """Return a length as it is asked for in a shop, rounded up. [m]"""
    step = STEPS[design.units]
    return round(math.ceil(length / step - 1e-5) * step, 6)


# What has a price --------------------------------------------------------------------------------


def priced_wares(design: Design) -> tuple[Ware, ...]:
    """Return all wares that the design might take: every size sold of its stock among them.

    Quick: nothing is cut.
    """
    found = [] if bought_whole(design) else list(_enclosure_wares(design))
    return wares.in_order((*found, *(need.ware for need in _extras(design))))


def _enclosure_wares(design: Design) -> Iterator[Ware]:
    box = design.enclosure
    if box is None:
        return
    graph, stock = frame_graph(box), frame_stock(box)
    yield from (wares.bar(box, length) for length in stock.lengths)
    kinds = graph.fittings_of_stock
    spliced = any(member.cut > max(stock.lengths) for member in graph.members)
    yield from (wares.fitting(kind, box) for kind in (*kinds, *(("coupler",) if spliced else ())))
    for sheet in _sheets(box):
        for size in sheet_stock(sheet, design.units):
            yield wares.board(sheet, size) if isinstance(size, Board) else wares.roll(sheet, size)
    yield from (SMALL[key] for key in ("clamp", "seam-tape"))
    if any(door.style == "zip" for door in box.doors):
        yield SMALL["zip"]
    yield from (need.ware for need in _door_needs(box))
    if box.liner is not None:
        yield from (wares.liner(size) for size in LINER_ROLLS[design.units])


def _sheets(box: Enclosure) -> Iterator[Sheet]:
    yield from (cover.sheet for cover in box.covers)
    yield from (lining.sheet for lining in box.linings)
