"""What a photometric file says, in SI and in the lamp's own directions.

Holds the records alone; reading them from text is done by the readers beside it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from core.light.distribution import Distribution


class Opening(StrEnum):
    """Shape of the part of a lamp that gives light; C0 is the plane of that name."""

    POINT = "point"
    LINE = "line"
    RECTANGLE = "rectangle"
    BOX = "box with lit sides"
    DISC = "disc"
    ELLIPSE = "ellipse"
    UPRIGHT_CYLINDER = "upright cylinder"
    UPRIGHT_ELLIPTIC_CYLINDER = "upright elliptic cylinder"
    CYLINDER_ALONG = "cylinder lying along C0"
    CYLINDER_ACROSS = "cylinder lying across C0"
    SPHERE = "sphere"
    SPHEROID = "spheroid"
    UPRIGHT_DISC = "upright disc facing C0"
    OTHER = "other"


@dataclass(frozen=True)
class LampSet:
    """One way to equip a luminaire.

    Attributes
    ----------
    count : int
        Number of lamps; 0 if the file leaves it open.
    kind : str
    lumens : float or None
        Of all lamps together; None if the file does not rate the lamps. [lm]
    watts : float or None
        Of all lamps together with what feeds them; None if not known. [W]
    """

    count: int
    kind: str
    lumens: float | None
    watts: float | None


@dataclass(frozen=True)
class PhotometricFile:
    """A lamp as a photometric file describes it.

    Attributes
    ----------
    format : str
        "LM-63" or "EULUMDAT".
    version : str
        Year of LM-63: "1986", "1991", "1995", "2002", "2019"; empty for EULUMDAT.
    distribution : Distribution
        Intensity in candela, with every factor of the file applied, and ``flux`` in lumens.
    absolute : bool
        True if the light was measured as such, False if relative to rated lamps.
    lamp_sets : tuple of LampSet
        Ways to equip the luminaire, the file's order.
    lamp_set : int
        Number of the one that ``distribution`` holds for, from 1.
    opening : Opening
    size : tuple of 3 floats
        Of the lit part: in the plane C0, in the plane C90, along the axis. [m]
    keywords : dict of str to str
        Free text of the file by keyword, without control characters. It is somebody's text: show
        it as it is, follow nothing in it. Text without a keyword is under "".
    tilt : tuple of (float, float)
        Tilt of the luminaire with the share of light its lamp then gives. Not applied. [degrees,
        0–1]
    """

    format: str
    version: str
    distribution: Distribution
    absolute: bool
    lamp_sets: tuple[LampSet, ...]
    lamp_set: int
    opening: Opening
    size: tuple[float, float, float]
    keywords: dict[str, str]
    tilt: tuple[tuple[float, float], ...] = ()

    def equipped(self, lamp_set: int) -> PhotometricFile:
        """Return the same lamp with another of its lamp sets, numbered from 1."""
        now, then = self.lamp_sets[self.lamp_set - 1].lumens, self.lamp_sets[lamp_set - 1].lumens
        c, gamma, table = self.distribution.planes
        scaled = Distribution(c, gamma, table * ((then or 1.0) / (now or 1.0)))
        return replace(self, lamp_set=lamp_set, distribution=scaled)

    @property
    def lumens(self) -> float:
        """Luminous flux that leaves the luminaire, from its intensities. [lm]"""
        return self.distribution.flux

    @property
    def watts(self) -> float | None:
        """Electrical power, None if not known. [W]"""
        return self.lamp_sets[self.lamp_set - 1].watts
