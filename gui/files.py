"""The document's file: new, open, save, recent ones, examples, and writing the summary.

How a file is written is `core.storage`'s and `core.summary`'s work; this asks where, and asks
before anything could be lost.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from pathlib import Path

from PySide6.QtCore import QObject, QThread, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from core.catalogue import Catalogue, new_design
from core.errors import FernwrightError
from core.language import tr
from core.model import Design
from core.storage import ENDING, load, save
from gui.document import Document
from gui.settings import Settings

DEMOS = Path(__file__).resolve().parent.parent / "resources" / "demos"
_DESIGNS = "Fernwright (*.fern)"
_PHOTOMETRIC = "LM-63, EULUMDAT (*.ies *.ldt *.IES *.LDT)"
_WEATHER = "EPW (*.epw *.EPW)"
_COLUMNS = "CSV (*.csv *.tsv *.txt *.CSV)"
_SUMMARIES = {
    "PDF (*.pdf)": ".pdf",
    "HTML (*.html)": ".html",
    "SVG (*.svg)": ".svg",
    "CSV (*.csv)": ".csv",
    "iCalendar (*.ics)": ".ics",
}

WriteSummary = Callable[[Design, Path], None]


class Answer(Enum):
    """What the grower wants done with changes that are not saved."""

    SAVE = "save"
    DROP = "drop"
    STAY = "stay"


class Questions:
    """The questions that need an answer before the work goes on; tests answer them themselves."""

    def __init__(self, window: QWidget) -> None:
        self._window = window

    def file_to_open(self, folder: Path) -> Path | None:
        """Ask which design to open."""
        name, _ = QFileDialog.getOpenFileName(
            self._window, tr("Open a design"), str(folder), _DESIGNS
        )
        return Path(name) if name else None

    def file_to_save(self, proposal: Path) -> Path | None:
        """Ask where to save the design."""
        name, _ = QFileDialog.getSaveFileName(
            self._window, tr("Save the design"), str(proposal), _DESIGNS
        )
        return _with_ending(Path(name), ENDING) if name else None

    def file_of_lamp(self, folder: Path) -> Path | None:
        """Ask for a photometric file."""
        return self._existing(tr("A lamp’s photometric file"), folder, _PHOTOMETRIC)

    def file_of_spectrum(self, folder: Path) -> Path | None:
        """Ask for a file of wavelengths and powers."""
        return self._existing(tr("A lamp’s spectrum, in two columns"), folder, _COLUMNS)

    def file_of_log(self, folder: Path) -> Path | None:
        """Ask for a sensor's log."""
        return self._existing(tr("A sensor’s log of temperature and humidity"), folder, _COLUMNS)

    def file_of_weather(self, folder: Path) -> Path | None:
        """Ask for a year of weather."""
        return self._existing(tr("A year of weather"), folder, _WEATHER)

    def _existing(self, title: str, folder: Path, kinds: str) -> Path | None:
        kinds = ";;".join((kinds, tr("Every file (*)")))
        name, _ = QFileDialog.getOpenFileName(self._window, title, str(folder), kinds)
        return Path(name) if name else None

    def file_for_summary(self, proposal: Path) -> Path | None:
        """Ask where to write the summary."""
        name, chosen = QFileDialog.getSaveFileName(
            self._window, tr("Write the summary"), str(proposal), ";;".join(_SUMMARIES)
        )
        return _with_ending(Path(name), _SUMMARIES.get(chosen, ".pdf")) if name else None

    def about_changes(self, name: str) -> Answer:
        """Ask what becomes of changes that are not saved."""
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.NoIcon)
        box.setWindowTitle("Fernwright")
        box.setText(tr("‘{name}’ has changes that are not saved.").format(name=name))
        keep = box.addButton(tr("Save"), QMessageBox.ButtonRole.AcceptRole)
        drop = box.addButton(tr("Drop the changes"), QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton(tr("Go on drawing"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(keep)
        box.setEscapeButton(stay)
        box.exec()
        clicked = box.clickedButton()
        if clicked is keep:
            return Answer.SAVE
        return Answer.DROP if clicked is drop else Answer.STAY


class _Writing(QThread):
    """Writes one summary in the background.

    Signals
    -------
    over(str)
        Done; why not, or an empty text.
    """

    over = Signal(str)

    def __init__(self, work: Callable[[], None], parent: QObject) -> None:
        super().__init__(parent)
        self._work = work

    def run(self) -> None:
        """Write, and tell how it went."""
        try:
            self._work()
        except FernwrightError as error:
            self.over.emit(str(error))
        except Exception as error:  # whatever a writer stumbles over must not end the program
            self.over.emit(tr("The summary was not written: {why}.").format(why=error))
        else:
            self.over.emit("")


class Files(QObject):
    """What is open and where it is kept.

    Signals
    -------
    complained(str), told(str)
        Something went wrong, or was done.
    writing(str)
        A summary is being written to the file of this name; an empty text once it is over.
    """

    complained = Signal(str)
    told = Signal(str)
    writing = Signal(str)

    def __init__(
        self,
        document: Document,
        settings: Settings,
        catalogue: Catalogue,
        questions: Questions,
        write: WriteSummary,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._settings = settings
        self._catalogue = catalogue
        self.questions = questions
        self._write = write
        self._writing: _Writing | None = None
        self._writing_to = Path()

    def new(self) -> None:
        """Start with an empty room."""
        if self.may_leave():
            groups = self._catalogue.plant_groups
            us = self._settings.units == "us"
            self._document.open(new_design("us" if us else "metric", groups=groups), None)

    def open(self) -> None:
        """Ask which design to open, and open it."""
        if self.may_leave():
            path = self.questions.file_to_open(self._folder())
            if path is not None:
                self.open_path(path)

    def open_asking(self, path: Path) -> None:
        """Open a design that was named: dropped on the window, or a recent one."""
        if self.may_leave():
            self.open_path(path)

    def open_path(self, path: Path) -> bool:
        """Open the design in a file; return whether it could be read."""
        try:
            design = load(path)
        except FernwrightError as error:
            self.complained.emit(str(error))
            if not path.exists():
                self._settings.drop_recent(path)
            return False
        self._document.open(design, path)
        self._settings.add_recent(path)
        return True

    def open_example(self, name: str) -> bool:
        """Open one of the demos as a design without a file of its own."""
        try:
            design = load(DEMOS / f"{name}{ENDING}")
        except FernwrightError as error:
            self.complained.emit(str(error))
            return False
        self._document.open(design, None)
        return True

    def examples(self) -> list[tuple[str, str]]:
        """Return the demos' file names without ending, and their titles."""
        order = ("starter", "stair-alcove", "garage-bay", "basement-nook", "empty-room")
        found = [path.stem for path in DEMOS.glob(f"*{ENDING}")]
        found.sort(key=lambda stem: order.index(stem) if stem in order else len(order))
        return [(stem, stem.replace("-", " ").capitalize()) for stem in found]

    def save(self) -> bool:
        """Save to the design's file, asking where if it has none; return whether it is saved."""
        path = self._document.path
        return self.save_as() if path is None else self._save_to(path)

    def save_as(self) -> bool:
        """Ask where to save, and save there."""
        path = self.questions.file_to_save(self._proposal(ENDING))
        return path is not None and self._save_to(path)

    def may_leave(self) -> bool:
        """Return whether the open design may be left: it is saved, or its changes may go."""
        if not self._document.modified:
            return True
        answer = self.questions.about_changes(self._document.design.name)
        if answer is Answer.SAVE:
            return self.save()
        return answer is Answer.DROP

    def write_summary(self) -> None:
        """Ask where to write the summary, and write it in the background."""
        if self._writing is not None:
            self.complained.emit(tr("A summary is being written; wait until it is done."))
            return
        path = self.questions.file_for_summary(self._proposal(".pdf"))
        if path is None:
            return
        design = self._document.committed
        self._writing = _Writing(lambda: self._write(design, path), self)
        self._writing_to = path
        self._writing.over.connect(self._written)
        self.writing.emit(path.name)
        self._writing.start()

    def wait(self) -> None:
        """Let a summary that is being written be finished."""
        if self._writing is not None:
            self._writing.wait()

    def _written(self, why: str) -> None:
        if self._writing is not None:
            self._writing.wait()
            self._writing.deleteLater()
            self._writing = None
        self.writing.emit("")
        if why:
            self.complained.emit(why)
        else:
            self.told.emit(tr("The summary is written: {path}").format(path=self._writing_to))

    def _save_to(self, path: Path) -> bool:
        try:
            save(self._document.committed, path)
        except FernwrightError as error:
            self.complained.emit(str(error))
            return False
        self._document.undo_stack.setClean()
        self._document.set_path(path)
        self._settings.add_recent(path)
        return True

    def _folder(self) -> Path:
        """Return the folder that the last file was in."""
        recent = self._settings.recent_files
        here = self._document.path or (recent[0] if recent else None)
        return here.parent if here else Path.home()

    def _proposal(self, ending: str) -> Path:
        path = self._document.path
        if path is not None:
            return path.with_suffix(ending)
        return self._folder() / f"{_file_stem(self._document.design.name)}{ending}"


def _with_ending(path: Path, ending: str) -> Path:
    return path if path.suffix else path.with_name(path.name + ending)


def _file_stem(name: str) -> str:
    """Return a design's name as a file may be called."""
    kept = "".join(c if c.isalnum() else "-" for c in name.casefold())
    return "-".join(piece for piece in kept.split("-") if piece) or "design"
