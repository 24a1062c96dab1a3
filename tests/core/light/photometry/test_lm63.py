"""LM-63 files of every version, written here and read back equal."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from core.light import Distribution, read_photometric_file, read_photometry
from core.light.photometry import Opening
from tests.photometry_kit import GAMMA, TAGS, Lm63, lambertian, uneven


def assert_reads(distribution: Distribution, c, gamma, table) -> None:
    for angle, row in zip(c, table, strict=True):
        assert distribution.intensity(angle, gamma) == pytest.approx(row)


@pytest.mark.parametrize("version", TAGS)
def test_every_version_is_read_back(version: str) -> None:
    file = read_photometric_file(Lm63(version=version).text())

    assert (file.format, file.version) == ("LM-63", version)
    assert_reads(file.distribution, [0, 77], GAMMA, uneven([0], GAMMA).repeat(2, axis=0))
    assert file.watts == 40
    assert file.lamp_sets[0].lumens == 1000
    assert not file.absolute
    assert file.keywords["LUMINAIRE"] == "board"


@pytest.mark.parametrize("separator", [" ", ",", ", ", "\t", "   "])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("per_line", [1, 4, 1000])
def test_separators_line_ends_and_wrapped_records(separator: str, end: str, per_line: int) -> None:
    c = [0, 45, 90]
    text = Lm63(c=c).text(separator, end, per_line)
    assert_reads(read_photometry(text), c, GAMMA, uneven(c, GAMMA))


def test_records_may_share_a_line() -> None:
    source = Lm63()
    start, numbers = source.text().split("TILT=NONE\n")
    together = start + "TILT=NONE\n" + " ".join(numbers.split("\n"))
    assert_reads(read_photometry(together), [0], GAMMA, uneven([0], GAMMA))


@pytest.mark.parametrize(
    ("version", "factor"),
    [("1986", 2 * 0.9 * 0.8), ("1991", 2 * 0.9 * 0.8), ("1995", 1.8), ("2002", 1.8), ("2019", 1.8)],
)
def test_factors_apply_and_the_third_until_1991_only(version: str, factor: float) -> None:
    source = Lm63(version=version, multiplier=2, ballast=0.9, extra=0.8)
    assert read_photometry(source.text()).intensity(0, 0) == pytest.approx(100 * factor)


def test_lumens_do_not_scale_the_intensities() -> None:
    rated = read_photometric_file(Lm63(lamps=2, lumens=1500).text())
    absolute = read_photometric_file(Lm63(lumens=-1).text())

    assert rated.lamp_sets[0].lumens == 3000
    assert absolute.lamp_sets[0].lumens is None
    assert (rated.absolute, absolute.absolute) == (False, True)
    assert rated.lumens == absolute.lumens == absolute.distribution.flux


def test_feet_become_metres() -> None:
    metres = read_photometric_file(Lm63(unit=2, dimensions=(1, 4, 0.5)).text())
    feet = read_photometric_file(Lm63(unit=1, dimensions=(1, 4, 0.5)).text())

    assert metres.size == (4, 1, 0.5)
    assert feet.size == pytest.approx((1.2192, 0.3048, 0.1524))


@pytest.mark.parametrize(
    ("versions", "dimensions", "opening", "size"),
    [
        ("1986 1991 1995 2002 2019", (0, 0, 0), Opening.POINT, (0, 0, 0)),
        ("1986 1991 1995 2002 2019", (1, 2, 0), Opening.RECTANGLE, (2, 1, 0)),
        ("1986 1991 1995 2002 2019", (1, 2, 3), Opening.BOX, (2, 1, 3)),
        ("1986 1991 1995", (-1, 0, 0), Opening.DISC, (1, 1, 0)),
        ("1986 1991", (-1, 2, 0), Opening.ELLIPSE, (2, 1, 0)),
        ("1986 1991 1995", (-1, 0, 3), Opening.UPRIGHT_CYLINDER, (1, 1, 3)),
        ("1986 1991", (-1, 2, 3), Opening.SPHEROID, (2, 1, 3)),
        ("1995", (-1, 2, 3), Opening.UPRIGHT_ELLIPTIC_CYLINDER, (2, 1, 3)),
        ("1995", (0, 2, -1), Opening.CYLINDER_ALONG, (2, 1, 1)),
        ("1995", (2, 0, -1), Opening.CYLINDER_ACROSS, (1, 2, 1)),
        ("2002 2019", (-1, -1, 0), Opening.DISC, (1, 1, 0)),
        ("2002 2019", (-1, -2, 0), Opening.ELLIPSE, (2, 1, 0)),
        ("2002 2019", (-1, -1, 3), Opening.UPRIGHT_CYLINDER, (1, 1, 3)),
        ("2002 2019", (-1, -2, 3), Opening.UPRIGHT_ELLIPTIC_CYLINDER, (2, 1, 3)),
        ("2002 2019", (-1, -1, -1), Opening.SPHERE, (1, 1, 1)),
        ("2002 2019", (-1, -2, -3), Opening.SPHEROID, (2, 1, 3)),
        ("2002 2019", (-1, 2, -1), Opening.CYLINDER_ALONG, (2, 1, 1)),
        ("2002 2019", (2, -1, -1), Opening.CYLINDER_ACROSS, (1, 2, 1)),
        ("2002", (-1, 2, 0), Opening.OTHER, (2, 1, 0)),
        ("1991", (-1, -2, -3), Opening.OTHER, (2, 1, 3)),
    ],
)
def test_shape_follows_from_the_signs(versions: str, dimensions, opening, size) -> None:
    for version in versions.split():
        file = read_photometric_file(Lm63(version=version, dimensions=dimensions).text())
        assert (file.opening, file.size) == (opening, size)


def test_planes_to_90_and_180_are_mirrored() -> None:
    quarter = read_photometry(Lm63(c=[0, 45, 90]).text())
    half = read_photometry(Lm63(c=[0, 90, 180]).text())

    assert quarter.intensity([0, 45, 90, 135, 180, 315], 0) == pytest.approx(
        [100, 107, 114, 107, 100, 107]
    )
    assert half.intensity([0, 90, 180, 270], 0) == pytest.approx([100, 107, 114, 107])


@pytest.mark.parametrize("c", [[90, 180, 270], [90, 100, 150, 270]])
def test_planes_from_90_to_270_are_mirrored_at_their_ends(c: list[float]) -> None:
    read = read_photometry(Lm63(c=c).text())
    other_side = (180.0 - np.array(c)) % 360

    assert_reads(read, c, GAMMA, uneven(c, GAMMA))
    assert_reads(read, other_side, GAMMA, uneven(c, GAMMA))


@pytest.mark.parametrize("c", [[0, 100, 200, 360], [0, 120, 240], [0, 90, 180, 270]])
def test_planes_all_round_with_and_without_the_last(c: list[float]) -> None:
    table = uneven(c, GAMMA)
    table[-1] = table[0] if c[-1] == 360 else table[-1]
    read = read_photometry(Lm63(c=c, table=table).text())

    assert_reads(read, c, GAMMA, table)
    seam = read.intensity((c[-1] + 360) / 2 if c[-1] < 360 else 0, 0)
    assert seam == pytest.approx((table[0, 0] + table[-1, 0]) / 2)


def test_light_upwards_only_and_on_both_sides() -> None:
    up = read_photometry(Lm63(gamma=[90, 135, 180]).text())
    both = read_photometry(Lm63(gamma=[0, 90, 180], table=np.full((1, 3), 10.0)).text())

    assert up.intensity(0, [45, 135]) == pytest.approx([0, 100.5])
    assert both.flux == pytest.approx(4 * math.pi * 10)


def test_lambertian_table_integrates_as_check_8_says() -> None:
    gamma, table = lambertian(5.0)
    flux = read_photometry(Lm63(gamma=gamma, table=table).text()).flux
    assert flux == pytest.approx(100 * math.pi * 0.999365, rel=1e-6)


def test_tilt_table_is_kept_and_not_applied() -> None:
    tilted = Lm63(tilt="INCLUDE", tilt_numbers=(1, 3, 0, 45, 90, 1, 0.95, 0.9))
    file = read_photometric_file(tilted.text(per_line=2))

    assert file.tilt == ((0, 1), (45, 0.95), (90, 0.9))
    assert file.distribution.intensity(0, 0) == pytest.approx(100)


def cosine_table(kind: int, m: float, step: float) -> Lm63:
    """cos(angle from the axis) to the power of m, listed by the angles of type A or B."""
    angle = np.arange(-90.0, 90.1, step)
    horizontal, vertical = np.radians(angle)[:, None], np.radians(angle)[None, :]
    ahead = np.cos(horizontal) * np.cos(vertical)  # in both types, by different triangles
    table = 1000 * np.maximum(ahead, 0) ** m
    return Lm63(kind=kind, gamma=angle, c=angle, table=table)


@pytest.mark.parametrize("kind", [2, 3])
def test_types_a_and_b_become_c_about_the_axis(kind: int) -> None:
    m = 12.0
    read = read_photometry(cosine_table(kind, m, 2.0).text())
    gamma = np.array([0.0, 7, 20, 45, 80])

    for c in (0, 33, 90, 200):
        expected = 1000 * np.cos(np.radians(gamma)) ** m
        assert read.intensity(c, gamma) == pytest.approx(expected, abs=4)
    assert read.flux == pytest.approx(1000 * 2 * math.pi / (m + 1), rel=4e-3)


def spot_at(horizontal: float, vertical: float, kind: int) -> Distribution:
    angle = np.arange(-90.0, 91.0, 5.0)
    table = np.zeros((angle.size, angle.size))
    table[angle == horizontal, angle == vertical] = 500
    return read_photometry(Lm63(kind=kind, gamma=angle, c=angle, table=table).text())


@pytest.mark.parametrize(
    ("horizontal", "vertical", "kind", "c", "gamma"),
    [
        (0, 30, 2, 0, 30),
        (0, -30, 2, 180, 30),
        (30, 0, 2, 270, 30),
        (30, 0, 3, 270, 30),
        (-30, 0, 3, 90, 30),
        (0, 30, 3, 0, 30),
        # sin H is the part to the side in type B, cos V sin H in type A
        (30, 60, 2, 326.31, 64.34),
        (30, 60, 3, 343.90, 64.34),
    ],
)
def test_directions_of_types_a_and_b(horizontal, vertical, kind, c, gamma) -> None:
    spot = spot_at(horizontal, vertical, kind)
    around = np.array([-6, 0, 6])
    assert spot.intensity(c, gamma + around) == pytest.approx([0, 500, 0], abs=60)


def test_type_b_from_zero_is_the_same_on_both_sides() -> None:
    angle = np.arange(-90.0, 91.0, 30.0)
    source = Lm63(kind=2, gamma=angle, c=[0, 45, 90])
    read = read_photometry(source.text())
    assert read.intensity(90, [20, 45]) == pytest.approx(read.intensity(270, [20, 45]))


def test_keywords_hold_any_text_without_control_characters() -> None:
    labels = ("[TEST]\tone\x07\x1b[31m two", "[MORE] three \u202eabc", "free text", "[_OWN] =1+1")
    keywords = read_photometric_file(Lm63(labels=labels).text()).keywords

    assert keywords["TEST"] == "one[31m two\nthree abc"
    assert keywords["_OWN"] == "=1+1"
    assert keywords[""] == "free text"


def test_free_text_of_1986_is_kept() -> None:
    source = Lm63(version="1986", labels=("A board", "for a test"))
    assert read_photometric_file(source.text()).keywords == {"": "A board\nfor a test"}


def test_tag_and_tilt_in_small_letters_and_with_blanks() -> None:
    text = Lm63().text().replace("IESNA:LM-63-2002", "  iesna:lm-63-2002 ")
    assert read_photometric_file(text.replace("TILT=NONE", "Tilt = none ")).version == "2002"


def test_blank_lines_before_the_tag_do_not_make_it_1986() -> None:
    file = read_photometric_file("\n \r\n" + Lm63(extra=0.5).text())
    assert file.version == "2002"
    assert file.distribution.intensity(0, 0) == pytest.approx(100)
    assert "" not in file.keywords


def test_sources_are_told_apart(tmp_path) -> None:
    source = replace(Lm63(), labels=("[LUMINAIRE] Leuchte für ½",))
    path = tmp_path / "board.txt"
    path.write_text(source.text(), encoding="utf-8")
    same = [path, str(path), source.text(), source.text().encode("utf-8")]
    same += [source.text().encode("utf-8-sig"), source.text().encode("latin-1")]
    same += [source.text().encode() + b"\x1a\0\0"]

    texts = {read_photometric_file(one).keywords["LUMINAIRE"] for one in same}
    assert texts == {"Leuchte für ½"}
