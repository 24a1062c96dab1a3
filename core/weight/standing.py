"""How a shelf unit stands: its posts, its feet on the floor, and what it takes to tip it.

Loads are in `loads`, the formulas in `support` and `stability`; the sentences in `stand_rows`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from core.constants import GRAVITY
from core.model import Plants, Reservoir, ShelfUnit, Tray
from core.study import Study
from core.weight.loads import Load, loads, total, with_carried
from core.weight.stability import (
    LEANING_OUT,
    centre_of_gravity,
    climb_to_tip,
    push_to_tip,
    slenderness,
    tip_angle,
)
from core.weight.support import castor_load, corner_loads, floor_pressure

HAND = 1.8
"""No hand pushes higher than this (judgement; the published check pushes there too). [m]"""


@dataclass(frozen=True)
class UnitLoad:
    """One unit on the floor. [kg, Pa, N, degrees, m]

    Attributes
    ----------
    unit : str
    mass, dry : float
        Full, and with trays and reservoirs dry.
    pressure : float
        Mean under the footprint, full.
    castor : float or None
        Load of a castor; None on feet.
    push, push_height : float
        Least level push that tips it, full or dry, and how high it acts.
    lean : float
        How far it leans before it tips.
    proportion : float
        Height over depth.
    corners : tuple of float
        What each post carries: left front, right front, left back, right back as seen in plan.
    foot_pressure : float or None
        Under the foot of the heaviest post; None on castors.
    pull, pull_height : float
        Least level pull at its highest shelf that tips it, full or dry.
    climb : float
        Mass of somebody climbing its shelves that tips it while it is dry.
    """

    unit: str
    mass: float
    dry: float
    pressure: float
    castor: float | None
    push: float
    push_height: float
    lean: float
    proportion: float
    corners: tuple[float, float, float, float]
    foot_pressure: float | None
    pull: float
    pull_height: float
    climb: float

    @property
    def post(self) -> float:
        """Load of the heaviest post. [kg]"""
        return max(self.corners)


def unit_load(study: Study, unit: ShelfUnit) -> UnitLoad:
    """Return how a unit with all it carries stands on the floor."""
    carried = loads(study.placement, with_carried(study.placement, [unit]))
    box, mass, dry = study.placement.box(unit.id), total(carried), sum(one.dry for one in carried)
    depth, shallow = min((box.size[axis], axis) for axis in (1, 0))
    arm = _arm(study, carried, box.lo[shallow], box.hi[shallow], shallow, _full)
    dry_arm = _arm(study, carried, box.lo[shallow], box.hi[shallow], shallow, _dry)
    push_height, pull_height = min(unit.height, HAND), min(unit.levels[-1].z, HAND)
    at = _share(study, carried, unit, 0), _share(study, carried, unit, 1)
    corners = corner_loads(mass, *at)
    return UnitLoad(
        unit.id,
        mass,
        dry,
        floor_pressure(mass, box.size[0], box.size[1]),
        castor_load(mass) if unit.castors else None,
        min(push_to_tip(mass, 2 * arm, push_height), push_to_tip(dry, 2 * dry_arm, push_height)),
        push_height,
        tip_angle(depth, max(_centre_height(study, carried, unit), 1e-3)),
        slenderness(unit.height, depth),
        corners,
        None if unit.castors else max(corners) * GRAVITY / (unit.foot or unit.post) ** 2,
        min(push_to_tip(mass, 2 * arm, pull_height), push_to_tip(dry, 2 * dry_arm, pull_height)),
        pull_height,
        climb_to_tip(dry, dry_arm, LEANING_OUT),
    )


def _full(load: Load) -> float:
    return load.total


def _dry(load: Load) -> float:
    return load.dry


def _arm(
    study: Study,
    carried: Sequence[Load],
    low: float,
    high: float,
    axis: int,
    mass: Callable[[Load], float],
) -> float:
    """Return how far the centre of gravity is inside the nearer edge of the footprint. [m]"""
    at = _centre(study, carried, axis, mass, (low + high) / 2)
    return max(0.0, min(at - low, high - at))


def _centre(
    study: Study,
    carried: Sequence[Load],
    axis: int,
    mass: Callable[[Load], float],
    otherwise: float,
) -> float:
    """Return where the centre of gravity is along an axis of the room. [m]"""
    whole = sum(mass(load) for load in carried)
    if whole <= 0:
        return otherwise
    moments = (mass(load) * study.placement.box(load.part.id).centre[axis] for load in carried)
    return sum(moments) / whole


def _share(study: Study, carried: Sequence[Load], unit: ShelfUnit, axis: int) -> float:
    """Return where the centre of gravity is in the footprint, as a share from its low side."""
    box = study.placement.box(unit.id)
    at = _centre(study, carried, axis, _full, box.centre[axis])
    return min(max((at - box.lo[axis]) / box.size[axis], 0.0), 1.0)


def _centre_height(study: Study, carried: Sequence[Load], unit: ShelfUnit) -> float:
    """Return the height of the centre of gravity of a full unit above its foot. [m]"""
    base = study.placement.box(unit.id).lo[2]
    heavy = [(load.total, _height(study, load) - base) for load in carried if load.total > 0]
    if not heavy:
        return unit.height / 2
    return centre_of_gravity([m for m, _ in heavy], [max(h, 0.0) for _, h in heavy])


def _height(study: Study, load: Load) -> float:
    """Return the height of a load's middle; water and pots lie low in their box. [m]"""
    box = study.placement.box(load.part.id)
    if isinstance(load.part, Plants):
        return box.lo[2] + load.part.pot_height / 2
    if isinstance(load.part, Reservoir | Tray):
        return box.lo[2] + load.part.fill / 2
    return box.centre[2]
