"""Reflected light: balance, open scenes, and a plain photon tracer as an independent oracle."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.light import Lamp, Scene, Surface, cell_grid, exchange, obstacles, solve
from core.light.bounce import interior
from core.light.patches import MOST, cut

UP = (0.0, 0.0, 1.0)


def room(reflectance: float, width: float = 2.0, height: float = 2.1) -> list[Surface]:
    """The six faces of a room, lit inside, one of them not square."""
    x, y, z, o = (width, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, height), (0.0, 0.0, 0.0)
    sides = [(o, x, y), (z, y, x), (o, y, z), (x, z, y), (o, z, x), (y, x, z)]
    return [Surface(*side, reflectance) for side in sides]


def furnished() -> Scene:
    """A room with a wire shelf, a tray on it and two lamps."""
    shelf = Surface((0.3, 0.4, 0.8), (1.2, 0, 0), (0, 0.6, 0), 0.2, 0.5)
    tray = Surface((0.5, 0.5, 0.95), (0.7, 0, 0), (0, 0.4, 0), 0.6)
    lamps = (Lamp((0.7, 0.7, 1.6), (0.3, 0.3), 60), Lamp((1.5, 1.2, 1.9), (0, 0), 40))
    return Scene((*room(0.7), shelf, tray), lamps)


def traced(scene: Scene, target: int, photons: int) -> tuple[float, float]:
    """Return the mean reflected light on one surface by following photons, and its deviation."""
    random = np.random.default_rng(5)
    area = scene.surfaces[target].area
    total = variance = 0.0
    for lamp in scene.lamps:
        across, along, ahead = lamp.axes()
        place = random.uniform(-0.5, 0.5, (photons, 2)) * lamp.size
        origin = np.array(lamp.centre) + place[:, :1] * across + place[:, 1:] * along
        hits = _follow(scene, target, origin, np.broadcast_to(ahead, origin.shape), random)
        total += hits * lamp.flux / photons / area
        variance += hits * (lamp.flux / photons / area) ** 2
    return total, variance**0.5


def _follow(
    scene: Scene, target: int, origin: np.ndarray, normal: np.ndarray, random: np.random.Generator
) -> int:
    """Count arrivals on the target's lit side after at least one reflection."""
    way = _lambertian(normal, random)
    sent_back = np.zeros(len(origin), dtype=bool)
    hits, number = 0, np.full(len(origin), -1)
    while origin.size:
        number, distance = _first_hit(scene, origin, way, number)
        origin = origin + distance[:, None] * way
        surfaces = [scene.surfaces[n] for n in range(len(scene.surfaces))]
        facing = np.array([s.normal for s in surfaces])[number]
        lit = (way * facing).sum(axis=1) < 0
        hits += int((sent_back & lit & (number == target)).sum())
        reflectance = np.array([s.reflectance for s in surfaces])[number] * lit
        transmittance = np.array([s.transmittance for s in surfaces])[number]
        chance = random.random(len(origin))
        back, on = chance < reflectance, chance > 1 - transmittance
        way = np.where(back[:, None], _lambertian(facing, random), way)
        sent_back = sent_back | back
        keep = back | on
        origin, way, sent_back, number = (p[keep] for p in (origin, way, sent_back, number))
    return hits


def _lambertian(normal: np.ndarray, random: np.random.Generator) -> np.ndarray:
    ball = random.normal(size=normal.shape)
    way = normal + ball / np.linalg.norm(ball, axis=1, keepdims=True)
    return way / np.linalg.norm(way, axis=1, keepdims=True)


def _first_hit(
    scene: Scene, origin: np.ndarray, way: np.ndarray, last: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    best, number = np.full(len(origin), np.inf), np.zeros(len(origin), dtype=int)
    for n, surface in enumerate(scene.surfaces):
        corner, u, v = np.array(surface.origin), np.array(surface.u), np.array(surface.v)
        rise = way @ surface.normal
        distance = ((corner - origin) @ surface.normal) / np.where(rise == 0, 1e-300, rise)
        place = origin + np.clip(distance, -9, 9)[:, None] * way - corner
        a, b = place @ u / (u @ u), place @ v / (v @ v)
        inside = (np.abs(a - 0.5) <= 0.5 + 1e-9) & (np.abs(b - 0.5) <= 0.5 + 1e-9)
        nearer = inside & (last != n) & (distance > -1e-9) & (distance < best)
        best, number = np.where(nearer, distance, best), np.where(nearer, n, number)
    assert np.isfinite(best).all(), "a photon left the room"
    return number, best


@pytest.mark.parametrize("target", [0, 1, 7])
def test_reflected_light_agrees_with_traced_photons(target: int) -> None:
    """Floor (in the shade of shelf and tray), ceiling, and the tray's upper side."""
    scene = furnished()
    surface = scene.surfaces[target]
    steps = (np.arange(10) + 0.5) / 10
    a, b = (part.reshape(-1, 1) for part in np.meshgrid(steps, steps))
    points = np.array(surface.origin) + a * np.array(surface.u) + b * np.array(surface.v)
    found = float(solve(scene, points, surface.normal, patch=0.2).reflected.mean())
    expected, deviation = traced(scene, target, 300_000)
    assert deviation < 0.01 * expected
    assert found == pytest.approx(expected, rel=0.02)


def absorbed(scene: Scene, patch: float) -> np.ndarray:
    """Return what all surfaces of a shut scene absorb of each lamp's photons. [µmol/s]"""
    patches, hindering = cut(scene, patch), obstacles.of_surfaces(scene.surfaces)
    inside = interior(patches, hindering, exchange.closed(patches, hindering))
    assert inside.shut.all()
    arriving = inside.settled(inside.lit_by(scene.lamps))
    return arriving @ (patches.area * (1 - patches.reflectance - patches.transmittance))


def test_what_is_sent_out_is_absorbed() -> None:
    """Energy in a closed scene: each lamp's light is absorbed on all sides together."""
    assert absorbed(furnished(), 0.15) == pytest.approx([60, 40], rel=0.005)


@settings(max_examples=12, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(st.data())
def test_energy_is_kept_in_any_scene(data: st.DataObject) -> None:
    """A room of any greys with shelves, some of wire, and lamps anywhere in it."""
    grey = st.floats(0.0, 0.92)
    x, y, z, o = (2.0, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, 2.1), (0.0, 0.0, 0.0)
    sides = [(o, x, y), (z, y, x), (o, y, z), (x, z, y), (o, z, x), (y, x, z)]
    surfaces = [Surface(*side, data.draw(grey)) for side in sides]
    for _ in range(data.draw(st.integers(0, 4))):
        corner = tuple(data.draw(st.floats(0.05, 0.9)) for _ in range(3))
        u, v = data.draw(st.floats(0.3, 1.0)), data.draw(st.floats(0.3, 1.0))
        sent = data.draw(grey)
        passed = data.draw(st.floats(0.0, 1.0 - sent))
        surfaces.append(Surface(corner, (u, 0, 0), (0, v, 0), sent, passed))
    place = st.tuples(*(st.floats(0.3, 1.7) for _ in range(3)))
    sizes = st.sampled_from([(0.0, 0.0), (0.3, 0.3), (0.5, 0.0)])
    ways = st.sampled_from([(0.0, 0.0, -1.0), (0.3, 0.0, -1.0), (1.0, 1.0, 0.2)])
    lamps = tuple(
        Lamp(data.draw(place), data.draw(sizes), 100.0, data.draw(ways))
        for _ in range(data.draw(st.integers(1, 3)))
    )
    assert absorbed(Scene(tuple(surfaces), lamps), 0.3) == pytest.approx(100.0, rel=0.005)


def test_areas_times_factors_are_symmetric() -> None:
    patches, hindering = cut(furnished(), 0.3), obstacles.of_surfaces(furnished().surfaces)
    exchanged = patches.area[:, None] * exchange.between_patches(patches, hindering)
    np.testing.assert_allclose(exchanged, exchanged.T, rtol=1e-5, atol=1e-9)


def test_open_scene_is_not_balanced_as_if_it_were_closed() -> None:
    """A floor of 4 m² under a point gives a ceiling patch above it what it reflects, no more:
    small ceiling 1 m above, E = ρ ∫ E0(x) dF, by quadrature."""
    ground = Surface((-1, -1, 0), (2, 0, 0), (0, 2, 0), 0.5)
    lamp = Lamp((0, 0, 0.8), (0, 0), 100)
    field = solve(Scene((ground,), (lamp,)), [(0, 0, 1.0)], [(0, 0, -1)], patch=0.05)
    cells = (np.arange(400) + 0.5) / 200 - 1
    square = cells[:, None] ** 2 + cells**2
    lit = 100 / np.pi * 0.8**2 / (square + 0.8**2) ** 2
    expected = 0.5 * (lit / np.pi / (square + 1) ** 2).sum() / 200**2
    assert field.direct[0] == 0
    assert field.reflected[0] == pytest.approx(expected, rel=2e-3)


def test_glow_is_reflected_like_lamp_light() -> None:
    panel = Surface((0.85, 0.85, 2.05), (0, 0.3, 0), (0.3, 0, 0), exitance=100 / 0.09)
    lamp = Lamp((1, 1, 2.05), (0.3, 0.3), 100)
    points = cell_grid(0, 0, 2, 2, 0.4).points(0)
    dark = Surface(panel.origin, panel.u, panel.v)
    glowing = solve(Scene((*room(0.7), panel), ()), points, UP, patch=0.3)
    lit = solve(Scene((*room(0.7), dark), (lamp,)), points, UP, patch=0.3)
    np.testing.assert_allclose(glowing.reflected, lit.reflected, rtol=1e-3)
    np.testing.assert_allclose(glowing.direct, lit.direct, rtol=1e-3)
    assert glowing.per_lamp.shape == (0, 25)


def test_black_surfaces_send_nothing_on() -> None:
    field = solve(Scene(tuple(room(0.0)), (Lamp((1, 1, 1), (0, 0), 100),)), [(1, 1, 0)], UP)
    assert field.reflected == pytest.approx([0.0])
    assert field.total == pytest.approx(field.direct)


def test_backs_that_see_nothing_have_no_patches() -> None:
    assert cut(Scene(tuple(room(0.5))), 10.0).count == 6
    assert cut(furnished(), 10.0).count == 6 + 2 + 2


def test_patches_are_widened_rather_than_too_many() -> None:
    assert 0.9 * MOST < cut(furnished(), 0.01).count < 1.1 * MOST


def test_light_that_is_never_absorbed_is_refused() -> None:
    with pytest.raises(InputError, match="must let some light be absorbed; enter less than 1"):
        solve(Scene(tuple(room(1.0)), (Lamp((1, 1, 1), (0, 0), 1),)), [(1, 1, 0)], UP, patch=1)
