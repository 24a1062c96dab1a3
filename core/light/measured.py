"""Between measured tables as the design keeps them and as the engine reads them.

The records are `core.model`'s; files are read in `core.light.photometry` and `spectrum_file`.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

import numpy as np

from core.language import tr
from core.light.distribution import Distribution
from core.light.given import Floats
from core.light.photometry.record import PhotometricFile
from core.light.source import plain
from core.light.spectrum_file import Spectrum
from core.model import Measured, OwnSpectrum, build
from core.model.measured import FULL, MOST_ROWS, MOST_VALUES, numbers

_MOST_ANGLES = 721
"""Most angles of one kind that are kept as they are: every half degree all round."""
_MOST_LUMENS = 1e6
"""Largest flux that a design holds. [lm]"""
_MOST_PLANES, _MOST_GAMMA = 73, 181
"""Angles to which a table is thinned that holds more values than a design keeps."""
_NARROW, _WIDE = 300.0, 1100.0
"""Wavelengths between which a long spectrum is kept: all that counts here, and some more. [nm]"""
_LONGEST_NAME = 80
_DECIMALS = 4


def measured_from(file: PhotometricFile, name: str) -> Measured:
    """Return the distribution of a photometric file as a design keeps it.

    Parameters
    ----------
    file : PhotometricFile
    name : str
        Of the file; kept as words.

    Notes
    -----
    Values are kept to a ten-thousandth of the highest. A table of more than `MOST_VALUES` values
    is thinned to every 5° of C and every 1° of gamma, see `is_long`. The plane C0 is laid across
    the lamp where the lit part is longer that way, so that its length lies along the lamp.
    """
    c, gamma, table = thinned(*symmetric(*file.distribution.planes))
    along, across = file.size[0], file.size[1]
    fields = {
        "file": _name(name),
        "c": _decimals(c),
        "gamma": _decimals(gamma),
        "table": _shares(table.ravel()),
        "turn": 1 if across > along else 0,
        "lumens": min(file.lumens, _MOST_LUMENS),
        "opening": (along, across)
        if min(along, across) > 0 and max(along, across) <= 100
        else None,
    }
    return build(Measured, tr("Photometric file"), fields)


@lru_cache(maxsize=64)
def distribution_of(measured: Measured) -> Distribution:
    """Return a kept table as a distribution in the lamp's own directions, of any scale."""
    c, gamma = np.array(numbers(measured.c)), np.array(numbers(measured.gamma))
    table = np.array(numbers(measured.table)).reshape(c.size, gamma.size)
    found = Distribution(c, gamma, table)
    return _turned(found, 90.0 * measured.turn) if measured.turn else found


def _turned(distribution: Distribution, by: float) -> Distribution:
    """Return a distribution turned about its axis, anticlockwise in plan. [degrees]"""
    c, gamma, table = distribution.planes
    turned = (c[:-1] + by) % 360.0
    order = np.argsort(turned)
    return Distribution(turned[order], gamma, table[:-1][order])


def upward_share(distribution: Distribution) -> float:
    """Return the share of the light that leaves a lamp behind its lit face. [0–1]"""
    behind = distribution.halves[1]
    return behind.flux / distribution.flux if behind else 0.0


def symmetric(c: Floats, gamma: Floats, table: Floats) -> tuple[Floats, Floats, Floats]:
    """Return the fewest planes from which those from 0 to 360 follow by symmetry."""
    if (table == table[0]).all():
        return np.zeros(1), gamma, table[:1]
    for end in (90.0, 180.0):
        kept = c <= end
        if c[kept][-1] == end and table[kept].any():
            again = Distribution(c[kept], gamma, table[kept]).planes
            if np.array_equal(again[0], c) and np.array_equal(again[2], table):
                return c[kept], gamma, table[kept]
    return c, gamma, table


def is_long(c: Floats, gamma: Floats) -> bool:
    """Say whether a table of these angles holds more than a design keeps."""
    return c.size * gamma.size > MOST_VALUES or max(c.size, gamma.size) > _MOST_ANGLES


def thinned(c: Floats, gamma: Floats, table: Floats) -> tuple[Floats, Floats, Floats]:
    """Return a table with no more values than a design keeps, read at fewer angles."""
    if not is_long(c, gamma):
        return c, gamma, table
    whole = Distribution(c, gamma, table)
    fewer_c = np.linspace(c[0], c[-1], min(c.size, _MOST_PLANES))
    fewer = np.linspace(gamma[0], gamma[-1], min(gamma.size, _MOST_GAMMA))
    return fewer_c, fewer, whole.intensity(fewer_c[:, None], fewer[None, :])


def own_spectrum_from(spectrum: Spectrum, name: str) -> OwnSpectrum:
    """Return a spectrum as a design keeps it; long ones are thinned, their energy kept."""
    nm, power = _fewer_wavelengths(spectrum.wavelength, spectrum.power)
    fields = {"file": _name(name), "wavelength": _decimals(nm), "power": _shares(power)}
    return build(OwnSpectrum, tr("Spectrum"), fields)


def spectrum_of(own: OwnSpectrum) -> Spectrum:
    """Return a kept spectrum."""
    return Spectrum(np.array(numbers(own.wavelength)), np.array(numbers(own.power)))


def _fewer_wavelengths(nm: Floats, power: Floats) -> tuple[Floats, Floats]:
    if nm.size <= MOST_ROWS:
        return nm, power
    grid = np.linspace(max(nm[0], _NARROW), min(nm[-1], _WIDE), MOST_ROWS // 2)
    edges = np.concatenate([grid[:1], (grid[1:] + grid[:-1]) / 2, grid[-1:]])
    summed = np.concatenate([[0.0], np.cumsum(np.diff(nm) * (power[1:] + power[:-1]) / 2)])
    return grid, np.diff(np.interp(edges, nm, summed)) / np.diff(edges)


def _decimals(values: Iterable[float]) -> str:
    return " ".join(f"{round(float(value), _DECIMALS):.10g}" for value in values)


def _shares(values: Floats) -> str:
    return " ".join(map(str, np.rint(values / values.max() * FULL).astype(int).tolist()))


def _name(name: str) -> str:
    return plain(name)[:_LONGEST_NAME] or "?"
