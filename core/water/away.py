"""How long everything lasts while nobody is there, and what to top up before leaving.

Days of each container are in `core.water.use`; here they are only compared.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.water.evaporation import Days
from core.water.use import Supply


@dataclass(frozen=True)
class Away:
    """Some days on which nobody refills anything.

    Attributes
    ----------
    days : float
        How many. [d]
    first : Supply or None
        What runs dry first though full on leaving; None where nothing uses water.
    top_up : tuple of Supply
        What lasts only if it is topped up before, though its next refill may not be due.
    short : tuple of Supply
        What may run dry though it was full; soonest first.
    volume : float
        Most water that topping everything up takes. [m³]
    """

    days: float
    first: Supply | None
    top_up: tuple[Supply, ...]
    short: tuple[Supply, ...]
    volume: float

    @property
    def lasts(self) -> Days | None:
        """How long everything lasts that was full on leaving."""
        return self.first.days if self.first else None


def away(supplies: Sequence[Supply], days: float, rhythm: float) -> Away:
    """Return what to do before being away.

    Parameters
    ----------
    supplies : sequence of Supply
    days : float
        Away. [d]
    rhythm : float
        Days between refills as usual; what was refilled so long ago is as low as it gets. [d]

    Returns
    -------
    Away
    """
    used = sorted((s for s in supplies if s.days), key=_soonest)
    not_full = [s for s in used if _days(s).low < days + rhythm]
    return Away(
        days,
        used[0] if used else None,
        tuple(not_full),
        tuple(s for s in used if _days(s).low < days),
        sum(min(s.volume, s.per_day * rhythm) for s in not_full),
    )


def first_dry(supplies: Sequence[Supply]) -> Supply | None:
    """Return what runs dry first; None where nothing uses water."""
    return min((s for s in supplies if s.days), key=_soonest, default=None)


def _days(supply: Supply) -> Days:
    assert supply.days is not None
    return supply.days


def _soonest(supply: Supply) -> float:
    return _days(supply).value
