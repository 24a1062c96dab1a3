"""Light from a measured lamp at points, against a ray tracer and against plain sums."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from core.light import Distribution, Lamp, Scene, Surface, read_photometric_file, solve
from tests.photometry_kit import Lm63

EFFICACY = 179.0
"""[lm/W] Radiance's constant between photometric and radiometric values."""
PLAIN = ["-ab", "0", "-ds", "0.02", "-dj", "0", "-dt", "0", "-dc", "1"]
GAMMA = np.arange(0.0, 181.0, 5.0)
C = np.arange(0.0, 91.0, 22.5)


def uneven_lamp(dimensions: tuple[float, float, float]) -> Lm63:
    """A batwing along the lamp, a beam across it, and some light upwards. [cd]"""
    angle = np.radians(GAMMA)
    down = np.maximum(np.cos(angle), 0.0)
    rows = [
        1000.0 * down ** (1 + turn / 2) + 150.0 * np.maximum(np.sin(2 * angle), 0) * (2 - turn / 2)
        for turn in range(C.size)
    ]
    table = np.where(GAMMA > 90, 100.0 * np.abs(np.cos(angle)), np.stack(rows))
    return Lm63(c=C, gamma=GAMMA, table=table, dimensions=dimensions)


def lit_by(source: Lm63) -> Lamp:
    file = read_photometric_file(source.text())
    size = file.size[:2]
    return Lamp((0, 0, 0), size, file.lumens, distribution=file.distribution)


def places(nearest: float, count: int = 16) -> tuple[np.ndarray, np.ndarray]:
    """Points below the lamp, level and facing up. [m]"""
    chance = np.random.default_rng(1)
    across = chance.uniform(-0.6, 0.6, (count, 2))
    points = np.column_stack([across, chance.uniform(-1.0, -nearest, count)])
    return points, np.tile([0.0, 0.0, 1.0], (count, 1))


def traced(source: Lm63, points: np.ndarray, normals: np.ndarray, folder: Path) -> np.ndarray:
    """What Radiance finds at points. [lx]"""
    pyradiance = pytest.importorskip("pyradiance")
    path = folder / "lamp.ies"
    path.write_text(source.text(), encoding="latin-1")
    pyradiance.ies2rad(str(path), outname=str(folder / "lamp"))
    (folder / "lamp.oct").write_bytes(pyradiance.oconv(str(folder / "lamp.rad")))
    rows = np.column_stack([points, normals])
    rays = "\n".join(" ".join(f"{value:.6f}" for value in row) for row in rows).encode()
    found = pyradiance.rtrace(
        rays, str(folder / "lamp.oct"), header=False, irradiance=True, params=PLAIN
    )
    return EFFICACY * np.array(found.split(), dtype=float).reshape(-1, 3)[:, 1]


def test_a_point_lights_above_and_below_as_a_ray_tracer_says(tmp_path: Path) -> None:
    source = uneven_lamp((0, 0, 0))
    points, normals = places(0.25)
    points[::2, 2] *= -1
    normals[::2] *= -1
    ours = solve(Scene((), (lit_by(source),)), points, normals).direct
    # Both read the same table linearly; ours from a grid about a degree apart.
    assert ours == pytest.approx(traced(source, points, normals, tmp_path), rel=2e-3)


def test_a_board_lights_as_a_ray_tracer_says(tmp_path: Path) -> None:
    source = uneven_lamp((0.3, 0.6, 0))
    points, normals = places(0.6)
    ours = solve(Scene((), (lit_by(source),)), points, normals).direct
    # Its own division of the board errs by up to 1 % here, see the plain sum below.
    assert ours == pytest.approx(traced(source, points, normals, tmp_path), rel=1e-2)


def test_a_board_near_by_is_the_sum_of_its_places() -> None:
    lamp = lit_by(uneven_lamp((0.3, 0.6, 0)))
    points, normals = places(0.25)
    ours = solve(Scene((), (lamp,)), points, normals).direct
    # Samples a sixth of the distance apart; direct light is to be within 1 % of a ray tracer's.
    assert ours == pytest.approx(summed(lamp, points), rel=5e-3)


def summed(lamp: Lamp, points: np.ndarray, count: int = 120) -> np.ndarray:
    """Inverse square and cosine over a fine grid of the lit face, at level points below it."""
    shape = lamp.distribution
    assert isinstance(shape, Distribution)
    step = (np.arange(count) + 0.5) / count - 0.5
    x, y = np.meshgrid(step * lamp.size[0], step * lamp.size[1], indexing="ij")
    found = []
    for place in points:
        way = place - np.stack([x, y, np.zeros_like(x)], axis=-1)
        away = np.linalg.norm(way, axis=-1)
        c = np.degrees(np.arctan2(way[..., 1], way[..., 0]))
        gamma = np.degrees(np.arccos(-way[..., 2] / away))
        found.append((shape.intensity(c, gamma) * -way[..., 2] / away**3).mean())
    return np.array(found)


def test_all_light_of_a_lamp_that_shines_both_ways_stays_in_a_closed_room() -> None:
    """What is absorbed was sent out: the mean on all faces is Φ / (S (1 − ρ)), Φ / S straight."""
    x, y, z, o = (2.0, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, 2.1), (0.0, 0.0, 0.0)
    sides = [(o, x, y), (z, y, x), (o, y, z), (x, z, y), (o, z, x), (y, x, z)]
    faces = [Surface(*side, 0.5) for side in sides]
    steps = (np.arange(20) + 0.5) / 20
    a, b = (part.reshape(-1, 1) for part in np.meshgrid(steps, steps))
    points = [np.array(f.origin) + a * np.array(f.u) + b * np.array(f.v) for f in faces]
    normals = np.repeat([face.normal for face in faces], 400, axis=0)
    lamp = replace(
        lit_by(uneven_lamp((0, 0, 0))), centre=(1, 1, 1.1), flux=100.0, direction=(1, 2, -5)
    )
    found = solve(Scene(tuple(faces), (lamp,)), np.concatenate(points), normals, patch=0.2)

    area = np.repeat([face.area for face in faces], 400)
    straight = 100.0 / (16.8 + 8.0)
    assert np.average(found.direct, weights=area) == pytest.approx(straight, rel=5e-3)
    assert np.average(found.reflected, weights=area) == pytest.approx(straight, rel=5e-3)
