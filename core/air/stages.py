"""A flow from first picture to fine field: which cells, how many steps, what is told on the way.

How a step is taken is for `flow`; threads belong to whoever calls.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from core.air.fields import Ages, AirField, Stage
from core.air.flow.field import FlowField
from core.air.flow.grid import spacing_of
from core.air.flow.scene import AirScene
from core.air.flow.solve import Cancel, Progress, solve_flow
from core.air.from_design import RoomAir
from core.errors import InputError

PICTURES = 0.3
"""Time between two pictures of a moving flow. [s]"""

ROUGH = 0.20
"""Cells that a flow from rest begins on: an eighth of the work for each step. [m]"""

AT_ROUGH = (300, 50)
FROM_REST, RESTARTED = (300, 200), (150, 100)
SETTLING = (600, 500)
FINELY = (600, 400)
"""Steps, and how many of them the mean is over: on rough cells, for the preview from rest and after
a small edit, until settled, and on fine cells."""


@dataclass(frozen=True)
class StageProgress:
    """How far the way to one stage has been gone: 0 to 1, on cells of a longest side in m."""

    stage: Stage
    share: float
    cell: float


def _silent(_: StageProgress) -> None:
    return None


@dataclass(frozen=True)
class _Run:
    """One call of `solve_stages`: whom to tell, and when to stop."""

    air: RoomAir
    cancel: Cancel
    show: Callable[[AirField], None]
    tell: Callable[[StageProgress], None]

    def go(
        self,
        stage: Stage,
        cell: float,
        steps: tuple[int, int],
        start: FlowField | None,
        ages: Ages | None = None,
    ) -> FlowField:
        """Return the mean flow after some steps, with pictures of it while it moves."""
        shown, side = time.monotonic(), max(spacing_of(self.air.scene, cell))

        def watch(progress: Progress) -> None:
            nonlocal shown
            if time.monotonic() - shown >= PICTURES and progress.step < progress.steps:
                shown = time.monotonic()
                self.tell(StageProgress(stage, progress.step / progress.steps, side))
                if stage in (Stage.MOVING, Stage.PREVIEW):
                    self.show(AirField(self.air, progress.picture(), Stage.MOVING, ages))

        return flow_through(self.air.scene, cell, steps, start, self.cancel, watch)


def solve_stages(
    air: RoomAir,
    *,
    start: AirField | None = None,
    cancel: Cancel = None,
    show: Callable[[AirField], None],
    tell: Callable[[StageProgress], None] = _silent,
    fine: bool = True,
    refine: bool = False,
) -> None:
    """Compute the flow of a design's air stage by stage, each shown as soon as it is there.

    Parameters
    ----------
    air : RoomAir
    start : AirField, optional
        An earlier field. Of the same air it is gone on from; of other air in the same box it is
        where the flow starts instead of rest.
    cancel : threading.Event or callable, optional
        Asked before each step.
    show : callable
        Called with each `AirField`, in this thread.
    tell : callable, optional
        Called with a `StageProgress` from time to time.
    fine, refine : bool
        Whether to go on to fine cells, and to the finest.

    Raises
    ------
    CancelledError
        Within a step of ``cancel`` saying so.
    """
    run = _Run(air, cancel, show, tell)
    reached = start if start is not None and start.air == air else None
    if reached is None or not reached.stage.settled:
        reached = _settle(run, start)
    for wanted, stage, cell in (
        (fine and air.fine_cell < air.cell, Stage.FINE, air.fine_cell),
        (refine, Stage.REFINED, air.refined_cell),
    ):
        if wanted and reached.stage.rank < stage.rank:
            flow = run.go(stage, cell, FINELY, reached.flow, reached.ages)
            reached = AirField(air, flow, stage, reached.ages)
            show(reached)


def _settle(run: _Run, start: AirField | None) -> AirField:
    """Return the settled flow on first cells, with a preview shown on the way."""
    air = run.air
    if start is not None and start.air.box == air.box:
        flow = run.go(Stage.PREVIEW, air.cell, RESTARTED, start.flow)
    else:
        rough = run.go(Stage.MOVING, max(ROUGH, air.cell), AT_ROUGH, None)
        flow = run.go(Stage.PREVIEW, air.cell, FROM_REST, rough)
    run.show(AirField(air, flow, Stage.PREVIEW))
    settled = with_ages(
        AirField(air, run.go(Stage.SETTLED, air.cell, SETTLING, flow), Stage.SETTLED)
    )
    run.show(settled)
    return settled


def settled_from_rest(air: RoomAir) -> AirField:
    """Return the settled flow of a design's air on first cells, whatever was computed before."""
    rough = flow_through(air.scene, max(ROUGH, air.cell), AT_ROUGH, None, None, None)
    steps = FROM_REST[0] + SETTLING[0], SETTLING[1]
    flow = flow_through(air.scene, air.cell, steps, rough, None, None)
    return with_ages(AirField(air, flow, Stage.SETTLED))


def with_ages(field: AirField) -> AirField:
    """Return a field with the ages of its air, where there is an intake and an exhaust."""
    if not field.flow.scene.openings:
        return field
    from core.air.flow.age import mean_age

    ages = mean_age(field.flow)
    return replace(field, ages=Ages(field.flow, ages)) if np.isfinite(ages).any() else field


def flow_through(
    scene: AirScene,
    cell: float,
    steps: tuple[int, int],
    start: FlowField | None,
    cancel: Cancel,
    watch: Callable[[Progress], None] | None,
) -> FlowField:
    """Return the mean flow after some steps.

    Openings are left out where these are walled off from each other.
    """
    try:
        return solve_flow(scene, cell, *steps, start=start, cancel=cancel, watch=watch)
    except InputError:
        if not scene.openings:
            raise
        alone = replace(scene, openings=())
        return solve_flow(alone, cell, *steps, start=start, cancel=cancel, watch=watch)
