"""How long a flow is stepped, from what it starts and what is read from it.

Importing this loads neither numba nor scipy; the stepping itself does, when first asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Protocol

import numpy as np

from core import kernels
from core.air.flow.field import FlowField
from core.air.flow.grid import Floats, Grid, make_grid
from core.air.flow.scene import AirScene
from core.errors import CancelledError, InputError, complaint

if TYPE_CHECKING:
    from core.air.flow.stepping import Stepper


class Flag(Protocol):
    """What says that work is no longer wanted, such as a `threading.Event`."""

    def is_set(self) -> bool: ...


Cancel = Flag | Callable[[], bool] | None


@dataclass(frozen=True)
class Progress:
    """How far a flow has come.

    Attributes
    ----------
    step, steps : int
        Steps taken and to take.
    picture : callable
        Returns the `FlowField` as it is at this step, not yet a mean.
    """

    step: int
    steps: int
    picture: Callable[[], FlowField]


def solve_flow(
    air_scene: AirScene,
    cell: float = 0.1,
    steps: int = 800,
    average: int = 200,
    *,
    start: FlowField | None = None,
    cancel: Cancel = None,
    watch: Callable[[Progress], None] | None = None,
) -> FlowField:
    """Return the mean flow of air in a scene.

    Parameters
    ----------
    air_scene : AirScene
    cell : float
        Side of a cell; along each axis the nearest that divides the scene. [m]
    steps : int
        Steps in pseudo-time; at 10 cm the flow has settled after some 800 from rest.
    average : int
        Steps at the end whose mean is returned; the last field alone wanders.
    start : FlowField, optional
        Flow to go on from, of any cell and of a like scene; otherwise rest.
    cancel : threading.Event or callable, optional
        Asked before each step whether to stop.
    watch : callable, optional
        Called with a `Progress` after each step.

    Returns
    -------
    FlowField

    Raises
    ------
    InputError
        If a number cannot be used, or openings do not balance within each space they join.
    CancelledError
        If ``cancel`` says so.

    Notes
    -----
    Finite volumes on a staggered grid, limited third-order advection, local pseudo-time steps,
    multigrid-preconditioned conjugate gradients for the pressure; turbulence by k-epsilon, with the
    eddy viscosity bounded in the first eight diameters of fan jets; walls by quadratic friction.

    References
    ----------
    .. [1] Launder and Spalding, Comput. Methods Appl. Mech. Eng. 3, 1974: k-epsilon.
    .. [2] Koren, in Numerical Methods for Advection-Diffusion Problems, Vieweg, 1993: the limiter.
    """
    _check_steps(steps, average)
    grid = make_grid(air_scene, cell)
    stepper = _stepper(air_scene, grid)
    if start is not None:
        _continue_from(stepper, start)
    mean = _Mean(grid)
    for step in range(steps):
        _stop_if(cancel)
        stepper.step()
        if step >= steps - average:
            mean.add(stepper)
        if watch is not None:
            watch(Progress(step + 1, steps, partial(_picture, air_scene, stepper, step + 1)))
    return mean.field(air_scene, stepper, steps)


def warm_up() -> None:
    """Compile the flow's kernels, or load them from the cache; meant for a background thread."""
    _stepper(AirScene((0.3, 0.3, 0.3)), make_grid(AirScene((0.3, 0.3, 0.3)), 0.1)).step()


def _check_steps(steps: int, average: int) -> None:
    for quantity, value in (("steps", steps), ("average", average)):
        if not isinstance(value, int | np.integer) or value < 1:
            rule, way_out = "must be a whole number of 1 or more", "enter 1 or more"
            raise InputError(complaint("Flow", quantity, value, rule, way_out))


def _stepper(scene: AirScene, grid: Grid) -> Stepper:
    kernels.prepare_cache()
    from core.air.flow.stepping import Stepper

    return Stepper(scene, grid)


def is_cancelled(cancel: Cancel) -> bool:
    """Tell whether work is no longer wanted."""
    return cancel is not None and (cancel() if callable(cancel) else cancel.is_set())


def _stop_if(cancel: Cancel) -> None:
    if is_cancelled(cancel):
        raise CancelledError(
            complaint("Flow", "state", "cancelled", "is not finished", "ask again")
        )


class _Mean:
    """Sum of a flow over steps."""

    def __init__(self, grid: Grid) -> None:
        self._count = 0
        self._velocity = [grid.zeros() for _ in range(3)]
        self._speed, self._pressure = grid.zeros(), grid.zeros()

    def add(self, stepper: Stepper) -> None:
        """Add a step."""
        self._count += 1
        self._speed += stepper.speed
        self._pressure += stepper.pressure
        for total, field in zip(self._velocity, stepper.velocity, strict=True):
            total += field

    def field(self, scene: AirScene, stepper: Stepper, steps: int) -> FlowField:
        """Return the mean, with all divergence taken out of it."""
        velocity = [total / self._count for total in self._velocity]
        left = stepper.project_tightly(velocity)
        speed, pressure = self._speed / self._count, self._pressure / self._count
        return _field(scene, stepper, velocity, speed, pressure, left, steps)


def _picture(scene: AirScene, stepper: Stepper, steps: int) -> FlowField:
    mean = _Mean(stepper.grid)
    mean.add(stepper)
    return mean.field(scene, stepper, steps)


def _field(
    scene: AirScene,
    stepper: Stepper,
    velocity: list[Floats],
    speed: Floats,
    pressure: Floats,
    left: float,
    steps: int,
) -> FlowField:
    grid = stepper.grid
    u, v, w = (velocity[axis][grid.faces(axis)].copy() for axis in range(3))
    model, warmth = stepper.turbulence, stepper.warmth
    cells = grid.inner
    return FlowField(
        scene=scene,
        grid=grid,
        faces=(u, v, w),
        speed=np.where(grid.fluid[cells], speed[cells], 0.0),
        pressure=pressure[cells].copy(),
        viscosity=stepper.viscosity[cells].copy(),
        turbulence=None if model is None else (model.k[cells].copy(), model.epsilon[cells].copy()),
        temperature=None if warmth is None else warmth.temperature[cells].copy(),
        divergence_max=left,
        steps=steps,
    )


def _continue_from(stepper: Stepper, start: FlowField) -> None:
    """Put an earlier flow onto a grid, linear between its nodes."""
    grid = stepper.grid
    for axis in range(3):
        places = _places(grid, axis)
        free = grid.free[axis][grid.faces(axis)]
        target = stepper.velocity[axis][grid.faces(axis)]
        target[free] = start.face_values(axis, places[free])
    cells = _places(grid, None)
    stepper.pressure[grid.inner] = start.cell_values(start.pressure, cells)
    if stepper.turbulence is not None and start.turbulence is not None:
        model = stepper.turbulence
        for target, values in zip((model.k, model.epsilon), start.turbulence, strict=True):
            target[grid.inner] = np.exp(start.cell_values(np.log(values), cells))
        model.begin()
    if stepper.warmth is not None and start.temperature is not None:
        stepper.warmth.temperature[grid.inner] = start.cell_values(start.temperature, cells)
    stepper.refresh()


def _places(grid: Grid, axis: int | None) -> Floats:
    """Return the places of an axis's faces, or of the middles of cells, shape (..., 3). [m]"""
    lines = [
        np.arange(grid.counts[a] + 1) * grid.spacing[a] if a == axis else grid.centres(a)
        for a in range(3)
    ]
    return np.stack(np.meshgrid(*lines, indexing="ij"), axis=-1)
