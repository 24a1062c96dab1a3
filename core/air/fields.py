"""A flow of air in the room's axes: how far it has come, and its speed, way and age at any place.

How a flow is computed is for `flow`; what zones make of it, for `coverage`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.air.flow.field import FlowField
from core.air.flow.grid import Floats
from core.air.from_design import RoomAir
from core.air.stage import Stage
from core.geometry import Box, Vector

__all__ = ["Ages", "AirField", "Stage"]


@dataclass(frozen=True, eq=False)
class Ages:
    """Age of air on the cells of the flow it was found with.

    Attributes
    ----------
    flow : FlowField
    values : ndarray, shape (nx, ny, nz)
        Infinite where no fresh air comes, not a number in solids. [s]
    """

    flow: FlowField
    values: Floats

    @property
    def mean(self) -> float:
        """Over all the air that fresh air gets to. [s]"""
        return float(self.values[np.isfinite(self.values)].mean())

    @property
    def least(self) -> float:
        """Age that the air would have at the exhaust: volume over flow. [s]"""
        openings = self.flow.scene.openings
        volume = float(np.isfinite(self.values).sum()) * self.flow.grid.cell_volume
        return volume / sum(opening.flow for opening in openings if opening.flow > 0)

    @property
    def effectiveness(self) -> float:
        """Half of the least possible mean age over the mean; 0.5 where all air mixes. [0–1]

        References
        ----------
        .. [1] Sandberg, What is ventilation efficiency?, Building and Environment 16, 1981: the
           air-change efficiency.
        """
        return self.least / (2 * self.mean)


@dataclass(frozen=True, eq=False)
class AirField:
    """The flow of a design's air.

    Attributes
    ----------
    air : RoomAir
    flow : FlowField
    stage : Stage
    ages : Ages or None
        None where there is no intake or exhaust, or before it has been found.
    """

    air: RoomAir
    flow: FlowField
    stage: Stage
    ages: Ages | None = None

    @property
    def cell(self) -> float:
        """Longest side of its cells. [m]"""
        return max(self.flow.grid.spacing)

    def covers(self, point: Vector) -> bool:
        """Tell whether a place in the room lies within it."""
        return self.air.box.contains(Box(point, point))

    def speed_at(self, points: Floats) -> Floats:
        """Return the mean amount of velocity at places in the room.

        Parameters
        ----------
        points : ndarray, shape (points, 3)
            [m]

        Returns
        -------
        ndarray, shape (points,)
            Not a number in solids and outside the field. [m/s]
        """
        return _between(self.flow, self.flow.speed, self.flow.fluid, self._local(points))

    def velocity_at(self, points: Floats) -> Floats:
        """Return the mean velocity at places in the room, shape (points, 3). [m/s]

        Not a number in solids and outside the field.
        """
        local = self._local(points)
        found = self.flow.at(local)
        found[np.isnan(_share(self.flow, self.flow.fluid, local))] = np.nan
        return found

    def age_at(self, points: Floats) -> Floats | None:
        """Return the age of the air at places in the room; None where it is not known. [s]"""
        if self.ages is None:
            return None
        known = np.isfinite(self.ages.values)
        return _between(self.ages.flow, self.ages.values, known, self._local(points))

    def _local(self, points: Floats) -> Floats:
        return np.atleast_2d(points) - np.array(self.air.box.lo)


def _between(flow: FlowField, values: Floats, known: np.ndarray, places: Floats) -> Floats:
    """Return values linear between those middles of cells where they are known."""
    total = flow.cell_values(np.where(known, values, 0.0), places)
    return total / _share(flow, known, places)


def _share(flow: FlowField, known: np.ndarray, places: Floats) -> Floats:
    """Return how much of what lies about places is known; not a number where nothing is. [0–1]"""
    share = flow.cell_values(known, places)
    size = np.array(flow.scene.size)
    inside = ((places >= -1e-6) & (places <= size + 1e-6)).all(axis=-1)
    return np.where(inside & (share > 1e-6), share, np.nan)
