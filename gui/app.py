"""Start-up told in order: appearance, window, document, then readings.

The machine was checked in `gui.__main__`; nothing here is needed once the window runs.
"""

from __future__ import annotations

import logging
import sys
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QMessageLogContext, QTimer, QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QApplication

from core.catalogue import load_catalogue, new_design
from core.errors import FernwrightError
from core.language import tr
from core.model import Design
from gui.document import Document
from gui.icons import icon
from gui.main_window import MainWindow
from gui.settings import Settings
from gui.solver import Solver
from gui.theme import Theme
from gui.view import View

log = logging.getLogger("fernwright")
STARTER = "starter"


def run(argv: Sequence[str]) -> int:
    """Open the window, on the file named if there is one; return the exit code."""
    app = _application()
    settings = Settings()
    theme = Theme(settings.appearance, settings.text_scale)
    theme.apply(app)
    window = make_window(theme, settings)
    app.setWindowIcon(window_icon(theme))
    sys.excepthook = lambda *trouble: _tell_trouble(window, *trouble)
    window.show()
    window.sheet.setFocus()
    named = Path(argv[0]) if argv else None
    # Once the window has its size the design is drawn for it, and not for every size on the way.
    QTimer.singleShot(0, lambda: _open_and_begin(window, named))
    return app.exec()


def _open_and_begin(window: MainWindow, named: Path | None) -> None:
    open_first(window, named)
    # The first picture stands before the engines begin.
    QTimer.singleShot(0, window.begin)


def make_window(theme: Theme, settings: Settings) -> MainWindow:
    """Return the window on an empty room, not shown yet and with nothing read."""
    catalogue = load_catalogue()
    us = settings.units == "us"
    empty = new_design("us" if us else "metric", groups=catalogue.plant_groups)
    document, view = Document(empty), View()
    return MainWindow(document, view, theme, settings, catalogue, Solver(), write_summary)


def open_first(window: MainWindow, named: Path | None) -> None:
    """Open the file named, else the one last open, else the starter."""
    if named is not None:
        if window.files.open_path(named):
            return
    else:
        recent = window.settings.recent_files
        if recent and recent[0].exists() and window.files.open_path(recent[0]):
            return
    trouble = window.errors.text
    window.files.open_example(STARTER)
    if trouble:
        window.errors.complain(trouble)


def write_summary(design: Design, path: Path) -> None:
    """Write a design's summary to a file, its form chosen by the ending."""
    # The writers load a good deal, and only here.
    from core.readings import read
    from core.summary import write_summary as write

    write(design, read(design), path)


def window_icon(theme: Theme) -> QIcon:
    """Return the program's icon."""
    return icon("fernwright", theme.colour("plant"), 64)


def _application() -> QApplication:
    found = QApplication.instance()
    app = found if isinstance(found, QApplication) else QApplication(["fernwright"])
    app.setApplicationName("Fernwright")
    app.setApplicationDisplayName("Fernwright")
    app.setDesktopFileName("fernwright")
    qInstallMessageHandler(_log_qt)
    return app


_LEVELS = {
    QtMsgType.QtDebugMsg: logging.DEBUG,
    QtMsgType.QtInfoMsg: logging.INFO,
    QtMsgType.QtWarningMsg: logging.WARNING,
    QtMsgType.QtCriticalMsg: logging.ERROR,
    QtMsgType.QtFatalMsg: logging.CRITICAL,
}


def _log_qt(kind: QtMsgType, context: QMessageLogContext, text: str) -> None:
    log.log(_LEVELS.get(kind, logging.WARNING), "Qt: %s", text)


def _tell_trouble(
    window: MainWindow,
    kind: type[BaseException],
    error: BaseException,
    trace: TracebackType | None,
) -> None:
    """Tell what nobody caught, in the bar; the design stays open."""
    if issubclass(kind, KeyboardInterrupt):
        sys.__excepthook__(kind, error, trace)
        return
    log.error("not caught", exc_info=(kind, error, trace))
    expected = isinstance(error, FernwrightError)
    words = str(error) if expected else tr("Something went wrong ({what}); save under a new name.")
    window.errors.complain(
        words.format(what=f"{kind.__name__}: {error}") if not expected else words
    )
