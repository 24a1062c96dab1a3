"""Where a vial's lines and bubble lie, and which mark stands for a state: numbers, no painting.

`gui.vial` paints them on the screen, `core.summary` on paper.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.states import LIKELY_OUT, OUT, State, judge

LOWER_LINE = 0.30
UPPER_LINE = 0.70
END_GAP = 2.5
PROUD = 2.0
POINT = 0.72
"""Length of a bubble's point, as a share of its height. [1]"""
TOWARDS_LOW = frozenset({State.LOW, State.LIKELY_LOW})
OUTLINE = {State.BORDERLINE: 1.8, State.LIKELY_LOW: 1.4, State.LIKELY_HIGH: 1.4}
"""Width of a hollow bubble's outline; bubbles of other states are solid. [px]"""

_BUBBLE_INSET = 5


@dataclass(frozen=True)
class VialShape:
    """Where everything in a vial lies, in px from its left end.

    Attributes
    ----------
    wanted : tuple of float
        Left and right end of the wanted stretch.
    lines : tuple of float
        Places of the limit lines: two, one, or none.
    bubble : tuple of float or None
        Left and right end of the bubble; None when there is none to draw.
    bubble_height : float
    """

    wanted: tuple[float, float]
    lines: tuple[float, ...]
    bubble: tuple[float, float] | None
    bubble_height: float


def vial_shape(
    width: float,
    height: float,
    value: float | None,
    low: float | None = None,
    high: float | None = None,
    want_low: float | None = None,
    want_high: float | None = None,
) -> VialShape:
    """Return where a vial's lines and bubble lie.

    Two limits lie at 30 and 70 % of the length, linear in between and beyond. One limit lies at
    30 % (lower) or 70 % (upper), and nought at the left end.

    Parameters
    ----------
    width, height : float
        Size of the vial. [px]
    value, low, high, want_low, want_high : float or None
        As `core.states.judge` takes them. [any one unit]
    """
    thickness = height - _BUBBLE_INSET
    radius = height / 2
    lines = _lines(width, want_low, want_high)
    left = LOWER_LINE * width if want_low is not None else radius
    right = UPPER_LINE * width if want_high is not None else width - radius
    state = judge(value, low, high, want_low, want_high)
    if value is None or state in (State.UNKNOWN, State.UNASKED):
        return VialShape((left, right), lines, None, thickness)
    ends = (min(value, value if low is None else low), max(value, value if high is None else high))
    start, end = (width * _share(v, ends, want_low, want_high) for v in ends)
    bubble = _kept_true(_long_enough(start, end, thickness, width), state, lines, want_high)
    return VialShape((left, right), lines, bubble, thickness)


def _lines(width: float, want_low: float | None, want_high: float | None) -> tuple[float, ...]:
    lower = () if want_low is None else (LOWER_LINE * width,)
    upper = () if want_high is None else (UPPER_LINE * width,)
    return lower + upper


def _share(
    v: float, ends: tuple[float, float], want_low: float | None, want_high: float | None
) -> float:
    """Return the place of ``v`` as a share of the vial's length, not yet stopped at the ends."""
    if want_low is not None and want_high is not None:
        return _share_between(v, want_low, want_high)
    if want_high is not None:
        return UPPER_LINE + UPPER_LINE * (v - want_high) / _span(want_high, ends)
    if want_low is not None:
        return LOWER_LINE + LOWER_LINE * (v - want_low) / _span(want_low, ends)
    return 0.5


def _share_between(v: float, want_low: float, want_high: float) -> float:
    if want_high > want_low:
        return LOWER_LINE + (UPPER_LINE - LOWER_LINE) * (v - want_low) / (want_high - want_low)
    return 0.5 if v == want_low else float(v > want_low)


def _span(limit: float, ends: tuple[float, float]) -> float:
    """Return how much of the reading's unit lies between its one limit and nought's place."""
    if limit > 0:
        return limit
    # A limit of nought has no size of its own; the reading's distance from it serves instead.
    return max(abs(limit), 2 * abs(ends[0] - limit), 2 * abs(ends[1] - limit)) or 1.0


def _long_enough(start: float, end: float, least: float, width: float) -> tuple[float, float]:
    """Stop a bubble before the vial's ends and give it at least the length ``least``."""
    first, last = END_GAP, width - END_GAP
    start, end = min(max(start, first), last), min(max(end, first), last)
    if end - start < least:
        middle = min(max((start + end) / 2, first + least / 2), last - least / 2)
        start, end = middle - least / 2, middle + least / 2
    return start, end


def _kept_true(
    bubble: tuple[float, float], state: State, lines: tuple[float, ...], want_high: float | None
) -> tuple[float, float]:
    """Push a bubble that only grew to its least length back to the side that its state tells."""
    start, end = bubble
    lower = lines[0] if len(lines) == 2 or want_high is None else None
    upper = lines[-1] if want_high is not None else None
    move = 0.0
    if lower is not None and state is State.FINE:
        move = max(0.0, lower - start)
    if lower is not None and state is State.LOW:
        move = min(0.0, lower - end)
    if upper is not None and state is State.FINE:
        move = move or min(0.0, upper - end)
    if upper is not None and state is State.HIGH:
        move = max(0.0, upper - start)
    return start + move, end + move


def mark_kind(state: State) -> str:
    """Return the shape of a state's mark in lists, in words.

    Each state has its own shape: colour is never the only sign.
    """
    if state in OUT:
        return f"solid point {'left' if state in TOWARDS_LOW else 'right'}"
    if state in LIKELY_OUT:
        return f"hollow point {'left' if state in TOWARDS_LOW else 'right'}"
    return {
        State.FINE: "solid round",
        State.BORDERLINE: "hollow round with line",
        State.CAUTION: "open square with bar",
        State.UNKNOWN: "dotted round",
        State.UNASKED: "small ring",
    }[state]
