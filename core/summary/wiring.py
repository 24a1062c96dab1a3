"""The wiring diagram: what is plugged into what, from each breaker down to the last lamp.

Loads and limits of the same steps are in the circuit table (`core.summary.tables`); where leads
lie in the room is drawn on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.drawing.ink import PAPER
from core.drawing.paper import PX, Curve, Item, Shape, Text, rectangle
from core.hours import show_hours
from core.language import tr
from core.model import Circuit, Design, Lamp, Lead, Outlet, Powered, Strip, Timer
from core.power.tree import PlugTree, circuit_key, running_watts
from core.summary.blocks import Picture
from core.units import show

_ROW, _STEP, _BOX, _HIGH = 6.6, 9.0, 56.0, 4.8
"""From row to row, from step to step, width and height of a box. [mm]"""
_NAME, _SMALL = 11.5 * PX, 11 * PX
_WIDE = 0.56
"""Mean width of a letter, as a share of its size. [1]"""


@dataclass(frozen=True)
class Step:
    """One box: where it stands, what feeds it, and its words.

    ``row`` and ``above`` count rows from the top; ``above`` is -1 for a circuit. ``chained`` says
    that it is linked to the lamp before it, ``broken`` that nobody has plugged it in.
    """

    row: int
    depth: int
    above: int
    name: str
    detail: str
    chained: bool = False
    broken: bool = False


def steps(design: Design) -> tuple[Step, ...]:
    """Return every step of the wiring in use, each below what feeds it."""
    tree = PlugTree(design)
    found: list[Step] = []
    for circuit in tree.circuits:
        if tree.devices(circuit_key(circuit.id)):
            found += _below(circuit_key(circuit.id), -1, 0, len(found), tree)
    return tuple(found)


def _below(key: str, above: int, depth: int, row: int, tree: PlugTree) -> list[Step]:
    part = tree.parts.get(key)
    chained = isinstance(part, Lamp) and isinstance(tree.parts.get(tree.feeds[key]), Lamp)
    own = depth - 1 if chained else depth
    found = [Step(row, own, above, *_words(key, tree), chained, key in tree.unplugged)]
    for lower in tree.fed.get(key, ()):
        if isinstance(tree.parts.get(lower), Powered) or tree.devices(lower):
            found += _below(lower, row, own + 1, row + len(found), tree)
    return found


def _words(key: str, tree: PlugTree) -> tuple[str, str]:
    """Return a step's name, and what an assembler has to know of it."""
    thing = tree.parts.get(key) or tree.design.by_id.get(key)
    if thing is None:
        circuit = next(one for one in tree.circuits if circuit_key(one.id) == key)
        return circuit.name, _circuit(circuit, tree)
    told = [*_own(thing), *_cable(thing, tree.design.units)]
    if key in tree.unplugged:
        told.append(tr("not plugged in yet"))
    return thing.name, " · ".join(told)


def _circuit(circuit: Circuit, tree: PlugTree) -> str:
    told = [show(circuit.breaker, "current"), show(tree.voltage(circuit), "voltage")]
    if circuit.leakage_protected:
        told.append(tr("leakage protected"))
    return " · ".join(told)


def _own(thing: object) -> Iterator[str]:
    if isinstance(thing, Outlet | Strip | Lead) and thing.limit is not None:
        yield tr("at most {limit}").format(limit=show(thing.limit, "current"))
    if isinstance(thing, Timer):
        periods = tuple((one.on, one.off) for one in thing.hours.periods)
        yield show_hours(periods)
    if isinstance(thing, Powered):
        yield show(running_watts(thing), "power")


def _cable(thing: object, system: str) -> Iterator[str]:
    if isinstance(thing, Lead):
        yield tr("{length} long").format(length=show(thing.length, "length", system))
    plug = getattr(thing, "plug", None)
    if plug is None or plug.lead_length <= 0:
        return
    yield tr("lead {length}").format(length=show(plug.lead_length, "length", system))
    if plug.drip_loop:
        yield tr("drip loop")


def wiring_pictures(design: Design, width: float, height: float) -> tuple[Picture, ...]:
    """Return the diagram in as many pictures of at most this size as it needs. [mm]"""
    found = steps(design)
    most = max(1, int(height / _ROW))
    count = -(-len(found) // most)
    return tuple(
        _picture(
            found, first * most, min((first + 1) * most, len(found)), width, (first + 1, count)
        )
        for first in range(count)
    )


def _picture(
    found: tuple[Step, ...], first: int, last: int, width: float, page: tuple[int, int]
) -> Picture:
    items: list[Item] = []
    for step in found[first:last]:
        items += _feed(step, found, first)
        items += _box(step, first, width)
    items += _passing(found, first, last)
    title = tr("Wiring from the breaker to each device, {count} steps").format(count=len(found))
    if page[1] > 1:
        title += f" ({page[0]}/{page[1]})"
    return Picture(tuple(items), width, (last - first) * _ROW, title)


def _middle(row: int, first: int) -> float:
    return (row - first + 0.5) * _ROW


def _feed(step: Step, found: tuple[Step, ...], first: int) -> Iterator[Item]:
    """Yield the line from what feeds a step; it comes from the page before where that is."""
    if step.above < 0:
        return
    upper = found[step.above]
    x = upper.depth * _STEP + 3.0
    y = _middle(step.row, first)
    top = max(_middle(upper.row, first) + _HIGH / 2, 0.0)
    dash = (2 * PX, 2 * PX) if step.broken else ()
    ends = ((x, top), (x, y)) if step.chained else ((x, top), (x, y), (step.depth * _STEP, y))
    yield Shape(ends, PAPER["lead"], 1.3 * PX, dash, radius=1.0)


def _passing(found: tuple[Step, ...], first: int, last: int) -> Iterator[Item]:
    """Yield the lines that go on to the page after this one."""
    for step in found[last:]:
        if step.above >= 0 and found[step.above].row < last:
            upper = found[step.above]
            x = upper.depth * _STEP + 3.0
            top = max(_middle(upper.row, first) + _HIGH / 2, 0.0)
            yield Shape(((x, top), (x, (last - first) * _ROW)), PAPER["lead"], 1.3 * PX)


def _box(step: Step, first: int, width: float) -> Iterator[Item]:
    x, y = step.depth * _STEP, _middle(step.row, first)
    top = step.above < 0
    fill = PAPER["fine_bg"] if top else PAPER["raised"]
    yield rectangle(x, y - _HIGH / 2, _BOX, _HIGH, PAPER["ink"], PX, fill=fill, radius=1.0)
    if step.chained:
        yield Curve((x + 3.0, y - _HIGH / 2), 0.6, fill=PAPER["lead"], colour=None)
    name = fitting(step.name, _BOX - 4.0, _NAME)
    yield Text((x + 2.0, y + 0.36 * _NAME), name, _NAME, PAPER["ink"], top)
    detail = fitting(step.detail, width - x - _BOX - 3.0, _SMALL)
    yield Text((x + _BOX + 3.0, y + 0.36 * _SMALL), detail, _SMALL, PAPER["ink2"])


def fitting(text: str, room: float, size: float) -> str:
    """Return a text cut with an ellipsis to the width there is. [mm]"""
    most = max(1, int(room / (_WIDE * size)))
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"
