"""Weight against statics and trade rules; the source stands beside each value."""

import pytest

from core.findings.weight import ASK_ABOUT_FLOOR
from core.units import parse
from core.weight import (
    ANCHOR_SLENDERNESS,
    CHILD,
    WARN_SLENDERNESS,
    castor_load,
    climb_to_tip,
    corner_loads,
    floor_pressure,
    push_to_tip,
    slenderness,
    tip_angle,
)
from core.weight.loads import FILM_DENSITY, SHEET_DENSITIES

POUND_FORCE_PER_SQUARE_FOOT = 47.880259  # NIST SP 811


def test_a_push_high_up_tips_a_shallow_unit():
    # Statics, m g (d/2)/h with g = 9.80665 m/s²
    assert push_to_tip(60, 0.45, 1.8) == pytest.approx(73.5, abs=0.05)


def test_the_lean_at_which_a_unit_tips():
    # Statics, atan((d/2)/h)
    assert tip_angle(0.4572, 0.95) == pytest.approx(13.53, abs=5e-3)


def test_the_pressure_under_a_loaded_unit():
    # Definition, m g/A
    pressure = floor_pressure(220, 1.2, 0.6)
    assert pressure / 1000 == pytest.approx(2.996, abs=5e-4)
    assert pressure / POUND_FORCE_PER_SQUARE_FOOT == pytest.approx(62.6, abs=0.05)


def test_three_castors_carry():
    # Trade rule: rating of each at least a third of the total (seen in a secondary copy)
    assert castor_load(240) == pytest.approx(80)


def test_slenderness_is_height_over_depth():
    # Definition; warn above 4 (one shelving maker's practice), anchor above 6 (from memory)
    assert slenderness(1.8, 0.45) == pytest.approx(4.0)


def test_from_where_on_to_warn_and_to_anchor():
    # Warn above 4 (one shelving maker's practice, secondary copy), anchor above 6 (from memory)
    assert (WARN_SLENDERNESS, ANCHOR_SLENDERNESS) == (4.0, 6.0)


def test_a_floor_is_asked_about_at_half_of_what_bedrooms_bear():
    # IRC table R301.5: sleeping rooms 30 psf (secondary copy); half for furniture and people
    assert pytest.approx(parse("15 psf", "pressure"), rel=0.03) == ASK_ABOUT_FLOOR


def test_a_living_rooms_forty_psf_is_what_europe_reckons_with_too():
    # IRC table R301.5: 40 psf (secondary copy); EN 1991-1-1 category A: 1.5 to 2.0 kN/m² (from
    # memory). 220 kg on 1.2 x 0.6 m press harder than that; on 2 m² they do not.
    living_room = parse("40 psf", "pressure")
    assert 1500 < living_room < 2000
    assert floor_pressure(220, 1.2, 0.6) > living_room > floor_pressure(220, 2.0, 1.0)


@pytest.mark.parametrize(
    ("sheet", "material"),
    [
        ("glass", "Glass, soda lime"),
        ("acrylic", "Plastics, polymethylmethacrylate (PMMA)"),
        ("plywood", "Wood, plywood 500 kg/m^3"),
    ],
)
def test_covers_are_as_dense_as_the_tables_of_ht_have_them(sheet, material):
    # ht: EN ISO 10456
    ht = pytest.importorskip("ht")
    assert pytest.approx(ht.rho_material(material), rel=0.02) == SHEET_DENSITIES[sheet]


def test_foam_boards_are_between_the_lightest_and_the_densest():
    # ht, ASHRAE Fundamentals: moulded polystyrene, 20 kg/m³, and faced polyisocyanurate, 65
    ht = pytest.importorskip("ht")
    light = ht.rho_material("Expanded polystyrene, molded beads")
    dense = ht.rho_material("Polyisocyanurate, aged, with facers")
    assert light < SHEET_DENSITIES["board"] < dense


def test_films_are_as_dense_as_polyethylene():
    # ht, EN ISO 10456: polyethylene of low and of high density
    ht = pytest.importorskip("ht")
    low, high = (
        ht.rho_material(f"Plastics, polyethylene / polythene, {kind} density")
        for kind in ("low", "high")
    )
    assert low < FILM_DENSITY < high


def test_a_child_that_climbs():
    # ASTM F2057-23: 60 lb (from memory)
    assert pytest.approx(parse("60 lb", "mass"), rel=0.01) == CHILD


def test_who_hangs_out_in_front_tips_a_light_unit():
    # Statics, moments about the front feet: 20 kg × 0.2 m against 16 kg × 0.25 m
    assert climb_to_tip(20.0, 0.2, 0.25) == pytest.approx(16.0)


def test_four_posts_share_an_uneven_load():
    # Statics: moments about each edge; a load over one post rests on it alone
    corners = corner_loads(100.0, 0.75, 0.5)
    assert corners == pytest.approx((12.5, 37.5, 12.5, 37.5))
    assert corner_loads(100.0, 1.0, 1.0) == pytest.approx((0, 0, 0, 100))
    assert corners[1] + corners[3] == pytest.approx(100.0 * 0.75)
