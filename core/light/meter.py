"""What a meter would read: from photons to lux and back, for a kind of light.

Kinds of light are in `core.light.output`; a spectrum of one's own makes one more here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from core.language import tr
from core.light import given
from core.light.given import Floats
from core.light.output import FROM_READING, LampLight
from core.light.spectrum import photons_per_kilolux
from core.light.spectrum_file import Spectrum

OWN_SPECTRUM = 0.03
"""Relative uncertainty of photons per kilolux from one's own spectrum. Assumed, no source. [0–1]"""
LUX_METER = FROM_READING
"""Relative uncertainty of a lux meter that was checked. [0–1]"""
PHONE = 0.30
"""Relative uncertainty of a phone without a diffuser. Common practice, no source. [0–1]"""


@dataclass(frozen=True)
class MeterReading:
    """What a lux meter would show.

    Attributes
    ----------
    lux : float
    low, high : float
        Ends of its range: uncertainty of the light, of its kind and of the meter. [lx]
    assumption : str
        The kind of light it holds for, in words for the grower.
    """

    lux: float
    low: float
    high: float
    assumption: str


def light_from_spectrum(spectrum: Spectrum, name: str) -> LampLight:
    """Return a spectrum of one's own as a kind of light.

    Raises
    ------
    InputError
        If nothing in the spectrum can be seen: lux then says nothing of its photons.
    """
    factor = photons_per_kilolux(spectrum.wavelength, spectrum.power)
    return LampLight(name, factor, OWN_SPECTRUM, "Own spectrum, integrated with CIE 1924 V(λ)")


def lux_of(ppfd: ArrayLike, light: LampLight) -> Floats | float:
    """Return the illuminance that comes with a photon flux density.

    Parameters
    ----------
    ppfd : array_like
        Photons from 400 to 700 nm. [µmol m⁻² s⁻¹]
    light : LampLight
        The kind of light.

    Returns
    -------
    float, or ndarray of the shape of ``ppfd``
        [lx]

    Raises
    ------
    InputError
        If a value of ``ppfd`` is negative or no number.
    """
    return _scaled("PPFD", ppfd, "µmol/(m² s)", 1000.0 / light.per_kilolux)


def ppfd_of(lux: ArrayLike, light: LampLight) -> Floats | float:
    """Return the photon flux density that comes with an illuminance.

    Parameters
    ----------
    lux : array_like
        [lx]
    light : LampLight
        The kind of light.

    Returns
    -------
    float, or ndarray of the shape of ``lux``
        [µmol m⁻² s⁻¹]

    Raises
    ------
    InputError
        If a value of ``lux`` is negative or no number.
    """
    return _scaled(tr("illuminance"), lux, "lx", light.per_kilolux / 1000.0)


def meter_reads(
    ppfd: float, light: LampLight, *, uncertainty: float = 0.0, meter: float = LUX_METER
) -> MeterReading:
    """Return what a lux meter or a phone would read where this much light falls.

    Parameters
    ----------
    ppfd : float
        [µmol m⁻² s⁻¹]
    light : LampLight
        The kind of light there.
    uncertainty : float
        Of ``ppfd``, relative. [0–1]
    meter : float
        Of the meter, relative: ``LUX_METER`` or ``PHONE``. [0–1]
    """
    lux = 1000.0 * given.not_negative(tr("Meter"), "PPFD", ppfd, "µmol/(m² s)") / light.per_kilolux
    parts = (
        given.within(tr("Meter"), tr("uncertainty"), uncertainty, 0, 1),
        given.within(tr("Meter"), tr("uncertainty"), meter, 0, 1),
        light.uncertainty,
    )
    share = math.hypot(*parts)
    name = tr("Light taken as {name}").format(name=tr(light.name))
    return MeterReading(lux, lux * max(1 - share, 0.0), lux * (1 + share), name)


def _scaled(quantity: str, value: ArrayLike, unit: str, factor: float) -> Floats | float:
    try:
        values = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        given.number(tr("Meter"), quantity, value, unit)
        raise
    wrong = ~np.isfinite(values) | (values < 0)
    if wrong.any():
        given.not_negative(tr("Meter"), quantity, values[wrong].flat[0], unit)
    result = values * factor
    return float(result) if result.ndim == 0 else result
