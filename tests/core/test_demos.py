"""The demos load, are built as one would build them, and hold what they are meant to show."""

from __future__ import annotations

from itertools import combinations, pairwise
from pathlib import Path

import pytest

from core.catalogue import load_catalogue
from core.geometry import Box
from core.model import (
    Bay,
    Cooler,
    Design,
    Enclosure,
    Fan,
    FeedLine,
    Fogger,
    Lamp,
    Obstacle,
    Opening,
    Outlet,
    Plants,
    Platform,
    Reservoir,
    RoomWindow,
    ShelfUnit,
    Strip,
    Timer,
    Tray,
)
from core.model.kinds import PART_KINDS
from core.placement import Placement
from core.readings import read
from core.states import State
from core.storage import dumps, load, with_variant

FOLDER = Path(__file__).parents[2] / "resources" / "demos"
NAMES = ("starter", "stair-alcove", "garage-bay", "basement-nook", "empty-room")
DESIGNS = {name: load(FOLDER / f"{name}.fern") for name in NAMES}
BUILT = {name: design for name, design in DESIGNS.items() if design.parts}
TOUCH = 1e-6


def each(designs: dict[str, Design]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("design", designs.values(), ids=designs.keys())


def overlap(a: Box, b: Box) -> bool:
    return all(min(a.hi[i], b.hi[i]) - max(a.lo[i], b.lo[i]) > TOUCH for i in range(3))


def within(inner: Box, outer: Box) -> bool:
    return all(
        inner.lo[i] >= outer.lo[i] - TOUCH and inner.hi[i] <= outer.hi[i] + TOUCH for i in range(3)
    )


def test_these_are_all_the_demos() -> None:
    assert {file.stem for file in FOLDER.glob("*.fern")} == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_demo_is_written_as_the_program_writes_it(name: str) -> None:
    assert dumps(DESIGNS[name]) == (FOLDER / f"{name}.fern").read_text(encoding="utf-8")


@each(DESIGNS)
def test_a_demos_catalogue_keys_are_known(design: Design) -> None:
    catalogue = load_catalogue()
    for part in design.parts:
        if part.catalogue is not None:
            assert catalogue.get(part.catalogue).kind == part.kind


@each(DESIGNS)
def test_names_are_used_once(design: Design) -> None:
    names = [thing.name for thing in design.by_id.values()]
    assert len(names) == len(set(names))


@each(BUILT)
def test_nothing_inside_sticks_out_of_the_enclosure(design: Design) -> None:
    place = Placement(design)
    assert design.enclosure is not None
    box = place.box(design.enclosure.id)
    out = [p.id for p in design.parts if place.inside(p.id) and not within(place.box(p.id), box)]
    assert out == []


@each(BUILT)
def test_all_is_within_the_room_but_what_sits_in_its_wall(design: Design) -> None:
    place = Placement(design)
    width, depth, height = place.frame("room").size
    room = Box((0, 0, 0), (width, depth, height))
    parts = [p for p in design.parts if p.place.fixing != "face" and not isinstance(p, FeedLine)]
    assert [p.id for p in parts if not within(place.box(p.id), room)] == []


@each(BUILT)
def test_no_two_solid_things_are_in_one_place(design: Design) -> None:
    place = Placement(design)
    hollow = (Enclosure, Bay, ShelfUnit, FeedLine, Plants, Opening)
    solid = [p.id for p in design.parts if not isinstance(p, hollow)]
    solid += [f.id for f in design.room.fixtures if isinstance(f, Obstacle | Outlet)]
    hits = [(a, b) for a, b in combinations(solid, 2) if overlap(place.box(a), place.box(b))]
    # Only plants stand in trays' water; they are hollow here.
    assert hits == []


@each(BUILT)
def test_units_bays_and_fixed_things_keep_clear_of_each_other(design: Design) -> None:
    place = Placement(design)
    big = [p.id for p in design.parts if isinstance(p, ShelfUnit | Bay)]
    big += [f.id for f in design.room.fixtures if isinstance(f, Obstacle)]
    assert not [(a, b) for a, b in combinations(big, 2) if overlap(place.box(a), place.box(b))]


@each(BUILT)
def test_only_what_a_unit_carries_is_in_its_box(design: Design) -> None:
    place = Placement(design)
    for unit in design.of(ShelfUnit):
        carried = {unit.id, *(part.id for part in design.carried(unit.id))}
        others = [
            p.id
            for p in design.parts
            if p.id not in carried and not isinstance(p, Enclosure | FeedLine)
        ]
        assert not [p for p in others if overlap(place.box(p), place.box(unit.id))]


@each(BUILT)
def test_trays_lie_on_their_shelves_and_zones_in_their_trays(design: Design) -> None:
    place = Placement(design)
    for part in (*design.of(Tray), *design.of(Plants)):
        host = place.box(part.place.host)
        assert host.footprint.contains(place.box(part.id).footprint), part.id
    for a, b in combinations(place.zones, 2):
        assert not overlap(place.box(a.part.id), place.box(b.part.id)), (a.part.id, b.part.id)


@each(BUILT)
def test_every_zone_has_a_lamp_above_its_leaves_and_below_the_next_shelf(design: Design) -> None:
    place = Placement(design)
    levels = {(level.host, level.number): level for level in place.levels}
    for zone in place.zones:
        assert zone.level is not None
        lamps = [lamp for lamp in design.of(Lamp) if place.level_of(lamp.id) == zone.level]
        assert lamps, zone.part.id
        for lamp in lamps:
            assert place.box(lamp.id).lo[2] > zone.high + 0.05
            assert place.box(lamp.id).hi[2] < levels[zone.level].above + TOUCH


@each(BUILT)
def test_pots_fit_into_their_zones(design: Design) -> None:
    for zone in design.of(Plants):
        if zone.pots is not None:
            across = int(zone.width / zone.pots.diameter + 1e-9)
            deep = int(zone.depth / zone.pots.diameter + 1e-9)
            assert zone.pots.count <= across * deep, zone.id


@each(BUILT)
def test_every_device_is_plugged_in_and_the_way_ends_at_an_outlet(design: Design) -> None:
    for part in design.parts:
        if "plug" not in type(part).model_fields:
            continue
        here = part
        while not isinstance(here, Outlet):
            assert here.plug is not None, part.id
            here = design.by_id[here.plug.into]
        assert here.circuit is not None


@each(BUILT)
def test_leads_reach_from_plug_to_plug(design: Design) -> None:
    place = Placement(design)
    for part in design.parts:
        plug = getattr(part, "plug", None)
        if plug is None:
            continue
        a, b = place.box(part.id), place.box(plug.into)
        gaps = [max(a.lo[i] - b.hi[i], b.lo[i] - a.hi[i], 0.0) for i in range(3)]
        length = getattr(part, "length", 0.0) + plug.lead_length
        assert sum(gap**2 for gap in gaps) ** 0.5 <= max(length, 0.15), part.id


@each(BUILT)
def test_no_more_is_plugged_in_than_there_are_sockets(design: Design) -> None:
    for thing in design.by_id.values():
        sockets = getattr(thing, "sockets", None)
        if sockets is not None:
            plugs = (getattr(part, "plug", None) for part in design.parts)
            assert sum(1 for plug in plugs if plug and plug.into == thing.id) <= sockets, thing.id


def test_the_demos_hold_every_kind_of_part() -> None:
    kinds = {part.kind for design in DESIGNS.values() for part in design.parts}
    assert kinds == set(PART_KINDS)


def chains(design: Design) -> list[list[Lamp]]:
    """Return the lamps of each chain, in the order of the current."""
    into = {lamp.plug.into: lamp for lamp in design.of(Lamp) if lamp.plug}
    heads = [
        lamp
        for lamp in design.of(Lamp)
        if lamp.plug and not isinstance(design.by_id[lamp.plug.into], Lamp)
    ]
    found = []
    for head in heads:
        chain = [head]
        while chain[-1].id in into:
            chain.append(into[chain[-1].id])
        found.append(chain)
    return found


def test_starter_is_one_unit_one_lamp_one_plant_group() -> None:
    design = DESIGNS["starter"]
    assert design.units == "metric"
    assert design.practice.voltage == 230
    for kind in (ShelfUnit, Lamp, Tray, Plants):
        assert sum(1 for _ in design.of(kind)) == 1


def test_stair_alcove_is_what_it_is_described_as() -> None:
    design = DESIGNS["stair-alcove"]
    box = design.enclosure
    assert box is not None
    assert (box.width, box.depth, box.height) == (1.90, 0.90, 2.00)
    assert [len(unit.levels) for unit in design.of(ShelfUnit)] == [4]
    assert sum(1 for _ in design.of(Bay)) == 1
    assert {zone.species for zone in design.of(Plants)} == {
        "maidenhair-ferns",
        "jewel-orchids",
        "birds-nest-ferns",
    }
    assert len(list(design.of(Fan))) == 2
    assert {lamp.form for lamp in design.of(Lamp)} == {"board", "spot"}
    assert box.liner is not None
    assert box.doors[0].style == "leaf"
    assert len(design.others) == 1


def test_stair_alcove_runs_outlet_strip_timer_chain() -> None:
    design = DESIGNS["stair-alcove"]
    long = max(chains(design), key=len)
    timer = design.by_id[long[0].plug.into if long[0].plug else ""]
    assert isinstance(timer, Timer)
    strip = design.by_id[timer.plug.into if timer.plug else ""]
    assert isinstance(strip, Strip)
    assert isinstance(design.by_id[strip.plug.into if strip.plug else ""], Outlet)


def test_garage_bay_is_what_it_is_described_as() -> None:
    design = DESIGNS["garage-bay"]
    assert design.units == "us"
    assert design.practice.voltage == 120
    box = design.enclosure
    assert box is not None
    assert box.width == pytest.approx(8 * 0.3048, rel=0.05)
    assert box.depth == pytest.approx(4 * 0.3048, rel=0.05)
    assert box.height == pytest.approx(6.5 * 0.3048, rel=0.05)
    assert len(list(design.of(ShelfUnit))) == 2
    assert {zone.species for zone in design.of(Plants)} == {"seedlings"}
    assert all(lamp.form == "tube" and lamp.count > 1 for lamp in design.of(Lamp))
    assert any(len(chain) > 1 for chain in chains(design))


def test_garage_bay_has_a_chain_beyond_the_makers_limit() -> None:
    design = DESIGNS["garage-bay"]
    lengths = [(sum(lamp.count for lamp in chain), chain[0]) for chain in chains(design)]
    assert any(first.chain_most and count > first.chain_most for count, first in lengths)
    assert any(first.chain_most and count <= first.chain_most for count, first in lengths)


def test_basement_nook_is_what_it_is_described_as() -> None:
    design = DESIGNS["basement-nook"]
    place = Placement(design)
    assert design.enclosure is not None
    assert "Timber" in design.enclosure.frame.material
    assert len(list(design.of(ShelfUnit))) == 3
    assert len(list(design.of(Bay))) == 1
    assert {zone.species for zone in design.of(Plants)} == {"rex-begonias", "gesneriads"}
    window = next(f for f in design.room.fixtures if isinstance(f, RoomWindow))
    enclosure, opening = place.box(design.enclosure.id), place.box(window.id)
    assert enclosure.lo[0] < opening.lo[0]
    assert opening.hi[0] < enclosure.hi[0]
    across = [
        (a, b)
        for chain in chains(design)
        for a, b in pairwise(chain)
        if a.place.level != b.place.level
    ]
    assert across
    group = design.group("gesneriads")
    assert group is not None
    assert group.ppfd is None
    assert group.daily_light is None


def test_the_basements_cooler_is_there_in_summer_only() -> None:
    design = DESIGNS["basement-nook"]
    there = {season.id: any(design.at(season.id, "day").of(Cooler)) for season in design.seasons}
    assert there == {"winter": False, "summer": True}


def test_the_basements_outside_reservoir_can_overfill_the_liner() -> None:
    design = DESIGNS["basement-nook"]
    place = Placement(design)
    feed = next(design.of(FeedLine))
    tank, fogger = design.part(feed.source), design.part(feed.target)
    assert isinstance(tank, Reservoir)
    assert isinstance(fogger, Fogger)
    assert feed.drive == "gravity"
    assert feed.valve == "none"
    assert not place.inside(tank.id)
    inlet = place.box(fogger.id).lo[2] + feed.inlet
    above = max(0.0, place.box(tank.id).lo[2] + tank.fill - inlet)
    volume = tank.width * tank.depth * min(above, tank.fill)
    box = design.enclosure
    assert box is not None
    assert box.liner is not None
    # Closed form: A (h − δ/2), the lip's lowest edge counting.
    area = box.width * box.depth
    assert volume > area * (box.liner.lowest_lip - box.liner.out_of_level / 2)


@each(BUILT)
def test_the_engines_find_something_to_mend_and_a_way_to_mend_it(design: Design) -> None:
    findings = read(design).findings
    assert len(findings) >= 3
    assert any(finding.remedy for finding in findings)


@pytest.mark.parametrize(
    ("name", "rules"),
    [
        ("starter", {"light-range"}),
        ("stair-alcove", {"light-range", "light-lowest", "no-drip-loop", "fogger-minerals"}),
        ("garage-bay", {"chain-too-long", "light-range", "air-too-weak"}),
        (
            "basement-nook",
            {"strip-in-strip", "chain-too-long", "light-no-range", "temperature-day"},
        ),
    ],
)
def test_the_engines_find_what_a_demo_is_built_to_show(name: str, rules: set[str]) -> None:
    assert rules <= {finding.rule for finding in read(DESIGNS[name]).findings}


def test_the_engines_read_that_the_basements_reservoir_can_overfill_the_liner() -> None:
    water = read(DESIGNS["basement-nook"]).water
    spills = [row for row in water.rows if row.kind == "volume" and row.state is State.HIGH]
    assert "reservoir" in {row.place for row in spills}


def test_the_basement_has_a_strip_plugged_into_a_strip() -> None:
    design = DESIGNS["basement-nook"]
    assert any(
        strip.plug and isinstance(design.by_id[strip.plug.into], Strip)
        for strip in design.of(Strip)
    )


def test_the_bays_have_platforms_with_plants() -> None:
    for name in ("stair-alcove", "basement-nook"):
        design = DESIGNS[name]
        platform = next(design.of(Platform))
        assert isinstance(design.by_id[platform.place.host], Bay)
        assert any(zone.place.host == platform.id for zone in design.of(Plants))


def test_the_empty_room_holds_a_door_a_window_an_outlet_and_a_circuit() -> None:
    design = DESIGNS["empty-room"]
    kinds = {fixture.kind for fixture in design.room.fixtures}
    assert kinds == {"room-door", "room-window", "outlet"}
    assert len(design.room.circuits) == 1
    assert design.parts == ()


@each(BUILT)
def test_every_variant_can_be_opened(design: Design) -> None:
    for other in design.others:
        opened = with_variant(design, other)
        assert opened.variant_id == other.id
        back = with_variant(opened, opened.others[0])
        assert back == design
