"""Whatever is done with mouse and keys, in any order, the sheet keeps in step with the design."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from core.drawing.marks import AXES
from core.placement import Placement
from gui.sheet import Sheet
from tests.designs import alcove
from tests.gui.driving import Mouse, build_sheet

START = alcove()
KEYS = [getattr(Qt.Key, f"Key_{name}") for name in (
    "Left", "Right", "Up", "Down", "R", "Delete", "PageUp", "PageDown", "Tab", "Escape",
    "Return", "X", "Y", "Z", "5", "Period", "C", "M", "Backspace", "A",
)]  # fmt: skip
MODIFIERS = [
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
]
POINTS = st.tuples(st.floats(0.02, 0.98), st.floats(0.02, 0.98))
ACTS = st.one_of(
    st.tuples(st.just("key"), st.sampled_from(KEYS), st.sampled_from(MODIFIERS)),
    st.tuples(st.just("press"), st.sampled_from(["plan", "front", "side"]), POINTS),
    st.tuples(st.just("move"), POINTS, st.sampled_from(MODIFIERS)),
    st.tuples(st.just("release"), POINTS, st.sampled_from(MODIFIERS)),
    st.tuples(st.just("undo"), st.none(), st.none()),
    st.tuples(st.just("redo"), st.none(), st.none()),
    st.tuples(st.just("zoom"), st.floats(0.5, 2.0), st.none()),
    st.tuples(st.just("layout"), st.sampled_from(["sheet", "plan", "front", "side"]), st.none()),
    st.tuples(st.just("subject"), st.sampled_from(["light", "air", "water", None]), st.none()),
)


@pytest.fixture
def sheet(qtbot, theme) -> Sheet:
    return build_sheet(qtbot, theme, START)


def place(sheet: Sheet, at: tuple[float, float]) -> QPointF:
    rect = sheet.viewport().rect()
    return QPointF(at[0] * rect.width(), at[1] * rect.height())


def act(sheet: Sheet, mouse: Mouse, what: tuple) -> None:
    name, first, second = what
    if name == "key":
        QTest.keyClick(sheet, first, second)
    elif name == "press":
        if first not in sheet.camera.panes or sheet.gesture is not None:
            return
        pane = sheet.camera.panes[first]
        x, y = pane.left() + second[0] * pane.width(), pane.top() + second[1] * pane.height()
        mouse.view = first
        mouse.press(*sheet.camera.to_metres(first, QPointF(x, y)))
    elif name == "move":
        to = place(sheet, first) - mouse.at
        mouse.move_px(to.x(), to.y(), second, 3)
    elif name == "release":
        mouse.at = place(sheet, first)
        mouse.release(second)
    elif name == "zoom":
        sheet.zoom(first)
    elif name == "layout":
        sheet.view.choose_layout(first)
    elif name == "subject":
        sheet.view.choose_subject(first)
    elif not sheet.dragging:
        getattr(sheet.document.undo_stack, name)()


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(acts=st.lists(ACTS, min_size=3, max_size=25))
def test_the_sheet_stays_in_step_and_undo_leads_back(sheet, acts):
    sheet.document.open(START, None)
    sheet.view.choose_layout("sheet")
    mouse = Mouse(sheet, "plan")
    for what in acts:
        act(sheet, mouse, what)
        QApplication.processEvents()
    sheet.hand.cancel()
    QApplication.processEvents()

    design = sheet.document.design
    assert not sheet.document.proposing
    assert sheet.tape.state is None
    assert set(sheet.view.selection) <= set(design.by_id)
    placement = Placement(design)
    for view, drawing in sheet.drawings.items():
        across, up = AXES[view]
        if view not in sheet.camera.panes:
            continue
        for thing_id in drawing.shown_ids():
            lo = placement.box(thing_id).lo
            at = sheet.camera.to_px(view, lo[across], lo[up])
            assert (drawing.position(thing_id) - at).manhattanLength() < 1e-6
    while sheet.document.undo_stack.canUndo():
        sheet.document.undo_stack.undo()
    assert sheet.document.design == START
