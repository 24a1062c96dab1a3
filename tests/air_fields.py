"""Fields of air for tests that want no solver: the air of a design moving as they say."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.air.fields import Ages, AirField
from core.air.flow.field import FlowField
from core.air.flow.grid import Floats, make_grid
from core.air.from_design import RoomAir, room_air
from core.air.stage import Stage
from core.model import Design
from core.placement import Placement

Wind = Callable[[Floats], Floats]
"""Velocity at places of shape (..., 3) in the room. [m, m/s]"""


def even(x: float, y: float, z: float) -> Wind:
    """Return air that moves alike everywhere. [m/s]"""
    return lambda places: np.broadcast_to(np.array([x, y, z]), places.shape)


def air_of(design: Design) -> RoomAir:
    """Return what of a design's air there is to solve."""
    found = room_air(Placement(design))
    assert found is not None
    return found


def field_of(
    design: Design, wind: Wind, stage: Stage = Stage.SETTLED, *, age: float | None = None
) -> AirField:
    """Return a field in which air moves as ``wind`` says; of one age, where it is let in. [s]"""
    air = air_of(design)
    grid = make_grid(air.scene, air.cell)
    low = np.array(air.box.lo)

    def places(face: int | None) -> Floats:
        lines = [
            np.arange(grid.counts[axis] + 1) * grid.spacing[axis]
            if axis == face
            else grid.centres(axis)
            for axis in range(3)
        ]
        return np.stack(np.meshgrid(*lines, indexing="ij"), axis=-1) + low

    u, v, w = (np.array(wind(places(axis))[..., axis]) for axis in range(3))
    speed = np.linalg.norm(wind(places(None)), axis=-1)
    zero = np.zeros(grid.counts)
    flow = FlowField(air.scene, grid, (u, v, w), speed, zero, zero, None, None, 0.0, 1)
    fluid = grid.fluid[grid.inner]
    ages = (
        None if age is None or not air.scene.openings else Ages(flow, np.where(fluid, age, np.nan))
    )
    return AirField(air, flow, stage, ages)
