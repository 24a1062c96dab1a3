"""Dragging parts: one undo step, the same in all drawings, with tape, guides and typed digits."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from core.placement import Placement
from gui.dragging import Drag
from gui.sheet import Sheet
from tests.designs import alcove
from tests.gui.driving import Mouse, build_sheet, type_keys

SHIFT = Qt.KeyboardModifier.ShiftModifier
BOARD = "board-3-right"


@pytest.fixture
def sheet(qtbot, theme) -> Sheet:
    return build_sheet(qtbot, theme, alcove())


def start_drag(sheet: Sheet, part_id: str, view: str = "plan") -> Mouse:
    mouse = Mouse(sheet, view)
    across, up = mouse.over(part_id)
    sheet.view.select([part_id])
    mouse.press(across, up)
    return mouse


def lo(sheet: Sheet, part_id: str) -> tuple[float, float, float]:
    return Placement(sheet.document.design).box(part_id).lo


def shown_x(sheet: Sheet, view: str) -> float:
    """Return the x that a drawing's item stands at. [m]"""
    at = sheet.drawings[view].position(BOARD)
    return sheet.camera.to_metres(view, at)[0]


def test_a_board_dragged_in_plan_moves_in_front_in_the_same_frame(sheet):
    before = lo(sheet, BOARD)
    mouse = start_drag(sheet, BOARD)

    for _ in range(20):
        mouse.move_px(-10, 0, SHIFT, steps=1)
        assert shown_x(sheet, "plan") == pytest.approx(shown_x(sheet, "front"), abs=1e-9)
        assert shown_x(sheet, "plan") == pytest.approx(lo(sheet, BOARD)[0], abs=1e-9)
    mouse.release(SHIFT)

    assert sheet.document.undo_stack.count() == 1
    assert lo(sheet, BOARD)[0] == pytest.approx(before[0] - 200 / sheet.camera.scale)


def test_a_drag_back_to_its_start_is_no_step(sheet):
    before = sheet.document.design
    mouse = start_drag(sheet, BOARD)
    mouse.move_px(-60, 12)
    mouse.move_px(60, -12)
    mouse.release()

    assert sheet.document.undo_stack.count() == 0
    assert sheet.document.design == before


def test_undo_puts_the_part_back_and_redo_moves_it_again(sheet):
    before = sheet.document.design
    mouse = start_drag(sheet, BOARD)
    mouse.move(-0.10, 0.05, SHIFT)
    mouse.release(SHIFT)
    after = sheet.document.design

    sheet.document.undo_stack.undo()
    assert sheet.document.design == before
    assert shown_x(sheet, "front") == pytest.approx(Placement(before).box(BOARD).lo[0])
    sheet.document.undo_stack.redo()
    assert sheet.document.design == after


@pytest.mark.parametrize("step", range(20))
def test_the_tape_shows_the_computed_gaps_and_never_covers_the_part(sheet, step):
    mouse = start_drag(sheet, BOARD)
    mouse.move((0.045 + 0.0023 * step) * (-1) ** step, 0.0, SHIFT)
    sheet.grab()

    box = sheet.placement.box(BOARD)
    others = sheet.placement.box("board-3-left")
    shelf = sheet.placement.box("unit-1")
    left = box.lo[0] - others.hi[0]
    right = shelf.hi[0] - box.hi[0]
    shown = {gap.side: gap.length for gap in sheet.gesture.gaps()}
    if left > 0:
        assert shown[-1] == pytest.approx(left, abs=1e-9)
    if right > 0:
        assert shown[1] == pytest.approx(right, abs=1e-9)
    for measured in sheet.tape.state.tapes:
        assert float(measured.text.split()[0]) * unit_of(measured.text) == pytest.approx(
            measured.gap.length, abs=0.0005 + 1e-9
        )
    part = sheet.camera.box("plan", box)
    for _, rect in sheet.tape.numbers:
        assert not rect.intersects(part)
    mouse.release(SHIFT)


def unit_of(text: str) -> float:
    return {"mm": 1e-3, "cm": 1e-2, "m": 1.0}[text.split()[1]]


def test_a_gap_narrower_than_its_number_puts_the_number_below(sheet):
    mouse = start_drag(sheet, BOARD)
    mouse.move(-0.06, 0.0, SHIFT)
    sheet.grab()

    part = sheet.camera.box("plan", sheet.placement.box(BOARD))
    narrow = next(t for t in sheet.tape.state.tapes if t.gap.side == -1)
    rect = next(rect for text, rect in sheet.tape.numbers if text == narrow.text)
    assert narrow.gap.length * sheet.camera.scale < rect.width()
    assert rect.top() > part.bottom()
    mouse.release(SHIFT)


@pytest.mark.parametrize(("typed", "metres"), [("15 cm", 0.150), ("6 in", 0.1524)])
def test_typed_digits_and_enter_set_the_marked_gap(sheet, typed, metres):
    mouse = start_drag(sheet, BOARD)
    mouse.move(-0.05, 0.0, SHIFT)
    while sheet.gesture.marked().side != -1:
        QTest.keyClick(sheet, Qt.Key.Key_Tab)
    type_keys(sheet, typed)
    QTest.keyClick(sheet, Qt.Key.Key_Return)
    mouse.release()

    gap = lo(sheet, BOARD)[0] - sheet.placement.box("board-3-left").hi[0]
    assert gap == pytest.approx(metres, abs=1e-9)
    assert sheet.document.undo_stack.count() == 1


def test_tab_marks_the_other_gap(sheet):
    mouse = start_drag(sheet, BOARD)
    mouse.move(-0.05, 0.0, SHIFT)
    first = sheet.gesture.marked().side
    QTest.keyClick(sheet, Qt.Key.Key_Tab)
    second = sheet.gesture.marked().side
    type_keys(sheet, "2 cm")
    QTest.keyClick(sheet, Qt.Key.Key_Return)
    mouse.release()

    assert {first, second} == {-1, 1}
    box, shelf = sheet.placement.box(BOARD), sheet.placement.box("unit-1")
    gaps = {1: shelf.hi[0] - box.hi[0], -1: box.lo[0] - sheet.placement.box("board-3-left").hi[0]}
    assert gaps[second] == pytest.approx(0.02, abs=1e-9)


def test_text_that_is_no_length_is_told_and_changes_nothing(sheet, qtbot):
    mouse = start_drag(sheet, BOARD)
    mouse.move(-0.05, 0.0, SHIFT)
    type_keys(sheet, "5 ft 14 in")
    with qtbot.waitSignal(sheet.said) as said:
        QTest.keyClick(sheet, Qt.Key.Key_Return)

    assert "14" in said.args[0]
    assert sheet.dragging
    mouse.release()


def guide_distance(sheet: Sheet) -> float:
    """Return how far the right board is from being flush with the shelf's right end. [m]"""
    return sheet.placement.box("unit-1").hi[0] - sheet.placement.box(BOARD).hi[0]


@pytest.mark.parametrize(
    ("px", "keys", "holds"),
    [
        (5, Qt.KeyboardModifier.NoModifier, True),
        (7, Qt.KeyboardModifier.NoModifier, False),
        (5, SHIFT, False),
    ],
)
def test_guides_hold_within_six_pixels_unless_shift_is_down(sheet, px, keys, holds):
    mouse = start_drag(sheet, BOARD)
    away = guide_distance(sheet) * sheet.camera.scale
    mouse.move_px(away + px, 0, keys)

    distance = guide_distance(sheet)
    words = [guide.words for guide in sheet.gesture.guides.values()]
    if holds:
        assert distance == pytest.approx(0.0, abs=1e-9)
        assert "flush with shelf end" in words
    else:
        assert distance == pytest.approx(-px / sheet.camera.scale, abs=1e-9)
        assert "flush with shelf end" not in words
    assert len(sheet.gesture.guides) <= 2
    assert all(axis == guide.axis for axis, guide in sheet.gesture.guides.items())
    mouse.release(keys)


def test_boards_of_two_levels_snap_to_the_same_drop(sheet):
    mouse = start_drag(sheet, BOARD, "front")
    mouse.move_px(0, 40, steps=3)
    target = sheet.placement.box("board-2-left").lo[2] - 0.58 + 1.04
    mouse.move_px(0, (lo(sheet, BOARD)[2] - target) * sheet.camera.scale + 3, steps=3)

    assert lo(sheet, BOARD)[2] == pytest.approx(target, abs=1e-9)
    assert sheet.gesture.guides[2].words.startswith("same drop as Board")
    mouse.release()


def test_escape_puts_it_back(sheet):
    before = sheet.document.design
    mouse = start_drag(sheet, BOARD)
    mouse.move(0.05, 0.03)
    assert sheet.document.design != before
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    mouse.release()

    assert sheet.document.design == before
    assert not sheet.document.proposing
    assert sheet.document.undo_stack.count() == 0
    assert sheet.tape.state is None
    assert shown_x(sheet, "plan") == pytest.approx(Placement(before).box(BOARD).lo[0])


def test_other_keys_do_nothing_while_something_is_moved(sheet):
    mouse = start_drag(sheet, BOARD)
    mouse.move(0.05, 0.05, SHIFT)
    for key in (Qt.Key.Key_Delete, Qt.Key.Key_R, Qt.Key.Key_PageUp, Qt.Key.Key_Space):
        QTest.keyClick(sheet, key)
    QTest.keyClick(sheet, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClick(sheet, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    moved = lo(sheet, BOARD)
    mouse.release(SHIFT)

    assert lo(sheet, BOARD) == pytest.approx(moved)
    assert sheet.document.undo_stack.count() == 1
    assert sheet.view.level == ("unit-1", 3)


def test_x_holds_the_movement_to_its_axis(sheet):
    before = lo(sheet, BOARD)
    mouse = start_drag(sheet, BOARD)
    mouse.move(0.05, 0.05, SHIFT)
    type_keys(sheet, "x")
    mouse.move(0.05, 0.05, SHIFT)

    assert lo(sheet, BOARD)[1] == before[1]
    assert lo(sheet, BOARD)[0] == pytest.approx(before[0] + 0.10)
    mouse.release(SHIFT)


def test_a_board_pulled_down_hangs_under_the_next_shelf(sheet):
    mouse = start_drag(sheet, BOARD, "front")
    mouse.move(0.0, -0.46, SHIFT)
    mouse.release(SHIFT)

    place = sheet.document.design.part(BOARD).place
    assert (place.host, place.fixing, place.level) == ("unit-1", "under", 3)


def test_a_tray_lifted_to_another_shelf_stands_on_it_with_its_plants(sheet):
    tray, plants = "tray-1-left", "plants-1-left"
    sheet.document.apply_parts("clear", {"plants-2-left": None, "tray-2-left": None})
    mouse = start_drag(sheet, tray, "front")
    mouse.move(0.0, 0.50, SHIFT)
    mouse.release(SHIFT)

    design = sheet.document.design
    assert (design.part(tray).place.level, design.part(tray).place.z) == (2, 0.0)
    assert design.part(plants).place.host == tray
    assert Placement(design).box(plants).lo[2] == pytest.approx(0.58)


def test_a_unit_takes_all_it_carries_along_in_every_drawing(sheet):
    carried = [part.id for part in sheet.document.design.carried("unit-1")]
    before = {i: sheet.placement.box(i) for i in carried}
    sheet.view.select(["unit-1"])
    drag = Drag(sheet, "plan", sheet.camera.to_px("plan", 0.5, 1.5), ("unit-1",))
    drag.shift = (0.10, 0.0, 0.0)
    sheet.document.propose(drag._changes())

    for part_id in carried:
        assert sheet.placement.box(part_id).lo[0] == pytest.approx(before[part_id].lo[0] + 0.1)
    front = sheet.drawings["front"]
    for part_id in carried:
        at = front.position(part_id)
        if at is not None:
            assert sheet.camera.to_metres("front", at)[0] == pytest.approx(
                before[part_id].lo[0] + 0.1
            )
    sheet.document.withdraw()


def test_a_typed_distance_ends_the_drag_though_the_button_is_still_held(sheet):
    told = []
    sheet.dragging_changed.connect(lambda dragging: told.append((dragging, sheet.dragging)))
    mouse = start_drag(sheet, BOARD)
    mouse.move_px(-40, 0)
    type_keys(sheet, "100 mm")
    QTest.keyClick(sheet, Qt.Key.Key_Return)

    assert told == [(True, True), (False, False)]
    assert not sheet.dragging
    mouse.release()
    assert sheet.document.undo_stack.count() == 1


def test_plants_let_go_with_the_pointer_on_another_tray_land_wholly_in_it(sheet):
    sheet.document.apply_parts("clear", {"plants-3-right": None})
    tray = sheet.placement.box("tray-3-right")
    zone = sheet.placement.box("plants-3-left")
    mouse = Mouse(sheet, "plan")
    sheet.view.select(["plants-3-left"])
    grip = zone.hi[0] - 0.1
    mouse.press(grip, zone.centre[1])
    mouse.move(tray.lo[0] + 0.03 - grip, 0.0, SHIFT)
    name = sheet.document.design.by_id["tray-3-right"].name
    assert (sheet.view.hover, sheet.tape.state.label) == ("tray-3-right", f"into {name}")
    mouse.release(SHIFT)

    placement = Placement(sheet.document.design)
    assert sheet.document.design.part("plants-3-left").place.host == "tray-3-right"
    landed = placement.box("plants-3-left")
    assert landed.lo[0] >= placement.box("tray-3-right").lo[0] - 1e-9
    assert sheet.view.hover == ""
