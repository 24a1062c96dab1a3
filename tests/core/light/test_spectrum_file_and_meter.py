"""Spectra of two columns, and what a meter reads in their light."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import FileError, InputError
from core.light import (
    light_from_spectrum,
    lux_of,
    meter_reads,
    photons_per_kilolux,
    ppfd_of,
    read_spectrum,
)
from core.light.meter import PHONE
from core.light.output import LIGHTS

ROWS = [(400.0, 0.1), (500.5, 2.0), (700.0, 0.25)]


@pytest.mark.parametrize(
    "text",
    [
        "400,0.1\n500.5,2\n700,0.25\n",
        "nm,power\r\n400, 0.1\r\n500.5, 2\r\n700, 0.25",
        "Wellenlänge;Leistung\n400;0,1\n500,5;2\n\n700;0,25",
        "# measured\n400\t0.1\n500.5\t2\n# break\n700\t2.5e-1\n",
        "400 0,1\n500,5 2\n700 0,25\n",
        "400,0.1,\n500.5,2,\n700,0.25,\n",
        "\ufeff400;0.1;\r500.5;2;\r700;0.25;\r",
    ],
)
def test_every_way_to_write_two_columns(text: str, tmp_path: Path) -> None:
    path = tmp_path / "lamp.csv"
    path.write_text(text, encoding="utf-8", newline="")
    for source in (text, text.encode(), text.encode("latin-1", "ignore"), path, str(path)):
        read = read_spectrum(source)
        assert np.column_stack([read.wavelength, read.power]) == pytest.approx(np.array(ROWS))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "400,1\n500,x\n",
            "Spectrum, line 2: power = ‘x’ must be a number; correct the line.",
        ),
        (
            "nm,W\nnm,W\n400,1\n",
            "Spectrum, line 2: wavelength = ‘nm’ must be a number; correct the line.",
        ),
        (
            "400,1\n\n400,2\n",
            "Spectrum, line 3: wavelength = 400 nm must be more than the 400 before it; sort the "
            "lines and drop doubles.",
        ),
        (
            "0.4,1\n0.5,2\n",
            "Spectrum, line 1: wavelength = 0.4 nm must lie between 100 and 5000; give nanometres.",
        ),
        (
            "400,1\n500,-1\n",
            "Spectrum, line 2: power = -1 must lie between 0 and 1e+12; give relative power.",
        ),
        ("400,1\n500,nan\n", "Spectrum, line 2: power = ‘nan’ must be a number; correct the line."),
        (
            "400,1,2\n",
            "Spectrum, line 1: number of columns = 3 must be 2; give wavelength and power only.",
        ),
        (
            "400\n",
            "Spectrum, line 1: number of columns = 1 must be 2; give wavelength and power only.",
        ),
        (
            "400,1\n",
            "Spectrum: rows = 1 must be 2 or more; choose a file of wavelengths and powers.",
        ),
        (
            "400,0\n500,0\n",
            "Spectrum: every power = 0 gives no light; check the second column.",
        ),
        ("\n \n", "Spectrum: bytes = 0 hold no text; choose another file."),
    ],
)
def test_bad_spectrum_gets_its_sentence(text: str, sentence: str) -> None:
    with pytest.raises(InputError) as raised:
        read_spectrum(text)
    assert str(raised.value) == sentence


def test_spectrum_that_is_too_long_is_refused(tmp_path: Path) -> None:
    rows = "".join(f"{100 + 0.1 * n:.1f},1\n" for n in range(20_001))
    with pytest.raises(InputError, match="line 20001: rows = 20001 must not be more than 20000"):
        read_spectrum(rows)
    (tmp_path / "long.csv").write_text("1" * 1_000_001)
    with pytest.raises(FileError, match="too large"):
        read_spectrum(tmp_path / "long.csv")


@given(st.text(max_size=120) | st.binary(max_size=120))
def test_any_text_is_read_or_refused(source: str | bytes) -> None:
    try:
        read = read_spectrum(source)
    except (InputError, FileError):
        return
    assert (np.diff(read.wavelength) > 0).all()


@pytest.mark.parametrize("key", LIGHTS)
def test_lux_and_photons_are_each_others_inverse(key: str) -> None:
    light = LIGHTS[key]
    assert lux_of(light.per_kilolux, light) == pytest.approx(1000)
    assert ppfd_of(lux_of([0, 150.0], light), light) == pytest.approx([0, 150])


def test_lux_of_daylight() -> None:
    # D65: 18.02 µmol/m²/s per klx, CIE data (checks of light, row 11)
    assert lux_of(18.02, LIGHTS["daylight"]) == pytest.approx(1000, rel=1e-3)


def test_own_spectrum_is_a_kind_of_light() -> None:
    spectrum = read_spectrum("400;1\n700;1\n")
    light = light_from_spectrum(spectrum, "even")
    assert light.per_kilolux == photons_per_kilolux([400, 700], [1, 1])
    assert lux_of(light.per_kilolux, light) == pytest.approx(1000)


def test_spectrum_that_nobody_sees_makes_no_light() -> None:
    with pytest.raises(InputError, match="light that can be seen = 0"):
        light_from_spectrum(read_spectrum("900,1\n950,1\n"), "far red")


def test_meter_states_its_range() -> None:
    light = LIGHTS["led-neutral"]  # 14.3 µmol/m²/s per klx, 5 %
    reading = meter_reads(143, light, uncertainty=0.12, meter=0.0)

    assert reading.lux == pytest.approx(10_000)
    assert (reading.low, reading.high) == pytest.approx((8_700, 11_300))  # 5, 12, 13 %
    assert "neutral white LED" in reading.assumption
    assert meter_reads(143, light, meter=PHONE).low < reading.low


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda light: lux_of(-1, light), "Meter: PPFD = -1.0 µmol/(m² s) must not be negative"),
        (lambda light: lux_of([1, float("nan")], light), "Meter: PPFD = nan"),
        (lambda light: ppfd_of("much", light), "Meter: illuminance = much lx must be a number"),
        (lambda light: meter_reads(1, light, meter=2), "Meter: uncertainty = 2 must lie between"),
    ],
)
def test_bad_call_gets_its_sentence(call, words: str) -> None:
    with pytest.raises(InputError) as raised:
        call(LIGHTS["daylight"])
    assert str(raised.value).startswith(words)
