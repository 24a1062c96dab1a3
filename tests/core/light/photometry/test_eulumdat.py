"""EULUMDAT files of every symmetry, written here and read back equal."""

from __future__ import annotations

import math

import numpy as np
import pytest

from core.errors import InputError
from core.light import read_photometric_file, read_photometry
from core.light.photometry import Opening
from tests.photometry_kit import GAMMA, Ldt, lambertian

ROUND = np.arange(0.0, 360.0, 30.0)
TWO_SETS = ((1, "LED", 1000, "3000 K", "90", 10), (2, "LED", 3000, "4000 K", "80", 30))


def test_file_is_read_back() -> None:
    file = read_photometric_file(Ldt().text())

    assert (file.format, file.version) == ("EULUMDAT", "")
    assert file.distribution.intensity(90, GAMMA) == pytest.approx(2 * Ldt().rows()[1])
    assert file.watts == 25
    assert file.keywords["LUMINAIRE"] == "Board"
    assert file.keywords["NUMBER"] == ""


def test_intensities_are_per_kilolumen_times_the_conversion_factor() -> None:
    source = Ldt(conversion=1.5, sets=((1, "LED", 4000, "", "", 0),))
    file = read_photometric_file(source.text())

    assert file.distribution.intensity(0, 0) == pytest.approx(100 * 1.5 * 4)
    assert file.watts is None


@pytest.mark.parametrize("symmetry", range(5))
def test_symmetry_is_undone(symmetry: int) -> None:
    source = Ldt(symmetry=symmetry, c=ROUND, step=30)
    read = read_photometry(source.text())
    first = 270 if symmetry == 3 else 0
    listed = (first + 30 * np.arange(source.planes_listed())) % 360
    # The same light comes from the plane on the other side of each mirror.
    images = {0: [], 1: [77.0 + 0 * listed], 2: [-listed], 3: [180 - listed]}
    images[4] = [-listed, 180 - listed, 180 + listed]

    for planes in [listed, *images[symmetry]]:
        for c, row in zip(planes, source.rows(), strict=True):
            assert read.intensity(c, GAMMA) == pytest.approx(2 * row)


def test_unequal_steps_in_both_angles() -> None:
    c, gamma = [0, 10, 90, 170, 180, 190, 270, 350], [0, 5, 20, 60, 90]
    for symmetry in (0, 2):
        source = Ldt(symmetry=symmetry, c=c, step=0, gamma=gamma)
        read = read_photometry(source.text())
        for plane, row in zip(c, source.rows(), strict=False):
            assert read.intensity(plane, gamma) == pytest.approx(2 * row)
    assert read.intensity(350, gamma) == pytest.approx(read.intensity(10, gamma))


def test_planes_of_no_symmetry_that_start_after_zero() -> None:
    source = Ldt(c=[45, 135, 225, 315])
    read = read_photometry(source.text())
    assert read.intensity([45, 315, 0], 0) == pytest.approx([200, 242, 221])


@pytest.mark.parametrize("symmetry", [2, 4])
def test_one_plane_alone_and_no_more_is_needed_for_round_light(symmetry: int) -> None:
    assert read_photometry(Ldt(symmetry=1, c=[0]).text()).intensity(99, 0) == pytest.approx(200)
    with pytest.raises(InputError, match="planes = C0 – C0 must hold C0 to C"):
        read_photometry(Ldt(symmetry=symmetry, c=[0]).text())


@pytest.mark.parametrize("end", ["\r\n", "\n", "\r"])
@pytest.mark.parametrize("per_line", [1, 7])
def test_decimal_comma_line_ends_and_packed_numbers(end: str, per_line: int) -> None:
    source = Ldt(comma=True, per_line=per_line, conversion=1.25)
    read = read_photometry(source.text(end))
    assert read.intensity(0, 15) == pytest.approx(100.5 * 2.5)


def test_lamp_sets_are_ways_to_equip() -> None:
    text = Ldt(sets=TWO_SETS).text()
    first, second = read_photometric_file(text), read_photometric_file(text, lamp_set=2)

    assert first.distribution.intensity(0, 0) == pytest.approx(100)
    assert second.distribution.intensity(0, 0) == pytest.approx(300)
    assert (first.watts, second.watts) == (10, 30)
    assert [one.count for one in first.lamp_sets] == [1, 2]
    with pytest.raises(InputError, match="lamp set = 3 must lie between 1 and 2"):
        read_photometric_file(text, lamp_set=3)


def test_lamp_sets_listed_value_by_value() -> None:
    by_set = read_photometric_file(Ldt(sets=TWO_SETS).text())
    by_value = read_photometric_file(Ldt(sets=TWO_SETS, by_value=True).text())
    assert by_value.lamp_sets == by_set.lamp_sets


def test_negative_number_of_lamps_is_absolute() -> None:
    file = read_photometric_file(Ldt(sets=((-1, "LED", 2000, "", "", 20),)).text())
    assert file.absolute
    assert file.lamp_sets[0].count == 1
    assert file.distribution.intensity(0, 0) == pytest.approx(200)


@pytest.mark.parametrize(
    ("area", "opening", "size"),
    [
        ((600, 300, 0, 0, 0, 0), Opening.RECTANGLE, (0.3, 0.6, 0)),
        ((600, 300, 20, 30, 20, 30), Opening.BOX, (0.3, 0.6, 0.03)),
        ((250, 0, 0, 0, 0, 0), Opening.DISC, (0.25, 0.25, 0)),
        ((250, 0, 40, 40, 40, 40), Opening.UPRIGHT_CYLINDER, (0.25, 0.25, 0.04)),
        ((0, 0, 0, 0, 0, 0), Opening.POINT, (0, 0, 0)),
    ],
)
def test_luminous_area(area, opening: Opening, size) -> None:
    file = read_photometric_file(Ldt(area=area).text())
    assert file.opening is opening
    assert file.size == pytest.approx(size)


def test_numbers_that_may_be_left_open() -> None:
    lines = Ldt().lines()
    for line in (2, 5, 7, 13, 15, 22, 23, 25):
        lines[line - 1] = ""
    assert read_photometry("\n".join(lines)).intensity(0, 0) == pytest.approx(200)


def test_lambertian_table_integrates_as_check_8_says() -> None:
    gamma, table = lambertian(5.0)
    source = Ldt(symmetry=1, gamma=gamma, table=table, sets=((1, "", 1000, "", "", 1),))
    flux = read_photometry(source.text()).flux
    assert flux == pytest.approx(100 * math.pi * 0.999365, rel=1e-6)


def test_text_that_looks_like_the_other_format_does_not_mislead() -> None:
    lines = Ldt().lines()
    lines[0], lines[8] = "TILT=NONE", "IESNA91"
    assert read_photometric_file("\n".join(lines)).format == "EULUMDAT"
