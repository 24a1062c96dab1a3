"""What holds for the flow through any scene: mass, mirrors, scale, cancelling, going on."""

from __future__ import annotations

import math
import subprocess
import sys
import threading
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import core.air
from core.air import (
    AirScene,
    Fan,
    FlowField,
    Heat,
    Opening,
    Panel,
    Progress,
    Solid,
    mean_age,
    solve_flow,
)
from core.air.flow import momentum_kernels, pressure_kernels, turbulence_kernels
from core.air.flow.grid import make_grid
from core.air.flow.solve import warm_up
from core.air.flow.sources import forces_of, openings_at
from core.errors import CancelledError, InputError

SIZE = (1.1, 0.9, 1.0)
FAN = Fan((0.3, 0.3, 0.5), (1, 0.2, 0.1), 0.15, 0.03)
BOX = Solid((0.4, 0.3, 0), (0.8, 0.6, 0.2))
SHELF = Panel("z", (0.3, 0.2, 0.5), (0.9, 0.7, 0.5), 1.5)
INTAKE = Opening("left", (0.2, 0.1), (0.4, 0.2), 0.02)
EXHAUST = Opening("top", (0.7, 0.5), (0.9, 0.7), -0.02)
ROOM = AirScene(SIZE, [FAN], [BOX], [SHELF], [INTAKE, EXHAUST])


@pytest.fixture(scope="module")
def field() -> FlowField:
    return solve_flow(ROOM, 0.1, 300, 100)


def test_fields_have_the_shapes_that_callers_rely_on(field: FlowField) -> None:
    assert field.velocity.shape == (3, 11, 9, 10)
    assert field.speed.shape == (11, 9, 10)
    # The mean of amounts is no less than the amount of the mean, but for the last projection.
    assert (field.speed >= np.linalg.norm(field.velocity, axis=0) - 1e-4).all()
    assert not field.speed[4:8, 3:6, :2].any()


def test_air_comes_in_where_and_as_much_as_it_is_let_in(field: FlowField) -> None:
    area = field.grid.face_area(0)
    assert field.faces[0][0].sum() * area == pytest.approx(0.02, rel=1e-12)
    assert field.faces[0][0][2:4, 1].sum() * area == pytest.approx(0.02, rel=1e-12)
    assert field.faces[2][:, :, -1].sum() * area == pytest.approx(0.02, rel=1e-12)


def test_air_goes_where_the_fan_blows(field: FlowField) -> None:
    ahead = field.at([(0.6, 0.36, 0.53)])[0]
    assert ahead[0] > 0.5
    assert field.at([FAN.position]).shape == (1, 3)


def test_values_at_places_are_linear_between_faces(field: FlowField) -> None:
    middle = field.at([(0.25, 0.25, 0.75)])[0]
    np.testing.assert_allclose(middle, field.velocity[:, 2, 2, 7], rtol=1e-12)


def mirrored(scene: AirScene) -> AirScene:
    """The same scene seen in a mirror square to x."""
    width = scene.size[0]

    def other(place: tuple[float, ...]) -> tuple[float, ...]:
        return (width - place[0], *place[1:])

    def turned(box: Solid | Panel) -> Solid | Panel:
        lo, hi = other(box.lo), other(box.hi)
        return replace(box, lo=(hi[0], *lo[1:]), hi=(lo[0], *hi[1:]))

    return replace(
        scene,
        fans=[
            replace(fan, position=other(fan.position), direction=(-x, y, z))
            for fan in scene.fans
            for x, y, z in [fan.direction]
        ],
        solids=[turned(solid) for solid in scene.solids],
        panels=[turned(panel) for panel in scene.panels],
        openings=[
            replace(INTAKE, face="right"),
            replace(EXHAUST, lo=(width - 0.9, 0.5), hi=(width - 0.7, 0.7)),
        ],
    )  # fmt: skip


def test_a_mirrored_scene_mirrors_its_flow(field: FlowField) -> None:
    seen = solve_flow(mirrored(ROOM), 0.1, 300, 100)
    back = seen.velocity[:, ::-1] * np.array([-1, 1, 1])[:, None, None, None]
    off = np.linalg.norm(back - field.velocity, axis=0)
    assert math.sqrt(np.mean(off**2)) < 0.02 * field.speed.mean()


def test_doubling_all_flows_doubles_all_speeds(field: FlowField) -> None:
    fans = [replace(fan, flow=2 * fan.flow) for fan in ROOM.fans]
    openings = [replace(opening, flow=2 * opening.flow) for opening in ROOM.openings]
    twice = solve_flow(replace(ROOM, fans=fans, openings=openings), 0.1, 300, 100)
    off = twice.speed / 2 - field.speed
    assert math.sqrt(np.mean(off**2)) < 0.02 * field.speed.mean()


shares = st.floats(0.05, 0.95)


@st.composite
def scenes(draw: st.DrawFn) -> AirScene:
    """A small scene with anything in it; solids stay low enough to leave a way through."""
    size = (draw(st.floats(0.15, 0.9)), draw(st.floats(0.15, 0.9)), draw(st.floats(0.35, 0.9)))

    def place(most: float = 1.0) -> tuple[float, float, float]:
        x, y, z = (draw(shares) * side for side in size)
        return x, y, z * most

    def box(most: float = 1.0) -> tuple[tuple[float, ...], tuple[float, ...]]:
        a, b = place(most), place(most)
        return tuple(map(min, a, b)), tuple(map(max, a, b))

    way = draw(st.sampled_from([(1, 0, 0), (0, -1, 0), (0.3, 0.4, -0.8), (-1, 1, 0.2)]))
    fan = Fan(place(), way, draw(st.floats(0.05, 0.3)), draw(st.floats(0, 0.1)))
    flow = draw(st.floats(0, 0.05))
    solids = [Solid(*box(0.45))] if draw(st.booleans()) else []
    panels = [Panel(draw(st.integers(0, 2)), *box(), draw(st.floats(0, 5)))]
    whole = ((0, 0), (size[1], size[2]))
    openings = [Opening("left", *whole, flow), Opening("right", *whole, -flow)]
    return AirScene(size, [fan], solids, panels, openings)


@given(scenes())
@settings(max_examples=25)
def test_no_air_is_made_or_lost_in_any_scene(scene: AirScene) -> None:
    field = solve_flow(scene, 0.1, 12, 6)
    flow = scene.openings[0].flow
    for plane in field.faces[0]:
        through = plane.sum() * field.grid.face_area(0)
        assert through == pytest.approx(flow, abs=1e-11)
    assert field.divergence_max <= 1e-12
    assert np.isfinite(field.speed).all()
    assert not np.linalg.norm(field.velocity, axis=0)[~field.fluid].any()


def test_still_air_stays_still() -> None:
    field = solve_flow(AirScene((0.5, 0.4, 0.3)), 0.1, 5, 2)
    assert not field.speed.any()
    assert field.divergence_max == 0.0


def test_a_lid_drags_the_air_alike_in_elevation_and_in_plan() -> None:
    told = {"walls": "no-slip", "viscosity": 0.01}
    scenes = [
        AirScene((1, 0.1, 1), lid=1.0, **told),
        AirScene((1, 1, 0.1), lid=1.0, **told),
        AirScene((1, 0.1, 1), lid={"bottom": (1, 0, 0)}, **told),
    ]
    high, flat, turned = (solve_flow(scene, 0.1, 200, 1).velocity for scene in scenes)
    assert high[0, 5, 0, 9] > 0.3
    np.testing.assert_allclose(flat[0][:, :, 0], high[0][:, 0], atol=1e-3)
    np.testing.assert_allclose(turned[0][:, 0, ::-1], high[0][:, 0], atol=1e-3)


def test_a_plate_thinner_than_a_cell_parts_the_air() -> None:
    plate = Solid((0, 0, 0.49), (1, 1, 0.51))
    scene = AirScene((1, 1, 1), [Fan((0.5, 0.5, 0.2), (1, 0, 0), 0.15, 0.03)], [plate])
    field = solve_flow(scene, 0.1, 60, 20)
    assert field.speed[:, :, :5].mean() > 0.05
    assert not field.faces[2][:, :, 5].any()
    # Pressure is solved only roughly in each step, which stirs the air beyond a little.
    assert field.speed[:, :, 5:].max() < 0.02 * field.speed[:, :, :5].mean()


def test_a_swinging_fan_spreads_the_same_momentum() -> None:
    swinging = Fan((0.5, 0.5, 0.5), (0, 1, 0), 0.15, 0.03, swing=90)
    scene = AirScene((1, 1, 1), [swinging])
    grid = make_grid(scene, 0.1)
    x, y, z = (force.sum() * grid.cell_volume for force in forces_of(scene, grid))
    assert x == pytest.approx(0.0, abs=1e-15)
    assert z == 0.0
    # Mean of the cosine from −45° to 45° is sin 45° / (π/4).
    expected = swinging.momentum * math.sin(math.pi / 4) / (math.pi / 4)
    assert y == pytest.approx(expected, rel=0.005)


@given(st.floats(0.02, 0.5), st.floats(0.02, 0.5), st.floats(0, 0.4), st.sampled_from("xyz"))
@settings(max_examples=40)
def test_an_intake_of_any_size_brings_its_momentum(
    width: float, height: float, place: float, axis: str
) -> None:
    face = {"x": "right", "y": "front", "z": "top"}[axis]
    intake = Opening(face, (place, place), (place + width, place + height), 0.01)
    exhaust = Opening("left", (0, 0), (0.5, 0.5), -0.01)
    grid = make_grid(scene := AirScene((1, 1, 1), openings=[intake, exhaust]), 0.1)
    along = "xyz".index(axis)
    pushed = abs(forces_of(scene, grid)[along].sum()) * grid.cell_volume
    end = grid.end(along, 0 if axis == "y" else 1)
    carried = (openings_at(scene, grid)[0][along][end] ** 2).sum() * grid.face_area(along)
    assert pushed + carried == pytest.approx(0.01**2 / (width * height), rel=1e-12)


def test_a_flow_goes_on_from_where_it_was(field: FlowField) -> None:
    on = solve_flow(ROOM, 0.1, 40, 40, start=field)
    from_rest = solve_flow(ROOM, 0.1, 40, 40)
    off, far = (np.abs(other.speed - field.speed).mean() for other in (on, from_rest))
    assert off < 0.3 * far


def test_a_finer_flow_begins_from_a_coarse_one(field: FlowField) -> None:
    fine = solve_flow(ROOM, 0.05, 2, 1, start=field)
    assert fine.speed.shape == (22, 18, 20)
    assert fine.divergence_max <= 1e-12
    assert fine.speed.mean() == pytest.approx(field.speed.mean(), rel=0.2)


@pytest.mark.parametrize("kind", ["callable", "event"])
def test_a_flow_is_cancelled_within_one_step(kind: str) -> None:
    steps: list[int] = []
    event = threading.Event()

    def watch(progress: Progress) -> None:
        steps.append(progress.step)
        if progress.step == 3:
            event.set()

    with pytest.raises(CancelledError):
        solve_flow(ROOM, cancel=event.is_set if kind == "callable" else event, watch=watch)
    assert steps == [1, 2, 3]


def test_pictures_on_the_way_are_free_of_divergence() -> None:
    pictures: list[FlowField] = []

    def watch(progress: Progress) -> None:
        assert progress.steps == 6
        if progress.step % 3 == 0:
            pictures.append(progress.picture())

    last = solve_flow(ROOM, 0.1, 6, 1, watch=watch)
    assert [picture.steps for picture in pictures] == [3, 6]
    assert max(picture.divergence_max for picture in pictures) <= 1e-12
    np.testing.assert_allclose(pictures[1].velocity, last.velocity, atol=1e-12)


def test_air_is_oldest_where_it_is_not_fresh(field: FlowField) -> None:
    age = mean_age(field)
    assert np.isnan(age[5, 4, 0])
    assert (age[field.fluid] > 0).all()
    assert age[0, 2:4, 1].max() < age[field.fluid].mean()


def test_air_behind_a_closed_wall_is_infinitely_old() -> None:
    plate = Solid((0, 0, 0.49), (1, 1, 0.51))
    ends = [
        Opening("left", (0, 0), (0.5, 0.3), 0.01),
        Opening("right", (0, 0), (0.5, 0.3), -0.01),
    ]
    age = mean_age(solve_flow(AirScene((1, 1, 1), [], [plate], openings=ends), 0.1, 20, 5))
    assert np.isinf(age[:, :, 5:]).all()
    assert np.isfinite(age[:, :, :5]).all()


def test_age_needs_fresh_air() -> None:
    with pytest.raises(InputError, match="add an intake and an exhaust"):
        mean_age(
            solve_flow(
                AirScene((0.5, 0.5, 0.5), [replace(FAN, position=(0.2, 0.2, 0.2))]), 0.1, 2, 1
            )
        )


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda: Fan((0, 0), (1, 0, 0), 0.1, 0.1), "Fan: position"),
        (lambda: Fan((0, 0, 0), (0, 0, 0), 0.1, 0.1), "Fan: length of direction = 0"),
        (lambda: Fan((0, 0, 0), (1, 0, 0), 0, 0.1), "Fan: diameter = 0 m"),
        (lambda: Fan((0, 0, 0), (1, 0, 0), 0.1, -3), "Fan: flow = −3 m³/s must not be negative"),
        (lambda: Fan((0, 0, 0), (1, 0, 0), 0.1, 0.1, 400), "Fan: swing = 400 °"),
        (lambda: Solid((1, 0, 0), (0, 1, 1)), "Solid: hi − lo = −1 m"),
        (lambda: Panel("w", (0, 0, 0), (1, 1, 0), 1), "Panel: axis = w is not known"),
        (lambda: Panel(2, (0, 0, 0), (1, 1, 0), -1), "Panel: loss = −1"),
        (lambda: Opening("up", (0, 0), (1, 1), 1), "Opening: face = up is not known"),
        (lambda: Opening("top", (0, 0), (0, 1), 1), "Opening: area = 0 m²"),
        (lambda: Opening("top", (0, 0), (1, 1), math.nan), "Opening: flow = nan m³/s"),
        (lambda: Heat({}), "Heat: faces = none"),
        (lambda: AirScene((1, 0, 1)), "Air scene: size = 0 m"),
        (lambda: AirScene(SIZE, [replace(FAN, position=(2, 0, 0))]), "Fan: position = 2 m"),
        (lambda: AirScene(SIZE, openings=[INTAKE]), "Openings: net flow = 0.02 m³/s must be zero"),
        (lambda: AirScene(SIZE, walls="smooth"), "Air scene: walls = smooth is not known"),
        (lambda: AirScene(SIZE, viscosity=0), "Air scene: viscosity = 0 m²/s"),
        (lambda: AirScene(SIZE, lid=1.0), "Air scene: lid = 1.0 needs no-slip walls"),
        (lambda: AirScene(SIZE, lid={"up": (1, 0, 0)}), "Lid: face = up is not known"),
        (lambda: AirScene(SIZE, heat=Heat({"left": 1})), "Air scene: heat = given needs"),
        (lambda: solve_flow(ROOM, 0.0), "Flow: cell = 0 m"),
        (lambda: solve_flow(ROOM, 0.002), "Flow: cells = "),
        (lambda: solve_flow(ROOM, steps=0), "Flow: steps = 0"),
        (lambda: solve_flow(ROOM, average=1.5), "Flow: average = 1.5"),
    ],
)
def test_what_cannot_be_used_is_refused_in_words(make, told: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError) as caught:
        make()
    assert str(caught.value).startswith(told)


def test_an_exhaust_that_no_intake_reaches_is_refused() -> None:
    plate = Solid((0, 0, 0.49), (1, 1, 0.51))
    ends = [
        Opening("bottom", (0, 0), (0.5, 0.3), 0.01),
        Opening("top", (0, 0), (0.5, 0.3), -0.01),
    ]
    with pytest.raises(InputError, match="must be zero in every space"):
        solve_flow(AirScene((1, 1, 1), [], [plate], openings=ends), 0.1, 1, 1)


def test_an_opening_behind_a_solid_is_refused() -> None:
    block = Solid((0, 0, 0), (0.3, 0.9, 0.4))
    with pytest.raises(InputError, match=r"Opening: place = left .* is covered"):
        solve_flow(replace(ROOM, solids=[block]), 0.1, 1, 1)


def test_walls_that_do_not_slip_need_whole_cells_of_solid() -> None:
    plate = Solid((0, 0, 0.49), (1, 0.5, 0.51))
    with pytest.raises(InputError, match=r"Solid: thickness = 0\.02 m"):
        solve_flow(AirScene((1, 1, 1), [], [plate], walls="no-slip"), 0.1, 1, 1)


def test_naming_the_flow_loads_neither_numba_nor_scipy() -> None:
    code = (
        "import sys, core.air as air; print('core.air.flow' in sys.modules);"
        "air.AirScene((1, 1, 1)), air.solve_flow, air.mean_age;"
        "print('numba' in sys.modules, 'scipy' in sys.modules)"
    )
    top = Path(core.air.__file__).parents[2]
    told = subprocess.run(
        [sys.executable, "-c", code], cwd=top, capture_output=True, text=True, check=True
    )
    assert told.stdout.split() == ["False", "False", "False"]


def test_unknown_names_are_still_unknown() -> None:
    with pytest.raises(AttributeError, match="no_such_thing"):
        _ = core.air.no_such_thing
    assert all(hasattr(core.air, name) for name in core.air.__all__)


def test_every_kernel_lets_other_threads_run() -> None:
    found = [
        kernel
        for module in (momentum_kernels, pressure_kernels, turbulence_kernels)
        for kernel in vars(module).values()
        if hasattr(kernel, "targetoptions")
    ]
    assert len(found) > 15
    assert all(kernel.targetoptions["nogil"] for kernel in found)


def test_a_long_kernel_does_not_hold_up_the_window() -> None:
    """The calling thread keeps running while one single call of a kernel takes its time."""
    warm_up()
    size = 33**3
    levels = np.array([(0, 31, 31, 31)], dtype=np.int64)
    links = (np.ones(size), np.ones(size), np.ones(size))
    total, inverse = np.full(size, 6.0), np.full(size, 1 / 6)
    guess, answer, way, image = (np.zeros(size) for _ in range(4))
    charge = np.random.default_rng(1).normal(size=size)
    begun, ended = threading.Event(), threading.Event()

    def work() -> None:
        begun.set()
        pressure_kernels.solve(
            levels, links, total, inverse, guess, charge, answer, way, image,
            (False, False, False), -1.0, 60,
        )  # fmt: skip
        ended.set()

    worker = threading.Thread(target=work)
    worker.start()
    begun.wait()
    turns = 0
    while not ended.is_set():
        time.sleep(0.001)
        turns += 1
    worker.join()
    assert turns > 10
