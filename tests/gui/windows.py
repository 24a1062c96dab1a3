"""Building the whole window for tests: readings at once, answers and settings of its own."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QSettings, Signal
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from core.air.flows import JETS
from core.catalogue import load_catalogue, new_design
from core.model import Design
from core.readings import Reader
from gui.document import Document
from gui.files import Answer
from gui.main_window import MainWindow
from gui.settings import Settings
from gui.theme import Theme
from gui.view import View

DEMOS = ("starter", "stair-alcove", "garage-bay", "basement-nook", "empty-room")


class AtOnce(QObject):
    """A solver that answers before it returns, in the window's own thread."""

    read = Signal(object)
    failed = Signal(str)
    busy_changed = Signal(bool)
    air_progressed = Signal(object)
    air_rested = Signal()
    can_refine = False
    air_stopped = False

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[str] = []
        self.silent = False
        # No flow of air is solved unless a test brings its own fields.
        self._reader = Reader(flows=JETS)

    def ask(self, design: Design, quality: str = "final", season: str | None = None) -> None:
        self.asked.append(quality)
        if self.silent:
            self.busy_changed.emit(True)
            return
        self.read.emit(self._reader.update(design, quality=quality, season=season))

    def refine_air(self) -> None:
        """There is no flow to refine."""

    def stop_air(self) -> None:
        """There is no flow to stop."""

    def forget_air(self) -> None:
        """There is no flow to forget."""

    def warm_up(self) -> None:
        """Nothing to compile: the plain kernels will do."""

    def stop(self) -> None:
        """Nothing runs."""


class Answers:
    """Answers to the window's questions, given beforehand."""

    def __init__(self) -> None:
        self.path: Path | None = None
        self.answer = Answer.DROP
        self.asked: list[str] = []

    def file_to_open(self, folder: Path) -> Path | None:
        self.asked.append("open")
        return self.path

    def file_to_save(self, proposal: Path) -> Path | None:
        self.asked.append(proposal.name)
        return self.path

    def file_for_summary(self, proposal: Path) -> Path | None:
        self.asked.append(proposal.name)
        return self.path

    def file_of_lamp(self, folder: Path) -> Path | None:
        self.asked.append("lamp")
        return self.path

    def file_of_spectrum(self, folder: Path) -> Path | None:
        self.asked.append("spectrum")
        return self.path

    def file_of_log(self, folder: Path) -> Path | None:
        self.asked.append("log")
        return self.path

    def file_of_weather(self, folder: Path) -> Path | None:
        self.asked.append("weather")
        return self.path

    def about_changes(self, name: str) -> Answer:
        self.asked.append(name)
        return self.answer


def build_window(
    qtbot: object,
    theme: Theme,
    folder: Path,
    demo: str = "starter",
    size: tuple[int, int] = (1280, 800),
    write: object = None,
) -> MainWindow:
    """Return a shown window on a demo, with its readings."""
    store = QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat)
    catalogue = load_catalogue()
    document = Document(new_design(groups=catalogue.plant_groups))
    window = MainWindow(
        document,
        View(),
        theme,
        Settings(store),
        catalogue,
        AtOnce(),
        write or (lambda design, path: path.write_text(design.name)),  # type: ignore[arg-type]
    )
    window.files.questions = Answers()  # type: ignore[assignment]
    qtbot.addWidget(window)  # type: ignore[attr-defined]
    window.resize(*size)
    window.files.open_example(demo)
    window.show()
    qtbot.waitExposed(window)  # type: ignore[attr-defined]
    window.activateWindow()
    window.begin()
    window.sheet.setFocus()
    QApplication.processEvents()
    return window


def press(widget: QWidget, key: object, keys: object = None) -> None:
    """Press a key where the keyboard is, as a person would."""
    target = QApplication.focusWidget() or widget
    if keys is None:
        QTest.keyClick(target, key)  # type: ignore[call-overload]
    else:
        QTest.keyClick(target, key, keys)  # type: ignore[call-overload]
    QApplication.processEvents()
