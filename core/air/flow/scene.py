"""The plain things air moves between: fans, solids, panels, openings, and the scene around them.

Nothing here knows a Design, a cell or numba, and no flow is computed here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from core.air.jets import RoundJet
from core.arguments import finite, not_negative, positive, within
from core.errors import InputError, complaint

Vector = tuple[float, float, float]
Pair = tuple[float, float]

FACES = {
    "left": (0, 0),
    "right": (0, 1),
    "front": (1, 0),
    "back": (1, 1),
    "bottom": (2, 0),
    "top": (2, 1),
}
"""Name of a face -> the axis it is square to, and 0 for its lower or 1 for its upper end."""

AXES = {"x": 0, "y": 1, "z": 2}

AIR_VISCOSITY = 1.5e-5
"""Kinematic viscosity of room air, rounded as in common practice. [m²/s]"""

BALANCE = 1e-9
"""Share of the flow let in by which openings may disagree."""


@dataclass(frozen=True)
class Fan:
    """A circulation fan that takes air from the scene and throws it on as a round jet.

    Attributes
    ----------
    position : sequence of 3 floats
        Middle of its opening. [m]
    direction : sequence of 3 floats
        Where it blows to; any length above 0.
    diameter : float
        Of its opening. [m]
    flow : float
        Volume flow through it. [m³/s]
    swing : float
        Whole angle it oscillates through about the vertical, 0 for a fan that stands. [degrees]

    Raises
    ------
    InputError
        If a number cannot be used, or the direction has no length.
    """

    position: Vector
    direction: Vector
    diameter: float
    flow: float
    swing: float = 0.0

    def __post_init__(self) -> None:
        _keep(self, "position", _vector("Fan", "position", self.position))
        _keep(self, "direction", _vector("Fan", "direction", self.direction, ""))
        positive("Fan", "length of direction", math.hypot(*self.direction))
        positive("Fan", "diameter", self.diameter, "m")
        not_negative("Fan", "flow", self.flow, "m³/s")
        within("Fan", "swing", self.swing, 0.0, 360.0, "°")

    @property
    def heading(self) -> Vector:
        """Unit vector it blows along, in the middle of its swing."""
        length = math.hypot(*self.direction)
        x, y, z = self.direction
        return (x / length, y / length, z / length)

    @property
    def momentum(self) -> float:
        """Momentum flux over density, Q²/A. [m⁴/s²]"""
        return RoundJet(self.flow, self.diameter).momentum


@dataclass(frozen=True)
class Solid:
    """A box air cannot enter.

    One thinner than a cell acts as a plate on the nearest plane between cells.

    Attributes
    ----------
    lo, hi : sequence of 3 floats
        Lowest and highest corner. [m]

    Raises
    ------
    InputError
        If a corner cannot be used or ``hi`` lies below ``lo``.
    """

    lo: Vector
    hi: Vector

    def __post_init__(self) -> None:
        _keep_corners(self, "Solid", 3)


@dataclass(frozen=True)
class Panel:
    """A thin porous sheet, such as a wire shelf, that slows what passes through it.

    Attributes
    ----------
    axis : {"x", "y", "z"} or {0, 1, 2}
        Axis it is square to.
    lo, hi : sequence of 3 floats
        Corners; along its axis the middle of both counts. [m]
    loss : float
        Pressure lost through it over ½ ρ u².

    Raises
    ------
    InputError
        If a number cannot be used.
    """

    axis: int
    lo: Vector
    hi: Vector
    loss: float

    def __post_init__(self) -> None:
        axis = AXES.get(str(self.axis), self.axis)
        if axis not in (0, 1, 2):
            raise _refusal("Panel", "axis", self.axis, "is not known", "enter x, y or z")
        _keep(self, "axis", axis)
        _keep_corners(self, "Panel", 3)
        not_negative("Panel", "loss", self.loss)


@dataclass(frozen=True)
class Opening:
    """A part of a face through which air is let in or out at an even speed.

    Attributes
    ----------
    face : {"left", "right", "front", "back", "bottom", "top"}
    lo, hi : sequence of 2 floats
        Corners in the face's own two coordinates, x before y before z. [m]
    flow : float
        Volume flow, above 0 where air comes in, below 0 where it leaves. [m³/s]

    Raises
    ------
    InputError
        If the face is unknown, it has no area, or a number cannot be used.
    """

    face: str
    lo: Pair
    hi: Pair
    flow: float

    def __post_init__(self) -> None:
        _check_face("Opening", self.face)
        _keep_corners(self, "Opening", 2)
        finite("Opening", "flow", self.flow, "m³/s")
        positive("Opening", "area", self.area, "m²")

    @property
    def area(self) -> float:
        """[m²]"""
        return (self.hi[0] - self.lo[0]) * (self.hi[1] - self.lo[1])


@dataclass(frozen=True)
class Heat:
    """Faces kept warm or cool, whose warmth the moving air carries and which lifts it.

    Other faces pass no heat. Density follows Boussinesq: only its effect as buoyancy counts.

    Attributes
    ----------
    faces : mapping of str to float
        Temperature of faces. [°C]
    diffusivity : float
        Thermal diffusivity of air. [m²/s]
    expansion : float
        Thermal expansion; the default is 1/T at 20 °C. [1/K]

    Raises
    ------
    InputError
        If a face is unknown, there is none, or a number cannot be used.
    """

    faces: Mapping[str, float]
    diffusivity: float = 2.1e-5
    expansion: float = 1 / 293.15

    def __post_init__(self) -> None:
        if not self.faces:
            raise _refusal("Heat", "faces", "none", "must be one or more", "name a face")
        for face, temperature in self.faces.items():
            _check_face("Heat", face)
            finite("Heat", "temperature", temperature, "°C")
        positive("Heat", "diffusivity", self.diffusivity, "m²/s")
        not_negative("Heat", "expansion", self.expansion, "1/K")

    @property
    def middle(self) -> float:
        """Temperature midway between the warmest and the coolest face. [°C]"""
        return (max(self.faces.values()) + min(self.faces.values())) / 2


@dataclass(frozen=True)
class AirScene:
    """A closed box of air with what moves it and what stands in its way.

    Its lowest corner is the origin. An axis no longer than one cell is left out: the flow is then
    that of a plane, without walls before and behind.

    Attributes
    ----------
    size : sequence of 3 floats
        [m]
    fans, solids, panels, openings : iterables of Fan, Solid, Panel, Opening
    walls : {"friction", "no-slip"}
        Rough shear by a friction coefficient, right for air on cells of centimetres, or the exact
        condition, right where cells resolve the layer at the wall.
    viscosity : float, optional
        Makes the flow laminar, of this kinematic viscosity; otherwise air, turbulent. [m²/s]
    lid : float or mapping of str to sequence of 3 floats, optional
        Speed along x of the top, or of the back where the scene is a single cell high; or
        velocities of faces by name. Needs no-slip walls. [m/s]
    body_force : sequence of 3 floats, optional
        Force per mass that drives the air, as a pressure gradient over density would. Along an
        axis with such a force the scene repeats itself: what leaves at one end enters at the
        other. [m/s²]
    heat : Heat, optional
        Needs a viscosity: buoyancy has been proven for laminar flow only.

    Raises
    ------
    InputError
        If a number cannot be used, a fan stands outside, the openings do not balance, or two of
        the above do not go together.
    """

    size: Vector
    fans: tuple[Fan, ...] = ()
    solids: tuple[Solid, ...] = ()
    panels: tuple[Panel, ...] = ()
    openings: tuple[Opening, ...] = ()
    walls: Literal["friction", "no-slip"] = "friction"
    viscosity: float | None = None
    lid: float | Mapping[str, Vector] | None = None
    body_force: Vector | None = None
    heat: Heat | None = None

    def __post_init__(self) -> None:
        _keep(self, "size", _vector("Air scene", "size", self.size))
        for side in self.size:
            positive("Air scene", "size", side, "m")
        for name in ("fans", "solids", "panels", "openings"):
            _keep(self, name, tuple(getattr(self, name)))
        if self.walls not in ("friction", "no-slip"):
            way_out = "enter friction or no-slip"
            raise _refusal("Air scene", "walls", self.walls, "is not known", way_out)
        if self.viscosity is not None:
            positive("Air scene", "viscosity", self.viscosity, "m²/s")
        if self.body_force is not None:
            force = _vector("Air scene", "body force", self.body_force, "m/s²")
            _keep(self, "body_force", force)
        _check_lid(self.lid)
        self._check_together()
        self._check_places()
        self._check_balance()

    @property
    def periodic(self) -> tuple[bool, bool, bool]:
        """Which axes have two ends that join."""
        x, y, z = self.body_force or (0.0, 0.0, 0.0)
        return (x != 0, y != 0, z != 0)

    @property
    def reference_speed(self) -> float:
        """Speed that the momentum put in would give if spread over the whole scene. [m/s]"""
        momentum = sum(fan.momentum for fan in self.fans)
        momentum += sum(opening.flow**2 / opening.area for opening in self.openings)
        return math.sqrt(momentum) / math.prod(self.size) ** (1 / 3)

    def moving(self, single: bool) -> Mapping[str, Vector]:
        """Return the velocities of moving faces, of a scene a ``single`` cell high or not. [m/s]"""
        if self.lid is None:
            return {}
        if isinstance(self.lid, Mapping):
            return self.lid
        return {"back" if single else "top": (float(self.lid), 0.0, 0.0)}

    def _check_together(self) -> None:
        if self.lid is not None and self.walls != "no-slip":
            raise _refusal("Air scene", "lid", self.lid, "needs no-slip walls", "choose these")
        if self.heat is not None and self.viscosity is None:
            raise _refusal("Air scene", "heat", "given", "needs a viscosity", "enter a viscosity")

    def _check_places(self) -> None:
        for fan in self.fans:
            for place, side in zip(fan.position, self.size, strict=True):
                within("Fan", "position", place, 0.0, side, "m")
        for opening in self.openings:
            axis = FACES[opening.face][0]
            sides = [side for other, side in enumerate(self.size) if other != axis]
            for low, high, side in zip(opening.lo, opening.hi, sides, strict=True):
                within("Opening", "place", low, -BALANCE, side, "m")
                within("Opening", "place", high, 0.0, side + BALANCE, "m")

    def _check_balance(self) -> None:
        check_balance([opening.flow for opening in self.openings])


def check_balance(flows: Iterable[float]) -> None:
    """Raise InputError unless as much air leaves as comes in, for flows in m³/s."""
    told = list(flows)
    net = math.fsum(told)
    if abs(net) > BALANCE * max((abs(flow) for flow in told), default=0.0):
        raise _refusal(
            "Openings",
            "net flow",
            f"{net:g} m³/s".replace("-", "−"),
            "must be zero in every space they join",
            "let as much air out as comes in",
        )


def _check_lid(lid: float | Mapping[str, Vector] | None) -> None:
    if isinstance(lid, Mapping):
        for face, velocity in lid.items():
            _check_face("Lid", face)
            _vector("Lid", "velocity", velocity, "m/s")
    elif lid is not None:
        finite("Lid", "speed", lid, "m/s")


def _check_face(thing: str, face: str) -> None:
    if face not in FACES:
        raise _refusal(thing, "face", face, "is not known", "enter one of " + ", ".join(FACES))


def _keep(thing: object, name: str, value: object) -> None:
    object.__setattr__(thing, name, value)


def _keep_corners(box: Solid | Panel | Opening, thing: str, count: int) -> None:
    lo, hi = (_floats(thing, name, getattr(box, name), count, "m") for name in ("lo", "hi"))
    for low, high in zip(lo, hi, strict=True):
        not_negative(thing, "hi − lo", high - low, "m")
    _keep(box, "lo", lo)
    _keep(box, "hi", hi)


def _vector(thing: str, quantity: str, value: Iterable[float], unit: str = "m") -> Vector:
    x, y, z = _floats(thing, quantity, value, 3, unit)
    return x, y, z


def _floats(
    thing: str, quantity: str, value: Iterable[float], count: int, unit: str
) -> tuple[float, ...]:
    try:
        told = tuple(float(part) for part in value)
    except (TypeError, ValueError):
        told = ()
    if len(told) != count:
        raise _refusal(thing, quantity, value, f"must be {count} numbers", "enter all of them")
    for part in told:
        finite(thing, quantity, part, unit)
    return told


def _refusal(thing: str, quantity: str, value: object, rule: str, way_out: str) -> InputError:
    return InputError(complaint(thing, quantity, value, rule, way_out))
