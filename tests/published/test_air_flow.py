"""The flow of air against tables, closed forms and identities; the source stands beside each."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.air import (
    AirScene,
    Fan,
    FlowField,
    Heat,
    Opening,
    Panel,
    RoundJet,
    Solid,
    mean_age,
    solve_flow,
)
from core.air.flow.grid import make_grid
from core.air.flow.resistance import WALL_FRICTION
from core.air.flow.sources import forces_of
from core.constants import GRAVITY

HOUR = 3600
JET = RoundJet(flow=150 / HOUR, diameter=0.15)

# Ghia, Ghia and Shin 1982, J. Comput. Phys. 48, table I (from memory): height, then u on the
# vertical centreline at Re 100 and 400.
GHIA = np.array(
    [
        (1.0000, 1.00000, 1.00000),
        (0.9766, 0.84123, 0.75837),
        (0.9688, 0.78871, 0.68439),
        (0.9609, 0.73722, 0.61756),
        (0.9531, 0.68717, 0.55892),
        (0.8516, 0.23151, 0.29093),
        (0.7344, 0.00332, 0.16256),
        (0.6172, -0.13641, 0.02135),
        (0.5000, -0.20581, -0.11477),
        (0.4531, -0.21090, -0.17119),
        (0.2813, -0.15662, -0.32726),
        (0.1719, -0.10150, -0.24299),
        (0.1016, -0.06434, -0.14612),
        (0.0703, -0.04775, -0.10338),
        (0.0625, -0.04192, -0.09266),
        (0.0547, -0.03717, -0.08186),
        (0.0000, 0.00000, 0.00000),
    ]
)


def lid_driven(reynolds: float, cells: int, steps: int, start: FlowField | None) -> FlowField:
    """A square metre under a lid of 1 m/s."""
    side = 1 / cells
    scene = AirScene((1, side, 1), walls="no-slip", viscosity=1 / reynolds, lid=1.0)
    return solve_flow(scene, side, steps, 1, start=start)


@pytest.mark.parametrize(("reynolds", "column"), [(100, 1), (400, 2)])
def test_the_lid_driven_cavity(reynolds: float, column: int) -> None:
    """Ghia, Ghia and Shin 1982, as above: largest error 0.01 on 64² cells."""
    flow = None
    for cells, steps in ((16, 800), (32, 1000), (64, 1500)):
        flow = lid_driven(reynolds, cells, steps, flow)
    assert flow is not None
    middles = (np.arange(64) + 0.5) / 64
    heights = np.concatenate([[0], middles, [1]])
    speeds = np.concatenate([[0], flow.faces[0][32, 0], [1]])
    found = np.interp(GHIA[:, 0], heights, speeds)
    assert np.abs(found - GHIA[:, column]).max() <= 0.01


@pytest.fixture(scope="module")
def jet() -> FlowField:
    """A fan in a walled box, on 5 cm cells."""
    fan = Fan((1.2, 1.2, 0.5), (0, 0, 1), JET.diameter, JET.flow)
    scene = AirScene((2.4, 2.4, 3.0), fans=[fan])
    coarse = solve_flow(scene, 0.1, 300, 150)
    return solve_flow(scene, 0.05, 200, 100, start=coarse)


def test_the_jet_of_a_fan_slows_as_in_the_handbook(jet: FlowField) -> None:
    """K = 6.2: ASHRAE Fundamentals, space air diffusion (from memory): RMS 20 % at 6 to 12 D."""
    ahead = np.linspace(6 * JET.diameter, 12 * JET.diameter, 25)
    places = np.stack([np.full(25, 1.2), np.full(25, 1.2), 0.5 + ahead], axis=1)
    error = jet.at(places)[:, 2] / JET.speed(ahead, 0) - 1
    assert math.sqrt(np.mean(error**2)) <= 0.20


def test_the_jet_of_a_fan_keeps_its_momentum(jet: FlowField) -> None:
    """Conservation of momentum: what crosses a plane beyond the fan, pressure included, less what
    crosses one behind it and what the side walls give to the air that returns along them, is Q²/A;
    0.95 to 1.05 at 6 to 12 D, before the end wall turns the jet."""
    w, area = jet.velocity[2], jet.grid.face_area(2)
    through = (w**2 + jet.pressure).sum(axis=(0, 1)) * area
    rubbed = -WALL_FRICTION * jet.speed * w * area
    from_walls = rubbed[[0, -1]].sum(axis=(0, 1)) + rubbed[:, [0, -1]].sum(axis=(0, 1))
    behind = 4
    for plane in (int((0.5 + n * JET.diameter) / 0.05) for n in (6, 8, 10, 12)):
        gained = through[plane] - through[behind] - from_walls[behind:plane].sum()
        assert 0.95 <= gained / JET.momentum <= 1.05
    assert from_walls[behind:plane].sum() < 0.1 * JET.momentum


def test_no_air_piles_up_after_the_last_solve(jet: FlowField) -> None:
    """Conservation of mass: divergence at most 1e-12 1/s."""
    assert 0 < jet.divergence_max <= 1e-12
    u, v, w = (
        np.diff(jet.faces[axis], axis=axis) / jet.grid.spacing[axis] for axis in range(3)
    )  # fmt: skip
    assert np.abs(u + v + w).max() <= 1e-12


def test_plane_poiseuille_flow_driven_by_a_force() -> None:
    """Closed form: ν = 0.05 m²/s, H = 1 m, force 0.600 m/s²: u_max = F H²/(8 ν) = 1.5 m/s."""
    scene = AirScene((0.1, 0.05, 1), walls="no-slip", viscosity=0.05, body_force=(0.6, 0, 0))
    flow = solve_flow(scene, 0.05, 2500, 1)
    assert flow.velocity[0].max() == pytest.approx(1.5, rel=0.01)
    assert np.abs(flow.velocity[2]).max() < 1e-12


def test_plane_poiseuille_flow_through_a_channel() -> None:
    """Closed form: ν = 0.05 m²/s, H = 1 m, mean 1 m/s: gradient 12 ν U/H² = 0.600, u_max 1.5."""
    ends = [Opening("left", (0, 0), (0.05, 1), 0.05), Opening("right", (0, 0), (0.05, 1), -0.05)]
    scene = AirScene((4, 0.05, 1), walls="no-slip", viscosity=0.05, openings=ends)
    flow = solve_flow(scene, 0.05, 1500, 1)
    pressure = flow.pressure[:, 0].mean(axis=1)
    assert (pressure[30] - pressure[50]) / 1.0 == pytest.approx(0.600, rel=0.01)
    assert flow.velocity[0][40].max() == pytest.approx(1.5, rel=0.01)


def test_the_loss_of_a_porous_panel() -> None:
    """Definition: k = 1.5 at 1.2 m/s takes ½ k u² = 1.080 m²/s²."""
    ends = [
        Opening("left", (0, 0), (0.1, 0.1), 0.012),
        Opening("right", (0, 0), (0.1, 0.1), -0.012),
    ]
    panel = Panel("x", (0.5, 0, 0), (0.5, 0.1, 0.1), 1.5)
    flow = solve_flow(AirScene((1, 0.1, 0.1), panels=[panel], openings=ends), 0.1, 300, 20)
    pressure = flow.pressure[:, 0, 0]
    assert pressure[4] - pressure[5] == pytest.approx(1.080, rel=1e-9)
    assert pressure[0] - pressure[4] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("size", [(1.3, 2.4, 2.6), (2.08, 1.95, 2.0)])
def test_the_age_of_the_air_that_leaves(size: tuple[float, float, float]) -> None:
    """Identity V/Q: 8.112 m³ at 100 m³/h is 292.032 s, whatever the flow, to a relative 1e-9."""
    assert math.prod(size) == pytest.approx(8.112, rel=1e-12)
    flow = 100 / HOUR
    ends = [
        Opening("left", (0.9, 0.1), (1.1, 0.2), flow),
        Opening("right", (0.7, 1.7), (0.9, 1.87), -flow),
    ]
    fan = Fan((0.6, 1, 1), (1, 0.3, 0.2), 0.15, 150 / HOUR)
    field = solve_flow(AirScene(size, fans=[fan], openings=ends), 0.1, 150, 50)
    age, out = mean_age(field)[-1], field.faces[0][-1] * field.grid.face_area(0)
    assert out.sum() == pytest.approx(flow, rel=1e-12)
    assert (age * out).sum() / flow == pytest.approx(292.032, rel=1e-9)


@pytest.mark.parametrize(("rayleigh", "expected"), [(1e4, 2.243), (1e5, 4.519)])
def test_the_differentially_heated_cavity(rayleigh: float, expected: float) -> None:
    """De Vahl Davis 1983, Int. J. Numer. Meth. Fluids 3 (from memory): mean Nusselt number at
    Pr 0.71 within 3 % on 40² cells."""
    diffusivity = 1 / math.sqrt(0.71 * rayleigh)
    heat = Heat({"left": 0.5, "right": -0.5}, diffusivity, expansion=1 / GRAVITY)
    flow = None
    for cells, steps in ((10, 1000), (20, 1000), (40, 1500)):
        scene = AirScene(
            (1, 1 / cells, 1), walls="no-slip", viscosity=0.71 * diffusivity, heat=heat
        )
        flow = solve_flow(scene, 1 / cells, steps, 1, start=flow)
    assert flow is not None
    assert flow.temperature is not None
    warm, cool = flow.temperature[0, 0], flow.temperature[-1, 0]
    into, out_of = (0.5 - warm).mean() * 2 * 40, (cool + 0.5).mean() * 2 * 40
    assert into == pytest.approx(expected, rel=0.03)
    assert out_of == pytest.approx(into, rel=1e-3)


places = st.tuples(st.floats(0, 1.2), st.floats(0, 0.9), st.floats(0, 1.0))
ways = st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda way: math.hypot(*way) > 0.1)


@given(places, ways, st.floats(0.05, 0.3), st.floats(0.001, 0.1))
@settings(max_examples=60)
def test_a_fan_gives_its_momentum_at_any_heading(
    place: tuple[float, float, float],
    way: tuple[float, float, float],
    diameter: float,
    flow: float,
) -> None:
    """Definition M = Q²/A, to 1e-12, also beside walls and inside a solid."""
    fan = Fan(place, way, diameter, flow)
    scene = AirScene((1.2, 0.9, 1.0), fans=[fan], solids=[Solid((0.3, 0, 0), (0.6, 0.9, 0.5))])
    grid = make_grid(scene, 0.1)
    forces = forces_of(scene, grid)
    given_off = [force.sum() * grid.cell_volume for force in forces]
    expected = flow**2 / (math.pi * diameter**2 / 4)
    assert math.hypot(*given_off) == pytest.approx(expected, rel=1e-12)
    turned = np.cross(given_off, fan.heading) / expected
    assert np.abs(turned).max() < 1e-12
    for axis in range(3):
        assert not forces[axis][~grid.free[axis]].any()


def test_a_room_of_the_kind_of_annex_20() -> None:
    """The isothermal room of IEA Annex 20 (Nielsen 1990): 9 m × 3 m, a slot of 0.168 m under the
    ceiling at 0.455 m/s, an exhaust of 0.48 m at the floor across. The bounds are our own: a wall
    jet that slows but stays, and a return flow along the floor of some third of it."""
    supply, thick = 0.455, 0.1
    flow = supply * 0.168 * thick
    ends = [
        Opening("left", (0, 3 - 0.168), (thick, 3), flow),
        Opening("right", (0, 0), (thick, 0.48), -flow),
    ]
    field = solve_flow(AirScene((9, thick, 3), openings=ends), 0.1, 2000, 200)
    u = field.velocity[0][:, 0] / supply
    at_one, at_two = u[30], u[60]
    assert at_one.argmax() >= 27
    assert at_two.argmax() >= 25
    assert 0.5 <= at_two.max() < at_one.max() <= 1.0
    assert -0.5 <= u[10:80, :15].min() <= -0.15
    assert at_one[:15].mean() < 0
    assert at_two[:15].mean() < 0
