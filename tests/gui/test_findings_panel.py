"""Findings: listed worst first, shown where they are, mended by one undoable edit."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.finding import Finding, Remedy, in_order
from core.model import Design, Fan, Place, Room, build, replace
from core.phrases import phrase
from core.states import State
from gui.document import Document
from gui.findings_panel import FindingsPanel
from gui.theme import Theme
from gui.view import View
from tests.gui.windows import DEMOS, build_window


def fan(number: int) -> Fan:
    values = {
        "id": f"fan-{number}", "name": f"Fan {number}", "diameter": 0.15, "flow": 0.04,
        "watts": 10.0, "width": 0.2, "depth": 0.1, "height": 0.2, "place": Place(x=0.5 * number),
    }  # fmt: skip
    return build(Fan, "Fan", values)


def small() -> Design:
    return Design(room=Room.rectangle(3, 2, 2.4), parts=(fan(1), fan(2), fan(3)))


def finding(number: int, state: State, *, mend: bool = True, subject: str = "air") -> Finding:
    slower = replace(fan(number), speed_setting=0.5)
    return Finding(
        rule=f"rule-{number}",
        subject=subject,
        state=state,
        place=f"fan-{number}",
        title=phrase("Fan {n} blows too hard", n=number),
        detail=phrase("0.8 m/s where seedlings want at most 0.7."),
        level=("unit", 2) if number == 2 else None,
        size=number / 10,
        remedy=Remedy(phrase("Run Fan {n} slower", n=number), {slower.id: slower})
        if mend
        else None,
    )


@pytest.fixture
def document() -> Document:
    return Document(small())


@pytest.fixture
def view() -> View:
    return View()


@pytest.fixture
def panel(qtbot: QtBot, theme: Theme, document: Document, view: View) -> FindingsPanel:
    made = FindingsPanel(theme, document, view)
    qtbot.addWidget(made)
    made.resize(344, 320)
    made.show()
    found = (
        finding(1, State.CAUTION, mend=False),
        finding(2, State.HIGH),
        finding(3, State.LIKELY_HIGH),
    )
    made.show_findings(in_order(found), "metric")
    QApplication.processEvents()
    return made


def test_each_finding_has_mark_title_numbers_and_remedy(panel: FindingsPanel) -> None:
    assert [row.finding.state for row in panel.rows] == [
        State.HIGH,
        State.LIKELY_HIGH,
        State.CAUTION,
    ]
    first = panel.rows[0]
    assert first.title.text() == "Fan 2 blows too hard"
    assert first.link is not None and first.link.text() == "Run Fan 2 slower"
    assert panel.rows[2].link is None
    assert first.accessibleName() == (
        "Fan 2 blows too hard. 0.8 metres per second where seedlings want at most 0.7. "
        "Remedy: Run Fan 2 slower"
    )
    assert not panel.nothing.isVisible()


def test_the_pointer_lights_the_place_up(panel: FindingsPanel, view: View) -> None:
    row = panel.rows[0]
    at = QPointF(5, 5)
    QApplication.sendEvent(row, QEnterEvent(at, at, at))
    assert view.hover == "fan-2"
    QApplication.sendEvent(row, QEvent(QEvent.Type.Leave))
    assert view.hover == ""


def test_a_click_selects_the_place_and_turns_to_subject_and_level(
    qtbot: QtBot, panel: FindingsPanel, view: View
) -> None:
    qtbot.mouseClick(panel.rows[0], Qt.MouseButton.LeftButton)
    assert view.selection == ("fan-2",)
    assert view.subject == "air"
    assert view.level == ("unit", 2)
    assert panel.chosen == 0


def test_the_remedy_is_one_undo_step(
    qtbot: QtBot, panel: FindingsPanel, document: Document
) -> None:
    before = document.design
    link = panel.rows[0].link
    assert link is not None
    qtbot.mouseClick(link, Qt.MouseButton.LeftButton)
    assert document.undo_stack.count() == 1
    assert document.undo_stack.undoText() == "Run Fan 2 slower"
    mended = document.design.part("fan-2")
    assert isinstance(mended, Fan) and mended.speed_setting == 0.5
    document.undo_stack.undo()
    assert document.design == before


def test_the_keyboard_selects_and_mends(
    qtbot: QtBot, panel: FindingsPanel, document: Document, view: View
) -> None:
    panel.activateWindow()
    panel.step(1)
    assert panel.rows[0].hasFocus() and view.selection == ("fan-2",)
    panel.step(1)
    assert view.selection == ("fan-3",)
    panel.step(-1)
    panel.step(-1)
    assert view.selection == ("fan-1",), "F8 goes round"
    qtbot.keyClick(panel.rows[2], Qt.Key.Key_Up)
    assert panel.rows[1].hasFocus()
    qtbot.keyClick(panel.rows[1], Qt.Key.Key_Return)
    assert view.selection == ("fan-3",) and document.undo_stack.count() == 0
    qtbot.keyClick(panel.rows[1], Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert document.undo_stack.count() == 1


def test_a_remedy_that_no_longer_fits_says_so_and_changes_nothing(
    qtbot: QtBot, panel: FindingsPanel, document: Document
) -> None:
    heard: list[str] = []
    panel.refused.connect(heard.append)
    hosted = replace(fan(9), place=Place(host="gone", fixing="stands"))
    stale = finding(2, State.HIGH)
    broken = Remedy(phrase("Move it"), {"fan-9": hosted})
    panel.mend(
        Finding(**{**vars(stale), "remedy": broken})  # a part on something that is gone
    )
    assert len(heard) == 1 and "gone" in heard[0]
    assert document.undo_stack.count() == 0


def test_with_cautions_alone_there_is_nothing_to_mend(panel: FindingsPanel) -> None:
    panel.show_findings((finding(1, State.CAUTION, mend=False),), "metric")
    assert panel.nothing.isVisible()
    assert panel.nothing.text() == "Nothing to mend. Cautions: 1."
    panel.show_findings((), "metric")
    assert panel.nothing.text() == "Nothing to mend."


def test_a_design_that_was_opened_is_said_to_be_read_until_its_findings_come(
    panel: FindingsPanel, document: Document
) -> None:
    document.open(small(), None)
    assert panel.rows == [] and not panel.steps.isVisible()
    assert panel.nothing.isVisible() and panel.nothing.text() == "Reading the design…"
    document.open(Design(room=Room.rectangle(3, 2, 2.4)), None)
    assert panel.steps.isVisible() and not panel.nothing.isVisible()
    document.open(small(), None)
    for quality, said in (("coarse", "Reading the design…"), ("final", "Nothing to mend.")):
        panel.show_readings(SimpleNamespace(findings=(), quality=quality, design=small()))  # type: ignore[arg-type]
        assert panel.nothing.text() == said


def test_what_is_cut_is_counted(panel: FindingsPanel) -> None:
    panel.show_findings(tuple(finding(n, State.HIGH) for n in (1, 2, 3)), "metric")
    panel.resize(344, 120)
    QApplication.processEvents()
    # Room for one finding whatever the font: its row and the line that counts the others.
    panel.resize(344, panel.rows[0].height() + panel.more.sizeHint().height())
    QApplication.processEvents()
    assert panel.more.isVisible() and panel.more.text() == "2 more below"
    panel.verticalScrollBar().setValue(panel.verticalScrollBar().maximum())
    QApplication.processEvents()
    assert not panel.more.isVisible()


def test_the_same_findings_keep_their_rows_but_take_newer_remedies(panel: FindingsPanel) -> None:
    rows = list(panel.rows)
    again = in_order(tuple(row.finding for row in rows))
    panel.show_findings(again, "metric")
    assert panel.rows == rows


def test_long_remedies_break_their_lines(panel: FindingsPanel, theme: Theme) -> None:
    long = phrase(
        "Give Row B3 and all that hangs on it a timer of its own at the outlet on the left"
    )
    item = Finding(**{**vars(finding(1, State.HIGH)), "remedy": Remedy(long, {})})
    panel.show_findings((item,), "metric")
    QApplication.processEvents()
    link = panel.rows[0].link
    assert link is not None
    assert link.height() >= link.heightForWidth(link.width()) > link.sizeHint().height()


@pytest.mark.parametrize("demo", DEMOS)
def test_every_finding_of_a_demo_is_mended_in_one_step_and_undone(
    qtbot: QtBot, theme: Theme, tmp_path: Path, demo: str
) -> None:
    """LOOK §15 no. 9: do the remedy, read again (gone, or less), undo; the design is equal."""
    window = build_window(qtbot, theme, tmp_path, demo)
    before = window.document.design
    for found in window.findings.findings:
        if found.remedy is None:
            continue
        window.findings.mend(found)
        assert window.errors.text == "", found.title.render()
        assert window.document.undo_stack.count() == 1, found.title.render()
        again = [f for f in window.findings.findings if _same(f, found)]
        assert not again or again[0].size <= found.size + 1e-9, found.title.render()
        window.document.undo_stack.undo()
        assert window.document.design == before


def _same(first: Finding, second: Finding) -> bool:
    return (first.rule, first.place, first.level) == (second.rule, second.place, second.level)
