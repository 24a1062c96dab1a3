"""The plain objects light is computed for: surfaces, lamps and the scene that holds them.

Nothing here knows a Design, and no light is computed here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from core.language import tr
from core.light import given
from core.light.distribution import Distribution
from core.light.given import Floats, Vector

_SQUARE = 1e-6
"""Cosine between two sides up to which a surface still counts as a rectangle."""


@dataclass(frozen=True)
class Surface:
    """A rectangle, lit and emitting on the side that u × v points to.

    As an obstacle it stops light from both sides but for its transmittance.

    Parameters
    ----------
    origin : sequence of 3 floats
        One corner. [m]
    u, v : sequence of 3 floats
        The two sides from that corner, square to each other. [m]
    reflectance : float
        Share of the light that falls on the lit side and is sent back, evenly spread. [0–1]
    transmittance : float
        Share that passes straight on. [0–1]
    exitance : float
        Own light, evenly spread. [µmol m⁻² s⁻¹]

    Raises
    ------
    InputError
        If the sides are no rectangle, or a share lies outside 0 to 1, or both together above 1.
    """

    origin: Vector
    u: Vector
    v: Vector
    reflectance: float = 0.0
    transmittance: float = 0.0
    exitance: float = 0.0

    def __post_init__(self) -> None:
        name = tr("Surface")
        for field, label in (("origin", tr("origin")), ("u", "u"), ("v", "v")):
            object.__setattr__(self, field, given.vector(name, label, getattr(self, field)))
        _check_rectangle(self.u, self.v)
        reflectance = given.within(name, tr("reflectance"), self.reflectance, 0, 1)
        transmittance = given.within(name, tr("transmittance"), self.transmittance, 0, 1)
        both = tr("reflectance and transmittance together")
        given.within(name, both, reflectance + transmittance, 0, 1 + 1e-12)
        exitance = given.not_negative(name, tr("exitance"), self.exitance, "µmol/(m² s)")
        object.__setattr__(self, "reflectance", reflectance)
        object.__setattr__(self, "transmittance", transmittance)
        object.__setattr__(self, "exitance", exitance)

    @property
    def area(self) -> float:
        """Area of one side. [m²]"""
        return math.hypot(*self.u) * math.hypot(*self.v)

    @property
    def normal(self) -> Floats:
        """Unit vector out of the lit side."""
        (a, b, c), (d, e, f) = self.u, self.v
        across = (b * f - c * e, c * d - a * f, a * e - b * d)
        return np.array(across) / math.hypot(*across)

    @property
    def corners(self) -> Floats:
        """The four corners in turn, anticlockwise seen from the lit side, shape (4, 3). [m]"""
        origin, u, v = np.array(self.origin), np.array(self.u), np.array(self.v)
        return np.stack([origin, origin + u, origin + u + v, origin + v])


@dataclass(frozen=True)
class Lamp:
    """A board, tube, strip or spot.

    It sends its photons into the half space before it, unless its distribution reaches behind.

    Parameters
    ----------
    centre : sequence of 3 floats
        Middle of the lit face. [m]
    size : sequence of 2 floats
        Sides (x, y) of the lit face; (l, 0) is a strip or tube, (0, 0) a point. [m]
    flux : float
        Photon flux, PPF. [µmol s⁻¹]
    direction : sequence of 3 floats
        Where the lamp points to; the default is straight down.
    roll : float
        Turn about that direction, anticlockwise seen from behind the lamp (in plan for a lamp
        that points down). [degrees]
    distribution : Distribution, optional
        Spread over directions, scaled to ``flux``; the default is Lambertian.

    Raises
    ------
    InputError
        If a size or the flux is negative, or the direction has no length.
    """

    centre: Vector
    size: tuple[float, float]
    flux: float
    direction: Vector = (0.0, 0.0, -1.0)
    roll: float = 0.0
    distribution: Distribution | None = None

    def __post_init__(self) -> None:
        name = tr("Lamp")
        object.__setattr__(self, "centre", given.vector(name, tr("centre"), self.centre))
        object.__setattr__(self, "size", given.size(name, self.size))
        flux = given.not_negative(name, tr("flux"), self.flux, "µmol/s")
        object.__setattr__(self, "flux", flux)
        direction = given.vector(name, tr("direction"), self.direction, "")
        given.positive(name, tr("length of direction"), math.hypot(*direction))
        object.__setattr__(self, "direction", direction)
        object.__setattr__(self, "roll", given.number(name, tr("roll"), self.roll, "°"))

    def axes(self) -> tuple[Floats, Floats, Floats]:
        """Return unit vectors along the lamp's x side, its y side and its direction.

        The x side keeps as near to the scene's x axis as the direction allows, before the roll.
        """
        return _axes(self.direction, self.roll)

    def halves(self) -> tuple[Lamp, ...]:
        """Return the lamp as one or two that send all their photons into the half space before.

        The second is turned about its x side and lights what lies behind this one.
        """
        shape = self.distribution
        if shape is None or shape.halves == (shape, None):
            return (self,)
        x, y, z = self.direction
        ways = ((self.direction, self.roll), ((-x, -y, -z), -self.roll))
        return tuple(
            replace(
                self, flux=self.flux * half.flux / shape.flux, direction=direction, roll=roll,
                distribution=half,
            )
            for half, (direction, roll) in zip(shape.halves, ways, strict=True)
            if half is not None
        )  # fmt: skip


@lru_cache(maxsize=256)
def _axes(direction: Vector, roll: float) -> tuple[Floats, Floats, Floats]:
    ahead = np.array(direction) / math.hypot(*direction)
    helper = np.array([0.0, 1.0, 0.0] if abs(ahead[0]) > 0.999 else [1.0, 0.0, 0.0])
    across = helper - ahead * (helper @ ahead)
    across = across / np.linalg.norm(across)
    along = np.cross(across, ahead)
    c, s = _turn(roll)
    axes = c * across + s * along, c * along - s * across, ahead
    for axis in axes:
        axis.setflags(write=False)
    return axes


@dataclass(frozen=True)
class Scene:
    """Surfaces and lamps that light each other."""

    surfaces: tuple[Surface, ...] = ()
    lamps: tuple[Lamp, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "surfaces", _all_of(Surface, tr("surfaces"), self.surfaces))
        object.__setattr__(self, "lamps", _all_of(Lamp, tr("lamps"), self.lamps))


def _turn(degrees: float) -> tuple[float, float]:
    """Return cosine and sine, exact at quarter turns."""
    quarter = degrees / 90.0
    if quarter == round(quarter):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarter) % 4]
    return math.cos(math.radians(degrees)), math.sin(math.radians(degrees))


def _check_rectangle(u: Vector, v: Vector) -> None:
    for label, side in (("u", u), ("v", v)):
        given.positive(tr("Surface"), tr("length of {side}").format(side=label), math.hypot(*side))
    cosine = float(np.dot(u, v)) / (math.hypot(*u) * math.hypot(*v))
    if abs(cosine) > _SQUARE:
        raise given.refusal(
            tr("Surface"), tr("cosine between u and v"), f"{cosine:.4g}", "",
            tr("must be 0, a surface is a rectangle"), tr("give sides that are square"),
        )  # fmt: skip


def _all_of(kind: type[Surface] | type[Lamp], quantity: str, values: Iterable[object]) -> object:
    result = tuple(values)
    for value in result:
        if not isinstance(value, kind):
            rule = tr("must hold {kind} objects only").format(kind=kind.__name__)
            raise given.refusal(
                tr("Scene"), quantity, type(value).__name__, "", rule, tr("take the others out")
            )
    return result
