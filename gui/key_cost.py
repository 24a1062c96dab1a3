"""The key of cost: to build, ready-made and a year's running as bars, then the list in short.

Prices and sums are `core.cost`'s and `core.materials`'.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from core.cost.money import money
from core.language import tr
from core.materials.shopping import GROUPS, group_name
from gui.key_blocks import Bar, Bars, Block, Fact, Facts, Note
from gui.key_page import KeyPage, rows_page
from gui.view import View

if TYPE_CHECKING:
    from core.cost.reading import CostReadings
    from core.materials.reading import MaterialsReadings
    from core.readings import Readings

_DEVICES = 3
"""So many of the devices that cost most to run are told."""


def cost_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return what it costs to build, to buy ready-made and to run, and what that is made of."""
    cost, materials = readings.cost, readings.materials
    if not cost.rows and not materials.lines:
        return rows_page(view, readings, before)
    blocks: list[Block] = [Bars(_bars(cost), "ink2")]
    blocks += [Note(text) for text in _notes(cost, materials)]
    facts = (*_groups(materials), *_dearest(cost))
    if facts:
        blocks.append(Facts(facts))
    return KeyPage(tr("What it costs"), cost.currency, tuple(blocks))


def _bars(cost: CostReadings) -> tuple[Bar, ...]:
    """Return the three sums to one scale; what is not known says so."""
    year = cost.per_year if cost.by_device or cost.per_year else None
    sums = (
        (tr("Build"), cost.build, tr("no prices yet")),
        (tr("Ready-made"), cost.ready_made, tr("not entered")),
        (tr("A year’s use"), year, tr("nothing runs yet")),
    )
    top = max((value for _, value, _ in sums if value is not None), default=0.0) or 1.0
    return tuple(
        Bar(name, 0.0, without)
        if value is None
        else Bar(name, value / top, money(value, cost.currency))
        for name, value, without in sums
    )


def _notes(cost: CostReadings, materials: MaterialsReadings) -> Iterator[str]:
    """Say what the bars leave out, and how building stands beside buying."""
    if materials.unpriced and materials.unpriced == len(materials.lines):
        yield tr("Nothing on the shopping list has a price yet: {lines} things.").format(
            lines=len(materials.lines)
        )
    elif materials.unpriced:
        text = tr("No price for {unpriced} of the {lines} things on the shopping list.")
        yield text.format(unpriced=materials.unpriced, lines=len(materials.lines))
    elif cost.build is not None and cost.ready_made is not None:
        less = cost.ready_made - cost.build
        text = (
            tr("Building takes {sum} less than the ready-made one.")
            if less >= 0
            else tr("Building takes {sum} more than the ready-made one.")
        )
        yield text.format(sum=money(abs(less), cost.currency))


def _groups(materials: MaterialsReadings) -> tuple[Fact, ...]:
    """Return what each group of the shopping list takes, as far as it has prices."""
    sums = materials.by_group
    return tuple(
        Fact(group_name(group), money(sums[group], materials.currency), "", tr("to buy"))
        for group in GROUPS
        if sums.get(group)
    )


def _dearest(cost: CostReadings) -> tuple[Fact, ...]:
    return tuple(
        Fact(device.name, money(device.per_day, cost.currency), "", tr("a day"))
        for device in cost.by_device[:_DEVICES]
        if device.per_day >= 0.005
    )
