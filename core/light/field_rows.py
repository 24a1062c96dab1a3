"""The direct light of every lamp over every grid of a design, computed only where it has changed.

What is kept of the last time is bit for bit what would be computed again; readings are made
elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.geometry import Rectangle
from core.light import emitters
from core.light.canopy import CellGrid, cell_grid
from core.light.direct import direct_rows, kernels_ready
from core.light.from_design import LampSource, Shade, as_obstacles
from core.light.given import Flags, Floats
from core.light.obstacles import TOUCH, Obstacles
from core.light.receivers import Receivers
from core.light.scene import Lamp as Source


@dataclass(frozen=True, eq=False)
class Field:
    """A grid of cells at one height. [m]"""

    area: Rectangle
    grid: CellGrid
    z: float

    @property
    def axes(self) -> tuple[Floats, Floats]:
        """Centres of the columns and of the rows of cells. [m]"""
        return self.grid.x[: self.grid.columns], self.grid.y[:: self.grid.columns]

    def shaped(self, rows: Floats) -> Floats:
        """Return rows of light as maps, shape (lamps, y, x)."""
        return rows.reshape(-1, self.grid.rows, self.grid.columns)


@lru_cache(maxsize=1024)
def field(area: Rectangle, z: float, pitch: float) -> Field:
    """Return the grid over a rectangle; the same one for the same rectangle."""
    return Field(area, cell_grid(area.x0, area.y0, area.width, area.height, pitch), z)


@lru_cache(maxsize=16)
def grid_points(fields: tuple[Field, ...]) -> Receivers:
    """Return the cells of some fields, each a group that faces up; most edits leave them alone.

    The same as `receivers` of their points, without its checks of what others hand in.
    """
    start = np.cumsum([0, *(field.grid.x.size for field in fields)])
    x, y = (
        np.concatenate([getattr(field.grid, axis) for field in fields]).astype(np.float32)
        for axis in "xy"
    )
    z = np.repeat(np.array([field.z for field in fields], dtype=np.float32), np.diff(start))
    level, up = np.zeros_like(z), np.ones_like(z)
    low, high = (
        np.array([(*(axis[end] for axis in field.axes), field.z) for field in fields])
        for end in (0, -1)
    )
    facing = np.tile([0.0, 0.0, 1.0], (len(fields), 1))
    return Receivers(x, y, z, level, level, up, start, low, high, facing)


@dataclass(frozen=True, eq=False)
class FieldRows:
    """Light of each lamp over each field, and all that it was computed from.

    Attributes
    ----------
    maps : tuple of ndarray, each of shape (lamps, y, x)
        One for each field; of a lamp's whole row of tubes at full power. Those that have not
        changed since the last time are the same objects. [µmol m⁻² s⁻¹]
    fields : tuple of Field
    lamps : tuple of LampSource
    shades : tuple of Shade
    low, high : ndarray, shape (lamps, 3)
        The box round each lamp's lit faces. [m]
    compiled : bool
        Whether the compiled kernels made the rows; they differ from the plain ones in the last
        digits.
    """

    maps: tuple[Floats, ...]
    fields: tuple[Field, ...]
    lamps: tuple[LampSource, ...]
    shades: tuple[Shade, ...]
    low: Floats
    high: Floats
    compiled: bool


def field_rows(
    lamps: tuple[LampSource, ...],
    fields: Sequence[Field],
    shades: tuple[Shade, ...],
    before: FieldRows | None = None,
) -> FieldRows:
    """Return the light of each lamp over each field.

    Parameters
    ----------
    lamps : tuple of LampSource
    fields : sequence of Field
    shades : tuple of Shade
        What stands in the way.
    before : FieldRows, optional
        What was found last time, of which all that still holds is kept.

    Returns
    -------
    FieldRows
    """
    fields = tuple(fields)
    low, high = _bounds(lamps)
    found = FieldRows((), fields, lamps, shades, low, high, kernels_ready())
    kept = before if before is not None and _comparable(found, before) else None
    maps = _updated(found, kept) if kept else _computed(found, range(len(lamps)), fields)
    return FieldRows(maps, fields, lamps, shades, low, high, found.compiled)


def _comparable(now: FieldRows, before: FieldRows) -> bool:
    """Tell whether lamps and shades can be told apart one by one."""
    return (
        [lamp.part.id for lamp in now.lamps] == [lamp.part.id for lamp in before.lamps]
        and len(now.shades) == len(before.shades)
        and now.compiled == before.compiled
    )


def _bounds(lamps: Sequence[LampSource]) -> tuple[Floats, Floats]:
    """Return the box round the lit faces of each lamp's row. [m]"""
    boxes = [_box(lamp.sources) for lamp in lamps]
    low, high = np.array(boxes, dtype=float).reshape(-1, 2, 3).transpose(1, 0, 2)
    return low, high


@lru_cache(maxsize=512)
def _box(sources: tuple[Source, ...]) -> Floats:
    each = emitters.of_lamps(sources)
    low, high = each.centre - each.reach, each.centre + each.reach
    return np.stack([low.min(axis=0), high.max(axis=0)])


def _computed(
    now: FieldRows, chosen: Sequence[int], fields: tuple[Field, ...]
) -> tuple[Floats, ...]:
    """Return the maps of some lamps over some fields."""
    if not chosen or not fields:
        return tuple(field.shaped(np.zeros((len(chosen), field.grid.x.size))) for field in fields)
    points = grid_points(fields)
    sources = [source for number in chosen for source in now.lamps[number].sources]
    owners = [number for number in chosen for _ in now.lamps[number].sources]
    each = direct_rows(sources, points, _obstacles(now.shades), owners=owners)
    first = np.cumsum([0, *(len(now.lamps[number].sources) for number in chosen)])[:-1]
    rows = np.add.reduceat(each, first, axis=0)
    return tuple(field.shaped(rows[:, points.part(k)]) for k, field in enumerate(fields))


@lru_cache(maxsize=4)
def _obstacles(shades: tuple[Shade, ...]) -> Obstacles:
    return as_obstacles(shades)


def _updated(now: FieldRows, before: FieldRows) -> tuple[Floats, ...]:
    """Return the maps, computing the lamps whose light may have changed and the new fields."""
    stale = _stale_lamps(now, before)
    again = np.flatnonzero(stale).tolist()
    kept = np.flatnonzero(~stale).tolist()
    old = dict(zip(before.fields, before.maps, strict=True))
    new = tuple(field for field in dict.fromkeys(now.fields) if field not in old)
    fresh = dict(zip(now.fields, _computed(now, again, now.fields), strict=True))
    added = dict(zip(new, _computed(now, kept, new), strict=True))
    return tuple(
        _merged(fresh[field], added.get(field), old.get(field), stale) for field in now.fields
    )


def _merged(fresh: Floats, added: Floats | None, old: Floats | None, stale: Flags) -> Floats:
    """Return one field's map, the old object itself where nothing has changed."""
    if old is not None and np.array_equal(old[stale], fresh):
        return old
    merged = np.empty((stale.size, *fresh.shape[1:]))
    merged[stale] = fresh
    merged[~stale] = old[~stale] if old is not None else added
    return merged


def _stale_lamps(now: FieldRows, before: FieldRows) -> Flags:
    """Tell which lamps are others than before, or have another shade on their way somewhere."""
    pairs = zip(now.lamps, before.lamps, strict=True)
    stale = np.array([a.sources != b.sources for a, b in pairs], dtype=bool)
    changed = [
        shade
        for pair in zip(now.shades, before.shades, strict=True)
        if pair[0] != pair[1]
        for shade in pair
    ]
    if changed and now.fields and len(now.lamps):
        stale |= _shaded(now, changed)
    return stale


def _shaded(now: FieldRows, shades: Sequence[Shade]) -> Flags:
    """Tell which lamps have one of some shades between themselves and a field below them."""
    points = grid_points(now.fields)
    low, high = (np.array([getattr(s.box, end) for s in shades]) for end in ("lo", "hi"))
    met = now.high[:, None, None, 2] > points.low[:, None, 2]
    for axis in range(3):
        start = np.minimum(now.low[:, None, axis], points.low[:, axis])[:, :, None]
        end = np.maximum(now.high[:, None, axis], points.high[:, axis])[:, :, None]
        met = met & (high[:, axis] > start + TOUCH / 2) & (low[:, axis] < end - TOUCH / 2)
    own = np.array([[shade.owner == number for shade in shades] for number in range(len(now.low))])
    found: Flags = (met & ~own[:, None, :]).any(axis=(1, 2))
    return found
