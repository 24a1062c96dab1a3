"""The key of fit: what its signs mean, the tightest numbers, and what goes in first.

Distances are `core.fit`'s; the signs are drawn by `gui.fit_signs`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import capital
from core.reading import distance_out
from core.states import RANK, State
from core.units import show
from gui.fit_signs import FloorSigns
from gui.key_blocks import Block, Note, Said
from gui.key_page import KeyPage, rows_page
from gui.view import View

if TYPE_CHECKING:
    from core.reading import Reading
    from core.readings import Readings

_MOST = 7
_OF_A_KIND = 2
"""So many of what is amiss alike are told; every level of a unit may be as far."""


def fit_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return the legend, the tightest of every kind of number, and the order of assembly."""
    fit, system = readings.fit, readings.design.units
    if not fit.rows:
        return rows_page(view, readings, before)
    blocks: list[Block] = [FloorSigns(show(fit.reach, "length", system))]
    said = [(row.state, row.line.render(system)) for row in tightest(fit.rows)]
    blocks.append(Said(tuple((state, capital(line)) for state, line in said)))
    if fit.order:
        steps = " ".join(step.render(system) for step in fit.order)
        first = fit.order[0].render(system)
        blocks.append(
            Note(
                tr("In this order: {steps}").format(steps=steps),
                tr("First of all: {step}").format(step=first),
            )
        )
    return KeyPage(tr("What is clear, and what is tight"), "", tuple(blocks))


def tightest(rows: tuple[Reading, ...]) -> list[Reading]:
    """Return what is amiss, the worst of each kind, then of what is fine the tightest of each."""
    amiss = [row for row in rows if row.state not in (State.FINE, State.UNASKED)]
    amiss.sort(key=lambda row: (RANK[row.state], -distance_out(row)))
    worst = [row for n, row in enumerate(amiss) if _so_many_before(amiss[:n], row) < _OF_A_KIND]
    fine = [row for row in rows if row.state is State.FINE and row.kind == "length"]
    fine.sort(key=distance_out, reverse=True)
    well = [row for n, row in enumerate(fine) if not _so_many_before(fine[:n], row)]
    return [*worst, *well][:_MOST]


def _so_many_before(rows: list[Reading], item: Reading) -> int:
    return sum(row.name == item.name for row in rows)
