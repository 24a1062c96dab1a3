"""What a day of energy costs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.power import DAYS_PER_MONTH, Device, Tariff, cost_per_day, cost_per_month, load_profile

ALL_DAY = load_profile([Device("fan", 100, 1.0, 0, 0)], 120)


def test_a_flat_price():
    assert cost_per_day(ALL_DAY, Tariff(0.30)) == pytest.approx(2.4 * 0.30)
    assert cost_per_month(ALL_DAY, Tariff(0.30)) == pytest.approx(0.72 * DAYS_PER_MONTH)


def test_a_night_price_holds_across_midnight():
    tariff = Tariff(0.30, night_price=0.10, night_on=22 * 60, night_off=6 * 60)
    assert cost_per_day(ALL_DAY, tariff) == pytest.approx(1.6 * 0.30 + 0.8 * 0.10)


def test_a_night_from_a_time_to_itself_is_all_day():
    tariff = Tariff(0.30, night_price=0.10, night_on=60, night_off=60)
    assert cost_per_day(ALL_DAY, tariff) == pytest.approx(2.4 * 0.10)


def test_a_thermostatted_device_costs_by_its_duty():
    cooler = load_profile([Device("cooler", 1000, 1.0, 0, 0, duty=0.25)], 120)
    assert cost_per_day(cooler, Tariff(0.20)) == pytest.approx(24 * 0.25 * 0.20)


@given(st.floats(0, 2), st.floats(0, 2), st.integers(0, 1440), st.integers(0, 1440))
def test_two_prices_cost_something_between_them(day, night, on, off):
    cost = cost_per_day(ALL_DAY, Tariff(day, night, on, off))
    low, high = sorted((2.4 * day, 2.4 * night))
    assert low - 1e-9 <= cost <= high + 1e-9


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"price": -1}, "Tariff: price = −1 per kWh must not be negative"),
        ({"price": 1, "night_price": float("inf")}, "night price = inf per kWh"),
        ({"price": 1, "night_on": 1500}, "start of night = 1500 min"),
        ({"price": 1, "night_off": -1}, "end of night = −1 min"),
    ],
)
def test_a_tariff_refuses_what_it_cannot_use(values, words):
    with pytest.raises(InputError) as caught:
        Tariff(**values)
    assert words in str(caught.value)
