"""Duct fans on their curves against what is in their way, and the fresh air that results."""

from __future__ import annotations

import math

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.air.from_design import ventilation
from core.air.jets import AIR_DENSITY
from core.air.ventilation import (
    DISCHARGE,
    duct_fan_flow,
    duct_loss,
    fan_pressure,
    friction_factor,
    orifice_flow,
)
from core.model import CurvePoint, DuctFan
from core.placement import Placement
from tests.air_kit import box, circulation, design, duct, flap

CURVE = tuple(CurvePoint(pressure=p, flow=q) for p, q in ((0, 0.05), (90, 0.031), (150, 0.0)))


@given(st.floats(3e3, 3e5), st.floats(1e-6, 0.04))
@settings(max_examples=60)
def test_friction_of_a_duct_agrees_with_colebrook(reynolds: float, roughness: float) -> None:
    # Haaland 1983 states 2 % against Colebrook for Re from 4000; fluids solves Colebrook.
    expected = fluids.friction.Colebrook(reynolds, roughness)
    assert friction_factor(reynolds, roughness) == pytest.approx(expected, rel=0.025)


def test_friction_is_laminar_at_low_speed() -> None:
    assert friction_factor(1000, 0.01) == pytest.approx(0.064)
    assert friction_factor(0, 0.01) == 0.0


def test_a_fan_in_a_wall_moves_its_free_flow() -> None:
    assert duct_fan_flow(duct(flow=0.05, curve=CURVE)) == pytest.approx(0.05, rel=1e-9)
    assert duct_fan_flow(duct(flow=0.05)) == pytest.approx(0.05, rel=1e-9)
    assert duct_fan_flow(duct(flow=0.0)) == 0.0


def test_against_a_duct_the_flow_is_where_both_curves_meet() -> None:
    fan = duct(flow=0.05, curve=CURVE, duct_length=3.0, bends=2, filter_drop=30.0)
    flow = duct_fan_flow(fan)
    assert 0.031 < flow < 0.05
    # An independent sum: fluids' friction and head loss, bends 0.5 and entry 0.5, filter by flow.
    speed = flow / (math.pi * 0.1**2 / 4)
    friction = fluids.friction_factor(speed * 0.1 / 1.5e-5, 0.003 / 0.1)
    times = fluids.K_from_f(friction, 3.0, 0.1) + 2 * 0.5 + 0.5
    lost = fluids.dP_from_K(times, AIR_DENSITY, speed) + 30.0 * flow / 0.05
    assert duct_loss(fan, flow) == pytest.approx(lost, rel=0.02)
    # Between the curve's points (90 Pa, 0.031 m³/s) and (0 Pa, 0.05 m³/s) it is straight.
    assert (0.05 - flow) / (0.05 - 0.031) * 90 == pytest.approx(lost, rel=0.02)


def test_a_stalled_fan_moves_nothing() -> None:
    assert duct_fan_flow(duct(flow=0.05, curve=CURVE), against=200.0) == pytest.approx(
        0.0, abs=1e-9
    )


def test_without_a_curve_a_parabola_to_an_assumed_pressure_is_named() -> None:
    fan = duct(flow=0.05, duct_length=5.0)
    assert fan_pressure(fan, 0.0) == 100.0
    assert fan_pressure(fan, 0.05) == 0.0
    found = ventilation(Placement(design(box(), fan)))
    assert found is not None
    assert any("taken to stall at 100 Pa" in told.render() for told in found.assumptions)


@given(st.floats(0.0, 8.0), st.integers(0, 6), st.floats(0.0, 100.0))
@settings(max_examples=40)
def test_what_is_in_the_way_never_raises_the_flow(length: float, bends: int, drop: float) -> None:
    less = duct(flow=0.05, curve=CURVE, duct_length=length, bends=bends, filter_drop=drop)
    more = duct(
        flow=0.05, curve=CURVE, duct_length=length + 1, bends=bends + 1, filter_drop=drop + 5
    )
    assert 0.0 <= duct_fan_flow(more) < duct_fan_flow(less) <= 0.05 + 1e-12


def test_a_small_flap_throttles_the_exhaust_and_both_pass_the_same() -> None:
    found = ventilation(Placement(design(box(), duct(flow=0.05, curve=CURVE), flap("flap", 0.05))))
    assert found is not None
    (fan,) = found.fans
    assert fan.flow < 0.045
    assert found.made_up == pytest.approx(fan.flow)
    # The flap of 0.05 m × 0.1 m lets through C A √(2 Δp / ρ).
    assert DISCHARGE * 0.005 * math.sqrt(2 * fan.pressure / AIR_DENSITY) == pytest.approx(
        fan.flow, rel=1e-4
    )


def test_an_orifice_passes_what_the_handbook_says() -> None:
    # 0.6 × 0.01 m² × √(2 × 10 Pa / 1.2 kg/m³)
    assert orifice_flow(0.01, 10.0) == pytest.approx(0.02449, rel=1e-3)


def test_an_intake_helps_an_exhaust_against_a_small_flap() -> None:
    def taken(*more: DuctFan) -> float:
        made = design(box(), duct(flow=0.05, curve=CURVE), flap("flap", 0.05), *more)
        found = ventilation(Placement(made))
        assert found is not None
        return found.fans[0].flow

    assert taken(duct("intake", flow=0.03, curve=CURVE, joins=("room", "enclosure"))) > taken()


def test_leaks_alone_change_the_air_as_the_enclosure_says() -> None:
    found = ventilation(Placement(design(box(air_changes_per_hour=0.7), circulation())))
    assert found is not None
    assert not found.driven
    assert found.air_changes == pytest.approx(0.7)


def test_it_is_said_that_open_flaps_are_not_counted_among_the_leaks() -> None:
    shut = ventilation(Placement(design(box())))
    opened = ventilation(Placement(design(box(), flap("flap", 0.2))))
    assert shut is not None and opened is not None
    assert opened.air_changes == shut.air_changes
    assert not shut.assumptions
    assert "open flaps" in opened.assumptions[0].text


def test_leaks_add_to_a_fan_as_squares_where_it_does_not_balance() -> None:
    found = ventilation(Placement(design(box(air_changes_per_hour=3.0), duct(flow=0.025))))
    assert found is not None
    leak = 3.0 * found.volume / 3600
    assert found.fresh == pytest.approx(math.hypot(0.025, leak))
    twin = duct("intake", flow=0.025, joins=("room", "enclosure"))
    both = ventilation(Placement(design(box(air_changes_per_hour=3.0), duct(flow=0.025), twin)))
    assert both is not None
    assert both.fresh == pytest.approx(0.025 + leak)
