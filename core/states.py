"""The rule that turns a reading, its range and its limits into a state, and the words for it.

How a state is drawn belongs to `gui.vial` and `core.summary`; what is measured, to the engines.
"""

from __future__ import annotations

import math
from enum import StrEnum

from core.errors import InputError
from core.language import tr

# Sums of decimal lengths land a few units in the last place beside a limit they meet exactly.
_AT_THE_LIMIT = 1e-9
EVEN_SHARE = 0.8


class State(StrEnum):
    """Where a reading stands against what is wanted."""

    FINE = "fine"
    BORDERLINE = "borderline"
    LIKELY_LOW = "likely_low"
    LIKELY_HIGH = "likely_high"
    LOW = "low"
    HIGH = "high"
    UNKNOWN = "unknown"
    UNASKED = "unasked"
    CAUTION = "caution"


OUT = frozenset({State.LOW, State.HIGH})
LIKELY_OUT = frozenset({State.LIKELY_LOW, State.LIKELY_HIGH})

# Worst first; findings and zones are listed in this order.
RANK: dict[State, int] = {
    State.LOW: 0,
    State.HIGH: 0,
    State.LIKELY_LOW: 1,
    State.LIKELY_HIGH: 1,
    State.BORDERLINE: 2,
    State.CAUTION: 3,
    State.UNASKED: 4,
    State.UNKNOWN: 4,
    State.FINE: 5,
}

# Subject -> how a reading below, and one above, what is wanted is called.
_WRONG_WAYS: dict[str, tuple[str, str]] = {
    "light": ("too weak", "too strong"),
    "air": ("still", "too strong"),
    "power": ("too low", "over the limit"),
    "water": ("too soon", "over the limit"),
    "climate": ("too low", "too high"),
    "weight": ("too low", "over the limit"),
    "fit": ("does not fit", "does not fit"),
    "cost": ("too low", "over the limit"),
}


def judge(
    value: float | None,
    low: float | None = None,
    high: float | None = None,
    want_low: float | None = None,
    want_high: float | None = None,
) -> State:
    """Return the state of a reading against its wanted range.

    A value exactly at a limit is inside. A range that leaves its own value out is widened to it.

    Parameters
    ----------
    value : float or None
        The reading; None or a not-a-number when it is not known yet. [any unit]
    low, high : float or None
        Ends of the reading's own range, not necessarily symmetric; None: no uncertainty. [as value]
    want_low, want_high : float or None
        Ends of the wanted range; None: no limit on that side. [as value]

    Returns
    -------
    State

    Raises
    ------
    InputError
        If ``want_low`` lies above ``want_high``.
    """
    if value is None or math.isnan(value):
        return State.UNKNOWN
    if want_low is None and want_high is None:
        return State.UNASKED
    floor, ceiling = _limits(want_low, want_high)
    bottom = min(value, value if low is None else low)
    top = max(value, value if high is None else high)
    if value < floor:
        return State.LOW if top < floor else State.LIKELY_LOW
    if value > ceiling:
        return State.HIGH if bottom > ceiling else State.LIKELY_HIGH
    return State.FINE if bottom >= floor and top <= ceiling else State.BORDERLINE


def _limits(want_low: float | None, want_high: float | None) -> tuple[float, float]:
    """Return both limits, each moved outwards by the rounding error that is forgiven."""
    floor = -math.inf if want_low is None else want_low
    ceiling = math.inf if want_high is None else want_high
    if floor > ceiling:
        raise InputError(
            f"Wanted range: lower end = {floor:g} must not be above the upper end {ceiling:g}; "
            "exchange the two."
        )
    return floor - _AT_THE_LIMIT * _size(floor), ceiling + _AT_THE_LIMIT * _size(ceiling)


def _size(limit: float) -> float:
    return abs(limit) if math.isfinite(limit) else 0.0


def judge_spread(state: State, share_inside: float) -> State:
    """Return ``state``, lowered from fine to borderline when less than 80 % of an area is inside.

    Parameters
    ----------
    state : State
        The state of the area's mean.
    share_inside : float
        Share of the area that is within the wanted range, 0 to 1.
    """
    if state is State.FINE and share_inside < EVEN_SHARE:
        return State.BORDERLINE
    return state


def words(state: State, subject: str = "", *, one_sided: bool = False, uneven: bool = False) -> str:
    """Return the words that stand beside a state: "likely still", "within the limit".

    Parameters
    ----------
    state : State
    subject : str
        One of the eight subjects, in lower case; any other gets "too low" and "too high".
    one_sided : bool
        Whether what is wanted has one limit only; then fine is "within the limit".
    uneven : bool
        Whether a borderline light reading is so because too little of its area is inside.
    """
    too_low, too_high = _WRONG_WAYS.get(subject, ("too low", "too high"))
    if state in LIKELY_OUT:
        wrong = too_low if state is State.LIKELY_LOW else too_high
        return tr("likely {wrong}").format(wrong=tr(wrong))
    plain = {
        State.FINE: "within the limit" if one_sided else "within the range",
        State.BORDERLINE: "uneven" if uneven else "borderline",
        State.LOW: too_low,
        State.HIGH: too_high,
        State.UNKNOWN: "not known yet",
        State.UNASKED: "not asked for",
        State.CAUTION: "caution",
    }
    return tr(plain[state])
