"""Files made here, read by independent programs too: the same numbers must come out.

`pyldt` reads EULUMDAT, `ies2rad` of pyradiance LM-63; each test skips where its program is missing.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import replace
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from core.light import read_photometric_file, read_photometry
from core.light.photometry import Opening
from tests.photometry_kit import GAMMA, TAGS, Ldt, Lm63, uneven

EFFICACY = 179.0
"""[lm/W] Radiance's constant between photometric and radiometric values."""


@pytest.mark.parametrize("symmetry", range(5))
@pytest.mark.parametrize("comma", [False, True])
def test_pyldt_reads_the_same_planes(tmp_path: Path, symmetry: int, comma: bool) -> None:
    pyldt = pytest.importorskip("pyldt")
    c = np.arange(0.0, 360.0, 22.5)
    source = Ldt(symmetry=symmetry, c=c, step=22.5, comma=comma)
    path = tmp_path / "board.ldt"
    path.write_text(source.text(), encoding="latin-1", newline="")

    theirs = pyldt.LdtReader.read(path)
    ours = read_photometric_file(path)

    assert theirs.header.lamp_flux == [one.lumens for one in ours.lamp_sets]
    for plane, row in zip(c, theirs.intensities, strict=True):
        read = ours.distribution.intensity(plane, source.gamma)
        assert read == pytest.approx(2.0 * np.array(row))


def test_pyldt_writes_what_we_read(tmp_path: Path) -> None:
    pyldt = pytest.importorskip("pyldt")
    path = tmp_path / "board.ldt"
    sets = ((2, "LED", 1500, "3000 K", "90", 12), (1, "LED", 700, "", "", 6))
    path.write_text(Ldt(symmetry=2, sets=sets).text(), encoding="latin-1", newline="")

    written = pyldt.LdtWriter.write(pyldt.LdtReader.read(path), tmp_path / "again.ldt")
    first, again = read_photometric_file(path), read_photometric_file(written)

    assert again.lamp_sets == first.lamp_sets
    assert again.lumens == pytest.approx(first.lumens, rel=1e-4)


Convert = Callable[[Lm63], tuple[str, list[list[float]], np.ndarray]]


@pytest.fixture
def ies2rad(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> Convert:
    """What `ies2rad` makes of a file: its scene, its angles by axis, its intensities [cd]."""
    pyradiance = pytest.importorskip("pyradiance")

    def convert(source: Lm63) -> tuple[str, list[list[float]], np.ndarray]:
        path = tmp_path / "board.ies"
        path.write_text(source.text(), encoding="latin-1")
        pyradiance.ies2rad(str(path), outname=str(tmp_path / "board"))
        scene = (tmp_path / "board.rad").read_text()
        axes, values = data_file((tmp_path / "board.dat").read_text())
        return scene, axes, values * EFFICACY

    return convert


def data_file(text: str) -> tuple[list[list[float]], np.ndarray]:
    """Angles and values of Radiance's data files; angles are listed where ends are given as 0 0."""
    words = iter([float(word) for word in text.split()])
    axes = []
    for _ in range(int(next(words))):
        low, high, count = next(words), next(words), int(next(words))
        listed = low == high == 0 and count > 1
        axes.append([*islice(words, count)] if listed else [*np.linspace(low, high, count)])
    return axes, np.array([*words]).reshape([len(axis) for axis in axes])


def factor_in(scene: str, area: float) -> float:
    """What `ies2rad` multiplies every intensity with, freed of the lit area. [1]"""
    after = scene.split("brightdata")[-1].splitlines()[3]
    count, *factors = after.split()
    return area * float(factors[0]) if count != "0" else area


def assert_same(source: Lm63, ies2rad: Convert) -> None:
    scene, axes, theirs = ies2rad(source)
    ours = read_photometry(source.text())
    planes, gamma = (axes[0], axes[1]) if len(axes) == 2 else ([0.0], axes[0])
    area = source.dimensions[0] * source.dimensions[1]
    rows = theirs.reshape(len(planes), len(gamma)) * factor_in(scene, area)
    for c, row in zip(planes, rows, strict=True):
        assert ours.intensity(c, gamma) == pytest.approx(row, rel=1e-4)


@pytest.mark.parametrize("version", TAGS)
@pytest.mark.parametrize(
    "c", [[0], [0, 45, 90], [0, 60, 120, 180], [0, 90, 180, 270, 360], [0, 10, 90]]
)
def test_ies2rad_reads_the_same_intensities(ies2rad: Convert, version: str, c: list[float]) -> None:
    table = uneven(c, GAMMA)
    table[-1] = table[0] if c[-1] == 360 else table[-1]
    source = Lm63(version=version, c=c, table=table, multiplier=2, ballast=0.9, extra=0.7)
    assert_same(source, ies2rad)


def test_ies2rad_reads_the_same_from_90_to_270(ies2rad: Convert) -> None:
    source = Lm63(c=[90, 135, 180, 225, 270])
    assert_same(source, ies2rad)


@pytest.mark.parametrize("gamma", [[0, 5, 20, 90], [90, 120, 180], np.arange(0, 181, 10)])
def test_ies2rad_reads_the_same_angles(ies2rad: Convert, gamma: Any) -> None:
    source = Lm63(c=[0, 90], gamma=gamma)
    assert_same(source, ies2rad)


SHAPES = {
    "point": Opening.POINT,
    "rectangle": Opening.RECTANGLE,
    "box": Opening.BOX,
    "disk": Opening.DISC,
    "ellipse": Opening.ELLIPSE,
    "sphere": Opening.SPHERE,
    "ellipsoid": Opening.SPHEROID,
    "vertical cylinder": Opening.UPRIGHT_CYLINDER,
    "vertical elliptical cylinder": Opening.UPRIGHT_ELLIPTIC_CYLINDER,
    "horizontal cylinder along photometric horizontal": Opening.CYLINDER_ALONG,
    "horizontal cylinder perpendicular to photometric horizontal": Opening.CYLINDER_ACROSS,
}
SIGNED = {
    "1991": [(0, 0, 0), (1, 2, 0), (1, 2, 3), (-1, 0, 0), (-1, 2, 0), (-1, 0, 3), (-1, 2, 3)],
    "1995": [(0, 0, 0), (1, 2, 0), (1, 2, 3), (-1, 0, 0), (-1, 0, 3), (-1, 2, 3), (2, -1, 3),
             (-1, 2, -1), (1, -2, -3), (0, 2, -1), (1, 0, -1)],
    "2002": [(0, 0, 0), (1, 2, 0), (1, 2, 3), (-1, -1, 0), (-1, -2, 0), (-1, -1, 3), (-1, -2, 3),
             (-1, -1, -1), (-1, -2, -3), (-1, 2, -1), (1, -2, -2)],
}  # fmt: skip


@pytest.mark.parametrize("version", SIGNED)
def test_ies2rad_sees_the_same_shapes(ies2rad: Convert, version: str) -> None:
    for dimensions in SIGNED[version]:
        source = replace(Lm63(version=version), dimensions=dimensions)
        scene, _, _ = ies2rad(source)
        shape = re.search(r"IES file shape = (.*)", scene)[1].strip()
        assert read_photometric_file(source.text()).opening is SHAPES[shape], dimensions


def test_ies2rad_lays_the_length_along_c0(ies2rad: Convert) -> None:
    source = Lm63(unit=1, dimensions=(1, 3, 0))
    scene, _, _ = ies2rad(source)
    corners = np.array(scene.split("polygon")[1].split()[4:16], dtype=float).reshape(4, 3)
    extent = np.ptp(corners, axis=0)
    size = read_photometric_file(source.text()).size

    assert "Dimensions in meters" in scene
    assert size[:2] == pytest.approx(extent[:2], rel=1e-4)


def drawn_lm63(chance: random.Random) -> Lm63:
    """A file of any version, with any of the factors, units, planes and signs of lumens."""
    c = chance.choice([[0], [0, 30, 90], [0, 90, 180], [0, 22.5, 180], [0, 45, 180, 270, 360]])
    gamma = chance.choice([[0, 10, 20, 90], [0, 7.5, 90, 180], [90, 95, 180], list(GAMMA)])
    table = uneven(c, gamma) * chance.choice([1.0, 0.01, 250.0])
    table[-1] = table[0] if c[-1] == 360 else table[-1]
    tilted = chance.random() < 0.3
    return Lm63(
        version=chance.choice(list(TAGS)), c=c, gamma=gamma, table=table,
        lamps=chance.choice([1, 2, 4]), lumens=chance.choice([-1, 850, 12000]),
        multiplier=chance.choice([1, 2.5]), ballast=chance.choice([1, 0.88]),
        extra=chance.choice([1, 0.95]), unit=chance.choice([1, 2]),
        dimensions=chance.choice([(0.3, 0.6, 0), (1, 4, 0)]),
        tilt="INCLUDE" if tilted else "NONE",
        tilt_numbers=(1, 3, 0, 45, 90, 1, 0.95, 0.9) if tilted else (),
    )  # fmt: skip


@pytest.mark.parametrize("seed", range(25))
def test_ies2rad_reads_any_variant_the_same(ies2rad: Convert, seed: int) -> None:
    source = drawn_lm63(random.Random(seed))
    foot = 0.3048 if source.unit == 1 else 1.0
    scene, axes, theirs = ies2rad(source)
    planes, gamma = (axes[0], axes[1]) if len(axes) == 2 else ([0.0], axes[0])
    area = source.dimensions[0] * source.dimensions[1] * foot**2
    rows = theirs.reshape(len(planes), len(gamma)) * factor_in(scene, area)
    chance = random.Random(-seed)
    text = source.text(
        chance.choice([" ", ",", ", ", "\t"]), chance.choice(["\n", "\r\n"]), chance.choice([3, 99])
    )
    ours = read_photometry(text)
    for c, row in zip(planes, rows, strict=True):
        assert ours.intensity(c, gamma) == pytest.approx(row, rel=2e-4)


def test_ies2rad_aims_type_b_the_same_along_its_axes(ies2rad: Convert) -> None:
    angle = np.arange(-90.0, 91.0, 15.0)
    table = uneven(angle, angle)
    source = Lm63(kind=2, gamma=angle, c=angle, table=table, dimensions=(0.3, 0.6, 0))
    scene, axes, theirs = ies2rad(source)
    rows = theirs * factor_in(scene, 0.18)
    middle = angle.size // 2
    ours = read_photometry(source.text())
    assert axes[0] == pytest.approx(angle) and axes[1] == pytest.approx(angle)
    # Its own words on type B: the vertical angle rises towards +x, the horizontal one towards -y.
    assert "srcB_horiz srcB_vert" in scene
    # At 90° all vertical angles are one direction, so that the table says several things of it.
    gamma, up, right = angle[middle:-1], rows[middle], rows[:, middle]
    assert ours.intensity(0, gamma) == pytest.approx(up[middle:-1], rel=1e-3)
    assert ours.intensity(180, gamma) == pytest.approx(up[middle:0:-1], rel=1e-3)
    assert ours.intensity(270, gamma) == pytest.approx(right[middle:-1], rel=1e-3)
    assert ours.intensity(90, gamma) == pytest.approx(right[middle:0:-1], rel=1e-3)


@pytest.mark.parametrize("seed", range(15))
def test_pyldt_reads_any_variant_the_same(tmp_path: Path, seed: int) -> None:
    pyldt = pytest.importorskip("pyldt")
    chance = random.Random(seed)
    step = chance.choice([15.0, 22.5, 45.0])
    c = np.arange(0.0, 360.0, step)
    gamma = chance.choice([[0, 5, 15, 45, 90], np.arange(0.0, 181.0, 5.0), GAMMA])
    sets = [(chance.randint(1, 3), "LED", chance.choice([450, 2000]), "3000 K", "90", 12)]
    sets += [(2, "LED", 3300, "", "", 40)] * chance.randint(0, 2)
    source = Ldt(
        symmetry=chance.randint(0, 4), c=c, step=step, gamma=gamma, sets=sets,
        conversion=chance.choice([1, 0.5, 1.25]), comma=chance.random() < 0.5,
    )  # fmt: skip
    path = tmp_path / "lamp.ldt"
    path.write_text(source.text(chance.choice(["\n", "\r\n"])), encoding="latin-1", newline="")

    theirs = pyldt.LdtReader.read(path)
    ours = read_photometric_file(path)
    factor = source.conversion * ours.lamp_sets[0].lumens / 1000.0  # candela per kilolumen
    for plane, row in zip(c, theirs.intensities, strict=True):
        read = ours.distribution.intensity(plane, gamma)
        assert read == pytest.approx(factor * np.array(row))
