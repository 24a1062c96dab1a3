"""Bad and hostile files: each gets its sentence. None hangs, fills memory or slips through."""

from __future__ import annotations

import os
import random
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from core.errors import FileError, InputError
from core.light import read_photometric_file, read_photometry
from core.light.output import LIGHTS
from core.light.photometry import photon_flux_of
from tests.photometry_kit import GAMMA, Ldt, Lm63

OURS = (InputError, FileError)
SOUND = "correct the file or ask its maker for a sound one."


def lm63(**changes: object) -> str:
    return replace(Lm63(), **changes).text()


def ldt(line: int, value: str) -> str:
    lines = Ldt().lines()
    lines[line - 1] = value
    return "\n".join(lines)


def sentence_of(source: object) -> str:
    with pytest.raises(InputError) as raised:
        read_photometry(source)
    return str(raised.value)


NUMBERS = Lm63().line_of(0)
"""Line of the first number in the file below; the angles follow two lines further on."""


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"lamps": 0}, "number of lamps = 0 must lie between 1 and 10000; "),
        ({"lamps": 1.5}, "number of lamps = 1.5 must be a whole number; "),
        ({"multiplier": 0}, "multiplier = 0 must be above zero; "),
        ({"kind": 4}, "photometric type = 4 must lie between 1 and 3; "),
        ({"unit": 3}, "unit of length = 3 must lie between 1 and 2; "),
        ({"dimensions": (2e9, 0, 0)}, "width = 2000000000 must not be beyond 1e+09; "),
    ],
)
def test_head_of_lm63(changes: dict[str, object], sentence: str) -> None:
    expected = f"Photometric file, line {NUMBERS}: {sentence}{SOUND}"
    assert sentence_of(lm63(**changes)) == expected


@pytest.mark.parametrize(
    ("changes", "line", "sentence"),
    [
        ({"ballast": -1}, 1, "ballast factor = -1 must be above zero; "),
        ({"watts": -5}, 1, "power = -5 must not be negative; "),
        ({"gamma": [0, 30, 20]}, 2, "vertical angle = 20 ° must be more than the 30 before it; "),
        ({"gamma": [0, 30, 190]}, 2, "vertical angle = 190 ° must lie between 0 and 180; "),
        ({"c": [0, 90, 400]}, 3, "horizontal angle = 400 ° must lie between 0 and 360; "),
        ({"table": -np.ones((1, 7))}, 4, "intensity = -1 must not be negative; "),
        ({"table": np.zeros((1, 7))}, 4, "every intensity = 0 gives no light; "),
    ],
)
def test_numbers_of_lm63(changes: dict[str, object], line: int, sentence: str) -> None:
    expected = f"Photometric file, line {NUMBERS + line}: {sentence}{SOUND}"
    assert sentence_of(lm63(**changes)) == expected


@pytest.mark.parametrize(
    ("source", "sentence"),
    [
        (
            lm63(tilt="../tilt.txt"),
            "Photometric file, line 4: TILT = ‘../tilt.txt’ names another file, which is never "
            "opened; use a file with TILT=NONE or TILT=INCLUDE.",
        ),
        (
            lm63(tilt=""),
            "Photometric file, line 4: TILT = ‘’ must not be empty; write TILT=NONE if nothing "
            "depends on tilt.",
        ),
        (
            lm63().replace("LM-63-2002", "LM-63-1888"),
            "Photometric file, line 1: version = IESNA:LM-63-1888 must be one of IESNA91, "
            "IESNA:LM-63-1995, IESNA:LM-63-2002, IES:LM-63-2019, or left out for 1986; ask its "
            "maker for one of these.",
        ),
        (
            lm63(c=[0, 60]),
            "Photometric file, line 8: horizontal angles = 0 – 60 ° must be 0, or run from 0 to "
            "90, 180 or 360, or from 90 to 270; ask its maker for a file that does.",
        ),
        (
            lm63(kind=2, c=[-30, 0, 30]),
            "Photometric file, line 7: vertical angles = 0 – 90 ° leave open what is below 0 in "
            "type B; ask its maker for angles from −90 to 90.",
        ),
        (
            lm63(kind=3, c=[0], gamma=[-90, 0, 90]),
            "Photometric file, line 8: horizontal angles = 0 – 0 ° must run from 0, or from below "
            "0, to above 0; ask its maker for a file that does.",
        ),
        (
            lm63().replace("101.5", "nan"),
            "Photometric file, line 9: intensity = ‘nan’ must be a number; " + SOUND,
        ),
        (
            lm63() + "7 8\n",
            "Photometric file, line 10: text = 7 follows after the last number that the file "
            "announces; check the counts of angles and planes.",
        ),
        (
            lm63()[:-6],
            "Photometric file, line 9: intensity = end of the file comes too early; ask its maker "
            "for the whole file.",
        ),
        (
            "a lamp\nof mine\n",
            "Photometric file: first line = ‘a lamp’ begins neither LM-63 nor EULUMDAT; choose a "
            "photometric file.",
        ),
        (b"", "Photometric file: bytes = 0 hold no text; choose another file."),
        (b"TILT\0", "Photometric file: first line = ‘TILT’ begins neither LM-63 nor EULUMDAT; "
         "choose a photometric file."),
        (b"a\0b\n", "Photometric file: character 2 = NUL is no text; choose a plain text file."),
        ("", "Photometric file: source = '' is no file; give its path, its bytes or "
         "its text."),
        (7, "Photometric file: source = 7 is no file; give its path, its bytes or its "
         "text."),
        ("a\0b", "File: path = ab holds a character that no path can hold; choose another file."),
        (
            ldt(3, "5"),
            "Photometric file, line 3: symmetry = 5 must lie between 0 and 4; " + SOUND,
        ),
        (
            ldt(4, "5000"),
            "Photometric file, line 4: number of planes = 5000 must lie between 1 and 4000; "
            + SOUND,
        ),
        (
            ldt(6, "1"),
            "Photometric file, line 6: number of angles = 1 must lie between 2 and 4000; " + SOUND,
        ),
        (
            ldt(16, "-1"),
            "Photometric file, line 16: length of the luminous area = -1 mm must not be negative; "
            "correct the file.",
        ),
        (
            ldt(24, "0"),
            "Photometric file, line 24: conversion factor = 0 must be above zero; " + SOUND,
        ),
        (
            ldt(26, "0"),
            "Photometric file, line 26: number of lamp sets = 0 must lie between 1 and 100; "
            + SOUND,
        ),
        (
            ldt(27, "one"),
            "Photometric file, line 27: number of lamps = ‘one’ must be a number; " + SOUND,
        ),
        (
            ldt(29, "0"),
            "Photometric file, line 29: luminous flux of the lamps = 0 lm must be above zero; "
            "correct the file.",
        ),
        (
            ldt(44, "0"),
            "Photometric file, line 44: angle of plane = 0 ° must be more than the 0 before it; "
            + SOUND,
        ),
        (
            ldt(46, "200"),
            "Photometric file, line 53: planes = C0 – C200 must hold C0 to C360 for symmetry 0; "
            "ask its maker for a sound file.",
        ),
        (
            ldt(60, "1e999"),
            "Photometric file, line 60: intensity = 1e999 must not be beyond 1e+09; " + SOUND,
        ),
    ],
)  # fmt: skip
def test_bad_file_gets_its_sentence(source: object, sentence: str) -> None:
    assert sentence_of(source) == sentence


def test_lumens_alone_are_no_photons() -> None:
    file = read_photometric_file(Lm63().text())
    with pytest.raises(InputError) as raised:
        photon_flux_of(file)

    assert str(raised.value) == (
        f"Lamp: luminous flux = {file.lumens:.4g} lm does not tell photons without the kind of "
        "light; choose the lamp's light, load its spectrum, or enter its PPF."
    )
    assert photon_flux_of(file, ppf=80).value == 80
    neutral = photon_flux_of(file, light=LIGHTS["led-neutral"])
    assert neutral.value == pytest.approx(file.lumens / 1000 * 14.3)
    assert neutral.uncertainty > 0.05


def test_paths_that_lead_nowhere(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "huge").touch()
    os.truncate(tmp_path / "huge", 8_000_001)

    for name, words in [("none", "no file"), ("", "folder"), ("pipe", "device"), ("huge", "large")]:
        with pytest.raises(FileError, match=words):
            read_photometry(tmp_path / name)


def test_complaint_names_the_file(tmp_path: Path) -> None:
    path = tmp_path / "my\x1b lamp.ies"
    path.write_text(lm63(kind=9))
    assert sentence_of(path).startswith("‘my lamp.ies’, line 5: photometric type = 9 must")


def peak_memory(source: str | bytes) -> tuple[int, float]:
    """Bytes and seconds that reading takes, whatever comes of it."""
    tracemalloc.start()
    start = time.perf_counter()
    try:
        read_photometry(source)
    except OURS:
        pass
    finally:
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
    return peak, time.perf_counter() - start


MEGABYTE = 1_000_000
HUGE = {
    "one line": lambda: "TILT=NONE\n" + "1" * (7 * MEGABYTE),
    "blank lines": lambda: "IESNA91\n" + "\n" * (7 * MEGABYTE),
    "blanks": lambda: "IESNA91\nTILT=NONE\n" + " " * (7 * MEGABYTE) + "1",
    "keywords": lambda: "IESNA91\n" + "[MORE] a\n" * 700_000,
    "long keywords": lambda: "IESNA91\n" + ("[MORE] " + "a" * 1200 + "\n") * 4900,
    "long keyword": lambda: "IESNA91\n[" + "[" * (7 * MEGABYTE),
    "many tilts": lambda: "TILT\n" * 1_400_000,
    "blank tilts": lambda: (" " * 3000 + "\n") * 2000,
    "counts alone": lambda: lm63(gamma=range(10)).replace(" 10 1 1 2", " 4000 4000 1 2"),
    "too many": lambda: "IESNA91\n" + "x" * (9 * MEGABYTE),
    "too many bytes": lambda: b"\xff" * (9 * MEGABYTE),
}


@pytest.mark.parametrize("case", HUGE)
def test_huge_text_takes_neither_memory_nor_time(case: str) -> None:
    source = HUGE[case]()
    memory, seconds = peak_memory(source)
    assert memory < 4 * len(source) + 5 * MEGABYTE
    assert seconds < 5


def test_largest_table_stays_within_bounds() -> None:
    c, gamma = np.linspace(0, 90, 125), np.linspace(0, 180, 800)
    source = Lm63(c=c, gamma=gamma, table=np.ones((c.size, gamma.size))).text()
    memory, seconds = peak_memory(source)
    assert memory < 60 * MEGABYTE
    assert seconds < 10


def test_table_beyond_the_limit_is_refused_before_it_is_read() -> None:
    source = Lm63(c=np.linspace(0, 360, 800), gamma=np.linspace(0, 180, 700)).text()
    text = "number of intensities = 560000 must lie between 2 and 500000"
    assert text in sentence_of(source)


def reads_or_refuses(source: bytes | str) -> None:
    """Either a sound distribution comes out or one of our own errors."""
    try:
        read = read_photometry(source)
    except OURS as error:
        assert str(error).isprintable()
        return
    assert 0 < read.flux < float("inf")
    assert (read.intensity([0, 100, 359], [0, 45, 90]) >= 0).all()


SOUND_FILES = [
    Lm63(c=[0, 45, 90]).text().encode(),
    Lm63(version="1986", c=[90, 180, 270], tilt="INCLUDE", tilt_numbers=(1, 2, 0, 9, 1, 1)).text()
    .encode(),
    Lm63(kind=2, gamma=[-90, 0, 90], c=[-90, 0, 90]).text(", ").encode(),
    Ldt(symmetry=3, c=range(0, 360, 45), comma=True).text().encode(),
    Ldt(symmetry=4, c=range(0, 360, 45), sets=((1, "a", 5, "", "", 1),) * 2).text().encode(),
]  # fmt: skip
SPITE = [b"nan", b"inf", b"-1", b"1e308", b"1e-320", b"9" * 400, b"0", b"", b" ", b"\n", b",",
         b"\0", b"\xff", b"1_0", "٣".encode(), b"0x1F", b"TILT=NONE\n", b"-0", b"1e",
         b"4000"]  # fmt: skip


@pytest.mark.parametrize("number", range(len(SOUND_FILES)))
@pytest.mark.parametrize("mutate", ["flip", "cut", "swap"])
def test_mutated_files(number: int, mutate: str) -> None:
    chance = random.Random(f"{number}{mutate}")
    changes: dict[str, Callable[[bytearray], None]] = {
        "flip": lambda data: flip(data, chance),
        "cut": lambda data: cut(data, chance),
        "swap": lambda data: swap(data, chance),
    }
    reads_or_refuses(SOUND_FILES[number])
    for _ in range(150):
        data = bytearray(SOUND_FILES[number])
        changes[mutate](data)
        reads_or_refuses(bytes(data))


def flip(data: bytearray, chance: random.Random) -> None:
    for _ in range(chance.randint(1, 4)):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


def cut(data: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(data))
    del data[start : chance.choice([len(data), start + chance.randint(1, 40)])]


def swap(data: bytearray, chance: random.Random) -> None:
    words = bytes(data).split(b" ")
    words[chance.randrange(len(words))] = chance.choice(SPITE)
    lines = b" ".join(words).split(b"\n")
    lines[chance.randrange(len(lines))] = chance.choice(SPITE)
    data[:] = b"\n".join(lines)


@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow])
@given(st.binary(max_size=300))
@example(b"TILT=")
@example(b"IESNA91")
@example(b"\xef\xbb\xbf")
def test_any_bytes(data: bytes) -> None:
    reads_or_refuses(data)


@settings(max_examples=80)
@given(
    st.text(max_size=200), st.sampled_from(["IESNA91\n", "TILT=NONE\n", "a\n2\n1\n1\n0\n2\n0\n"])
)
def test_any_text_after_a_beginning(text: str, start: str) -> None:
    reads_or_refuses(start + text)


numbers = st.floats(-1e3, 1e10) | st.floats(0, 180) | st.just(float("nan"))


@settings(max_examples=80)
@given(
    st.lists(numbers, min_size=2, max_size=5),
    st.lists(numbers, min_size=1, max_size=4),
    st.lists(numbers, min_size=6, max_size=6),
    st.sampled_from([1, 2, 3]),
)
def test_any_numbers_in_their_places(gamma, c, head, kind) -> None:
    source = Lm63(kind=kind, gamma=gamma, c=c, table=np.full((len(c), len(gamma)), head[0]))
    source.multiplier, source.ballast, source.extra, *dimensions = [*head[1:], 0.0]
    source.dimensions = dimensions
    reads_or_refuses(source.text())


def test_sound_files_are_sound() -> None:
    for data in SOUND_FILES:
        assert read_photometry(data).intensity(0, GAMMA).max() > 0
