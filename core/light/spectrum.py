"""From spectra to photons: per kilolux, per joule, and over a day.

Holds the eye's sensitivity and the constants of nature; lamps and maps are elsewhere.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from core.errors import InputError
from core.language import tr
from core.light import given
from core.light.given import Floats

PLANCK = 6.62607015e-34
"""[J s] SI Brochure, 9th edition, 2019 (exact)."""
LIGHT_SPEED = 299_792_458.0
"""[m/s] SI Brochure, 9th edition, 2019 (exact)."""
AVOGADRO = 6.02214076e23
"""[1/mol] SI Brochure, 9th edition, 2019 (exact)."""

_JOULE_METRES_PER_MOL = PLANCK * LIGHT_SPEED * AVOGADRO
_MICROMOLES = 1e6
_LUMENS_PER_WATT = 683.0
_FIRST, _LAST = 400.0, 700.0
"""Band in which photons count for plants. [nm] ANSI/ASABE S640."""

_EYE_NM = np.arange(380.0, 781.0, 5.0)
_EYE = np.array(
    [3.9e-05, 6.4e-05, 0.00012, 0.000217, 0.000396, 0.00064, 0.00121, 0.00218, 0.004, 0.0073,
     0.0116, 0.01684, 0.023, 0.0298, 0.038, 0.048, 0.06, 0.0739, 0.09098, 0.1126, 0.13902, 0.1693,
     0.20802, 0.2586, 0.323, 0.4073, 0.503, 0.6082, 0.71, 0.7932, 0.862, 0.91485, 0.954, 0.9803,
     0.99495, 1.0, 0.995, 0.9786, 0.952, 0.9154, 0.87, 0.8163, 0.757, 0.6949, 0.631, 0.5668, 0.503,
     0.4412, 0.381, 0.321, 0.265, 0.217, 0.175, 0.1382, 0.107, 0.0816, 0.061, 0.04458, 0.032,
     0.0232, 0.017, 0.01192, 0.00821, 0.005723, 0.004102, 0.002929, 0.002091, 0.001484, 0.001047,
     0.00074, 0.00052, 0.0003611, 0.0002492, 0.0001719, 0.00012, 8.48e-05, 6e-05, 4.24e-05, 3e-05,
     2.12e-05, 1.499e-05]
)  # fmt: skip
"""Sensitivity of the day-adapted eye at ``_EYE_NM``: CIE 1924 V(λ), ISO/CIE 11664-1 table 1."""


def photons_per_kilolux(wavelength_nm: ArrayLike, spectrum: ArrayLike) -> float:
    """Return the photons from 400 to 700 nm that come with one kilolux.

    Parameters
    ----------
    wavelength_nm : array_like, shape (n,)
        Rising. [nm]
    spectrum : array_like, shape (n,)
        Energy per wavelength in any scale, linear between the given wavelengths; a single pair
        is a line spectrum.

    Returns
    -------
    float
        [µmol m⁻² s⁻¹ per klx], the same as µmol s⁻¹ per kilolumen.

    Raises
    ------
    InputError
        If the spectrum is no spectrum, or holds nothing that can be seen.

    References
    ----------
    .. [1] CIE 018:2019, The basis of physical photometry, 683 lm/W.
    """
    nm, energy = _checked(wavelength_nm, spectrum)
    photons = _photons(nm, energy)
    seen = _sum(*_weighted(nm, energy, _EYE_NM, _EYE))
    if seen <= 0:
        raise _nothing(tr("light that can be seen"))
    return 1000.0 * photons / (_LUMENS_PER_WATT * seen)


def photons_per_joule(wavelength_nm: ArrayLike, spectrum: ArrayLike) -> float:
    """Return the photons from 400 to 700 nm in one joule of a spectrum's radiation.

    Parameters
    ----------
    wavelength_nm : array_like, shape (n,)
        Rising. [nm]
    spectrum : array_like, shape (n,)
        Energy per wavelength in any scale, linear between the given wavelengths; a single pair
        is a line spectrum. All of it counts as energy, also outside 400 to 700 nm.

    Returns
    -------
    float
        [µmol/J]

    Raises
    ------
    InputError
        If the spectrum is no spectrum, or holds no energy.
    """
    nm, energy = _checked(wavelength_nm, spectrum)
    total = _sum(nm, energy)
    if total <= 0:
        raise _nothing(tr("energy"))
    return _photons(nm, energy) / total


def dli(ppfd: ArrayLike, hours: float) -> Floats | float:
    """Return the daily light integral.

    Parameters
    ----------
    ppfd : array_like
        Photon flux density while lit. [µmol m⁻² s⁻¹]
    hours : float
        Hours lit per day, 0 to 24. [h]

    Returns
    -------
    float, or ndarray of the shape of ``ppfd``
        [mol m⁻² d⁻¹]

    Raises
    ------
    InputError
        If ``hours`` is outside 0 to 24, or a value of ``ppfd`` is negative.

    References
    ----------
    .. [1] ANSI/ASABE S640, Quantities and units of optical radiation for plants.
    """
    lit = given.within(tr("Daily light"), tr("hours"), hours, 0, 24, "h")
    values = np.asarray(ppfd, dtype=np.float64)
    if not np.isfinite(values).all() or (values < 0).any():
        given.not_negative(tr("Daily light"), "PPFD", values.min(), "µmol/(m² s)")
    result = values * lit * 3600.0 / _MICROMOLES
    return float(result) if result.ndim == 0 else result


def _photons(nm: Floats, energy: Floats) -> float:
    """Return µmol per unit of energy-scale from 400 to 700 nm."""
    band = np.array([_FIRST, _LAST])
    grid, inside = _weighted(nm, energy, band, band * 1e-9)
    return _sum(grid, inside) * _MICROMOLES / _JOULE_METRES_PER_MOL


def _weighted(
    nm: Floats, energy: Floats, weight_nm: Floats, weight: Floats
) -> tuple[Floats, Floats]:
    """Return spectrum × weight on all wavelengths of both, within the weight's range."""
    if nm.size == 1:
        return nm, energy * np.interp(nm, weight_nm, weight, left=0.0, right=0.0)
    grid = np.union1d(nm, weight_nm)
    grid = grid[(grid >= weight_nm[0]) & (grid <= weight_nm[-1])]
    return grid, np.interp(grid, nm, energy, left=0.0, right=0.0) * np.interp(
        grid, weight_nm, weight
    )


def _sum(nm: Floats, values: Floats) -> float:
    return float(values[0]) if nm.size == 1 else float(np.trapezoid(values, nm))


def _checked(wavelength_nm: ArrayLike, spectrum: ArrayLike) -> tuple[Floats, Floats]:
    nm = np.atleast_1d(np.asarray(wavelength_nm, dtype=np.float64))
    energy = np.atleast_1d(np.asarray(spectrum, dtype=np.float64))
    if nm.ndim != 1 or nm.shape != energy.shape or not nm.size:
        rule = tr("must be as many as wavelengths")
        raise given.refusal(
            tr("Spectrum"), tr("values"), energy.size, "", rule, tr("give one value for each")
        )
    if not (np.isfinite(nm).all() and (nm > 0).all() and (np.diff(nm) > 0).all()):
        rule = tr("must rise")
        shown = np.array2string(nm, threshold=6)
        raise given.refusal(
            tr("Spectrum"), tr("wavelengths"), shown, "nm", rule, tr("sort them and drop doubles")
        )
    if not np.isfinite(energy).all() or (energy < 0).any():
        given.not_negative(tr("Spectrum"), tr("lowest value"), energy.min())
    return nm, energy


def _nothing(what: str) -> InputError:
    rule, way_out = tr("must be above zero"), tr("check wavelengths and values")
    return given.refusal(tr("Spectrum"), what, 0, "", rule, way_out)
