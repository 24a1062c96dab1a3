"""The rows of the circuit view: every circuit as a tree, from its breaker down to each device.

Loads and limits come from `core.power`; how rows look and what is done with them is
`gui.circuit_tree`'s affair.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from core.language import tr
from core.model import Lamp
from core.power.tree import circuit_key
from core.units import show
from gui.plug_words import room_words
from gui.readings_panel import state_words

if TYPE_CHECKING:
    from core.power.device_rows import DeviceLoad
    from core.power.reading import PowerReadings, PowerStep
    from core.power.room import Room


class Deep(Protocol):
    """Anything that stands at some depth of a tree."""

    @property
    def depth(self) -> int: ...


@dataclass(frozen=True)
class Row:
    """One row: a step with a limit, or a device.

    Attributes
    ----------
    thing : str
        Id of the part or fixture it is about; empty for circuits and what else runs on them.
    socket : str
        Id of what a plug let go of here goes into; empty where none does.
    name : str
    depth : int
        Steps from the breaker.
    watts : float
        What passes through it at its peak. [W]
    numbers, more : str
        What it carries of what it may; what may still be plugged in there.
    step : PowerStep or None
        With its reading; None for a device.
    """

    thing: str
    socket: str
    name: str
    depth: int
    watts: float
    numbers: str
    more: str = ""
    step: PowerStep | None = None

    @property
    def words(self) -> str:
        """The row as an assistive tool says it."""
        said = state_words(self.step.reading) if self.step is not None else ""
        return ", ".join(part for part in (self.name, said, self.numbers, self.more) if part)


def circuit_rows(power: PowerReadings, system: str) -> tuple[Row, ...]:
    """Return the rows of all circuits, the one nearest its limit first."""
    circuits = sorted(power.tree.circuits, key=lambda circuit: circuit.id != power.circuit)
    return tuple(row for circuit in circuits for row in _rows(power, circuit.id, system))


def _rows(power: PowerReadings, circuit: str, system: str) -> Iterator[Row]:
    tree = power.tree
    steps = {step.id: step for step in power.steps if step.circuit == circuit}
    devices = {device.id: device for device in power.by_device}
    linked = {lamp.id for chain in tree.chains for lamp in chain[1:]}
    for key in tree.steps(circuit_key(circuit)):
        step = steps.get(circuit if key == circuit_key(circuit) else key)
        if step is not None:
            yield _step_row(power, step, key, system)
        elif key in devices and key not in linked:
            yield _device_row(power, devices[key], system)
        if key == circuit_key(circuit) and f"{circuit}/others" in steps:
            yield _step_row(power, steps[f"{circuit}/others"], "", system)


def _step_row(power: PowerReadings, step: PowerStep, key: str, system: str) -> Row:
    room: Room | None = power.rooms.get(key)
    thing = step.id if step.kind not in ("circuit", "others") else ""
    socket = thing
    if step.kind == "chain":
        chain = next(lamps for lamps in power.tree.chains if lamps[0].id == step.id)
        socket = chain[-1].id
    more = room_words(room, system) if room is not None else ""
    return Row(
        thing, socket, step.name, step.depth, step.watts, _numbers(step, system), more, step
    )  # fmt: skip


def _device_row(power: PowerReadings, device: DeviceLoad, system: str) -> Row:
    depth = len(power.tree.path(device.id)) - 1
    lamp = isinstance(power.tree.parts[device.id], Lamp)
    return Row(
        thing=device.id,
        socket=device.id if lamp else "",
        name=device.name,
        depth=depth,
        watts=device.watts,
        numbers=show(device.watts, "power", system),
        more=device.hours,
    )


def _numbers(step: PowerStep, system: str) -> str:
    item = step.reading
    if step.kind == "chain":
        most = f"{item.want_high:.0f}" if item.want_high is not None else tr("no limit given")
        return tr("{count} of {most} in series").format(count=f"{item.value:.0f}", most=most)
    if step.limit_va is None:
        return show(step.va, "apparent_power", system)
    load = show(step.va, "apparent_power", system, unit=False)
    limit = show(step.limit_va, "apparent_power", system)
    return tr("{load} of {limit}").format(load=load, limit=limit)


def parents_of(rows: Sequence[Deep]) -> dict[int, int]:
    """Return the place of the row that feeds each row; circuits have none."""
    found: dict[int, int] = {}
    for place, row in enumerate(rows):
        above = (i for i in range(place - 1, -1, -1) if rows[i].depth < row.depth)
        parent = next(above, None)
        if parent is not None and row.depth > 0:
            found[place] = parent
    return found


def lanes(rows: Sequence[Deep]) -> list[int]:
    """Return how far to the right each row stands: branches stand beside the line that goes on."""
    parents = parents_of(rows)
    last = {parent: place for place, parent in parents.items()}
    found: list[int] = []
    for place in range(len(rows)):
        parent = parents.get(place)
        if parent is None:
            found.append(0)
        else:
            found.append(found[parent] + (last[parent] != place))
    return found
