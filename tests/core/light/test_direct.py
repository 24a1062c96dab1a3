"""Direct light: the compiled rows against their plain twin, and laws that hold for any lamp."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.light import (
    Distribution,
    Lamp,
    Obstacles,
    Receivers,
    Scene,
    Surface,
    boxes,
    cell_grid,
    cosine_power,
    direct_rows,
    emitters,
    obstacles,
    receivers,
    solve,
)
from core.light.direct import emitter_rows

CLEAR = boxes([], [])
GAMMA = np.arange(0.0, 91.0, 5.0)
LOPSIDED = Distribution(
    [0.0, 90.0, 180.0, 270.0],
    GAMMA,
    [np.cos(np.radians(GAMMA)) ** power for power in (1.0, 2.0, 4.0, 8.0)],
)
SHAPES = [None, cosine_power(4.0), cosine_power(30.0), LOPSIDED]


def random_lamp(random: np.random.Generator) -> Lamp:
    size = random.choice([0.0, 0.3, 0.9], 2)
    tilt = (*random.uniform(-0.6, 0.6, 2), -1.0)
    shape = SHAPES[random.integers(len(SHAPES))]
    centre = random.uniform((0, 0, 1.2), (2, 2, 1.9))
    return Lamp(centre, size, 100.0, tilt, random.uniform(0, 360), shape)


def random_boxes(random: np.random.Generator, count: int) -> Obstacles:
    low = random.uniform((-0.2, -0.2, 0.3), (1.8, 1.8, 1.3), (count, 3))
    size = random.uniform((0.1, 0.1, 0.0), (1.5, 0.6, 0.1), (count, 3))
    size[::3, 2] = 0.0
    owner = random.integers(-1, 4, count)
    return boxes(low, low + size, random.choice([0.0, 0.3, 0.7], count), owner)


def random_points(random: np.random.Generator) -> Receivers:
    grids = [cell_grid(*random.uniform(0, 1, 2), 0.9, 0.4).points(z) for z in (0.0, 0.2, 1.0)]
    wall = random.uniform((0, 0, 0), (0, 2, 2), (40, 3))
    facing: list[object] = [(0, 0, 1)] * 3 + [random.normal(size=(40, 3))]
    return receivers([*grids, wall], facing)


@pytest.mark.parametrize("seed", range(12))
def test_compiled_rows_equal_the_plain_twin(seed: int) -> None:
    random = np.random.default_rng(seed)
    lamps = [random_lamp(random) for _ in range(4)]
    points, hindering = random_points(random), random_boxes(random, 9)
    plain = direct_rows(lamps, points, hindering, owners=range(4), compiled=False)
    fast = direct_rows(lamps, points, hindering, owners=range(4), compiled=True)
    assert plain.max() > 1.0
    np.testing.assert_allclose(fast, plain, rtol=1e-4, atol=1e-4 * plain.max() * 0.01)


def test_compiled_tilted_panels_equal_the_plain_twin() -> None:
    panels = (
        Surface((0.2, 0.1, 0.6), (0.6, 0, 0.3), (0, 0.5, 0)),
        Surface((0.9, 0.4, 0.3), (0.3, 0.3, 0), (0, 0, 0.6), transmittance=0.4),
    )
    lamps = (Lamp((1, 1, 1.5), (0.4, 0.2), 100), Lamp((0.5, 0.4, 1.5), (0.9, 0), 80))
    points = cell_grid(0, 0, 1.7, 1.3).points(0)
    packed = emitters.of_lamps(lamps), receivers([points]), obstacles.of_surfaces(panels)
    plain, fast = (emitter_rows(*packed, compiled=which) for which in (False, True))
    clear = direct_rows(lamps, packed[1], CLEAR)
    assert (plain < 0.9 * clear).mean() > 0.05
    np.testing.assert_allclose(fast, plain, rtol=1e-4, atol=1e-3)


def test_tilted_panel_shades_as_the_box_it_becomes_when_straight() -> None:
    """A panel turned by a hair is no sheet along the axes any more, but shades the same."""
    lamp = (Lamp((0.5, 0.5, 1.5), (0.3, 0.3), 100),)
    points, up = cell_grid(0, 0, 1, 1).points(0), (0, 0, 1)
    straight = Surface((0.4, 0.4, 0.7), (0.5, 0, 0), (0, 0.5, 0))
    turned = Surface((0.4, 0.4, 0.7), (0.5, 0, 2e-5), (0, 0.5, 0))
    first, second = (
        solve(Scene((panel,), lamp), points, up).direct for panel in (straight, turned)
    )
    np.testing.assert_allclose(first, second, rtol=1e-3)


def test_a_level_sheet_turned_in_its_plane_shades_no_more_than_itself() -> None:
    """A point at (0, 0, 2) is hidden behind a diamond at half the height where |x| + |y| < 1."""
    lamp = (Lamp((0, 0, 2), (0, 0), 100),)
    diamond = Surface((0, -0.5, 1), (0.5, 0.5, 0), (-0.5, 0.5, 0))
    points = receivers([[[x, x, 0] for x in (-0.8, -0.52, -0.48, 0.3, 0.48, 0.52, 0.8)]])
    clear = direct_rows(lamp, points, CLEAR)[0]
    seen = direct_rows(lamp, points, obstacles.of_surfaces([diamond]))[0] / clear
    np.testing.assert_allclose(seen, [1, 1, 0, 0, 0, 1, 1], atol=1e-6)


coordinates = st.floats(-1.0, 1.0)
drops = st.floats(0.3, 2.0)
sides = st.sampled_from([0.0, 0.1, 0.6])
shapes = st.sampled_from(SHAPES)


@settings(max_examples=40, deadline=None)
@given(coordinates, coordinates, drops, sides, sides, shapes, st.floats(0.0, 1000.0))
def test_light_is_linear_in_flux(
    x: float, y: float, drop: float, across: float, along: float,
    shape: Distribution | None, flux: float,
) -> None:  # fmt: skip
    points = receivers([cell_grid(0, 0, 0.6, 0.4, 0.2).points(0)])
    one, many = (
        direct_rows([Lamp((x, y, drop), (across, along), f, distribution=shape)], points, CLEAR)
        for f in (1.0, flux)
    )
    np.testing.assert_allclose(many, flux * one, rtol=1e-5, atol=1e-12)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000))
def test_shade_never_raises_light(seed: int) -> None:
    random = np.random.default_rng(seed)
    lamps, points = [random_lamp(random) for _ in range(3)], random_points(random)
    clear = direct_rows(lamps, points, CLEAR)
    shaded = direct_rows(lamps, points, random_boxes(random, 6))
    assert (shaded <= clear * (1 + 1e-5) + 1e-9).all()
    assert (shaded >= 0).all()


@settings(max_examples=40, deadline=None)
@given(coordinates, coordinates, drops, st.sampled_from(SHAPES))
def test_point_lamp_follows_the_inverse_square(
    x: float, y: float, drop: float, shape: Distribution | None
) -> None:
    lamp = [Lamp((0, 0, 0), (0, 0), 100, distribution=shape)]
    near, far = receivers([[(x, y, -drop)]]), receivers([[(2 * x, 2 * y, -2 * drop)]])
    first, second = (direct_rows(lamp, points, CLEAR)[0, 0] for points in (near, far))
    assert first == pytest.approx(4 * second, rel=1e-4, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(coordinates, coordinates, drops, sides, sides)
def test_light_is_alike_on_both_sides_of_a_lamp(
    x: float, y: float, drop: float, across: float, along: float
) -> None:
    lamp = [Lamp((0, 0, drop), (across, along), 100)]
    mirrored = receivers([[(x, y, 0), (-x, y, 0), (x, -y, 0), (-x, -y, 0)]])
    four = direct_rows(lamp, mirrored, CLEAR)[0]
    np.testing.assert_allclose(four, four[0], rtol=1e-5)


@pytest.mark.parametrize("quarters", [1, 2, 3])
@pytest.mark.parametrize("shape", SHAPES)
def test_quarter_turns_leave_the_numbers_alone(quarters: int, shape: Distribution | None) -> None:
    def turned(rows: np.ndarray) -> np.ndarray:
        result = np.array(rows, dtype=float)
        for _ in range(quarters):
            result = np.stack([-result[:, 1], result[:, 0], result[:, 2]], axis=1)
        return result

    lamp = Lamp((0.3, 0.1, 1.0), (0.6, 0.2), 100, (0, 0, -1), 0, shape)
    turned_lamp = Lamp(turned([lamp.centre])[0], lamp.size, 100, (0, 0, -1), 90 * quarters, shape)
    points = cell_grid(-0.5, -0.5, 1.0, 0.7).points(0)
    corners = np.array([(0.11, 0.03, 0.5), (0.52, 0.33, 0.6)])
    box, turned_box = boxes(corners[:1], corners[1:]), turned(corners)
    both = boxes([turned_box.min(axis=0)], [turned_box.max(axis=0)])
    first = direct_rows([lamp], receivers([points]), box)
    second = direct_rows([turned_lamp], receivers([turned(points)]), both)
    np.testing.assert_allclose(second, first, rtol=2e-4, atol=1e-3)


def test_lamp_gives_its_whole_flux_to_a_hall_it_shines_into() -> None:
    """Energy: what a board sends out arrives on floor and walls of a closed box."""
    lamp = [Lamp((0.5, 0.5, 1.0), (0.4, 0.2), 100)]
    n = 100
    cells = (np.arange(n) + 0.5) / n
    a, b = (part.ravel() for part in np.meshgrid(cells, cells))
    zero, one = np.zeros(n * n), np.ones(n * n)
    groups = [
        np.stack(columns, axis=1)
        for columns in [(a, b, zero), (zero, a, b), (one, a, b), (a, zero, b), (a, one, b)]
    ]
    facing = [(0, 0, 1), (1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)]
    arriving = direct_rows(lamp, receivers(groups, facing), CLEAR).sum() / n**2
    assert arriving == pytest.approx(100, rel=2e-4)


@pytest.mark.parametrize("shape", [cosine_power(4.0), LOPSIDED])
def test_spot_gives_its_whole_flux_to_the_half_space(shape: Distribution) -> None:
    """Energy, on a dome of points that face the lamp."""
    gamma = np.radians(np.arange(0.25, 90, 0.5))
    turn = np.radians(np.arange(0, 360, 3))
    g, c = (part.ravel() for part in np.meshgrid(gamma, turn))
    way = np.stack([np.sin(g) * np.cos(c), np.sin(g) * np.sin(c), -np.cos(g)], axis=1)
    light = direct_rows([Lamp((0, 0, 0), (0, 0), 100, distribution=shape)],
                        receivers([way], [-way]), CLEAR)[0]  # fmt: skip
    flux = (light * np.sin(g)).sum() * np.radians(0.5) * np.radians(3)
    assert flux == pytest.approx(100, rel=3e-3)


def test_table_follows_the_lamp_when_it_rolls() -> None:
    """The C = 0 half plane lies along the lamp's x side."""
    points = receivers([[(0.5, 0, 0), (0, 0.5, 0), (-0.5, 0, 0), (0, -0.5, 0)]])
    straight, rolled = (
        direct_rows([Lamp((0, 0, 1), (0, 0), 1, (0, 0, -1), roll, LOPSIDED)], points, CLEAR)[0]
        for roll in (0, 90)
    )
    assert (np.diff(straight) < 0).all()
    np.testing.assert_allclose(rolled, np.roll(straight, 1), rtol=1e-5)


def test_nothing_shines_behind_a_lamp() -> None:
    points = receivers([[(0, 0, 2), (0.3, 0, 1.0)]], [(0, 0, -1)])
    for shape in SHAPES:
        lamp = Lamp((0, 0, 1), (0.3, 0.2), 100, distribution=shape)
        assert (direct_rows([lamp], points, CLEAR) == 0).all()


def test_own_casing_casts_no_shade_but_another_lamps_does() -> None:
    lamp, points = [Lamp((0, 0, 1), (0.3, 0.3), 100)], receivers([[(0.2, 0, 0)]])
    casing = boxes([(-0.2, -0.2, 0.95)], [(0.2, 0.2, 1.05)], owner=7)
    clear = direct_rows(lamp, points, CLEAR)
    assert direct_rows(lamp, points, casing, owners=[7]) == pytest.approx(clear)
    assert direct_rows(lamp, points, casing, owners=[8])[0, 0] == 0


def test_what_merely_touches_casts_no_shade() -> None:
    lamp, points = [Lamp((0, 0, 1), (0.3, 0.3), 100)], receivers([[(0, 0, 0), (0.5, 0.2, 0)]])
    touching = boxes([(-1, -1, 1), (-1, -1, -0.1)], [(1, 1, 1.2), (1, 1, 0)])
    clear = direct_rows(lamp, points, CLEAR)
    assert direct_rows(lamp, points, touching) == pytest.approx(clear)


def test_box_beside_the_rays_changes_nothing_at_all() -> None:
    lamp, points = (
        [Lamp((0.5, 0.5, 1), (0.3, 0.3), 100)],
        receivers([cell_grid(0, 0, 1, 1).points(0)]),
    )
    beside = boxes([(-1, 0, 0.1)], [(-0.05, 1, 0.9)])
    clear = direct_rows(lamp, points, CLEAR)
    assert np.array_equal(direct_rows(lamp, points, beside), clear)


def test_half_covered_board_gives_half_its_light() -> None:
    lamp, points = [Lamp((0, 0, 1), (0.4, 0.4), 100)], receivers([[(0, 0, 0)]])
    half = boxes([(-1, 0, 0.5)], [(1, 1, 0.51)])
    clear = direct_rows(lamp, points, CLEAR)
    assert direct_rows(lamp, points, half) == pytest.approx(0.5 * clear, rel=1e-5)


def test_shades_multiply() -> None:
    lamp, points = [Lamp((0, 0, 1), (0.4, 0.4), 100)], receivers([[(0, 0, 0)]])
    low, high = [(-1, -1, 0.3), (-1, -1, 0.5)], [(1, 1, 0.31), (1, 1, 0.51)]
    clear = direct_rows(lamp, points, CLEAR)
    assert direct_rows(lamp, points, boxes(low, high, [0.7, 0.5])) == pytest.approx(0.35 * clear)


def test_no_lamps_and_no_points_give_empty_rows() -> None:
    points = receivers([[(0, 0, 0)]])
    assert direct_rows([], points, CLEAR).shape == (0, 1)
    assert direct_rows([Lamp((0, 0, 1), (0, 0), 1)], receivers([]), CLEAR).shape == (1, 0)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Lamp((0, 0, 1), (0.1, 0.1), -3), "Lamp: flux = -3 µmol/s must not be negative"),
        (lambda: Lamp((0, 0), (0.1, 0.1), 3), "Lamp: centre = (0, 0) m must be 3 numbers"),
        (lambda: Lamp((0, 0, 1), (-0.1, 0.1), 3), "Lamp: size = -0.1 m must not be negative"),
        (lambda: Lamp((0, 0, 1), (1, 1), 3, (0, 0, 0)), "must be above zero"),
        (lambda: Lamp((0, 0, 1), (1, 1), float("nan")), "must be a number"),
        (lambda: Surface((0, 0, 0), (1, 0, 0), (1, 1, 0)), "a surface is a rectangle"),
        (lambda: Surface((0, 0, 0), (1, 0, 0), (0, 0, 0)), "Surface: length of v"),
        (lambda: Surface((0, 0, 0), (1, 0, 0), (0, 1, 0), 0.7, 0.5), "together = 1.2"),
        (lambda: Surface((0, 0, 0), (1, 0, 0), (0, 1, 0), 1.3), "between 0 and 1"),
        (lambda: Scene((1,), ()), "Scene: surfaces = int must hold Surface objects only"),
        (lambda: boxes([(0, 0, 1)], [(1, 1, 0)]), "Obstacle: high corner"),
        (lambda: boxes([(0, 0, 0)], [(1, 1, 1)], 1.5), "Obstacle: transmittance = 1.5"),
        (lambda: receivers([[(0, 0)]]), "Receivers: points"),
        (lambda: receivers([[(0, 0, 0)]], [(0, 0, 0)]), "Receivers: normals"),
        (lambda: solve(Scene(), [(0, 0, 0)], [(0, 0, 1)], patch=0), "Light: patch = 0 m"),
    ],
)
def test_bad_input_is_told_in_the_house_form(make: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        make()  # type: ignore[operator]
    assert said in str(caught.value)
    assert str(caught.value).endswith(".")
    assert "; " in str(caught.value)


def half_hidden(size: tuple[float, float], edge: float) -> tuple[np.ndarray, np.ndarray]:
    """Return light on a line of points past an opaque edge close below a lamp, and the exact light.

    What a point sees of the lamp is again a rectangle or a line, with its closed form.
    """
    lamp = Lamp((0.0, 0.0, 0.15), size, 100.0)
    sheet = boxes([(-5.0, -5.0, 0.10)], [(edge, 5.0, 0.10)])
    places = np.column_stack([np.linspace(-0.28, 0.3, 59), np.full(59, 0.03), np.zeros(59)])
    found = direct_rows([lamp], receivers([places]), sheet)[0]
    exact = []
    for place in places:
        seen_from = place[0] + (edge - place[0]) * 1.5
        left, right = np.clip(seen_from, -size[0] / 2, size[0] / 2), size[0] / 2
        part = Lamp(((left + right) / 2, 0.0, 0.15), (max(right - left, 1e-9), size[1]),
                    100.0 * (right - left) / size[0])  # fmt: skip
        exact.append(direct_rows([part], receivers([[place]]), CLEAR)[0, 0])
    return found, np.array(exact)


@pytest.mark.parametrize(
    ("size", "most"), [((0.6, 0.3), 0.025), ((1.8, 0.0), 0.0165)], ids=["board", "strip"]
)
def test_an_edge_across_a_lamp_hides_what_it_should(size: tuple[float, float], most: float) -> None:
    """A quarter fewer samples than the plan's would not do; half of them err twice as much."""
    errors = []
    for edge in np.linspace(-0.1, 0.1, 9):
        found, exact = half_hidden(size, float(edge))
        errors.append((found - exact) / exact.max())
    assert np.sqrt(np.mean(np.square(errors))) < most
