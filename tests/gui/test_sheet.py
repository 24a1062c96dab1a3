"""The sheet: three drawings on shared axes, levels, colours, selection, keys, sizes, drops."""

from __future__ import annotations

import time
from types import SimpleNamespace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QDragEnterEvent,
    QDragMoveEvent,
    QDropEvent,
    QGuiApplication,
    QImage,
    QPainter,
)
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from core.air.reading import read as read_air
from core.catalogue import load_catalogue
from core.fit.reading import read as read_fit
from core.light.reading import read as read_light
from core.light_map import COLOURS
from core.model import Change, Design, Room, replace
from core.placement import Placement
from core.power.reading import read as read_power
from core.study import study
from core.units import parse
from core.water.reading import read as read_water
from core.weight.reading import read as read_weight
from gui.aiming import stem_of
from gui.inks import COLOURED
from gui.items import MarksItem
from gui.overlay_light import worst_off
from gui.parts_shelf import mime_for
from gui.sheet import Sheet
from gui.theme import Theme
from tests.designs import alcove
from tests.gui.driving import Mouse, build_sheet

CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def sheet(qtbot, theme) -> Sheet:
    return build_sheet(qtbot, theme, alcove())


@pytest.fixture(scope="module")
def readings() -> SimpleNamespace:
    """Return the readings that overlays draw, of the alcove."""
    look = study(alcove())
    return SimpleNamespace(
        design=look.design,
        quality=look.quality,
        light=read_light(look),
        air=read_air(look),
        power=read_power(look),
        weight=read_weight(look),
        fit=read_fit(look),
        water=read_water(look),
    )


# --- the drawings ------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(1380, 820), (796, 630), (640, 500), (600, 430)])
def test_drawings_and_free_quarters_lie_apart_and_within_the_sheet(sheet, size):
    sheet.resize(*size)
    QApplication.processEvents()

    places = [pane.toRect() for pane in sheet.camera.panes.values()]
    places += [sheet.key_area(), sheet.rows_area()]
    for index, one in enumerate(places):
        assert not one.isEmpty()
        assert sheet.viewport().rect().contains(one)
        assert not any(one.intersects(other) for other in places[index + 1 :])
    assert ("side" in sheet.camera.panes) == (size[0] >= 640)


def test_a_thing_lies_exactly_under_itself_in_the_next_drawing(sheet):
    for view in ("plan", "front"):
        assert sheet.camera.origins[view][0] == sheet.camera.origins["plan"][0]
    assert sheet.camera.origins["front"][1] == sheet.camera.origins["side"][1]
    box = sheet.placement.box("reservoir-1")
    plan, front = sheet.camera.box("plan", box), sheet.camera.box("front", box)
    assert (plan.left(), plan.right()) == pytest.approx((front.left(), front.right()))


def test_every_part_lies_within_its_drawings_at_rest(sheet):
    for view, pane in sheet.camera.panes.items():
        for part in sheet.document.design.parts:
            rect = sheet.camera.box(view, sheet.placement.box(part.id))
            assert pane.adjusted(-1, -1, 1, 1).contains(rect)


@pytest.mark.parametrize("layout", ["plan", "front", "side"])
def test_one_drawing_alone_fills_the_sheet(sheet, layout):
    scale = sheet.camera.scale
    sheet.view.choose_layout(layout)

    assert list(sheet.camera.panes) == [layout]
    assert sheet.camera.scale > scale
    assert sheet.rows_area().isEmpty() == (layout == "plan")


def test_the_wheel_zooms_all_drawings_about_the_pointer(sheet):
    mouse = Mouse(sheet, "front")
    at = sheet.camera.to_px("front", *mouse.over("board-2-left"))
    under = sheet.camera.to_metres("front", at)

    sheet.zoom(1.6, at)

    assert sheet.camera.to_metres("front", at) == pytest.approx(under)
    assert sheet.camera.origins["plan"][0] == pytest.approx(sheet.camera.origins["front"][0])
    assert sheet.camera.origins["side"][1] == pytest.approx(sheet.camera.origins["front"][1])
    sheet.refit()
    assert sheet.camera.scale == sheet.camera.fit_scale


def test_panning_with_the_middle_button_moves_the_shared_axes(sheet):
    before = dict(sheet.camera.origins)
    at = sheet.camera.panes["plan"].center().toPoint()
    QTest.mousePress(sheet.viewport(), Qt.MouseButton.MiddleButton, pos=at)
    QTest.mouseMove(sheet.viewport(), at + QPoint(30, -12))
    QTest.mouseRelease(sheet.viewport(), Qt.MouseButton.MiddleButton, pos=at + QPoint(30, -12))

    after = sheet.camera.origins
    assert after["plan"][0] - before["plan"][0] == pytest.approx(30)
    assert after["front"][0] - before["front"][0] == pytest.approx(30)
    assert after["plan"][1] - before["plan"][1] == pytest.approx(-12)
    assert after["side"][0] - before["side"][0] == pytest.approx(12)
    assert after["front"][1] == before["front"][1]


def test_parts_added_removed_and_changed_appear_in_the_drawings(sheet):
    design = sheet.document.design
    sheet.document.apply_parts("remove", {"fan-1": None})
    assert sheet.drawings["front"].position("fan-1") is None

    sheet.document.undo_stack.undo()
    assert sheet.drawings["front"].position("fan-1") is not None
    assert sheet.document.design == design


@pytest.mark.parametrize("layout", ["sheet", "plan", "front", "side"])
@pytest.mark.parametrize(("units", "bar"), [("metric", 1.0), ("us", 0.9144)])
def test_the_scale_bar_is_as_long_as_it_says(qtbot, theme, layout, units, bar):
    sheet = build_sheet(qtbot, theme, alcove(units=units))
    sheet.view.choose_layout(layout)
    said: list[str] = []
    wide: list[float] = []

    class Recorder:
        def __getattr__(self, name):
            return lambda *values: self.note(name, values)

        def note(self, name, values):
            if name == "drawText":
                said.append(values[1])
            if name == "drawRect":
                wide.append(values[0].width())

    sheet.furniture._paint_scale_bar(Recorder())

    length = sum(wide) / sheet.camera.scale
    assert length == pytest.approx(parse(said[0], "length", units), rel=1e-3)
    assert length in (pytest.approx(bar), pytest.approx(bar / 4))


def test_an_empty_room_is_drawn(qtbot, theme):
    sheet = build_sheet(qtbot, theme, Design(room=Room.rectangle(3.0, 2.0, 2.4)))

    assert not sheet.grab().isNull()
    assert sheet.view.level is None
    assert sheet.accessibleName() == "Sheet, plan, front and side; 0 parts"


def test_an_l_shaped_room_is_drawn_and_its_walls_measured(qtbot, theme):
    corners = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.5, 1.0), (1.5, 2.5), (0.0, 2.5))
    design = alcove().having(room=Room(outline=corners, height=2.4), parts=())
    tray = alcove().part("reservoir-1")
    place = tray.place.model_copy(update={"host": "room", "x": 0.5, "y": 1.5})
    design = design.with_parts({tray.id: tray.model_copy(update={"place": place})})
    sheet = build_sheet(qtbot, theme, design)
    mouse = Mouse(sheet, "plan")
    sheet.view.select(["reservoir-1"])
    mouse.press(*mouse.over("reservoir-1"))
    mouse.move(0.1, 0.0, SHIFT)

    lengths = {gap.side: gap.length for gap in sheet.gesture.gaps()}
    assert lengths == {-1: pytest.approx(0.6), 1: pytest.approx(1.5 - 0.9)}
    mouse.release(SHIFT)


# --- levels ------------------------------------------------------------------------------------


def choose_by_click(sheet: Sheet, number: int) -> None:
    z = (0.12, 0.58, 1.04, 1.50)[number - 1] + 0.30
    Mouse(sheet, "front").click(0.845, z)


def choose_by_keys(sheet: Sheet, number: int) -> None:
    for _ in range(4):
        QTest.keyClick(sheet, Qt.Key.Key_PageUp)
    for _ in range(4 - number):
        QTest.keyClick(sheet, Qt.Key.Key_PageDown)


def choose_by_view(sheet: Sheet, number: int) -> None:
    sheet.view.choose_level(("unit-1", number))


@pytest.mark.parametrize("choose", [choose_by_click, choose_by_keys, choose_by_view])
@pytest.mark.parametrize("factor", [1.0, 1.4, 0.8])
def test_every_way_to_choose_a_level_gives_the_same_band_title_and_plan(sheet, choose, factor):
    sheet.zoom(factor, sheet.camera.panes["front"].center())
    choose(sheet, 2)

    assert sheet.view.level == ("unit-1", 2)
    assert sheet.furniture.title("plan")[0] == "Plan at level 2"
    top, bottom = sheet.level_y(("unit-1", 2))
    shelf, above = (sheet.camera.to_px("front", 0.0, z).y() for z in (0.58, 1.02))
    assert (top, bottom) == pytest.approx((above, shelf))
    seen = sheet.drawings["plan"].shown_ids()
    assert "tray-2-left" in seen
    assert not {"tray-1-left", "tray-3-left"} & set(seen)
    middle = QPoint(round(sheet.camera.panes["front"].right() - 4), round((top + bottom) / 2))
    band = sheet.theme.colour("pencil_bg")
    assert sheet.grab().toImage().pixelColor(middle) == band


def test_laid_out_is_told_when_bands_move(sheet, qtbot):
    for act in (lambda: sheet.zoom(1.2), sheet.refit, lambda: sheet.resize(900, 640)):
        with qtbot.waitSignal(sheet.laid_out):
            act()


# --- colours -----------------------------------------------------------------------------------


def colours_on(sheet: Sheet) -> set[str]:
    image = sheet.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    pixels = np.frombuffer(image.constBits(), dtype=np.uint32)
    return {f"#{value & 0xFFFFFF:06x}" for value in np.unique(pixels).tolist()}


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("subject", ["light", "air", "power", "water", "weight", "fit", None])
def test_one_subject_at_a_time_has_colour(qtbot, theme, readings, look, subject):
    theme.set_choice(look)
    sheet = build_sheet(qtbot, theme, alcove(), subject)
    sheet.show_readings(readings)
    QApplication.processEvents()

    seen = colours_on(sheet)
    others = {"lamp", "air", "lead", "water", "water_bg", "plant", "plant_bg"}
    for role in others - COLOURED.get(subject, frozenset()):
        assert QColor(theme.palette.colour(role)).name() not in seen, role
    if subject in ("light", "power", "water"):
        role = {"light": "lamp", "power": "lead", "water": "water"}[subject]
        assert theme.palette.colour(role).name() in seen


def test_a_subject_is_drawn_within_a_tenth_of_a_second(sheet, readings):
    sheet.show_readings(readings)
    times = []
    for subject in ("air", "power", "light", "fit", "water", "light"):
        # The thread's own time: what other programs take meanwhile is not ours.
        start = time.thread_time()
        sheet.view.choose_subject(subject)
        QApplication.processEvents()
        times.append(time.thread_time() - start)
    assert sorted(times)[len(times) // 2] < 0.1


def test_the_theme_changes_the_whole_sheet(sheet, theme: Theme):
    corner = QPoint(2, 2)
    theme.set_choice("dark")
    QApplication.processEvents()

    assert sheet.grab().toImage().pixelColor(corner) == theme.colour("sheet")


def test_the_light_map_lies_on_the_chosen_level(sheet, readings):
    sheet.show_readings(readings)
    bare = sheet.grab().toImage()
    sheet.view.choose_subject(None)
    plain = sheet.grab().toImage()
    area = sheet.placement.box("unit-1").footprint
    # A few places along both ends of the level, beside lamps and numbers: lines may cross some.
    places = [
        sheet.camera.to_px("plan", x, area.y0 + share * area.height).toPoint()
        for x in (area.x0 + 0.02, area.x1 - 0.02)
        for share in (0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.95)
    ]
    on_map = [bare.pixelColor(at).name().upper() in COLOURS for at in places]
    assert sum(on_map) > len(places) / 2
    assert not any(plain.pixelColor(at).name().upper() in COLOURS for at in places)


def test_what_is_away_in_the_season_shown_is_dashed(sheet):
    design = sheet.document.design
    season = design.seasons[1].id
    fan = next(part for part in design.parts if part.kind == "fan")
    away = replace(fan, when=(Change(season=season, absent=True),))
    sheet.document.apply("Away", design.with_parts({fan.id: away}))
    drawing = sheet.drawings["front"]
    before = drawing.how(fan.id)
    sheet.view.choose_season(season)

    assert before == "full"
    assert drawing.how(fan.id) == "dashed"
    sheet.view.choose_season(None)
    assert drawing.how(fan.id) == "full"


def test_dimensions_leave_the_titles_alone_however_near_one_looks(sheet):
    band = QRectF(0, 0, sheet.width(), sheet.camera.panes["plan"].top() - 8)
    plain = ink_in(sheet, band)
    for factor in (1.5, 1.5, 1.5):
        sheet.zoom(factor, sheet.camera.panes["plan"].center())
        assert ink_in(sheet, band) == plain


def ink_in(sheet: Sheet, band: QRectF) -> int:
    """Return how many pixels of a part of the sheet's furniture are painted."""
    image = QImage(sheet.viewport().size(), QImage.Format.Format_ARGB32)
    image.fill(0)
    painter = QPainter(image)
    sheet.furniture.paint_over(painter)
    painter.end()
    data = np.frombuffer(image.constBits(), dtype=np.uint32).reshape(image.height(), -1)
    return int(np.count_nonzero(data[int(band.top()) : int(band.bottom())]))


def light_numbers(sheet: Sheet, monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, QPointF]]:
    """Return the numbers written on the light map, with their places. [m]"""
    written: list[tuple[str, QPointF]] = []
    camera = sheet.camera

    def write(painter, look, at, text):
        written.append((text, QPointF(*camera.to_metres("plan", at))))

    monkeypatch.setattr("gui.overlay_light.dark_tag", write)
    sheet.viewport().update()
    sheet._overlay()
    sheet.grab()
    return written


def test_numbers_on_the_light_map_are_those_of_the_key_at_every_size(sheet, readings, monkeypatch):
    sheet.show_readings(readings)
    found = []
    for size in [(796, 630), (1380, 820), (1100, 760)]:
        sheet.resize(*size)
        QApplication.processEvents()
        found.append([text for text, _ in light_numbers(sheet, monkeypatch)])

    zones = [one for one in readings.light.zones if one.level == sheet.view.level]
    zone = worst_off(zones, readings.light)
    cells = zone.at(None)
    assert found[0][:2] == [f"{cells.min():.0f}", f"{cells.max():.0f}"]
    for texts in found:
        assert set(texts) <= set(found[1]), "another size writes fewer numbers, never others"
        assert all(cells.min() - 0.5 <= float(text) <= cells.max() + 0.5 for text in texts)


def test_numbers_lie_over_what_would_hide_them(sheet, readings):
    sheet.show_readings(readings)
    drawing = sheet.drawings["plan"]
    above = [item.zValue() for item in drawing.childItems() if isinstance(item, MarksItem)]
    handles = drawing.highlights.zValue()

    assert sheet.overlays.height_of_numbers("plan") > max(*above, handles)
    sheet.view.choose_subject("fit")
    for view in sheet.camera.panes:
        assert sheet.overlays.height_of(view) > sheet.drawings[view].highlights.zValue()


# --- selecting ---------------------------------------------------------------------------------


def test_a_click_selects_ctrl_adds_and_takes_away_and_empty_space_clears(sheet):
    mouse = Mouse(sheet, "front")
    mouse.click(*mouse.over("reservoir-1"))
    assert sheet.view.selection == ("reservoir-1",)
    mouse.click(*mouse.over("board-3-left"), CONTROL)
    assert sheet.view.selection == ("reservoir-1", "board-3-left")
    mouse.click(*mouse.over("reservoir-1"), CONTROL)
    assert sheet.view.selection == ("board-3-left",)
    mouse.click(1.7, 1.0)
    assert sheet.view.selection == ()


def test_a_second_click_takes_what_lies_behind(sheet):
    mouse = Mouse(sheet, "plan")
    at = mouse.over("board-3-left")
    mouse.click(*at)
    first = sheet.view.selection
    mouse.click(*at)
    second = sheet.view.selection

    assert first == ("board-3-left",)
    assert second != first
    assert second[0] in sheet.hand.things_under(sheet.camera.to_px("plan", *at))


def test_a_band_selects_what_lies_wholly_within(sheet):
    box = sheet.placement.box("unit-1")
    mouse = Mouse(sheet, "front")
    mouse.press(box.lo[0] + 0.595, 1.30)
    mouse.move(0.7, -0.30)
    mouse.release()

    assert set(sheet.view.selection) == {"plants-3-right", "tray-3-right"}


def test_the_unit_is_taken_by_its_frame_and_the_enclosure_by_its_edge(sheet):
    mouse = Mouse(sheet, "front")
    unit, enclosure = sheet.placement.box("unit-1"), sheet.placement.box("enclosure-1")
    mouse.click(unit.lo[0] + 0.01, 1.35)
    assert sheet.view.selection == ("unit-1",)
    mouse.click(enclosure.hi[0], 1.2)
    assert sheet.view.selection == ("enclosure-1",)


def test_the_selection_is_outlined_in_every_drawing(sheet):
    sheet.view.select(["reservoir-1"])
    image = sheet.grab().toImage()

    pencil = sheet.theme.colour("pencil")
    for view in sheet.camera.panes:
        rect = sheet.camera.box(view, sheet.placement.box("reservoir-1"))
        at = QPointF(rect.left() + rect.width() * 0.25, rect.top()).toPoint()
        assert pencil in [image.pixelColor(at + QPoint(0, step)) for step in (-1, 0, 1)]


def test_hovering_lights_a_part_up_for_all(sheet):
    mouse = Mouse(sheet, "plan")
    mouse.at = sheet.camera.to_px("plan", *mouse.over("reservoir-1"))
    mouse.move_px(1, 0, steps=1)

    assert sheet.view.hover == "reservoir-1"


# --- keys --------------------------------------------------------------------------------------


def lo(sheet: Sheet, part_id: str) -> tuple[float, float, float]:
    return Placement(sheet.document.design).box(part_id).lo


@pytest.mark.parametrize(
    ("units", "keys", "step"),
    [
        ("metric", Qt.KeyboardModifier.NoModifier, 0.01),
        ("metric", SHIFT, 0.10),
        ("metric", CONTROL, 0.001),
        ("us", Qt.KeyboardModifier.NoModifier, 0.0127),
        ("us", SHIFT, 0.1524),
        ("us", CONTROL, 0.0015875),
    ],
)
def test_arrows_nudge_along_the_drawing_last_worked_in(qtbot, theme, units, keys, step):
    sheet = build_sheet(qtbot, theme, alcove(units=units))
    mouse = Mouse(sheet, "front")
    mouse.click(*mouse.over("board-3-left"))
    before = lo(sheet, "board-3-left")
    QTest.keyClick(sheet, Qt.Key.Key_Right, keys)
    QTest.keyClick(sheet, Qt.Key.Key_Down, keys)

    moved = [b - a for a, b in zip(before, lo(sheet, "board-3-left"), strict=True)]
    assert moved == pytest.approx([step, 0.0, -step])
    assert sheet.document.undo_stack.count() == 2


def test_r_turns_delete_removes_and_ctrl_d_doubles(sheet):
    sheet.view.select(["reservoir-1"])
    QTest.keyClick(sheet, Qt.Key.Key_R)
    assert sheet.document.design.part("reservoir-1").place.turn == 1
    QTest.keyClick(sheet, Qt.Key.Key_R, SHIFT)
    assert sheet.document.design.part("reservoir-1").place.turn == 0
    sheet.view.select(["strip-1"])
    QTest.keyClick(sheet, Qt.Key.Key_D, CONTROL)
    assert sheet.view.selection == ("strip-2",)
    QTest.keyClick(sheet, Qt.Key.Key_Delete)
    assert "strip-2" not in sheet.document.design.by_id
    assert sheet.view.selection == ()


def test_parts_go_over_the_clipboard(sheet):
    sheet.view.select(["reservoir-1"])
    QTest.keyClick(sheet, Qt.Key.Key_C, CONTROL)
    QTest.keyClick(sheet, Qt.Key.Key_V, CONTROL)
    assert sheet.view.selection == ("reservoir-2",)
    QTest.keyClick(sheet, Qt.Key.Key_X, CONTROL)
    assert "reservoir-2" not in sheet.document.design.by_id
    QTest.keyClick(sheet, Qt.Key.Key_V, CONTROL)
    assert "reservoir-2" in sheet.document.design.by_id


def test_text_from_elsewhere_is_not_pasted_but_told(sheet, qtbot):
    QGuiApplication.clipboard().setText("a shopping list")
    before = sheet.document.design
    with qtbot.waitSignal(sheet.said) as said:
        QTest.keyClick(sheet, Qt.Key.Key_V, CONTROL)

    assert "clipboard" in said.args[0]
    assert sheet.document.design is before


def test_tab_goes_from_part_to_part_and_leaves_the_sheet_after_the_last(sheet):
    seen = []
    for _ in range(40):
        QTest.keyClick(sheet, Qt.Key.Key_Tab)
        seen.append(sheet.view.selection)
        if len(seen) > 1 and seen[-1] == seen[-2]:
            break
    ids = [selection[0] for selection in seen[:-1]]

    assert len(ids) == len(set(ids))
    assert {"board-3-left", "reservoir-1", "unit-1", "fan-1"} <= set(ids)
    assert sheet.document.design.part(ids[-1]).name in sheet.accessibleDescription()


def test_enter_asks_for_the_form_and_escape_deselects(sheet, qtbot):
    sheet.view.select(["fan-1"])
    with qtbot.waitSignal(sheet.edit_requested) as asked:
        QTest.keyClick(sheet, Qt.Key.Key_Return)
    QTest.keyClick(sheet, Qt.Key.Key_Escape)

    assert asked.args == ["fan-1"]
    assert sheet.view.selection == ()


def test_the_pointers_place_is_told_in_metres(sheet, qtbot):
    mouse = Mouse(sheet, "side")
    mouse.at = sheet.camera.to_px("side", 1.5, 1.0)
    with qtbot.waitSignal(sheet.pointed) as told:
        mouse.move_px(0, 0, steps=1)

    x, y, z = told.args[0]
    assert x is None
    assert (y, z) == pytest.approx((1.5, 1.0))


# --- sizes and drops ---------------------------------------------------------------------------


def test_a_handle_changes_a_size_on_whole_steps_as_one_undo_step(sheet):
    sheet.view.select(["unit-1"])
    box = sheet.placement.box("unit-1")
    mouse = Mouse(sheet, "plan")
    mouse.press(box.hi[0], box.centre[1])
    mouse.move(0.153, 0.0)
    mouse.release()

    now = sheet.placement.box("unit-1")
    assert now.lo == pytest.approx(box.lo)
    assert now.size == pytest.approx((1.35, *box.size[1:]))
    assert sheet.document.undo_stack.count() == 1


def test_escape_drops_a_resize(sheet):
    before = sheet.document.design
    sheet.view.select(["unit-1"])
    box = sheet.placement.box("unit-1")
    mouse = Mouse(sheet, "plan")
    mouse.press(box.hi[0], box.centre[1])
    mouse.move(0.153, 0.0)
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    mouse.release()

    assert sheet.document.design == before
    assert sheet.document.undo_stack.count() == 0


@pytest.mark.parametrize(
    ("part_id", "view", "to", "field", "angle"),
    [
        ("fan-1", "plan", (0.0, 0.5), "heading", 90.0),
        ("fan-1", "plan", (-0.5, 0.02), "heading", 180.0),
        ("fan-1", "front", (0.5, -0.5), "elevation", -45.0),
        ("board-3-left", "side", (0.3, -0.3), "tilt", 45.0),
        ("board-3-left", "side", (-0.3, -0.3), "tilt", -45.0),
    ],
)
def test_the_round_handle_turns_fans_and_tilts_lamps(sheet, part_id, view, to, field, angle):
    sheet.view.select([part_id])
    _, tip = stem_of(sheet.placement, sheet.camera, view, part_id)
    mouse = Mouse(sheet, view)
    middle = mouse.over(part_id)
    mouse.press(*sheet.camera.to_metres(view, tip))
    target = sheet.camera.to_px(view, middle[0] + to[0], middle[1] + to[1])
    mouse.move_px(target.x() - mouse.at.x(), target.y() - mouse.at.y())
    mouse.release()

    assert getattr(sheet.document.design.part(part_id), field) == pytest.approx(angle)
    assert sheet.document.undo_stack.count() == 1
    assert sheet.document.undo_stack.undoText().startswith("Turn ")


def drag_from_shelf(sheet: Sheet, key: str, view: str, across: float, up: float, let_go: bool):
    """Drag a part of the shelf over a drawing, and drop it."""
    data = mime_for(key)
    at = sheet.camera.to_px(view, across, up)
    action, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    none = Qt.KeyboardModifier.NoModifier
    sheet.dragEnterEvent(QDragEnterEvent(at.toPoint(), action, data, left, none))
    sheet.dragMoveEvent(QDragMoveEvent(at.toPoint(), action, data, left, none))
    shown = sheet.tape.state
    if let_go:
        sheet.dropEvent(QDropEvent(at, action, data, left, none))
    return shown


def test_a_board_dropped_between_shelves_hangs_there_as_one_step(sheet):
    sheet.catalogue = load_catalogue()
    sheet.document.apply_parts("clear", {"board-2-left": None, "board-2-right": None})
    shown = drag_from_shelf(sheet, "board", "front", 0.85, 0.9, True)

    design = sheet.document.design
    part = design.part(sheet.view.selection[0])
    assert shown.refused == ""
    assert (part.kind, part.place.fixing, part.place.level) == ("lamp", "under", 3)
    assert sheet.document.undo_stack.undoText().startswith("Add ")
    assert sheet.tape.state is None


def test_a_second_enclosure_turns_its_outline_and_says_why(sheet, qtbot):
    sheet.catalogue = load_catalogue()
    before = sheet.document.design
    with qtbot.waitSignal(sheet.said) as said:
        shown = drag_from_shelf(sheet, "enclosure", "plan", 2.0, 0.6, True)

    assert "variant" in shown.refused
    assert "variant" in said.args[0]
    assert sheet.document.design is before


@pytest.mark.parametrize("view", ["front", "plan"])
def test_plants_dragged_over_a_tray_light_it_up_name_it_and_land_in_it(sheet, view):
    sheet.catalogue = load_catalogue()
    sheet.document.apply_parts("clear", {"plants-2-left": None})
    sheet.view.choose_level(("unit-1", 2))
    key = sheet.catalogue.of_kind("plants", "metric")[0].key
    tray = sheet.placement.box("tray-2-left")
    up = tray.lo[2] + 0.03 if view == "front" else tray.centre[1]
    shown = drag_from_shelf(sheet, key, view, tray.centre[0], up, False)
    lit = sheet.view.hover
    drag_from_shelf(sheet, key, view, tray.centre[0], up, True)

    design = sheet.document.design
    assert lit == "tray-2-left"
    assert shown.label.endswith(f" on {design.by_id['tray-2-left'].name}")
    assert design.part(sheet.view.selection[0]).place.host == "tray-2-left"
    assert sheet.view.hover == ""


@pytest.mark.parametrize("what", ["band", "drag"])
def test_a_drawing_that_is_folded_away_ends_what_the_mouse_did_in_it(sheet, what):
    before = sheet.document.design
    mouse = Mouse(sheet, "front")
    across, up = mouse.over("board-2-left") if what == "drag" else (0.02, 2.3)
    mouse.press(across, up)
    mouse.move(0.1, 0.0)
    sheet.view.choose_layout("plan")
    mouse.release()

    assert sheet.gesture is None
    assert sheet.document.design == before


def test_what_is_deleted_while_a_drawing_is_folded_away_is_gone_from_it(sheet):
    sheet.view.choose_layout("front")
    sheet.document.apply_parts("delete", {"board-2-left": None})
    sheet.view.choose_layout("sheet")

    assert "board-2-left" not in sheet.drawings["plan"].shown_ids()
    assert "board-1-left" in sheet.drawings["front"].shown_ids()
