"""Files: opened, saved, asked about and written without ever losing a design."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.errors import FileError
from core.model import Design, Lamp, replace
from core.storage import load, save
from gui.app import open_first, write_summary
from gui.files import DEMOS as DEMO_FOLDER
from gui.files import Answer
from gui.main_window import MainWindow
from gui.theme import Theme
from tests.gui.windows import DEMOS, Answers, build_window


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    return build_window(qtbot, theme, tmp_path)


def answers(window: MainWindow) -> Answers:
    found = window.files.questions
    assert isinstance(found, Answers)
    return found


def dim(window: MainWindow) -> None:
    lamp = next(window.document.design.of(Lamp))
    window.document.apply_parts("Dim", {lamp.id: replace(lamp, dimming=0.42)})


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_is_edited_saved_and_reopened_equal(
    qtbot: QtBot, theme: Theme, tmp_path: Path, demo: str
) -> None:
    window = build_window(qtbot, theme, tmp_path, demo)
    window.document.apply("Rename", window.document.design.having(name="Mine"))
    answers(window).path = tmp_path / "mine.fern"
    assert window.document.modified and window.isWindowModified()
    window.actions_.by_name["save"].trigger()
    assert not window.document.modified
    assert answers(window).asked == ["mine.fern"], "the design's name is proposed"
    assert load(tmp_path / "mine.fern") == window.document.design
    saved = window.document.design
    window.files.new()
    assert window.document.design != saved
    assert window.files.open_path(tmp_path / "mine.fern")
    assert window.document.design == saved
    assert window.head.name.text() == "Mine"


def test_a_second_save_asks_nothing_and_an_undo_is_a_change(
    window: MainWindow, tmp_path: Path
) -> None:
    answers(window).path = tmp_path / "a.fern"
    dim(window)
    assert window.files.save() and window.files.save()
    assert len(answers(window).asked) == 1
    window.document.undo_stack.undo()
    assert window.document.modified and not window.head.not_saved.isHidden()
    window.document.undo_stack.redo()
    assert not window.document.modified and window.head.not_saved.isHidden()


def test_save_as_writes_another_file_and_goes_on_there(window: MainWindow, tmp_path: Path) -> None:
    answers(window).path = tmp_path / "a.fern"
    window.files.save()
    answers(window).path = tmp_path / "b.fern"
    assert window.files.save_as()
    assert window.document.path == tmp_path / "b.fern"
    assert load(tmp_path / "a.fern") == load(tmp_path / "b.fern")
    assert [p.name for p in window.settings.recent_files[:2]] == ["b.fern", "a.fern"]


@pytest.mark.parametrize("answer", list(Answer))
def test_closing_with_changes_asks(window: MainWindow, tmp_path: Path, answer: Answer) -> None:
    dim(window)
    answers(window).answer = answer
    answers(window).path = tmp_path / "kept.fern"
    event = QCloseEvent()
    window.closeEvent(event)
    assert event.isAccepted() is (answer is not Answer.STAY)
    assert (tmp_path / "kept.fern").exists() is (answer is Answer.SAVE)


def test_without_changes_nothing_is_asked(window: MainWindow) -> None:
    window.files.new()
    event = QCloseEvent()
    window.closeEvent(event)
    assert event.isAccepted() and answers(window).asked == []


def test_a_save_that_fails_says_why_and_keeps_the_design_open(
    window: MainWindow, tmp_path: Path
) -> None:
    dim(window)
    answers(window).path = tmp_path / "no such folder" / "a.fern"
    assert not window.files.save()
    assert window.errors.isVisible() and "was not saved" in window.errors.text
    assert window.document.modified and window.document.path is None


@pytest.mark.parametrize("content", ["", "{", '{"format": "fernwright", "schema": 99}', "\x00\x01"])
def test_a_broken_or_newer_file_is_told_in_the_bar_and_left_alone(
    window: MainWindow, tmp_path: Path, content: str
) -> None:
    path = tmp_path / "odd.fern"
    path.write_text(content, encoding="utf-8")
    before = window.document.design
    answers(window).path = path
    window.actions_.by_name["open"].trigger()
    assert window.errors.isVisible() and "odd.fern" in window.errors.text
    assert window.document.design is before
    assert path.read_text(encoding="utf-8") == content
    window.errors.put_away()
    assert not window.errors.isVisible()


def test_a_recent_file_that_is_gone_is_forgotten(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "gone.fern"
    save(window.document.design, path)
    window.files.open_path(path)
    path.unlink()
    window.files.open_asking(path)
    assert window.errors.text and path not in window.settings.recent_files
    window.menus.fill_recent()
    assert window.menus.recent.isEmpty()


def test_the_menu_lists_recent_files_and_opens_them(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "mine.fern"
    save(window.document.design.having(name="Mine"), path)
    window.files.open_path(path)
    window.files.open_example("stair-alcove")
    window.menus.fill_recent()
    (action,) = window.menus.recent.actions()
    assert action.text() == "mine.fern"
    action.trigger()
    assert window.document.design.name == "Mine" and window.document.path == path


def test_examples_open_without_a_file_of_their_own(window: MainWindow) -> None:
    names = [name for name, _ in window.files.examples()]
    assert names == list(DEMOS)
    for name in names:
        assert window.files.open_example(name)
        assert window.document.path is None and not window.document.modified


def test_a_design_dropped_on_the_window_opens(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "dropped.fern"
    save(window.document.design.having(name="Dropped"), path)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(5, 5), Qt.DropAction.CopyAction, data, left, none)
    QApplication.sendEvent(window, enter)
    assert enter.isAccepted()
    drop = QDropEvent(QPointF(5, 5), Qt.DropAction.CopyAction, data, left, none)
    QApplication.sendEvent(window, drop)
    assert window.document.design.name == "Dropped"


def test_the_summary_is_written_in_the_background(
    qtbot: QtBot, theme: Theme, tmp_path: Path
) -> None:
    written: list[tuple[str, Path]] = []
    window = build_window(
        qtbot, theme, tmp_path, write=lambda design, path: written.append((design.name, path))
    )
    answers(window).path = tmp_path / "summary.pdf"
    window.actions_.by_name["summary"].trigger()
    assert answers(window).asked == ["starter.pdf"]
    qtbot.waitUntil(lambda: bool(window.errors.text), timeout=3000)
    assert written == [(window.document.design.name, tmp_path / "summary.pdf")]
    assert "summary.pdf" in window.errors.text


def test_a_summary_that_fails_is_told(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    def refuse(design: Design, path: Path) -> None:
        raise FileError("‘summary.pdf’ was not written: the disk is full.")

    window = build_window(qtbot, theme, tmp_path, write=refuse)
    answers(window).path = tmp_path / "summary.pdf"
    window.files.write_summary()
    qtbot.waitUntil(lambda: bool(window.errors.text), timeout=3000)
    assert "the disk is full" in window.errors.text


@pytest.mark.parametrize("ending", [".pdf", ".html"])
def test_a_real_summary_of_the_starter_is_a_whole_file(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"summary{ending}"
    write_summary(load(DEMO_FOLDER / "starter.fern"), path)
    assert path.stat().st_size > 5000


def test_the_first_start_shows_the_starter_and_later_ones_the_last_file(
    window: MainWindow, tmp_path: Path
) -> None:
    open_first(window, None)
    assert window.document.design == load(DEMO_FOLDER / "starter.fern")
    path = tmp_path / "last.fern"
    save(window.document.design.having(name="Last"), path)
    window.files.open_path(path)
    window.files.new()
    open_first(window, None)
    assert window.document.path == path


def test_a_named_file_that_cannot_be_read_is_told_beside_the_starter(
    window: MainWindow, tmp_path: Path
) -> None:
    open_first(window, tmp_path / "missing.fern")
    assert "missing.fern" in window.errors.text
    assert window.document.design == load(DEMO_FOLDER / "starter.fern")
