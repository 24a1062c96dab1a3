"""A whole room with shelves and lamps against an independent ray tracer, where it is installed.

pyradiance drives Radiance (G. Ward Larson and R. Shakespeare, Rendering with Radiance, 1998), which
follows random rays; this program exchanges light between patches. They share no code.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from core.light import Lamp, LightField, Scene, Surface, solve, warm_up

LAMPS = (
    Lamp((0.7, 0.6, 1.95), (0.3, 0.3), 100.0),
    Lamp((1.3, 1.4, 1.95), (0.6, 0.2), 80.0),
    Lamp((0.7, 1.4, 0.95), (0.2, 0.2), 40.0),
)


def room() -> Scene:
    """Grey walls and, one millimetre apart, the upper and the lower side of two shelves."""
    x, y, z, o = (2.0, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, 2.1), (0.0, 0.0, 0.0)
    sides = [(o, x, y), (z, y, x), (o, y, z), (x, z, y), (o, z, x), (y, x, z)]
    greys = (0.2, 0.6, 0.7, 0.5, 0.7, 0.4)
    surfaces = [Surface(*side, grey) for side, grey in zip(sides, greys, strict=True)]
    for corner, u, v in (((0.2, 1.1, 1.0), 1.0, 0.7), ((1.1, 0.1, 0.6), 0.8, 0.8)):
        low = (*corner[:2], corner[2] - 0.001)
        surfaces.append(Surface(corner, (u, 0, 0), (0, v, 0), 0.1))
        surfaces.append(Surface(low, (0, v, 0), (u, 0, 0), 0.6))
    return Scene(tuple(surfaces), LAMPS)


def points() -> np.ndarray:
    """Nine places at each of three heights, none in line with an edge."""
    steps = (0.33, 0.97, 1.66)
    return np.array([(x, y, z) for z in (0.07, 0.71, 1.43) for x in steps for y in steps])


def polygon(name: str, material: str, corners: np.ndarray) -> str:
    numbers = " ".join(f"{value:.9g}" for value in corners.ravel())
    return f"{material} polygon {name} 0 0 12 {numbers}\n"


def described(scene: Scene) -> str:
    """Return the scene in Radiance's own words."""
    lines = []
    for number, surface in enumerate(scene.surfaces):
        grey = f"{surface.reflectance:g} " * 3
        lines.append(f"void plastic grey{number} 0 0 5 {grey} 0 0\n")
        lines.append(polygon(f"face{number}", f"grey{number}", surface.corners))
    for number, lamp in enumerate(scene.lamps):
        radiance = f"{lamp.flux / (np.pi * lamp.size[0] * lamp.size[1]):.9g} " * 3
        u, v, _ = lamp.axes()
        u, v = u * lamp.size[0] / 2, v * lamp.size[1] / 2
        corners = np.array(lamp.centre) + np.array([-u - v, v - u, u + v, u - v])
        ahead = np.cross(corners[1] - corners[0], corners[2] - corners[1])
        corners = corners if ahead @ np.array(lamp.direction) > 0 else corners[::-1]
        lines.append(f"void light glow{number} 0 0 3 {radiance}\n")
        lines.append(polygon(f"lamp{number}", f"glow{number}", corners))
    return "".join(lines)


def traced(scene: Scene, places: np.ndarray, folder: Path, bounces: int) -> np.ndarray:
    pyradiance = pytest.importorskip("pyradiance")
    (folder / "room.rad").write_text(described(scene))
    (folder / "room.oct").write_bytes(pyradiance.oconv(str(folder / "room.rad")))
    asked = "".join(f"{x} {y} {z} 0 0 1\n" for x, y, z in places)
    words = f"-ab {bounces} -ad 2000 -as 0 -aa 0 -lw 1e-6 -lr 12 -ds 0.005 -dj 0 -dt 0 -dc 1"
    found = pyradiance.rtrace(
        asked.encode(), str(folder / "room.oct"), header=False, irradiance=True,
        params=words.split(),
    )  # fmt: skip
    rows = np.array([line.split() for line in found.decode().splitlines() if line], dtype=float)
    return rows[:, 0]


@pytest.fixture(scope="module")
def found() -> LightField:
    warm_up()
    return solve(room(), points(), (0.0, 0.0, 1.0), patch=0.1)


def off(values: np.ndarray, expected: np.ndarray) -> float:
    """Return the root mean square of the difference over the mean."""
    return float(np.sqrt(((values - expected) ** 2).mean()) / expected.mean())


def test_direct_light_in_a_room_agrees_within_a_hundredth(found: LightField, tmp_path) -> None:
    assert off(found.direct, traced(room(), points(), tmp_path, 0)) < 0.01


def test_all_light_in_a_room_agrees_within_two_hundredths(found: LightField, tmp_path) -> None:
    expected = traced(room(), points(), tmp_path, 9)
    assert off(found.total, expected) < 0.02
    assert found.reflected.mean() > 0.1 * found.total.mean()
