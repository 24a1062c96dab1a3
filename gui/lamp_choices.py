"""What can be chosen about a lamp's light, in the form and where a file is taken over: in words.

Kinds of light and fluxes are `core.light`'s; nothing here is a widget.
"""

from __future__ import annotations

from typing import Any

from core.language import tr
from core.light.lamp_light import light_key
from core.light.output import LIGHTS, PhotonFlux
from core.model import OWN, Lamp, OwnSpectrum
from core.units import show

FROM_FILE = "spectrum from a file"
"""The option that asks for a file with a spectrum."""
DISTRIBUTION = "distribution from a file"
"""What a form asks for where a photometric file is wanted."""

TURNS = (
    (0, "along the lamp"),
    (1, "across it, to the back"),
    (2, "along it, the other way"),
    (3, "across it, to the front"),
)
"""Where the plane C0 of a measured lamp may lie, by quarter turns."""


def kinds_of_light(own: OwnSpectrum | None, now: str | None) -> list[tuple[Any, str]]:
    """Return the kinds of light to choose from, as (key, words), with what is chosen now."""
    found: list[tuple[Any, str]] = [(key, tr(light.name)) for key, light in LIGHTS.items()]
    if own is not None:
        found.append((OWN, tr("as in ‘{file}’").format(file=own.file)))
    if now is not None and now not in dict(found):
        found.append((now, now))
    return [*found, (FROM_FILE, tr("From a file…"))]


def chosen_light(lamp: Lamp) -> str | None:
    """Return the key of the kind of light that a lamp has, as `kinds_of_light` lists it."""
    spectrum = lamp.output.spectrum
    return None if spectrum is None else light_key(spectrum)


def turns() -> list[tuple[int, str]]:
    """Return where the plane C0 may lie, as (quarter turns, words)."""
    return [(turn, tr(words)) for turn, words in TURNS]


def flux_words(flux: PhotonFlux, system: str) -> str:
    """Return a flux with how sure it is and what was taken: "66 µmol/s, ± 10 %. Efficacy …"."""
    words = tr("Comes to {flux}, ± {off}").format(
        flux=show(flux.value, "photon_flux", system),
        off=show(round(flux.uncertainty, 2), "fraction", system),
    )
    return f"{words}. {flux.assumption}." if flux.assumption else f"{words}."
