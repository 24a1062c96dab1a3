"""The reflected light of every lamp over every grid of a design, computed only where it must be.

The exchange between surfaces is kept while only lamps change; what surfaces there are is said in
`core.light.surroundings`, how light goes between them in `core.light.bounce`.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.light.bounce import UNSETTLED, Interior, Seen, interior
from core.light.distribution import cell
from core.light.field_rows import Field
from core.light.from_design import LampSource
from core.light.given import Floats
from core.light.patches import Pane, cut_panes, obstacles_of

COARSE, FINE = 0.25, 0.10
"""Side of the patches while something is dragged, and after. [m]"""

PLAIN = 0.8
"""Side of the patches while the kernels are being compiled. [m]"""

MOST_COARSE, MOST_FINE, MOST_PLAIN = 250, 2500, 250
"""Patches are widened where many more would come of it: their exchange grows squared."""

UNSETTLED_COARSE = 5e-3
"""What takes the place of `UNSETTLED` while something is dragged."""

_LAYER = 0.3
"""Reflected light is read at heights no farther apart, and is linear between them. [m]"""

_INSET = 0.01
"""It is read no nearer than this to the ends of a level, where a wall may stand. [m]"""

_MOST_NODES = 200
"""Places over one level at one height; in large rooms they lie wider apart."""


@dataclass(frozen=True)
class Fineness:
    """How finely surfaces are divided and how far bounces are followed.

    ``patch`` is the side of a patch [m], ``most`` their number at most, ``unsettled`` the share of
    the light that may be unaccounted for.
    """

    patch: float
    most: int
    unsettled: float = UNSETTLED


@dataclass(frozen=True, eq=False)
class ReflectedRows:
    """Reflected light of each lamp over each field, and all that it was computed from.

    Attributes
    ----------
    maps : tuple of ndarray, each of shape (lamps, y, x)
        One for each field, at full power; the same objects as last time where nothing has
        changed. [µmol m⁻² s⁻¹]
    lost : ndarray, shape (lamps,)
        Share of each lamp's photons that ends outside the growing space. [0–1]
    patch : float
        Side of the patches as they are. [m]
    """

    maps: tuple[Floats, ...]
    lost: Floats
    patch: float
    panes: tuple[Pane, ...]
    fields: tuple[Field, ...]
    lamps: tuple[LampSource, ...]
    fineness: Fineness
    nodes: Floats


def reflected_rows(
    lamps: tuple[LampSource, ...],
    fields: tuple[Field, ...],
    places: tuple[Hashable, ...],
    panes: tuple[Pane, ...],
    fineness: Fineness,
    before: ReflectedRows | None = None,
) -> ReflectedRows:
    """Return the reflected light of each lamp over each field.

    Parameters
    ----------
    lamps : tuple of LampSource
    fields : tuple of Field
    places : tuple
        For each field what it belongs to: fields of one level share the places they are read at.
    panes : tuple of Pane
        Everything the light meets.
    fineness : Fineness
    before : ReflectedRows, optional
        What was found last time, of which all that still holds is kept.

    Returns
    -------
    ReflectedRows
    """
    kept = before if before is not None and _comparable(before, fields, panes, fineness) else None
    known = {lamp.sources: number for number, lamp in enumerate(kept.lamps)} if kept else {}
    if kept and [lamp.sources for lamp in lamps] == list(known):
        return kept
    if not lamps:
        dark = tuple(field.shaped(np.zeros((0, field.grid.x.size))) for field in fields)
        return ReflectedRows(
            dark, np.zeros(0), fineness.patch, panes, fields, lamps, fineness, np.zeros((0, 0))
        )  # fmt: skip
    inside = _inside(panes, fineness)
    lattice = _lattice(fields, places, fineness.patch)
    seen = _seen(panes, fineness, fields, places)
    nodes, lost = np.zeros((len(lamps), lattice.count)), np.zeros(len(lamps))
    new = [number for number, lamp in enumerate(lamps) if lamp.sources not in known]
    for number, lamp in enumerate(lamps):
        if kept and lamp.sources in known:
            nodes[number] = kept.nodes[known[lamp.sources]]
            lost[number] = kept.lost[known[lamp.sources]]
    if new:
        first = _first([lamps[number] for number in new], new, inside)
        arriving = inside.settled(first, fineness.unsettled)
        nodes[new] = seen(arriving)
        photons = np.array([max(lamps[number].ppf, 1e-12) for number in new])
        lost[new] = arriving @ (inside.patches.area * inside.patches.lost) / photons
    maps = lattice.maps(nodes)
    width = float(inside.patches.width.min(initial=np.inf))
    return ReflectedRows(maps, lost, width, panes, fields, lamps, fineness, nodes)


def _comparable(
    before: ReflectedRows, fields: tuple[Field, ...], panes: tuple[Pane, ...], fineness: Fineness
) -> bool:
    return (
        before.fineness == fineness
        and len(before.fields) == len(fields)
        and all(a is b for a, b in zip(before.fields, fields, strict=True))
        and before.panes == panes
    )


def _first(lamps: Sequence[LampSource], numbers: Sequence[int], inside: Interior) -> Floats:
    """Return the direct light of each lamp's row on the patches, shape (lamps, patches)."""
    sources = [source for lamp in lamps for source in lamp.sources]
    counts = [len(lamp.sources) for lamp in lamps]
    each = inside.lit_by(sources, np.repeat(numbers, counts).tolist())
    return np.asarray(np.add.reduceat(each, np.cumsum([0, *counts[:-1]]), axis=0))


@lru_cache(maxsize=2)
def _inside(panes: tuple[Pane, ...], fineness: Fineness) -> Interior:
    """Return the exchange between everything; one coarse and one fine are kept."""
    patches = cut_panes(panes, (), fineness.patch, fineness.most)
    return interior(patches, obstacles_of(panes), np.ones(patches.count, dtype=bool))


@lru_cache(maxsize=2)
def _seen(
    panes: tuple[Pane, ...], fineness: Fineness, fields: tuple[Field, ...],
    places: tuple[Hashable, ...],
) -> Seen:  # fmt: skip
    points = _lattice(fields, places, fineness.patch).points
    up = np.broadcast_to(np.array([0.0, 0.0, 1.0]), points.shape)
    return _inside(panes, fineness).seen_from(points, up)


@dataclass(frozen=True, eq=False)
class _Block:
    """The places over one level: a grid at each of some heights, from ``start`` on. [m]"""

    start: int
    x: Floats
    y: Floats
    z: Floats

    @property
    def count(self) -> int:
        return self.x.size * self.y.size * self.z.size

    def points(self) -> Floats:
        z, y, x = np.meshgrid(self.z, self.y, self.x, indexing="ij")
        return np.stack([x.ravel(), y.ravel(), z.ravel()], axis=1)


@dataclass(frozen=True, eq=False)
class _Lattice:
    """The places reflected light is computed at, and how the cells of fields follow from them.

    Attributes
    ----------
    points : ndarray, shape (places, 3)
        [m]
    blocks : tuple of _Block
        One for each field.
    weights : tuple of (ndarray, ndarray, ndarray)
        Weights of the heights, of the rows and of the columns of places, for each field.
    """

    points: Floats
    blocks: tuple[_Block, ...]
    weights: tuple[tuple[Floats, Floats, Floats], ...]

    @property
    def count(self) -> int:
        return self.points.shape[0]

    def maps(self, nodes: Floats) -> tuple[Floats, ...]:
        """Return rows of light over each field, linear between the places."""
        found = []
        for block, (heights, rows, columns) in zip(self.blocks, self.weights, strict=True):
            part = nodes[:, block.start : block.start + block.count]
            shape = (len(nodes), block.z.size, block.y.size, block.x.size)
            level = np.einsum("lzyx,z->lyx", part.reshape(shape), heights)
            found.append(np.maximum(rows @ level @ columns.T, 0.0))
        return tuple(found)


@lru_cache(maxsize=4)
def _lattice(fields: tuple[Field, ...], places: tuple[Hashable, ...], step: float) -> _Lattice:
    groups: dict[Hashable, list[Field]] = {}
    for place, field in zip(places, fields, strict=True):
        groups.setdefault(place, []).append(field)
    blocks, start = {}, 0
    for place, group in groups.items():
        blocks[place] = _block(start, group, step)
        start += blocks[place].count
    mine = tuple(blocks[place] for place in places)
    weights = tuple(_weights(block, field) for block, field in zip(mine, fields, strict=True))
    points = [block.points() for block in blocks.values()]
    return _Lattice(np.concatenate(points) if points else np.empty((0, 3)), mine, weights)


def _block(start: int, fields: Sequence[Field], step: float) -> _Block:
    x0, y0 = (min(getattr(f.area, end) for f in fields) + _INSET for end in ("x0", "y0"))
    x1, y1 = (max(getattr(f.area, end) for f in fields) - _INSET for end in ("x1", "y1"))
    wide = max(step, math.sqrt(max(x1 - x0, step) * max(y1 - y0, step) / _MOST_NODES))
    heights = [field.z for field in fields]
    z = _steps(min(heights), max(heights), _LAYER)
    return _Block(start, _steps(x0, x1, wide), _steps(y0, y1, wide), z)


def _steps(low: float, high: float, step: float) -> Floats:
    """Return places from one end to the other, no farther apart than ``step``."""
    if high - low < 1e-6:
        return np.array([(low + high) / 2])
    return np.linspace(low, high, 1 + math.ceil((high - low) / step - 1e-9))


def _weights(block: _Block, field: Field) -> tuple[Floats, Floats, Floats]:
    columns, rows = field.axes
    at = np.array([field.z])
    return _linear(block.z, at)[0], _linear(block.y, rows), _linear(block.x, columns)


def _linear(nodes: Floats, at: Floats) -> Floats:
    """Return the weights of nodes at some places, linear between, shape (places, nodes)."""
    weights = np.zeros((at.size, nodes.size))
    if nodes.size == 1:
        weights[:] = 1.0
        return weights
    low, way = cell(nodes, at)
    each = np.arange(at.size)
    weights[each, low], weights[each, low + 1] = 1.0 - way, way
    return weights
