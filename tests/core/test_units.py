"""The reader and the writer of quantities: what is taken, what is refused and how it is told."""

import math
import re
import subprocess
import sys
import time

import pint
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from core.errors import InputError
from core.phrases import Amount
from core.units import KINDS, SYSTEMS, label, nudge, number, parse, show, show_number
from core.units.table import TABLE

# Reading -----------------------------------------------------------------------------------------

GOOD = [
    ("0.80", "length", 0.80),
    ("0,80 m", "length", 0.80),
    (".5", "length", 0.5),
    ("210 cm", "length", 2.10),
    ("25mm", "length", 0.025),
    ("7'", "length", 7 * 0.3048),
    ("7'2\"", "length", 86 * 0.0254),
    ("7' 2", "length", 86 * 0.0254),
    ("7'-2 1/2\"", "length", 86.5 * 0.0254),
    ("7′ 2½″", "length", 86.5 * 0.0254),
    ("7 ft 2 1/2 in", "length", 86.5 * 0.0254),
    ("7 ft. 2-1/2 in.", "length", 86.5 * 0.0254),
    ("7 feet, 2 inches", "length", 86 * 0.0254),
    ("7ft2in", "length", 86 * 0.0254),
    ("−3 cm", "length", -0.03),
    ("-7 ft 2 in", "length", -86 * 0.0254),
    ("1 m 20 cm", "length", 1.20),
    ("2 sq ft", "area", 2 * 0.3048**2),
    ("0.5 m^2", "area", 0.5),
    ("4.5 gal", "volume", 4.5 * 3.785411784e-3),
    ("4.5 gal (US)", "volume", 4.5 * 3.785411784e-3),
    ("4.5 gal (imp)", "volume", 4.5 * 4.54609e-3),
    ("20 l", "volume", 0.020),
    ("5 lb 3 oz", "mass", 83 * 0.45359237 / 16),
    ("5 lbs", "mass", 5 * 0.45359237),
    ("20 C", "temperature", 20.0),
    ("20 °C", "temperature", 20.0),
    ("80 °F", "temperature", 80 / 3),
    ("295 K", "temperature", 21.85),
    ("20 K", "temperature_difference", 20.0),
    ("20 °C", "temperature_difference", 20.0),
    ("36 °F", "temperature_difference", 20.0),
    ("5 w", "power", 5.0),
    ("5 mW", "power", 0.005),
    ("5 MW", "power", 5e6),
    ("1,2 kW", "power", 1200.0),
    ("5000 BTU per hour", "power", 5000 * 1055.05585262 / 3600),
    ("60 VA", "apparent_power", 60.0),
    ("800 Wh", "energy", 800 * 3600.0),
    ("180 m³/h", "flow", 0.05),
    ("180 m3 / h", "flow", 0.05),
    ("100 cfm", "flow", 100 * 0.3048**3 / 60),
    ("50 L/s", "flow", 0.05),
    ("100 fpm", "speed", 0.508),
    ("77 %", "fraction", 0.77),
    ("77", "fraction", 0.77),
    ("3.5 h", "duration", 12600.0),
    ("1h30", "duration", 5400.0),
    ("1 d 6 h", "duration", 108000.0),
    ("14:20", "time_of_day", 51600.0),
    ("7 am", "time_of_day", 25200.0),
    ("12 am", "time_of_day", 0.0),
    ("12:30 p.m.", "time_of_day", 45000.0),
    ("24:00", "time_of_day", 86400.0),
    ("120 µmol/s", "photon_flux", 120.0),
    ("120 μmol s⁻¹", "photon_flux", 120.0),
    ("150 µmol/(m² s)", "photon_flux_density", 150.0),
    ("150 umol/m2/s", "photon_flux_density", 150.0),
    ("150 µmol m⁻² s⁻¹", "photon_flux_density", 150.0),
    ("150 µmol·m⁻²·s⁻¹", "photon_flux_density", 150.0),
    ("8 mol/(m² d)", "daily_light", 8.0),
    ("8 mol m-2 day-1", "daily_light", 8.0),
    ("2000 lm", "luminous_flux", 2000.0),
    ("10 klx", "illuminance", 10000.0),
    ("10 fc", "illuminance", 10 / 0.3048**2),
    ("30°", "angle", 30.0),
    ("100 Ω/1000 ft", "resistance_per_length", 0.1 / 0.3048),
    ("1.5 mm²", "wire_area", 1.5e-6),
    ("0.3 L/h", "water_rate", 0.3 / 3600),
    ("1.5 mm/day", "evaporation", 1.5 / 86400),
    ("1 1/2", "count", 1.5),
]


@pytest.mark.parametrize(("text", "kind", "value"), GOOD)
def test_what_growers_write_is_read(text: str, kind: str, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-12, abs=1e-12)


BAD = [
    ("", "length", "Nothing is entered here"),
    ("  \u2009", "length", "Nothing is entered here"),
    ("-", "length", "has no number"),
    ("m", "length", "has no number"),
    ("nan", "length", "is not a finite number"),
    ("inf m", "length", "is not a finite number"),
    ("-infinity", "temperature", "is not a finite number"),
    ("1e400", "length", "is too large for a number; enter a smaller one"),
    ("1e308 km/h", "flow", "which is for a speed, not for a flow"),
    ("1e308 MW", "power", "is not a finite number"),
    ("9**9**9", "length", "cannot be read as a length"),
    ("__import__('os')", "length", "has no number"),
    ("2 (3) m", "length", "cannot be read as a length"),
    ("10²", "length", "cannot be read as a length"),
    ("٣ m", "length", "has no number"),
    ("60–120", "photon_flux_density", "cannot be read as a photon flux density"),
    ("--5", "length", "cannot be read as a length"),
    ("1,200", "length", "can be read in two ways; enter 1200, or 1.2."),
    ("12,345 lux", "illuminance", "can be read in two ways; enter 12345, or 12.345."),
    ("1,200.5", "length", "more commas or points than one number can have"),
    ("1.200,5", "length", "more commas or points than one number can have"),
    ("1.2.3", "length", "more commas or points than one number can have"),
    ("1 200 mm", "length", "reads as more than one number"),
    ("5 ft 14 in", "length", "reads as more than 12 inches; enter 6 ft 2 in, or 74 in."),
    ("5 ft 12 in", "length", "reads as 12 inches or more; enter 6 ft, or 72 in."),
    ("5' 14", "length", "reads as more than 12 inches; enter 6 ft 2 in, or 74 in."),
    ("5 lb 17 oz", "mass", "reads as more than 16 ounces; enter 6 lb 1 oz, or 97 oz."),
    ("1 h 75 min", "duration", "reads as more than 60 minutes; enter 2 h 15 min, or 135 min."),
    ("7.5 ft 2 in", "length", "has a fraction before its last number"),
    ("7 ft 2 m", "length", "adds ft and m, which do not go together"),
    ("2 in 3 ft", "length", "adds in and ft, which do not go together"),
    ("7 ft 2 in 3 in", "length", "adds ft and in and in, which do not go together"),
    ("7 ft -2 in", "length", "cannot be read as a length"),
    ("7 ft,", "length", "cannot be read as a length"),
    ("1 m 5", "length", "has a number without a unit after m"),
    ("20 °C 5 °C", "temperature", "do not go together"),
    ("2 5/4 in", "length", "enter 3.25."),
    ("1/0 in", "length", "divides by zero"),
    ("3 kg", "length", "uses kg, which is for a mass, not for a length"),
    ("3 ft 2 kg", "length", "uses kg, which is for a mass, not for a length"),
    ("7 m2", "length", "uses m2, which is for an area, not for a length"),
    ("3 paces", "length", "uses paces, which is not a unit known here"),
    ("5 VA", "power", "which is for an apparent power, not for a power"),
    ("20 L", "mass", "which is for a volume, not for a mass"),
    ("120 umol/s", "photon_flux_density", "which is for a photon flux, not for"),
    ("20 C", "current", "which is for a temperature, not for a current"),
    ("5 Mm", "length", "m is a thousandth, M a million; enter mm."),
    ("5 ML", "volume", "m is a thousandth, M a million; enter mL."),
    ("-300 °C", "temperature", "is less than nature allows, −273.15\u2009°C"),
    ("-1 K", "temperature", "is less than nature allows"),
    ("24:01", "time_of_day", "is not a time of day"),
    ("7:75", "time_of_day", "is not a time of day"),
    ("14 pm", "time_of_day", "is not a time of day"),
    ("0 am", "time_of_day", "is not a time of day"),
    ("14.20", "time_of_day", "enter one, for example 14:20 or 2:20 pm."),
    ("1:30", "duration", "cannot be read as a duration"),
    ("4 kg", "count", "which is for a mass, not for a number"),
    ("41 AWG", "wire_area", "which is not a unit known here"),
]


@pytest.mark.parametrize(("text", "kind", "words"), BAD)
def test_what_cannot_be_meant_is_refused_with_the_reason(text: str, kind: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, kind)
    sentence = str(caught.value)
    assert words in sentence
    assert "; " in sentence and sentence.endswith(".")
    assert sentence.startswith(" ".join(text.split()) or "Nothing")


@pytest.mark.parametrize("text", ["1" * 10_000, "9**" * 3333, "7 ft " * 2000, " " * 10_000])
def test_a_huge_text_is_refused_at_once(text: str) -> None:
    begun = time.perf_counter()
    with pytest.raises(InputError, match="is too long to read") as caught:
        parse(text, "length")
    assert time.perf_counter() - begun < 0.1
    assert len(str(caught.value)) < 200


def test_the_way_out_speaks_the_system_in_use() -> None:
    with pytest.raises(InputError, match="for example 2 ft 7 1/2 in"):
        parse("long", "length", "us")


def test_a_bare_number_takes_the_unit_of_the_label() -> None:
    assert parse("2", "length", "us") == pytest.approx(0.6096)
    assert parse("68", "temperature", "us") == pytest.approx(20.0)
    assert parse("14", "wire_area", "us") == parse("14 AWG", "wire_area")
    with pytest.raises(InputError, match="is not a wire gauge"):
        parse("2.5", "wire_area", "us")


def test_numbers_without_a_unit() -> None:
    assert number("2,5") == 2.5
    assert show_number(-2345.6) == "−2346"
    assert show_number(0.04567, 2) == "0.046"


@pytest.mark.parametrize("act", [parse, lambda _, kind, system: show(1.0, kind, system)])
def test_unknown_kinds_and_systems_are_named(act) -> None:
    with pytest.raises(InputError, match="kind = 'lenght' is not known; use one of length, area"):
        act("1", "lenght", "metric")
    with pytest.raises(InputError, match="system = 'uk' is not known; use 'metric' or 'us'"):
        act("1", "length", "uk")


@given(text=st.text(max_size=90), kind=st.sampled_from(KINDS), system=st.sampled_from(SYSTEMS))
@example("1e308 h 59 min", "duration", "metric")
def test_any_text_gives_a_finite_value_or_a_sentence(text: str, kind: str, system: str) -> None:
    assert finite_or_refused(text, kind, system)


TOKENS = st.sampled_from(
    [
        *("7", "2", "1/2", "½", ".5", "1,200", "e9", "-", "−", "+", "'", '"', ",", ":", " "),
        *("ft", "in", "m", "m²", "µmol", "/", "(", ")", "s", "⁻¹", "kg", "k", "°", "C", "%"),
        *("AWG", "am", "per"),
    ]
)


@given(parts=st.lists(TOKENS, max_size=9), kind=st.sampled_from(KINDS))
def test_any_jumble_of_tokens_gives_a_finite_value_or_a_sentence(parts, kind: str) -> None:
    assert finite_or_refused("".join(parts), kind, "us")


def finite_or_refused(text: str, kind: str, system: str) -> bool:
    """Whether `parse` gives a finite number or refuses with a whole sentence."""
    try:
        return math.isfinite(parse(text, kind, system))
    except InputError as refusal:
        return str(refusal).endswith(".")


# Showing -----------------------------------------------------------------------------------------

SHOWN = [
    (0.8, "length", "metric", "0.80 m"),
    (2.19, "length", "metric", "2.19 m"),
    (0.125, "length", "metric", "0.125 m"),
    (0.025, "length", "metric", "25 mm"),
    (-0.03, "length", "metric", "−30 mm"),
    (0.0, "length", "metric", "0 m"),
    (86.5 * 0.0254, "length", "us", "7 ft 2 1/2 in"),
    (84.5 * 0.0254, "length", "us", "7 ft 1/2 in"),
    (84 * 0.0254, "length", "us", "7 ft"),
    (-86 * 0.0254, "length", "us", "−7 ft 2 in"),
    (11.5 * 0.0254, "length", "us", "11 1/2 in"),
    (11.99 * 0.0254, "length", "us", "1 ft"),
    (0.001, "length", "us", "0.039 in"),
    (0.0, "length", "us", "0 in"),
    (0.057, "volume", "metric", "57 L"),
    (40.0, "volume", "metric", "40 m³"),
    (4.5 * 3.785411784e-3, "volume", "us", "4.5 gal"),
    (41.0, "mass", "metric", "41 kg"),
    (20.0, "temperature", "metric", "20\u2009°C"),
    (80 / 3, "temperature", "us", "80\u2009°F"),
    (1.13, "temperature_difference", "metric", "1.1 K"),
    (0.77, "fraction", "metric", "77\u2009%"),
    (2300.0, "power", "metric", "2300 W"),
    (5.5 * 3.6e6, "energy", "us", "5.5 kWh"),
    (0.05, "flow", "metric", "180 m³/h"),
    (100 * 0.3048**3 / 60, "flow", "us", "100 CFM"),
    (0.06, "speed", "metric", "0.06 m/s"),
    (0.097, "speed", "metric", "0.10 m/s"),
    (0.508, "speed", "us", "100 ft/min"),
    (2000.0, "pressure", "metric", "2 kPa"),
    (2394.0, "pressure", "us", "50 psf"),
    (900.0, "vapour_pressure", "us", "0.9 kPa"),
    (6 * 86400.0, "duration", "metric", "6 d"),
    (12600.0, "duration", "metric", "3.5 h"),
    (2400.0, "duration", "us", "40 min"),
    (51600.0, "time_of_day", "us", "14:20"),
    (86399.0, "time_of_day", "metric", "24:00"),
    (184.3, "photon_flux_density", "us", "184 µmol/(m² s)"),
    (8000.0, "illuminance", "us", "8000 lux"),
    (-15.0, "angle", "metric", "−15°"),
    (4.0, "count", "metric", "4"),
    (123.45, "sum", "metric", "123.45"),
    (0.2875, "sum", "us", "0.2875"),
    (2.0809e-6, "wire_area", "us", "14 AWG"),
    (1e-12, "current", "metric", "1e−12 A"),
]


@pytest.mark.parametrize(("value", "kind", "system", "text"), SHOWN)
def test_values_are_shown_as_growers_write_them(value, kind, system, text) -> None:
    assert show(value, kind, system) == text


def test_fine_lengths_are_right_to_a_millimetre_or_a_sixteenth() -> None:
    assert show(0.8034, "length", fine=True) == "0.803 m"
    assert show(12.3456, "length", fine=True) == "12.346 m"
    assert show(0.0634, "length", fine=True) == "63.4 mm"
    assert show(86.0625 * 0.0254, "length", "us", fine=True) == "7 ft 2 1/16 in"


def test_digits_and_unit_can_be_chosen() -> None:
    assert show(71.3, "photon_flux_density", digits=2) == "71 µmol/(m² s)"
    assert show(71.3, "photon_flux_density", digits=2, unit=False) == "71"
    assert show(0.025, "length", unit=False) == "0.025"
    assert show(184.2, "photon_flux_density", digits=1, unit=False) == "184"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_a_value_that_is_no_number_is_never_shown(value: float) -> None:
    for kind in KINDS:
        with pytest.raises(InputError, match="is not a finite number and cannot be shown"):
            show(value, kind)


# There and back ----------------------------------------------------------------------------------

PLAIN_KINDS = [kind for kind in KINDS if kind != "time_of_day"]


def last_digit(text: str, kind: str) -> float:
    """Return the inside size of one step of the last digit shown."""
    found = re.fullmatch(r"−?([0-9.]+)(?:e([−0-9]+))?(.*)", text)
    assert found, text
    decimals = len(found[1].partition(".")[2])
    power = int((found[2] or "0").replace("−", "-")) - decimals
    return (parse(f"1e3{found[3]}", kind) - parse(f"0{found[3]}", kind)) / 1e3 * 10.0**power


def step_shown(text: str, kind: str, system: str, fine: bool) -> float:
    """Return the inside size of the smallest step that ``text`` can tell."""
    if text.endswith("AWG"):
        return 2 * 0.0101 * parse(text, kind)
    if (kind, system) == ("length", "us") and not re.search(r"[.e]", text):
        return 0.0254 / (16 if fine else 8)
    return last_digit(text, kind)


@given(
    kind=st.sampled_from(PLAIN_KINDS),
    system=st.sampled_from(SYSTEMS),
    share=st.floats(1e-5, 1e5),
    sign=st.sampled_from([1, -1]),
    fine=st.booleans(),
)
def test_what_is_shown_is_read_back_within_the_shown_digits(kind, system, share, sign, fine):
    value = sign * share * TABLE[kind].example
    assume(value > TABLE[kind].lowest + 0.1)
    text = show(value, kind, system, fine=fine)
    back = parse(text, kind, system)
    assert abs(back - value) <= 0.5001 * step_shown(text, kind, system, fine) + 1e-9 * abs(value)
    assert back != 0.0 or "°" in text


@given(
    kind=st.sampled_from(PLAIN_KINDS), system=st.sampled_from(SYSTEMS), share=st.floats(1e-3, 1e3)
)
def test_a_number_shown_without_its_unit_is_read_back_in_the_unit_of_the_label(kind, system, share):
    value = share * TABLE[kind].example
    back = parse(show(value, kind, system, unit=False), kind, system)
    assert back == pytest.approx(value, rel=0.01, abs=2 * nudge(kind, system, "fine"))


@given(seconds=st.floats(0, 86400), system=st.sampled_from(SYSTEMS), fine=st.booleans())
def test_times_of_day_are_read_back_to_the_minute_or_second(seconds, system, fine) -> None:
    back = parse(show(seconds, "time_of_day", system, fine=fine), "time_of_day", system)
    assert abs(back - seconds) <= (0.5 if fine else 30)


@given(eighths=st.integers(-100_000, 100_000))
def test_whole_eighths_of_an_inch_come_back_exactly(eighths: int) -> None:
    value = eighths * 0.0254 / 8
    assert parse(show(value, "length", "us"), "length", "us") == pytest.approx(value, abs=1e-9)


# The table ---------------------------------------------------------------------------------------

INSIDE = {
    "length": "m", "area": "m**2", "volume": "m**3", "mass": "kg", "density": "kg/m**3",
    "hardness": "kg/m**3",
    "temperature": "delta_degC", "temperature_difference": "delta_degC", "power": "W",
    "apparent_power": "V*A", "energy": "J", "current": "A", "voltage": "V", "flow": "m**3/s",
    "speed": "m/s", "pressure": "Pa", "vapour_pressure": "Pa", "fan_pressure": "Pa",
    "fraction": "", "duration": "s", "photon_flux": "umol/s",
    "photon_flux_density": "umol/m**2/s", "daily_light": "mol/m**2/day", "luminous_flux": "lm",
    "illuminance": "lux", "photon_efficacy": "umol/J", "luminous_efficacy": "lm/W",
    "angle": "degree", "force": "N", "u_value": "W/m**2/delta_degC", "humidity_ratio": "",
    "irradiance": "W/m**2",
    "water_rate": "kg/s", "evaporation": "kg/m**2/s", "resistance_per_length": "ohm/m",
    "wire_area": "m**2", "count": "", "sum": "",
}  # fmt: skip

IN_PINT = {
    "gal (imp)": "imperial_gallon", "gal": "gallon", "fl oz": "fluid_ounce", "pt": "US_pint",
    "qt": "quart", "lb": "pound", "lbf": "pound_force", "kgf": "kilogram_force", "°": "degree",
    "°C": "delta_degC", "°F": "delta_degF", "K": "delta_degC", "BTU": "Btu_it", "d": "day",
    "h": "hour", "CFM": "ft**3/min", "fc": "lm/ft**2", "psf": "pound_force/ft**2",
    "kg/m²": "kilogram_force/m**2", "inHg": "inch_Hg", "inH₂O": "inch_H2O", "wk": "week",
    "ton": "12000*Btu_it/hour", "hp": "ft*pound_force/s*550", "gr": "grain", "VA": "V*A",
    "kVA": "kV*A", "Ω/1000 ft": "ohm/(1000*ft)", "Ω": "ohm", "klx": "klux", "in": "inch",
    "kcmil": "1000*circular_mil", "°dH": "10*mg/L*100.0869/56.0774", "%": "percent",
    "": "dimensionless",
}  # fmt: skip


def in_pint(text: str) -> str:
    """Return the name that pint has for a unit as we show it."""
    if text in IN_PINT:
        return IN_PINT[text]
    words = re.findall(r"°?[A-Za-zµΩ]+|[²³]|[/() ]|[0-9]+", text)
    signs = {" ": "*", "²": "**2", "³": "**3"}
    return "".join(IN_PINT.get(word, signs.get(word, word)) for word in words)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("kind", INSIDE)
def test_every_size_agrees_with_pint(kind: str, registry: pint.UnitRegistry) -> None:
    for unit in TABLE[kind].units:
        quantity = registry.parse_expression(f"1.0*{in_pint(unit.text)}")
        if kind in ("water_rate", "evaporation", "hardness") and not quantity.check(INSIDE[kind]):
            quantity = quantity * registry.Quantity(1.0, "kg/L")
        # inHg and inH₂O are printed to seven digits; pint carries more.
        assert unit.size == pytest.approx(quantity.to(INSIDE[kind]).magnitude, rel=2e-7), unit.text


def test_the_comparison_with_pint_leaves_out_no_kind() -> None:
    assert set(INSIDE) | {"time_of_day"} == set(KINDS)


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("2 fathom", "length", 2 * 6 * 0.3048006),
        ("1 acre", "area", 4046.873),
        ("3 stone", "mass", 3 * 14 * 0.45359237),
        ("1.5 bar", "pressure", 150_000.0),
        ("10 knot", "speed", 10 * 1852 / 3600),
        ("2 fortnight", "duration", 28 * 86400.0),
    ],
)
def test_a_unit_that_is_never_shown_is_read_through_pint(
    text: str, kind: str, expected: float
) -> None:
    assert parse(text, kind) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("2 fathom", "mass"),
        ("3 c", "speed"),
        ("1 planck_length**9**9", "length"),
        ("1 __class__", "length"),
        ("2 fathom 3", "length"),
    ],
)
def test_pint_sees_one_name_of_the_right_kind_and_nothing_else(text: str, kind: str) -> None:
    with pytest.raises(InputError):
        parse(text, kind)


@pytest.mark.parametrize("kind", PLAIN_KINDS)
def test_every_spelling_is_read_as_its_unit(kind: str) -> None:
    for unit in TABLE[kind].units:
        for way in unit.ways():
            expected = pytest.approx(unit.inside(300.0), rel=1e-12)
            assert parse(f"300 {way}", kind) == expected
            assert parse(f"300{way}", kind) == expected


@pytest.mark.parametrize("kind", PLAIN_KINDS)
def test_no_spelling_means_two_units(kind: str) -> None:
    ways = [way.replace(" ", "") for unit in TABLE[kind].units for way in set(unit.ways())]
    spelled = {way.replace(" ", "") for way in ways}
    for way in spelled:
        owners = {unit.text for unit in TABLE[kind].units if way in map(squeezed, unit.ways())}
        assert len(owners) == 1, way


def squeezed(way: str) -> str:
    return way.replace(" ", "")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_a_label_and_three_rising_nudges(kind: str, system: str) -> None:
    assert label(kind, system) or kind in ("count", "sum")
    assert 0 < nudge(kind, system, "fine") < nudge(kind, system) < nudge(kind, system, "coarse")


def test_arrow_keys_move_lengths_as_drawn_in_the_key_table() -> None:
    assert nudge("length") == 0.01
    assert nudge("length", "us") == pytest.approx(0.0127)
    assert nudge("length", "us", "fine") == pytest.approx(0.0254 / 16)
    assert label("length"), label("length", "us") == ("m", "ft")


def test_no_quantity_needs_a_heavy_import() -> None:
    code = (
        "import sys; from core.units import parse, show\n"
        "show(parse('7 ft 2 in', 'length', 'us'), 'length', 'us')\n"
        "print({'pint', 'numpy', 'PySide6', 'scipy'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"


def test_a_whole_number_beside_a_fraction_of_one_is_refused_with_their_sum() -> None:
    with pytest.raises(InputError, match="enter 6"):
        parse("5 4/4 in", "length", "us")


def test_at_the_step_itself_the_larger_unit_is_shown() -> None:
    # Metres from 0.1 m on, litres from 0.1 L on.
    assert show(0.1, "length") == "0.10 m"
    assert show(1e-4, "volume").replace("\u2009", " ") == "0.1 L"


@pytest.mark.parametrize(
    ("value", "system", "text"),
    [
        (0.743, "metric", "0.74 m"),
        (0.743, "us", "2 ft 5 1/2 in"),  # 29.25 in; a tie goes to the even number of halves
        (0.0535, "metric", "54 mm"),
        (0.0535, "us", "2 1/8 in"),  # 2.106 in
        (0.00938, "metric", "9.4 mm"),
        (0.00938, "us", "3/8 in"),  # 0.369 in
    ],
)
def test_a_length_that_is_not_well_known_is_shown_no_finer(value, system, text):
    assert show(value, "length", system, digits=2) == text
    assert Amount(value, "length", digits=2).render(system) == text
