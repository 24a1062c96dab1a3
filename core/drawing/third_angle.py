"""Plan, front and side on one page at one scale: plan above the front, side to its right.

What each view shows is in `core.drawing.views`; the rest of the page is the summary's.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from core.drawing.build_dimensions import CHAIN, build_dimensions
from core.drawing.dimensions import break_marks, enclosure_dimensions, scale_bar_marks, shown_box
from core.drawing.ink import PAPER
from core.drawing.marks import VIEWS, View
from core.drawing.paper import PX, Clip, Frame, Item, Text
from core.drawing.seeing import LevelKey
from core.drawing.shapes import seen
from core.drawing.views import view_marks
from core.errors import InputError, complaint
from core.geometry import Box
from core.language import tr
from core.placement import Placement

SCALES = (5, 10, 20, 25, 50, 100, 200)
FEET_SCALES = {
    4: "3 in = 1 ft",
    8: "1 1/2 in = 1 ft",
    12: "1 in = 1 ft",
    16: "3/4 in = 1 ft",
    24: "1/2 in = 1 ft",
    32: "3/8 in = 1 ft",
    48: "1/4 in = 1 ft",
    96: "1/8 in = 1 ft",
    192: "1/16 in = 1 ft",
}
_TITLE, _FOOT, _BAR = 6.0, 7.5, 4.5
_ACROSS, _DOWN = 15.0, 10.0 + CHAIN
"""Gaps between front and side, and between plan and front. [mm]"""
_HEAD = 13 * PX
_SECOND = 12 * PX

Inlay = Callable[[Frame], tuple[Item, ...]]
"""Draws something over a view, inside its edges: a map, a route."""


@dataclass(frozen=True)
class Titles:
    """The words over the plan, and what follows them in smaller type."""

    plan: str = field(default_factory=lambda: tr("Plan"))
    plan_more: str = ""


@dataclass(frozen=True)
class Drawings:
    """The three views laid out from (0, 0) at their top left corner. [mm]

    ``spare`` is the free rectangle right of the plan: x, y, width, height.
    """

    items: tuple[Item, ...]
    scale: int
    width: float
    height: float
    spare: tuple[float, float, float, float]


def lay_out(
    placement: Placement,
    width: float,
    height: float,
    *,
    level: LevelKey | None = None,
    unit: str | None = None,
    titles: Titles | None = None,
    inlays: Mapping[View, Inlay] | None = None,
    scale: int | None = None,
    paper: str = "",
) -> Drawings:
    """Return the three views at the scale asked for, by default the largest standard one that fits.

    Parameters
    ----------
    placement : Placement
    width, height : float
        The room there is on the page. [mm]
    level, unit
        As `core.drawing.seeing.is_seen`.
    titles : Titles, optional
    inlays : mapping, optional
        What is drawn over a view besides its parts.
    scale : int, optional
        How many times smaller than the thing.
    paper : str
        What the page is called, for the message.

    Returns
    -------
    Drawings

    Raises
    ------
    InputError
        If the views do not fit on the page at the scale asked for.
    """
    system = placement.design.units
    shown, scale = _chosen(placement, width, height, scale, paper)
    frames = _frames(shown, scale)
    items: list[Item] = []
    for view in VIEWS:
        marks = view_marks(placement, view, level, unit)
        over = (inlays or {}).get(view)
        inner = frames[view].items(marks) + (over(frames[view]) if over else ())
        items.append(_clipped(frames[view], shown, view, inner))
        around = (
            *break_marks(placement, shown, view),
            *enclosure_dimensions(placement, view, system, shown),
            *build_dimensions(placement, view, shown, unit, scale),
        )
        items += frames[view].items(around)
    items += _titles(frames, shown, titles or Titles())
    items += _scale_bar(frames["front"], shown, scale, system)
    return _drawings(tuple(items), shown, scale, width)


def _chosen(
    placement: Placement, width: float, height: float, asked: int | None, paper: str
) -> tuple[Box, int]:
    """Return what to show of the room, and the scale: the one asked for, or the best."""
    best = _best(placement, width, height, placement.design.units)
    if asked is None:
        return best
    for tight in (False, True):
        shown = shown_box(placement, tight=tight)
        if asked > 0 and _fits(shown, asked, width, height):
            return shown, asked
    rule = tr("is too large for {paper}").format(paper=paper or tr("the page"))
    way_out = tr("choose 1:{scale} or more, or larger paper").format(scale=best[1])
    raise InputError(complaint(tr("Drawings"), tr("scale"), f"1:{asked}", rule, way_out))


def _best(placement: Placement, width: float, height: float, system: str) -> tuple[Box, int]:
    """Return what to show and its scale: less of the room where that draws the rest larger."""
    choices = []
    for tight in (False, True):
        shown = shown_box(placement, tight=tight)
        choices.append((shown, _scale(shown, width, height, system)))
    return min(choices, key=lambda choice: choice[1])


def _scale(shown: Box, width: float, height: float, system: str) -> int:
    scales = usual_scales(system)
    fitting = (scale for scale in scales if _fits(shown, scale, width, height))
    return next(fitting, scales[-1])


def _size(shown: Box, scale: float) -> tuple[float, float]:
    """Return how much of the page the views take at a scale. [mm]"""
    x, y, z = (1000 * size / scale for size in shown.size)
    return x + _ACROSS + y, _TITLE + y + _DOWN + z + _FOOT + _BAR


def _fits(shown: Box, scale: float, width: float, height: float) -> bool:
    needed = _size(shown, scale)
    return needed[0] <= width and needed[1] <= height


def _frames(shown: Box, scale: int) -> dict[View, Frame]:
    x, y, z = (1000 * size / scale for size in shown.size)
    floor = _TITLE + y + _DOWN + z
    return {
        "plan": Frame((0.0, _TITLE + y), (shown.lo[0], shown.lo[1]), scale),
        "front": Frame((0.0, floor), (shown.lo[0], shown.lo[2]), scale),
        "side": Frame((x + _ACROSS, floor), (shown.lo[1], shown.lo[2]), scale),
    }


def _clipped(frame: Frame, shown: Box, view: View, items: tuple[Item, ...]) -> Clip:
    area = seen(shown, view)
    corner = frame.point((area.x0, area.y1))
    return Clip(corner, frame.size(area.width), frame.size(area.height), items)


def _titles(frames: Mapping[View, Frame], shown: Box, titles: Titles) -> list[Item]:
    heads: dict[View, tuple[str, str]] = {
        "plan": (titles.plan, titles.plan_more),
        "front": (tr("Front"), ""),
        "side": (tr("Side"), tr("from the right")),
    }
    items: list[Item] = []
    for view, (head, more) in heads.items():
        area = seen(shown, view)
        x, y = frames[view].point((area.x0, area.y1))
        items.append(Text((x, y - 2.0), head, _HEAD, bold=True))
        # Bold type is about 0.56 of its size wide; the rest is the gap before what follows.
        after = x + 0.56 * _HEAD * len(head) + 2.5
        if more:
            items.append(Text((after, y - 2.0), more, _SECOND, PAPER["ink2"]))
    return items


def usual_scales(system: str) -> tuple[int, ...]:
    """Return the scales that are usual with these units, the largest drawing first."""
    return tuple(FEET_SCALES) if system == "us" else SCALES


def scale_words(scale: int, system: str) -> str:
    """Return the scale in words: "1:25", or "1/2 in = 1 ft" in feet."""
    return FEET_SCALES.get(scale, f"1:{scale}") if system == "us" else f"1:{scale}"


def _scale_bar(frame: Frame, shown: Box, scale: int, system: str) -> tuple[Item, ...]:
    length = tr("3 ft") if system == "us" else tr("1 m")
    words = tr("{length}, scale {scale}").format(length=length, scale=scale_words(scale, system))
    x, y = frame.point((shown.lo[0], shown.lo[2]))
    bar = Frame((x, y + _FOOT + 2.5), (0.0, 0.0), scale)
    return bar.items(scale_bar_marks(system, words=words))


def _drawings(items: tuple[Item, ...], shown: Box, scale: int, width: float) -> Drawings:
    across, down = _size(shown, scale)
    x, y, _ = (1000 * size / scale for size in shown.size)
    left = x + _ACROSS
    return Drawings(items, scale, across, down, (left, 0.0, max(width - left, 0.0), _TITLE + y))
