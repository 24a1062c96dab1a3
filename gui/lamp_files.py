"""Taking a lamp's light or spectrum over from a file: chosen, or dropped on a lamp.

What is asked about a file stands in `gui.lamp_file_dialog`; files are read by `core.light`.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal

from core.errors import FernwrightError
from core.language import tr
from core.light.lamp_light import own_light
from core.light.measured import own_spectrum_from
from core.light.photometry import read_photometric_file
from core.light.spectrum_file import read_spectrum
from core.model import OWN, Lamp, OwnSpectrum, replace
from gui.lamp_choices import DISTRIBUTION, FROM_FILE
from gui.lamp_file_dialog import LampFileDialog
from gui.lamp_taken import Taken, form_of, new_lamp, with_new_lamp

if TYPE_CHECKING:
    from gui.main_window import MainWindow

SPECTRUM_ENDINGS = (".csv", ".tsv")
"""Endings of files that are taken for a spectrum when they are dropped."""


class LampFiles(QObject):
    """Follows what the form, the sheet and the menu ask for.

    Signals
    -------
    complained(str)
        A file cannot be used, and why.
    """

    complained = Signal(str)

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._document = window.document
        self._folder = Path.home()
        self.complained.connect(window.errors.complain)
        window.form.asked.connect(self.ask)
        window.form.dropped.connect(self.take_file)
        window.sheet.hand.file_dropped.connect(self.take_file)

    # --- asking for files ------------------------------------------------------------------

    def ask(self, what: str, ids: Sequence[str]) -> None:
        """Ask for a file for some lamps, and take it over."""
        if what not in (FROM_FILE, DISTRIBUTION):
            return
        spectrum = what == FROM_FILE
        path = self._spectrum_path() if spectrum else self._lamp_path()
        if path is not None:
            (self.take_spectrum if spectrum else self.take_distribution)(path, ids)

    def ask_for_new(self) -> None:
        """Ask for a file for a lamp that is not there yet, and add it."""
        path = self._lamp_path()
        if path is not None:
            self.take_distribution(path, ())

    def _lamp_path(self) -> Path | None:
        return self._remembered(self._window.files.questions.file_of_lamp(self._folder))

    def _spectrum_path(self) -> Path | None:
        return self._remembered(self._window.files.questions.file_of_spectrum(self._folder))

    def _remembered(self, path: Path | None) -> Path | None:
        self._folder = path.parent if path is not None else self._folder
        return path

    # --- taking over -----------------------------------------------------------------------

    def take_file(self, path: Path, ids: Sequence[str]) -> None:
        """Take over a file that was dropped on lamps."""
        if not self._lamps(ids):
            return
        if path.suffix.lower() in SPECTRUM_ENDINGS:
            self.take_spectrum(path, ids)
        else:
            self.take_distribution(path, ids)

    def take_distribution(self, path: Path, ids: Sequence[str]) -> None:
        """Show a photometric file and ask what lamps take over; without ids a new lamp does."""
        lamps = self._lamps(ids)
        window = self._window
        try:
            file = read_photometric_file(path)
            lamp = lamps[-1] if lamps else self._new(form_of(file))
            dialog = LampFileDialog(
                window.theme, path.name, file, lamp, self._document.design.units, window,
                new=not lamps,
            )  # fmt: skip
        except FernwrightError as error:
            self.complained.emit(str(error))
            return
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        form = lamp.form
        dialog.taken.connect(
            lambda taken: self._apply(taken, ids) if lamps else self._add(taken, form)
        )
        dialog.spectrum_asked.connect(lambda: self._spectrum_for(dialog))
        window.errors.put_away()
        dialog.open()

    def take_spectrum(self, path: Path, ids: Sequence[str]) -> None:
        """Give lamps the spectrum in a file as their kind of light."""
        own = self._read_own(path)
        lamps = self._lamps(ids)
        if own is None or not lamps:
            return
        changed = {
            lamp.id: replace(lamp, own_spectrum=own, output=replace(lamp.output, spectrum=OWN))
            for lamp in lamps
        }
        words = tr("Spectrum of {name}").format(name=lamps[-1].name)
        self._document.apply_parts(words, changed)
        self._window.errors.put_away()

    def _spectrum_for(self, dialog: LampFileDialog) -> None:
        path = self._spectrum_path()
        own = self._read_own(path) if path is not None else None
        if own is not None:
            dialog.set_own_spectrum(own)

    def _read_own(self, path: Path) -> OwnSpectrum | None:
        """Return the spectrum in a file; None after saying why it cannot be used."""
        try:
            own = own_spectrum_from(read_spectrum(path), path.name)
            own_light(own)
        except FernwrightError as error:
            self.complained.emit(str(error))
            return None
        return own

    # --- the edits -------------------------------------------------------------------------

    def _apply(self, taken: Taken, ids: Sequence[str]) -> None:
        lamps = self._lamps(ids)
        if not lamps:
            return
        try:
            changed = {lamp.id: taken.applied(lamp) for lamp in lamps}
        except FernwrightError as error:
            self.complained.emit(str(error))
            return
        words = tr("Light of {name} from ‘{file}’")
        file = taken.measured.file
        self._document.apply_parts(words.format(name=lamps[-1].name, file=file), changed)

    def _add(self, taken: Taken, form: str) -> None:
        window, view = self._window, self._window.view
        near = view.selection[-1] if view.selection else None
        try:
            design, lamp_id = with_new_lamp(
                self._document.committed, window.catalogue, form, taken, view.level, near
            )
        except FernwrightError as error:
            self.complained.emit(str(error))
            return
        words = tr("Add {name}").format(name=design.by_id[lamp_id].name)
        self._document.apply(words, design)
        view.select((lamp_id,))

    def _new(self, form: str) -> Lamp:
        return new_lamp(self._window.catalogue, form, self._document.design.units)

    def _lamps(self, ids: Sequence[str]) -> list[Lamp]:
        """Return the lamps among some parts, as they are now."""
        known = self._document.committed.by_id
        return [part for i in ids if isinstance(part := known.get(i), Lamp)]
