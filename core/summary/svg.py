"""Drawings as SVG in real millimetres, on their own or inside a page.

Any text is escaped; nothing is fetched and nothing runs.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from math import cos, radians, sin

from core.drawing.marks import Point
from core.drawing.paper import Clip, Curve, Item, Shape, Text

FONTS = "'Noto Sans', 'DejaVu Sans', sans-serif"
_ANCHORS = {"left": "start", "centre": "middle", "right": "end"}
_HALO = 1.8
"""Width of the line round letters that parts them from what lies under them. [mm]"""


def svg(items: Iterable[Item], width: float, height: float, title: str, name: str = "d") -> str:
    """Return one SVG element of ``width`` × ``height`` mm.

    ``title`` says what is drawn to who cannot see it; ``name`` keeps the ids of several drawings
    on one page apart.
    """
    clips: list[str] = []
    body = "".join(_item(item, clips, name) for item in items)
    defs = f"<defs>{''.join(clips)}</defs>" if clips else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{_n(width)}mm" '
        f'height="{_n(height)}mm" viewBox="0 0 {_n(width)} {_n(height)}" '
        f'aria-label="{escape(title)}"><title>{escape(title)}</title>{defs}'
        f'<g font-family="{FONTS}" fill="none" stroke-linejoin="round">{body}</g></svg>'
    )


def _n(number: float) -> str:
    """Return a number as short as a hundredth of a millimetre asks for."""
    text = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _item(item: Item, clips: list[str], name: str) -> str:
    if isinstance(item, Shape):
        return _shape(item)
    if isinstance(item, Curve):
        return _curve(item)
    if isinstance(item, Text):
        return _text(item)
    return _clip(item, clips, name)


def _clip(item: Clip, clips: list[str], name: str) -> str:
    key = f"{name}-clip-{len(clips)}"
    x, y = item.corner
    clips.append(
        f'<clipPath id="{key}"><rect x="{_n(x)}" y="{_n(y)}" width="{_n(item.width)}" '
        f'height="{_n(item.height)}"/></clipPath>'
    )
    body = "".join(_item(inner, clips, name) for inner in item.items)
    return f'<g clip-path="url(#{key})">{body}</g>'


def _paint(item: Shape | Curve) -> str:
    parts = [f' fill="{item.fill}"'] if item.fill else []
    if item.colour:
        parts.append(f' stroke="{item.colour}" stroke-width="{_n(item.width)}"')
    if item.colour and item.dash:
        parts.append(f' stroke-dasharray="{" ".join(map(_n, item.dash))}"')
    return "".join(parts)


def _shape(item: Shape) -> str:
    if item.radius > 0 and len(item.points) > 2:
        return f'<path d="{_rounded(item.points, item.radius, item.closed)}"{_paint(item)}/>'
    points = " ".join(f"{_n(x)},{_n(y)}" for x, y in item.points)
    return f'<{"polygon" if item.closed else "polyline"} points="{points}"{_paint(item)}/>'


def _rounded(points: tuple[Point, ...], radius: float, closed: bool) -> str:
    moves = []
    for kind, *places in rounded(points, radius, closed):
        moves.append(kind + " ".join(f"{_n(x)},{_n(y)}" for x, y in places))
    return "".join(moves) + ("Z" if closed else "")


def rounded(
    points: tuple[Point, ...], radius: float, closed: bool
) -> list[tuple[str, *tuple[Point, ...]]]:
    """Return the moves of a line with rounded corners: M start, L line, Q control and end. [mm]"""
    count = len(points)
    found: list[tuple[str, *tuple[Point, ...]]] = [] if closed else [("M", points[0])]
    for k in range(count) if closed else range(1, count - 1):
        corner = points[k]
        before = _towards(corner, points[k - 1], radius)
        after = _towards(corner, points[(k + 1) % count], radius)
        found += [("L" if found else "M", before), ("Q", corner, after)]
    return found if closed else [*found, ("L", points[-1])]


def _towards(a: Point, b: Point, length: float) -> Point:
    """Return the point ``length`` from a on the way to b, at most half the way. [mm]"""
    dx, dy = b[0] - a[0], b[1] - a[1]
    whole = (dx * dx + dy * dy) ** 0.5
    share = min(length / whole, 0.5) if whole > 0 else 0.0
    return a[0] + share * dx, a[1] + share * dy


def _curve(item: Curve) -> str:
    x, y = item.centre
    if abs(item.span) >= 360:
        return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(item.radius)}"{_paint(item)}/>'
    ends = [
        (x + item.radius * cos(radians(angle)), y - item.radius * sin(radians(angle)))
        for angle in (item.start, item.start + item.span)
    ]
    (ax, ay), (bx, by) = ends
    large, sweep = int(abs(item.span) > 180), int(item.span < 0)
    return (
        f'<path d="M{_n(ax)},{_n(ay)}A{_n(item.radius)},{_n(item.radius)} 0 {large} {sweep} '
        f'{_n(bx)},{_n(by)}"{_paint(item)}/>'
    )


def _text(item: Text) -> str:
    x, y = item.at
    turn = f' transform="rotate({_n(-item.turn)} {_n(x)} {_n(y)})"' if item.turn else ""
    weight = ' font-weight="600"' if item.bold else ""
    halo = ""
    if item.halo:
        halo = (
            f' stroke="{item.halo}" stroke-width="{_n(_HALO)}" paint-order="stroke" '
            'stroke-linecap="round"'
        )
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(item.size)}" fill="{item.colour}" '
        f'text-anchor="{_ANCHORS[item.anchor]}"{weight}{halo}{turn}>{escape(item.text)}</text>'
    )
