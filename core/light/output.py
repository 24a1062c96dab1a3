"""How much light a lamp gives: its photon flux from whatever number the grower has.

Every way in states its relative uncertainty; where the light goes is computed elsewhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.language import tr
from core.light import given
from core.light.direct import direct_rows
from core.light.obstacles import boxes
from core.light.receivers import receivers
from core.light.scene import Lamp

FROM_WATTS, FROM_TABLE, FROM_READING = 0.10, 0.05, 0.05
"""Relative uncertainty of a flux from watts, from a measured value, from a meter reading. [0–1]"""


@dataclass(frozen=True)
class LampLight:
    """A kind of light, by which lumens and lux become photons.

    Attributes
    ----------
    name : str
        In English; shown to the grower in the language in use.
    per_kilolux : float
        Photons from 400 to 700 nm with each kilolux. [µmol m⁻² s⁻¹ per klx]
    uncertainty : float
        Of ``per_kilolux``, relative. [0–1]
    source : str
    """

    name: str
    per_kilolux: float
    uncertainty: float
    source: str


_CIE = "CIE 015:2018, illuminant {}, integrated with CIE 1924 V(λ)"
_TABLES = "Thimijan and Heins, HortScience 18(6), 1983 (from a secondary copy)"

LIGHTS = {
    "led-warm": LampLight(
        "warm white LED, 2,700 to 3,000 K", 14.8, 0.05, _CIE.format("LED-B1, LED-B2")
    ),
    "led-neutral": LampLight("neutral white LED, 4,000 K", 14.3, 0.05, _CIE.format("LED-B3")),
    "led-cool": LampLight(
        "cool white LED, 5,000 to 6,500 K", 14.2, 0.05, _CIE.format("LED-B4, LED-B5")
    ),
    "daylight": LampLight("daylight", 18.02, 0.01, _CIE.format("D65")),
    "sun": LampLight("sun and sky", 1000 / 54, 0.10, _TABLES),
    "fluorescent": LampLight("cool white fluorescent tube", 1000 / 74, 0.10, _TABLES),
    "sodium": LampLight("high-pressure sodium", 1000 / 82, 0.10, _TABLES),
    "incandescent": LampLight("incandescent", 1000 / 50, 0.10, _TABLES),
}
"""Kinds of light by key. A light that is not here needs its own spectrum, or the lamp's PPF."""


@dataclass(frozen=True)
class PhotonFlux:
    """A lamp's photon flux with its relative uncertainty.

    Attributes
    ----------
    value : float
        PPF. [µmol s⁻¹]
    uncertainty : float
        Relative. [0–1]
    assumption : str
        What was taken for granted, in words for the grower; empty if nothing was.
    """

    value: float
    uncertainty: float
    assumption: str = ""


def flux_from_watts(watts: float, efficacy: float, *, assumed: bool = True) -> PhotonFlux:
    """Return the flux of a lamp by its electrical power.

    Parameters
    ----------
    watts : float
        Power at the plug. [W]
    efficacy : float
        Photons per energy. [µmol/J]
    assumed : bool
        False if the efficacy is the lamp's own rather than an assumption.

    Returns
    -------
    PhotonFlux
        Uncertain by 10 %.
    """
    power = given.not_negative(tr("Lamp"), tr("power"), watts, "W")
    per_joule = given.positive(tr("Lamp"), tr("efficacy"), efficacy, "µmol/J")
    words = tr("Efficacy taken as {value} µmol/J").format(value=f"{per_joule:g}") if assumed else ""
    return PhotonFlux(power * per_joule, FROM_WATTS, words)


def flux_from_ppf(ppf: float) -> PhotonFlux:
    """Return the flux of a lamp whose PPF was measured, uncertain by 5 %. [µmol s⁻¹]"""
    return PhotonFlux(given.not_negative(tr("Lamp"), "PPF", ppf, "µmol/s"), FROM_TABLE)


def flux_from_lumens(lumens: float, light: LampLight) -> PhotonFlux:
    """Return the flux of a lamp by its lumens and its kind of light.

    Parameters
    ----------
    lumens : float
        [lm]
    light : LampLight
        One of ``LIGHTS``, or one made from the lamp's own spectrum.

    Returns
    -------
    PhotonFlux
        Uncertain by 5 % for the lumens and by the kind of light, root of the squares.
    """
    flux = given.not_negative(tr("Lamp"), tr("luminous flux"), lumens, "lm") / 1000.0
    uncertainty = math.hypot(FROM_TABLE, light.uncertainty)
    return PhotonFlux(flux * light.per_kilolux, uncertainty, _light_in_words(light))


def flux_from_reading(
    lamp: Lamp, distance: float, *, ppfd: float | None = None, lux: float | None = None,
    light: LampLight | None = None, meter: float = FROM_READING,
) -> PhotonFlux:  # fmt: skip
    """Return the flux that gives one meter reading before the lamp's middle.

    Parameters
    ----------
    lamp : Lamp
        Its size and distribution matter; its own flux, place and direction do not.
    distance : float
        From the lit face to the meter. [m]
    ppfd : float, optional
        The reading. [µmol m⁻² s⁻¹]
    lux : float, optional
        The reading instead of ``ppfd``; needs ``light``. [lx]
    light : LampLight, optional
        The kind of light, for a reading in lux.
    meter : float
        Relative uncertainty of the meter, 0 to 5 %. [0–1]

    Returns
    -------
    PhotonFlux

    Raises
    ------
    InputError
        If not exactly one reading is given, a lux reading comes without its light, the distance
        is not above zero, or the lamp sends nothing straight ahead.
    """
    away = given.positive(tr("Lamp"), tr("distance"), distance, "m")
    uncertainty = given.within(tr("Meter"), tr("uncertainty"), meter, 0, 1)
    per_flux = _before_middle(lamp, away)
    given.positive(tr("Lamp"), tr("light straight ahead"), per_flux, "µmol/(m² s)")
    if (ppfd is None) == (lux is None):
        rule, way_out = tr("must be one"), tr("enter either PPFD or lux")
        count = 0 if ppfd is None else 2
        raise given.refusal(tr("Lamp"), tr("number of readings"), count, "", rule, way_out)
    if ppfd is not None:
        reading = given.not_negative(tr("Lamp"), "PPFD", ppfd, "µmol/(m² s)")
        return PhotonFlux(reading / per_flux, uncertainty)
    photons = _photons_of(lux, light)
    both = math.hypot(uncertainty, photons.uncertainty)
    return PhotonFlux(photons.value / per_flux, both, photons.assumption)


def _photons_of(lux: float | None, light: LampLight | None) -> PhotonFlux:
    """Return a reading in lux as PPFD. [µmol m⁻² s⁻¹]"""
    reading = given.not_negative(tr("Lamp"), tr("reading"), lux, "lx") / 1000.0
    if light is None:
        rule, way_out = tr("needs the kind of light"), tr("choose the lamp's light or enter PPFD")
        raise given.refusal(tr("Lamp"), tr("reading"), lux, "lx", rule, way_out)
    return PhotonFlux(reading * light.per_kilolux, light.uncertainty, _light_in_words(light))


def _before_middle(lamp: Lamp, distance: float) -> float:
    """Return the light of one µmol/s before the lamp's middle, facing it. [µmol m⁻² s⁻¹]"""
    centred = Lamp((0, 0, 0), lamp.size, 1.0, (0, 0, -1), 0.0, lamp.distribution)
    meter = receivers([np.array([[0.0, 0.0, -distance]])])
    return float(direct_rows([centred], meter, boxes([], []))[0, 0])


def _light_in_words(light: LampLight) -> str:
    return tr("Light taken as {name}, {value} µmol/(m² s) per klx").format(
        name=tr(light.name), value=f"{light.per_kilolux:.3g}"
    )
