"""What a lamp of the design gives: its flux, its kind of light and how it spreads.

Where a lamp hangs and what shades it is in `core.light.from_design`; reading files that lamps
were measured in is in `core.light.photometry`.
"""

from __future__ import annotations

from functools import lru_cache

from core.errors import InputError
from core.language import tr
from core.light.distribution import Distribution, beam_exponent, cosine_power
from core.light.measured import distribution_of, spectrum_of
from core.light.meter import light_from_spectrum
from core.light.output import (
    LIGHTS,
    LampLight,
    PhotonFlux,
    flux_from_lumens,
    flux_from_ppf,
    flux_from_reading,
    flux_from_watts,
)
from core.light.scene import Lamp as Source
from core.model import (
    OWN,
    FromFlux,
    FromLumens,
    FromReading,
    FromWatts,
    Lamp,
    Measured,
    OwnSpectrum,
)

_EARLIER = {
    "white-led-2700k": "led-warm",
    "white-led-3000k": "led-warm",
    "white-led-4000k": "led-neutral",
    "white-led-5000k": "led-cool",
    "white-led-6500k": "led-cool",
}
"""Names that designs may hold for kinds of light, and the keys they stand for."""
USUAL_LIGHT = "led-neutral"
"""Kind of light that is taken where none is said."""


def face(lamp: Lamp) -> tuple[float, float]:
    """Return the lit face's sides: a board's rectangle, a tube's line, a spot's point. [m]"""
    sides = {"board": (lamp.width, lamp.depth), "tube": (lamp.width, 0.0)}
    return sides.get(lamp.form, (0.0, 0.0))


def spread(lamp: Lamp) -> Distribution | None:
    """Return how a lamp spreads its light: as measured, a spot's beam, or None for evenly."""
    if lamp.measured is not None:
        return distribution_of(lamp.measured)
    return _beam(lamp.half_angle) if lamp.form == "spot" else None


def _shines_ahead(measured: Measured) -> bool:
    """Say whether a measured lamp sends any light straight ahead."""
    return bool(distribution_of(measured).intensity(0.0, 0.0) > 0)


@lru_cache(maxsize=64)
def _beam(half_angle: float) -> Distribution:
    return cosine_power(beam_exponent(half_angle))


def photon_flux(lamp: Lamp) -> PhotonFlux:
    """Return the photon flux of one lamp at full power, by whatever the grower entered."""
    output = lamp.output
    if isinstance(output, FromWatts):
        return flux_from_watts(lamp.watts, output.efficacy, assumed=lamp.catalogue is None)
    if isinstance(output, FromFlux):
        return flux_from_ppf(output.ppf)
    light, assumed = kind_of_light(lamp)
    if isinstance(output, FromLumens):
        return _with_words(flux_from_lumens(output.lumens, light), assumed)
    if output.ppfd is None and output.lux is None:
        return PhotonFlux(0.0, 0.0, tr("No meter reading is entered, so no light is counted"))
    if lamp.measured is not None and not _shines_ahead(lamp.measured):
        return PhotonFlux(
            0.0, 0.0, tr("It sends nothing straight ahead, so a reading there tells nothing")
        )
    found = _flux_by_reading(output, face(lamp), spread(lamp), light)
    return found if output.ppfd is not None else _with_words(found, assumed)


@lru_cache(maxsize=256)
def _flux_by_reading(
    output: FromReading,
    sides: tuple[float, float],
    shape: Distribution | None,
    light: LampLight,
) -> PhotonFlux:
    lamp = Source((0.0, 0.0, 0.0), sides, 1.0, distribution=shape)
    if output.ppfd is not None:
        return flux_from_reading(lamp, output.distance, ppfd=output.ppfd)
    return flux_from_reading(lamp, output.distance, lux=output.lux, light=light)


def kind_of_light(lamp: Lamp) -> tuple[LampLight, str]:
    """Return a lamp's kind of light, and what had to be taken for granted about it."""
    name = lamp.output.spectrum
    if name == OWN and lamp.own_spectrum is not None:
        return _own_or_usual(lamp.own_spectrum)
    if name is None:
        usual = LIGHTS[USUAL_LIGHT]
        return usual, tr("its light is taken as {name}").format(name=tr(usual.name))
    key = light_key(name)
    if key in LIGHTS:
        return LIGHTS[key], ""
    return LIGHTS[USUAL_LIGHT], tr("the spectrum “{name}” is not known here").format(name=name)


def _own_or_usual(own: OwnSpectrum) -> tuple[LampLight, str]:
    try:
        return own_light(own), ""
    except InputError:
        return LIGHTS[USUAL_LIGHT], tr("nothing in its own spectrum can be seen")


def light_key(spectrum: str) -> str:
    """Return the key of a kind of light by any name that a design may hold for it."""
    return _EARLIER.get(spectrum, spectrum)


@lru_cache(maxsize=64)
def own_light(own: OwnSpectrum) -> LampLight:
    """Return a lamp's own spectrum as a kind of light.

    Raises
    ------
    InputError
        If nothing in it can be seen.
    """
    return light_from_spectrum(spectrum_of(own), own.file)


def _with_words(flux: PhotonFlux, more: str) -> PhotonFlux:
    words = "; ".join(part for part in (flux.assumption, more) if part)
    return PhotonFlux(flux.value, flux.uncertainty, words)
