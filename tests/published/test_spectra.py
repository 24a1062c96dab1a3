"""Kinds of light against the CIE's own tables, and against tables of horticulture.

The tables come with `colour-science` (CIE 015:2018); tests that need it skip where it is missing.
"""

from __future__ import annotations

import warnings
from typing import Any

import pytest

from core.light.output import LIGHTS
from core.light.spectrum import photons_per_kilolux


@pytest.fixture(scope="module")
def illuminants() -> Any:
    with warnings.catch_warnings():
        # It tells at import that it cannot plot here.
        warnings.simplefilter("ignore")
        return pytest.importorskip("colour").SDS_ILLUMINANTS


@pytest.mark.parametrize(
    ("key", "names"),
    [
        ("led-warm", ("LED-B1", "LED-B2")),
        ("led-neutral", ("LED-B3",)),
        ("led-cool", ("LED-B4", "LED-B5")),
        ("daylight", ("D65",)),
        # Of another source than the factors: Thimijan and Heins 1983 give ± 10 %.
        ("fluorescent", ("FL2",)),
        ("sodium", ("HP1",)),
        ("incandescent", ("A",)),
    ],
)
def test_kinds_of_light_hold_within_their_uncertainty(illuminants: Any, key: str, names) -> None:
    light = LIGHTS[key]
    for name in names:
        table = illuminants[name]
        expected = photons_per_kilolux(table.wavelengths, table.values)
        assert light.per_kilolux == pytest.approx(expected, rel=light.uncertainty), name


@pytest.mark.parametrize(
    ("key", "lux"), [("sun", 54), ("sodium", 82), ("fluorescent", 74), ("incandescent", 50)]
)
def test_lux_for_each_photon_as_horticulture_lists_it(key: str, lux: float) -> None:
    """Check 14: Thimijan and Heins, HortScience 18(6), 1983 (from a secondary copy), ± 10 %."""
    light = LIGHTS[key]
    assert 1000.0 / light.per_kilolux == pytest.approx(lux)
    assert light.uncertainty == 0.10
