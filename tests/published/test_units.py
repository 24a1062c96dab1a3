"""Conversions of `core.units` against the figures printed in standards.

Source, unless a row says otherwise: NIST Special Publication 811 (2008), Guide for the Use of the
International System of Units, Appendix B (B.6 for feet with inches, B.8 and B.9 for the factors).
"""

import math

import pytest

from core.units import parse

EXACT = [
    ("5 ft 3 1/2 in", "length", 1.6129),
    ("6'10\"", "length", 2.0828),
    ("1 in", "length", 0.0254),
    ("1 US gal", "volume", 3.785411784e-3),
    ("1 gal (imp)", "volume", 4.54609e-3),
    ("1 lb", "mass", 0.45359237),
    ("1 ft/min", "speed", 5.08e-3),
    ("1 kWh", "energy", 3.6e6),
    ("212 °F", "temperature", 100.0),
    ("273.15 K", "temperature", 0.0),
    ("9 °F", "temperature_difference", 5.0),
]

PRINTED_TO_SEVEN_DIGITS = [
    ("1 BTU/h", "power", 2.930711e-1),  # International Table
    ("1 CFM", "flow", 4.719474e-4),
    ("1 fl oz", "volume", 2.957353e-5),
    ("1 oz", "mass", 2.834952e-2),
    ("1 lb/ft³", "density", 1.601846e1),
    ("1 psf", "pressure", 4.788026e1),
    ("1 psi", "pressure", 6.894757e3),
    ("1 inHg", "pressure", 3.386389e3),
    ("1 inH2O", "fan_pressure", 2.490889e2),
    ("1 lbf", "force", 4.448222),
    ("1 gr/gal", "hardness", 1.711806e-2),
    ("1 fc", "illuminance", 1.076391e1),
    ("1 hp", "power", 7.456999e2),
    ("1 ton of cooling", "power", 3.516853e3),
    ("1 BTU/(h ft² °F)", "u_value", 5.678263),
]

WIRE_MM2 = [("14 AWG", 2.08), ("12 AWG", 3.31), ("10 AWG", 5.26), ("4/0 AWG", 107.2)]


@pytest.mark.parametrize(("text", "kind", "value"), EXACT)
def test_exact_conversions_hold_to_rounding_error(text: str, kind: str, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-14, abs=1e-12)


@pytest.mark.parametrize(("text", "kind", "value"), PRINTED_TO_SEVEN_DIGITS)
def test_printed_factors_hold_to_their_seven_digits(text: str, kind: str, value: float) -> None:
    half_a_digit = 0.5 * 10.0 ** (math.floor(math.log10(value)) - 6)
    assert abs(parse(text, kind) - value) <= half_a_digit


@pytest.mark.parametrize(("text", "mm2"), WIRE_MM2)
def test_wire_gauges_follow_astm_b258(text: str, mm2: float) -> None:
    # ASTM B258, nominal areas to three digits, from memory.
    assert parse(text, "wire_area") * 1e6 == pytest.approx(mm2, rel=0.003)
