"""Lines of equal light in the plan: each says the value of the map under it and hides no number."""

from __future__ import annotations

from functools import cache

import pytest

from core.air.flows import JETS
from core.light.point import light_at
from core.readings import Reader, Readings
from core.storage import load
from gui.light_contours import contours, value_labels
from gui.overlay_light import breaks_for, levels_seen, number_rects, wanted
from tests.gui.driving import build_sheet


@cache
def garage() -> Readings:
    return Reader(flows=JETS).update(load("resources/demos/garage-bay.fern"))


@pytest.fixture
def look(qtbot, theme):
    sheet = build_sheet(qtbot, theme, garage().design)
    sheet.view.choose_layout("plan")
    sheet.show_readings(garage())
    return sheet.overlays.look


def level_shown(look):
    return look.readings.light.level(look.level)


def all_contours(look):
    one = level_shown(look)
    values = one.at(None)
    want = wanted(look, one.level)
    return contours(one, values, breaks_for(want, float(values.max())), want)


def labels(look):
    room = look.camera.rect("plan", level_shown(look).area)
    return list(value_labels(look, all_contours(look), room, number_rects(look)))


def test_a_value_stands_where_the_map_has_it(look):
    one = level_shown(look)
    found = labels(look)
    assert found
    for rect, text in found:
        x, y = look.camera.to_metres("plan", rect.center())
        # The line is straight between cells of 5 cm, the map bilinear.
        assert light_at(one, x, y).ppfd == pytest.approx(float(text), rel=0.02)


def test_values_cover_neither_numbers_nor_each_other_nor_leave_the_map(look):
    rects = [rect for rect, _ in labels(look)]
    numbers = number_rects(look)
    room = look.camera.rect("plan", level_shown(look).area)
    assert len(numbers) >= 2
    for place, rect in enumerate(rects):
        assert room.contains(rect)
        assert not any(rect.intersects(other) for other in (*numbers, *rects[:place]))


def test_the_edges_of_what_is_wanted_come_first(look):
    found = all_contours(look)
    want = wanted(look, look.level)
    assert {each.value for each in found[:2]} == set(want)
    assert [each.edge for each in found] == [True, True, False, False, False, False]


def test_strips_of_what_stands_behind_the_chosen_unit_are_left_out(look):
    # Both units stand side by side against the back wall: one hides the other only from the side.
    hosts = {view: {one.level[0] for one in levels_seen(look, view)} for view in ("front", "side")}
    assert look.level[0] == "unit-a"
    assert hosts == {"front": {"unit-a", "unit-b"}, "side": {"unit-a"}}


def test_a_line_too_short_for_its_value_carries_none(look):
    one = level_shown(look)
    top = float(one.at(None).max()) - 1e-3  # a speck round the brightest cell
    room = look.camera.rect("plan", one.area)
    speck = contours(one, one.at(None), [top], ())
    assert list(value_labels(look, speck, room, ())) == []
