"""What is switched on in the same minute, against what a breaker lets start at once.

The count one breaker allows is `core.power.circuits.inrush_count`; advice is `core.findings`'.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from core.model import Circuit, Powered, Timer
from core.power.circuits import MAGNETIC_TRIP
from core.power.tree import PlugTree, circuit_key, count_of

TAKEN_TRIP = "B"
"""Type taken for a breaker of which nobody said: the one that trips first."""


@dataclass(frozen=True)
class Start:
    """Devices that one timer, or their own hours, switch on in the same minute.

    Attributes
    ----------
    switch : str
        Id of the timer, or of the device that switches itself.
    minute : int
        Minute of the day.
    devices : tuple of Powered
    share : float
        Of all that the breaker lets start at once. [1]
    """

    switch: str
    minute: int
    devices: tuple[Powered, ...]
    share: float


def starts(tree: PlugTree, circuit: Circuit) -> tuple[Start, ...]:
    """Return what is switched on when on a circuit, of devices whose inrush is known."""
    found: dict[tuple[str, int], list[Powered]] = {}
    for part in tree.devices(circuit_key(circuit.id)):
        if share_of(part, circuit) is not None:
            switch = switch_of(tree, part)
            for on, off in tree.periods(part.id):
                if on != off:  # what runs all day starts on no day
                    found.setdefault((switch, on), []).append(part)
    return tuple(
        Start(switch, minute, tuple(parts), sum(share_of(p, circuit) or 0.0 for p in parts))
        for (switch, minute), parts in found.items()
    )


def share_of(part: Powered, circuit: Circuit) -> float | None:
    """Return what share of a breaker's allowance a device takes when it starts.

    By the maker's count for one breaker where there is one, else by its inrush over the least
    current at which the breaker trips at once; None where neither is known. [1]
    """
    count = count_of(part)
    if part.inrush_most is not None:
        return count / part.inrush_most
    if part.inrush is None:
        return None
    return count * part.inrush / (circuit.breaker * MAGNETIC_TRIP[circuit.trip or TAKEN_TRIP])


def switch_of(tree: PlugTree, part: Powered) -> str:
    """Return the id of the timer next above a part, or its own where it has hours by itself."""
    if part.hours.periods:
        return part.id
    above = reversed(tree.path(part.id)[:-1])
    return next((key for key in above if isinstance(tree.parts.get(key), Timer)), part.id)


def together(found: tuple[Start, ...]) -> Mapping[int, tuple[Start, ...]]:
    """Return the starts of each minute in which any are. [min of the day]"""
    minutes = sorted({start.minute for start in found})
    return {at: tuple(start for start in found if start.minute == at) for at in minutes}
