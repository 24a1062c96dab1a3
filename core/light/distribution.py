"""How a lamp spreads its photons over directions: tables of intensity and powers of the cosine.

Only the shape lives here, scaled by the lamp's own flux later; no file is read here.
"""

from __future__ import annotations

import math
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from core.language import tr
from core.light import given
from core.light.given import Floats

_WIDEST = 89.999
"""Half-peak angles from here on are no beam: their exponent would be zero. [degrees]"""


class Distribution:
    """Photon intensity by direction, read linearly in both angles from a table.

    Parameters
    ----------
    c_degrees : array_like, shape (planes,)
        Angles of the half planes about the lamp's axis, rising, from 0 up to at most 360. One
        plane means the lamp is alike all round; planes that end at 90 or 180 are mirrored.
        [degrees]
    gamma_degrees : array_like, shape (angles,)
        Angles from the lamp's axis, rising, from 0 up to at most 180; dark beyond the last.
        [degrees]
    table : array_like, shape (planes, angles)
        Intensity. [µmol s⁻¹ sr⁻¹]

    Attributes
    ----------
    flux : float
        Photons over the whole sphere. [µmol s⁻¹]

    References
    ----------
    .. [1] CIE 121:1996, The photometry and goniophotometry of luminaires (C-γ planes), from memory.
    """

    def __init__(self, c_degrees: ArrayLike, gamma_degrees: ArrayLike, table: ArrayLike) -> None:
        self._gamma = _rising(tr("gamma"), gamma_degrees, 180.0)
        self._c, self._table = _whole_turn(_rising(tr("C"), c_degrees, 360.0), table, self._gamma)
        self.flux = self._integral()
        given.positive(tr("Distribution"), tr("flux"), self.flux, "µmol/s")

    @property
    def exponent(self) -> float | None:
        """Power of the cosine when the shape is one in closed form, else None."""
        return None

    @property
    def planes(self) -> tuple[Floats, Floats, Floats]:
        """Angles C from 0 to 360, angles gamma, and the intensities, one row for each C."""
        return self._c, self._gamma, self._table

    @cached_property
    def halves(self) -> tuple[Distribution | None, Distribution | None]:
        """The light before the lamp, and that behind it as a lamp sees it that is turned about.

        The lamp is turned about its x side, so that its y side changes its sense. None where a
        half is dark; together the fluxes are the whole one.
        """
        if self._gamma[-1] <= 90.0:
            return self, None
        if self._gamma[0] >= 90.0:
            return None, self._turned_about()
        gamma = np.union1d(self._gamma, 90.0)
        table = self._at_gamma(gamma)
        before, behind = gamma <= 90.0, gamma >= 90.0
        front = _or_none(self._c, gamma[before], table[:, before])
        back = _or_none(self._c, gamma[behind], table[:, behind])
        return front, back._turned_about() if back else None

    def _turned_about(self) -> Distribution:
        return Distribution(
            360.0 - self._c[::-1], 180.0 - self._gamma[::-1], self._table[::-1, ::-1]
        )

    def _at_gamma(self, gamma: Floats) -> Floats:
        """Return the table at other angles within its own."""
        column, along = cell(self._gamma, gamma)
        found: Floats = mix(self._table[:, column], self._table[:, column + 1], along)
        return found

    def intensity(self, c_degrees: ArrayLike, gamma_degrees: ArrayLike) -> Floats:
        """Return the intensity towards each pair of angles. [µmol s⁻¹ sr⁻¹]"""
        c = np.mod(np.asarray(c_degrees, dtype=np.float64), 360.0)
        gamma = np.asarray(gamma_degrees, dtype=np.float64)
        row, along_c = cell(self._c, c)
        column, along_gamma = cell(self._gamma, gamma)
        first = mix(self._table[row, column], self._table[row, column + 1], along_gamma)
        second = mix(self._table[row + 1, column], self._table[row + 1, column + 1], along_gamma)
        lit = (gamma >= self._gamma[0]) & (gamma <= self._gamma[-1])
        return np.where(lit, mix(first, second, along_c), 0.0)

    def _integral(self) -> float:
        """Integrate the piecewise linear table over the sphere exactly."""
        gamma = np.radians(self._gamma)
        step = np.diff(gamma)
        slope = np.diff(np.sin(gamma)) / step
        start = np.cos(gamma[:-1]) - slope
        end = slope - np.cos(gamma[1:])
        by_plane = (self._table[:, :-1] * start + self._table[:, 1:] * end).sum(axis=1)
        return float(np.trapezoid(by_plane, np.radians(self._c)))


class _CosinePower(Distribution):
    """Unit intensity on the axis that falls with a power of the cosine, dark behind."""

    def __init__(self, exponent: float) -> None:
        self._exponent = exponent
        self.flux = 2.0 * math.pi / (exponent + 1.0)

    @property
    def exponent(self) -> float:
        return self._exponent

    @property
    def planes(self) -> tuple[Floats, Floats, Floats]:
        """The shape at every degree, alike all round."""
        gamma = np.arange(91.0)
        row = self.intensity(0.0, gamma)
        return np.array([0.0, 360.0]), gamma, np.stack([row, row])

    @cached_property
    def halves(self) -> tuple[Distribution | None, Distribution | None]:
        """All of it before the lamp."""
        return self, None

    def intensity(self, c_degrees: ArrayLike, gamma_degrees: ArrayLike) -> Floats:
        gamma = np.asarray(gamma_degrees, dtype=np.float64)
        shape = np.broadcast_shapes(np.shape(c_degrees), gamma.shape)
        cosine = np.maximum(np.cos(np.radians(gamma)), 0.0)
        return np.broadcast_to(np.where(gamma <= 90.0, cosine**self._exponent, 0.0), shape)


def cosine_power(m: float) -> Distribution:
    """Return the distribution whose intensity is cos(gamma)**m, 1 on the axis and 0 behind.

    Parameters
    ----------
    m : float
        Exponent: 0 even over the half space, 1 Lambertian, larger for narrower beams.

    Returns
    -------
    Distribution
        With ``flux`` 2 pi / (m + 1).

    Raises
    ------
    InputError
        If ``m`` is negative or no number.
    """
    return _CosinePower(given.not_negative(tr("Distribution"), tr("exponent"), m))


def beam_exponent(half_angle: float) -> float:
    """Return the power of the cosine that falls to half its peak at ``half_angle``.

    Parameters
    ----------
    half_angle : float
        Angle from the axis at half the peak intensity (half the beam angle), between 0 and 90.
        [degrees]

    Returns
    -------
    float
        ln 0.5 / ln cos(half_angle).

    Raises
    ------
    InputError
        If ``half_angle`` is not between 0 and 90.
    """
    angle = given.positive(tr("Spot"), tr("half angle"), half_angle, "°")
    given.within(tr("Spot"), tr("half angle"), angle, 0.0, _WIDEST, "°")
    return math.log(0.5) / math.log(math.cos(math.radians(angle)))


def _or_none(c: Floats, gamma: Floats, table: Floats) -> Distribution | None:
    """Return a distribution, None if no light is in it."""
    return Distribution(c, gamma, table) if gamma.size > 1 and table.any() else None


def _rising(quantity: str, angles: ArrayLike, highest: float) -> Floats:
    values = np.atleast_1d(np.asarray(angles, dtype=np.float64))
    inside = values.size > 0 and values[0] >= 0 and values[-1] <= highest
    if values.ndim != 1 or not inside or not (np.diff(values) > 0).all():
        rule = tr("must rise from 0 to at most {highest}").format(highest=f"{highest:g}")
        shown = np.array2string(values, threshold=6)
        raise given.refusal(
            tr("Distribution"), quantity, shown, "°", rule, tr("sort the angles and drop doubles")
        )
    return values


def _whole_turn(c: Floats, table: ArrayLike, gamma: Floats) -> tuple[Floats, Floats]:
    """Return planes from 0 to 360 with their rows, mirrored or closed as the range asks."""
    rows = _checked_table(table, (c.size, gamma.size))
    if c.size == 1:
        return np.array([0.0, 360.0]), np.vstack([rows, rows])
    if c[0] == 0 and c[-1] == 90:
        c, rows = np.concatenate([c, 180 - c[-2::-1]]), np.vstack([rows, rows[-2::-1]])
    if c[0] == 0 and c[-1] == 180:
        return np.concatenate([c, 360 - c[-2::-1]]), np.vstack([rows, rows[-2::-1]])
    if c[-1] < 360:
        c, rows = np.append(c, c[0] + 360), np.vstack([rows, rows[:1]])
    if c[0] > 0:
        return _starting_at_zero(c, rows)
    return c, rows


def _starting_at_zero(c: Floats, rows: Floats) -> tuple[Floats, Floats]:
    """Return planes that run from ``c[0]`` a full turn on as planes from 0 to 360."""
    share = (360 - c[-2]) / (c[-1] - c[-2])
    seam = mix(rows[-2], rows[-1], share)
    return np.concatenate([[0.0], c[:-1], [360.0]]), np.vstack([seam, rows[:-1], seam])


def _checked_table(table: ArrayLike, shape: tuple[int, int]) -> Floats:
    rows = np.atleast_2d(np.asarray(table, dtype=np.float64))
    fits = rows.shape == shape and shape[1] >= 2
    if not fits or not np.isfinite(rows).all() or (rows < 0).any():
        rule = tr("must be a table of intensities, zero or more, one row per plane")
        raise given.refusal(
            tr("Distribution"), tr("table"), rows.shape, "", rule, tr("give planes × angles")
        )
    return rows


def cell(edges: Floats, values: Floats) -> tuple[Any, Floats]:
    """Return the index of the interval that holds each value and the way along it, 0 to 1."""
    index = np.clip(np.searchsorted(edges, values, side="right") - 1, 0, edges.size - 2)
    way = (values - edges[index]) / (edges[index + 1] - edges[index])
    return index, np.clip(way, 0.0, 1.0)


def mix(first: Floats, second: Floats, share: Any) -> Any:
    """Return the value ``share`` of the way from the first to the second."""
    return first + (second - first) * share
