"""Light against closed forms, catalogued factors and constants of nature, each with its source."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from core.light import (
    Distribution,
    Lamp,
    Scene,
    Surface,
    boxes,
    cosine_power,
    direct_rows,
    dli,
    photons_per_joule,
    photons_per_kilolux,
    receivers,
    solve,
    view_factor,
)
from core.light.output import LIGHTS

UP = (0.0, 0.0, 1.0)


def floor(width: float, depth: float, z: float = 0.0, x: float = 0.0, y: float = 0.0) -> Surface:
    """A rectangle that faces up."""
    return Surface((x, y, z), (width, 0, 0), (0, depth, 0))


def ceiling(width: float, depth: float, z: float) -> Surface:
    """A rectangle that faces down."""
    return Surface((0, 0, z), (0, depth, 0), (width, 0, 0))


def light_at(lamp: Lamp, point: tuple[float, float, float]) -> float:
    """The direct light of one lamp on a point that faces up. [µmol m⁻² s⁻¹]"""
    return float(solve(Scene((), (lamp,)), [point], [UP]).direct[0])


def test_point_source_follows_inverse_square_and_cosine() -> None:
    """Inverse-square and cosine law: 1000 / 2 · cos 45°."""
    even = cosine_power(0)
    lamp = Lamp((0, 0, 1), (0, 0), 1000 * even.flux, distribution=even)
    assert light_at(lamp, (1, 0, 0)) == pytest.approx(1000 / 2 * math.sqrt(0.5), rel=1e-6)


@pytest.mark.parametrize(("point", "expected"), [((0.5, 0.5, 0), 13.8532), ((0, 0, 0), 23.9456)])
def test_square_board_from_its_corner_and_its_centre(
    point: tuple[float, float, float], expected: float
) -> None:
    """Siegel and Howell, Thermal Radiation Heat Transfer; Tregenza and Sharples, Daylighting
    Algorithms, 3.14. Given to six digits."""
    assert light_at(Lamp((0, 0, 1), (1, 1), 100), point) == pytest.approx(expected, abs=6e-5)


def test_summed_samples_of_a_board_meet_the_closed_form() -> None:
    """As above; the exponent is off 1 by a hair, so that samples are summed instead."""
    lamp = Lamp((0, 0, 1), (1, 1), 100, distribution=cosine_power(1 + 1e-9))
    assert light_at(lamp, (0, 0, 0)) == pytest.approx(23.9456, rel=2e-3)


@pytest.mark.parametrize(
    ("width", "depth", "gap", "expected"),
    [(1, 1, 1, 0.199825), (1.2, 0.45, 0.4, 0.351162), (1.2, 0.45, 0.1, 0.748727)],
)
def test_parallel_rectangles(width: float, depth: float, gap: float, expected: float) -> None:
    """Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-11 (from memory)."""
    factor = view_factor(floor(width, depth), ceiling(width, depth, gap))
    assert factor == pytest.approx(expected, abs=6e-7)


def test_perpendicular_squares_with_a_common_edge() -> None:
    """Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-14 (from memory)."""
    wall = Surface((0, 0, 0), (0, 1, 0), (0, 0, 1))
    assert view_factor(floor(1, 1), wall) == pytest.approx(0.200044, abs=6e-7)
    assert view_factor(wall, floor(1, 1)) == pytest.approx(0.200044, abs=6e-7)


def test_strip_below_its_middle() -> None:
    """E = I0 / (L d) (a + sin a cos a), a = atan(L / 2 d), I0 = Φ / π: 133.261."""
    a = math.atan(1.2 / 0.6)
    expected = 100 / math.pi / (1.2 * 0.3) * (a + math.sin(a) * math.cos(a))
    assert expected == pytest.approx(133.261, abs=6e-4)
    assert light_at(Lamp((0, 0, 0.3), (1.2, 0), 100), (0, 0, 0)) == pytest.approx(
        expected, rel=1e-6
    )


@pytest.mark.parametrize("m", [0, 1, 2, 5.5, 40])
def test_flux_of_a_power_of_the_cosine(m: float) -> None:
    """Closed form: 2 π I0 / (m + 1); Lambertian π I0."""
    shape = cosine_power(m)
    on_axis = float(shape.intensity(0, 0))
    assert shape.flux == pytest.approx(2 * math.pi * on_axis / (m + 1), rel=1e-12)


def test_flux_of_a_lambertian_table() -> None:
    """Closed form: a 5° table, linear in angle, gives 0.999365 of π I0."""
    gamma = np.arange(0.0, 91.0, 5.0)
    table = Distribution([0.0], gamma, [100 * np.cos(np.radians(gamma))])
    assert table.flux == pytest.approx(0.999365 * math.pi * 100, rel=1e-6)


def test_flux_of_a_table_nears_the_power_it_was_made_from() -> None:
    """Closed form 2 π I0 / (m + 1); a 1° table leaves less than 0.05 % at m = 4."""
    gamma = np.arange(0.0, 91.0)
    table = Distribution([0.0], gamma, [np.cos(np.radians(gamma)) ** 4])
    assert table.flux == pytest.approx(2 * math.pi / 5, rel=5e-4)


def test_small_board_near_below_its_centre() -> None:
    """Quadrature of the cosine law, here repeated on 400 × 400 midpoints: 266.063."""
    half = (np.arange(400) + 0.5) / 400 * 0.3 - 0.15
    x, y = np.meshgrid(half, half)
    expected = 100 / math.pi * np.mean(0.3**2 / (x**2 + y**2 + 0.3**2) ** 2)
    assert expected == pytest.approx(266.063, abs=6e-4)
    assert light_at(Lamp((0, 0, 0.3), (0.3, 0.3), 100), (0, 0, 0)) == pytest.approx(
        expected, rel=1e-5
    )


def test_opaque_sheet_over_half_the_way_halves_the_factor() -> None:
    """Symmetry: half of 0.187245 (Howell C-11, from memory) = 0.0936223."""
    factor = view_factor(floor(2, 2), ceiling(2, 2, 2.1), [floor(2, 1, z=1.05)])
    assert factor == pytest.approx(0.0936223, rel=1e-3)


def test_opaque_panel_in_the_middle_of_the_way() -> None:
    """Monte Carlo with 24 million rays: 0.1333 ± 0.0001."""
    panel = floor(1.2, 0.45, z=1.0, x=0.4, y=0.775)
    factor = view_factor(floor(2, 2), ceiling(2, 2, 2.1), [panel])
    assert factor == pytest.approx(0.1333, rel=5e-3)


@pytest.mark.parametrize(
    ("reflectance", "expected"), [(0.1, 0.4480), (0.5, 4.0323), (0.8, 16.1290), (0.9, 36.2903)]
)
def test_mean_reflected_light_in_a_closed_room(reflectance: float, expected: float) -> None:
    """Φ / S · ρ / (1 − ρ), the integrating sphere; CIE 171:2006, test 5.8 (from memory)."""
    x, y, z, o = (2.0, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, 2.1), (0.0, 0.0, 0.0)
    sides = [(o, x, y), (z, y, x), (o, y, z), (x, z, y), (o, z, x), (y, x, z)]
    faces = [Surface(*side, reflectance) for side in sides]
    steps = (np.arange(20) + 0.5) / 20
    a, b = (part.reshape(-1, 1) for part in np.meshgrid(steps, steps))
    points = [np.array(f.origin) + a * np.array(f.u) + b * np.array(f.v) for f in faces]
    normals = np.repeat([face.normal for face in faces], 400, axis=0)
    room = Scene(tuple(faces), (Lamp((1, 1, 1.4), (0, 0), 100),))
    found = solve(room, np.concatenate(points), normals, patch=0.2).reflected
    weights = np.repeat([face.area for face in faces], 400)
    assert np.average(found, weights=weights) == pytest.approx(expected, rel=3e-3)


def test_photons_per_kilolux_of_daylight() -> None:
    """CIE illuminant D65 and V(λ), 400–700 nm: 18.02 µmol/m²/s per klx."""
    nm, energy = np.loadtxt(Path(__file__).parent / "data" / "d65.csv", delimiter=",").T
    assert photons_per_kilolux(nm, energy) == pytest.approx(18.02, abs=0.01)


def test_photons_per_kilolux_of_a_white_led() -> None:
    """CIE 015:2018, illuminant LED-B3, computed by an independent colour library: 14.337."""
    nm, energy = np.loadtxt(Path(__file__).parent / "data" / "led_b3.csv", delimiter=",").T
    assert photons_per_kilolux(nm, energy) == pytest.approx(14.337, abs=0.01)
    assert LIGHTS["led-neutral"].per_kilolux == pytest.approx(14.337, rel=5e-3)


@pytest.mark.parametrize(("nm", "expected"), [(555, 4.6394), (450, 3.7617)])
def test_photons_per_joule_of_one_wavelength(nm: float, expected: float) -> None:
    """h, c and N_A of the SI: λ / (h c N_A)."""
    assert photons_per_joule([nm], [1.0]) == pytest.approx(expected, abs=6e-5)
    narrow = photons_per_joule([nm - 0.1, nm, nm + 0.1], [0.0, 1.0, 0.0])
    assert narrow == pytest.approx(expected, abs=6e-5)


def test_daily_light() -> None:
    """Definition, ANSI/ASABE S640 (seen in a secondary copy): 300 · 16 · 3600 / 1e6."""
    assert dli(300, 16) == pytest.approx(17.28, rel=1e-12)


@pytest.mark.parametrize(
    ("key", "lux_per_photon"),
    [("sun", 54), ("sodium", 82), ("fluorescent", 74), ("incandescent", 50)],
)
def test_named_kinds_of_light(key: str, lux_per_photon: float) -> None:
    """Thimijan and Heins, HortScience 18(6), 1983 (seen in a secondary copy), ±10 %."""
    light = LIGHTS[key]
    assert 1000 / light.per_kilolux == pytest.approx(lux_per_photon, rel=light.uncertainty)
    assert light.uncertainty == 0.10


def test_fluorescent_factor_agrees_with_a_measured_spectrum_within_its_uncertainty() -> None:
    """CIE 015:2018, illuminant FL2 (cool white), by an independent colour library: 13.075."""
    light = LIGHTS["fluorescent"]
    assert light.per_kilolux == pytest.approx(13.075, rel=light.uncertainty)


def test_glowing_surface_gives_exitance_times_its_factor() -> None:
    """Definition of the configuration factor; board of row 2 with exitance 100 µmol/m²/s."""
    panel = Surface((-0.5, -0.5, 1), (0, 1, 0), (1, 0, 0), exitance=100)
    field = solve(Scene((panel,), ()), [(0, 0, 0), (0.5, 0.5, 0)], [UP, UP])
    assert field.direct == pytest.approx([23.9456, 13.8532], abs=6e-5)


def test_board_lights_a_wall_as_the_perpendicular_configuration_factor() -> None:
    """Howell, catalog B-4 (from memory): a plane element square to a rectangle at its edge,
    F = (atan(1/Y) − Y / √(X²+Y²) · atan(1 / √(X²+Y²))) / 2π, element below a corner."""
    width, depth, drop = 1.0, 0.6, 0.5
    x, y = depth / width, drop / width
    root = math.hypot(x, y)
    expected = (math.atan(1 / y) - y / root * math.atan(1 / root)) / (2 * math.pi)
    board = Lamp((width / 2, depth / 2, drop), (width, depth), 100 * width * depth)
    field = solve(Scene((), (board,)), [(0, 0, 0)], [(0, 1, 0)])
    assert field.direct[0] == pytest.approx(100 * expected, rel=1e-6)


def test_wire_shelf_right_across_passes_its_share() -> None:
    """Definition of transmittance."""
    lamp, point = Lamp((0, 0, 1), (0.3, 0.3), 100), receivers([[(0, 0, 0)]])
    clear = direct_rows([lamp], point, boxes([], []))
    shelf = boxes([(-1, -1, 0.5)], [(1, 1, 0.51)], 0.7)
    assert direct_rows([lamp], point, shelf) == pytest.approx(0.7 * clear)
