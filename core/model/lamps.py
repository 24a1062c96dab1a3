"""Lamps: boards, tubes and spots, and how much light each gives.

How the light spreads is worked out in `core.light`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from core.model.base import (
    Angle,
    Current,
    Extent,
    Fraction,
    Frozen,
    Illuminance,
    Length,
    LuminousFlux,
    Name,
    PhotonEfficacy,
    PhotonFlux,
    PhotonFluxDensity,
)
from core.model.electric import Powered
from core.model.measured import Measured, OwnSpectrum

OWN = "own"
"""The spectrum that stands in the lamp itself."""


class FromWatts(Frozen):
    """Light worked out from the lamp's watts and an assumed photon efficacy. [µmol/J]

    ``spectrum`` only matters for what a lux meter would read; None is not said.
    """

    basis: Literal["watts"] = "watts"
    efficacy: PhotonEfficacy = 2.2
    spectrum: Name | None = None


class FromFlux(Frozen):
    """The maker's photon flux for one lamp at full power. [µmol/s]

    ``spectrum`` only matters for what a lux meter would read; None is not said.
    """

    basis: Literal["ppf"] = "ppf"
    ppf: PhotonFlux
    spectrum: Name | None = None


class FromLumens(Frozen):
    """The maker's lumens for one lamp, with the spectrum that turns them into photons."""

    basis: Literal["lumens"] = "lumens"
    lumens: LuminousFlux
    spectrum: Name = "white-led-4000k"


class FromReading(Frozen):
    """One meter reading ``distance`` below the lamp's middle at full power, nothing between."""

    basis: Literal["reading"] = "reading"
    distance: Extent
    ppfd: PhotonFluxDensity | None = None
    lux: Illuminance | None = None
    spectrum: Name = "white-led-4000k"


Output = Annotated[FromWatts | FromFlux | FromLumens | FromReading, Field(discriminator="basis")]


class Lamp(Powered):
    """One lamp, or a row of ``count`` equal tubes side by side with ``spacing`` between middles.

    ``width`` runs along the lamp, ``depth`` across one of them; ``watts``, ``mass`` and the output
    are for one. ``tilt`` turns it about its long axis, positive towards the back. ``half_angle``
    is where a spot's intensity has fallen to half; ``measured`` goes before it and says how any
    form of lamp spreads its light. ``own_spectrum`` is the light of an output whose ``spectrum`` is
    `OWN`. ``chain_most`` and ``chain_current`` are the
    maker's limits for lamps linked in series.
    """

    kind: Literal["lamp"] = "lamp"
    form: Literal["board", "tube", "spot"]
    output: Output = FromWatts()
    measured: Measured | None = None
    own_spectrum: OwnSpectrum | None = None
    dimming: Fraction = 1.0
    tilt: Angle = 0.0
    count: Annotated[int, Field(ge=1, le=60)] = 1
    spacing: Length = 0.1
    half_angle: Annotated[float, Field(gt=1, le=60)] = 60.0
    driver_inside: bool = True
    chain_most: Annotated[int, Field(ge=1, le=100)] | None = None
    chain_current: Current | None = None
    surface_hot: bool = False

    @property
    def own_mass(self) -> float:
        """Mass of all lamps of the row. [kg]"""
        return self.mass * self.count

    @property
    def extent(self) -> tuple[float, float, float]:
        return (self.width, self.depth + (self.count - 1) * self.spacing, self.height)
