"""From a measured lamp's lumens to its photons, never by a guess.

A photometric file knows lumens alone; the kind of light must come from the grower.
"""

from __future__ import annotations

from core.language import tr
from core.light import given
from core.light.output import LampLight, PhotonFlux, flux_from_lumens, flux_from_ppf
from core.light.photometry.record import PhotometricFile


def photon_flux_of(
    file: PhotometricFile, *, light: LampLight | None = None, ppf: float | None = None
) -> PhotonFlux:
    """Return the photon flux of a lamp that a photometric file describes.

    Parameters
    ----------
    file : PhotometricFile
    light : LampLight, optional
        The lamp's kind of light, one of ``LIGHTS`` or one made from its spectrum.
    ppf : float, optional
        The lamp's own photon flux; needs no kind of light. [µmol s⁻¹]

    Raises
    ------
    InputError
        If neither is given: lumens alone do not say how many photons there are.
    """
    if ppf is not None:
        return flux_from_ppf(ppf)
    if light is not None:
        return flux_from_lumens(file.lumens, light)
    quantity, rule = tr("luminous flux"), tr("does not tell photons without the kind of light")
    way_out = tr("choose the lamp's light, load its spectrum, or enter its PPF")
    raise given.refusal(tr("Lamp"), quantity, f"{file.lumens:.4g}", "lm", rule, way_out)
