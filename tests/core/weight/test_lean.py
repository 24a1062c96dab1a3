"""How far a loaded unit leans before it tips: where its pots and its water have their weight."""

from __future__ import annotations

import math
from typing import Any

import pytest

from core.model import Design, Place, PlantGroup, Plants, Pots, Reservoir, Room, Shelf, ShelfUnit
from core.study import study
from core.weight.reading import read

UNIT = ShelfUnit(
    id="unit", name="Rack", width=1.0, depth=0.5, height=1.8, levels=(Shelf(z=1.0),), mass=20.0
)
ON_SHELF = Place(host="unit", level=1)


def lean(*parts: Any) -> float:
    ferns = PlantGroup(key="ferns", name="Ferns")
    design = Design(room=Room.rectangle(4.0, 3.0, 2.4), groups=(ferns,), parts=(UNIT, *parts))
    return read(study(design)).units[0].lean


def test_pots_weigh_at_half_their_own_height_however_tall_the_leaves() -> None:
    """Pots of π/4 · 0.2² · 0.2 m³ · 800 kg/m³ each, 4 of them, 20.106 kg with their middle at
    1.1 m, and 20 kg at 0.9 m; leaning by atan(0.25/h)."""
    pots = Pots(count=4, diameter=0.2, height=0.2, density=800.0)
    plants = Plants(
        id="plants", name="Ferns", species="ferns", width=0.8, depth=0.4, pots=pots,
        leaf_high=0.5, place=ON_SHELF,
    )  # fmt: skip
    mass = 4 * math.pi / 4 * 0.2**3 * 800
    centre = (mass * 1.1 + 20 * 0.9) / (mass + 20)
    assert lean(plants) == pytest.approx(math.degrees(math.atan(0.25 / centre)))


def test_a_reservoir_weighs_at_half_its_fill() -> None:
    """0.4 × 0.4 × 0.25 m of water, 40 kg at 1.125 m, and 20 kg at 0.9 m: h = 1.05 m."""
    tank = Reservoir(
        id="tank", name="Tank", width=0.4, depth=0.4, height=0.6, fill=0.25, place=ON_SHELF
    )
    assert lean(tank) == pytest.approx(math.degrees(math.atan(0.25 / 1.05)))
