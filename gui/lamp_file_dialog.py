"""The window that shows a photometric file and asks what of it a lamp takes over.

Reading files and changing the design is `gui.lamp_files`' work; a file knows lumens alone, so
where the photons come from is always asked.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from core.language import tr
from core.light.lamp_light import photon_flux
from core.light.measured import (
    distribution_of,
    is_long,
    measured_from,
    symmetric,
    upward_share,
)
from core.light.output import PhotonFlux
from core.light.photometry import PhotometricFile
from core.model import OWN, FromFlux, FromLumens, FromWatts, Lamp, OwnSpectrum, replace
from core.units import show
from gui.fields import ChoiceEdit, Field, ToggleEdit
from gui.lamp_choices import FROM_FILE, flux_words, kinds_of_light, turns
from gui.lamp_taken import Output, Taken, length_and_width
from gui.photometry_plot import PolarPlot
from gui.quantity_edit import QuantityEdit
from gui.theme import Theme

_KEEP, _PPF, _LUMENS = "keep", "ppf", "lumens"
_MOST_WATTS = 20_000
"""Power up to which that of a file is offered. [W]"""
_LEAST_UP = 0.005
"""Share of the light upwards from which it is told of. [1]"""


class LampFileDialog(QDialog):
    """Shows a file, and asks.

    Attributes
    ----------
    sets, turn, basis, ppf, light, use_size, use_watts : Field
        The questions; those that do not arise are hidden.
    plot : PolarPlot
    flux, notes : QLabel
        What the light comes to; what else is to be known.
    use, leave : QPushButton

    Signals
    -------
    taken(object)
        The `Taken` that was chosen.
    spectrum_asked()
        A spectrum from a file is wanted; see `set_own_spectrum`.
    """

    taken = Signal(object)
    spectrum_asked = Signal()

    def __init__(
        self, theme: Theme, name: str, file: PhotometricFile, lamp: Lamp, system: str,
        parent: QWidget | None = None, *, new: bool = False,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._theme, self._name = theme, name
        self._lamp, self._system, self._new = lamp, system, new
        self._own: OwnSpectrum | None = lamp.own_spectrum
        self._light: str | None = None
        self.file = file
        self.measured = measured_from(self.file, name)
        self.setWindowTitle(tr("A lamp’s light from a file"))
        self._make_fields()
        self._lay_out()
        self._connect()
        self._show_file()

    def sizeHint(self) -> QSize:
        """Return a column of questions below the plot, wider for larger text."""
        return QSize(round(420 * max(1.0, self._theme.text_scale)), 640)

    # --- making ----------------------------------------------------------------------------

    def _make_fields(self) -> None:
        theme, system = self._theme, self._system
        numbers = range(1, len(self.file.lamp_sets) + 1)
        sets = [(number, self._set_words(number)) for number in numbers]
        self.sets = ChoiceEdit(theme, tr("Equipped with"), sets)
        self.sets.set_value(1)
        self.turn = ChoiceEdit(theme, tr("Its plane C0 lies"), turns())
        self.basis = ChoiceEdit(theme, tr("Its photons are known from"), ())
        self.ppf = QuantityEdit(
            theme, tr("PPF at full"), "photon_flux", system=system, minimum=0, maximum=20000
        )
        self.light = ChoiceEdit(theme, tr("Its kind of light"), kinds_of_light(self._own, None))
        self.use_size = ToggleEdit(theme, "")
        self.use_watts = ToggleEdit(theme, "")
        for tick in (self.use_size, self.use_watts):
            tick.label.hide()
        for question in (self.basis, self.light):
            question.editor.setPlaceholderText(tr("choose"))
        self.plot = PolarPlot(theme)
        self.facts, self.flux, self.notes = (
            QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True) for _ in range(3)
        )
        theme.dress(self.facts, "second", "ink2")
        theme.dress(self.flux, "second")
        theme.dress(self.notes, "second", "ink2")
        self.use = QPushButton(tr("Use this light"))
        self.use.setProperty("role", "primary")
        self.leave = QPushButton(tr("Leave it"))

    def _lay_out(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(16, 14, 16, 8)
        column.setSpacing(8)
        head = QLabel(self._name, textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self._theme.dress(head, "title", bold=True)
        for widget in (head, self.facts, self.plot, *self._questions(), self.flux, self.notes):
            column.addWidget(widget)
        column.addStretch()
        scroll = QScrollArea(widgetResizable=True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setAccessibleName(self.windowTitle())
        scroll.setWidget(page)
        foot = QHBoxLayout()
        foot.setContentsMargins(16, 8, 16, 12)
        foot.setSpacing(8)
        foot.addStretch()
        foot.addWidget(self.leave)
        foot.addWidget(self.use)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(scroll, 1)
        layout.addLayout(foot)

    def _questions(self) -> tuple[Field, ...]:
        return (
            self.sets,
            self.turn,
            self.basis,
            self.ppf,
            self.light,
            self.use_size,
            self.use_watts,
        )

    def _connect(self) -> None:
        self.sets.committed.connect(self._choose_set)
        self.turn.committed.connect(self._choose_turn)
        self.basis.committed.connect(lambda key: self._refresh())
        self.ppf.committed.connect(lambda value: self._refresh())
        self.light.committed.connect(self._choose_light)
        for tick in (self.use_size, self.use_watts):
            tick.committed.connect(lambda on: self._refresh())
        self.use.clicked.connect(self._take)
        self.leave.clicked.connect(self.reject)
        self.use.setDefault(True)

    # --- showing ---------------------------------------------------------------------------

    def _show_file(self) -> None:
        self.facts.setText(self._facts())
        self.basis.set_options(self._bases())
        if not isinstance(self._lamp.output, FromWatts) and self.basis.value is None:
            self.basis.set_value(_KEEP)
        self.turn.set_value(self.measured.turn)
        self.turn.setVisible(len(self.measured.c.split()) > 1)
        self.sets.setVisible(len(self.file.lamp_sets) > 1)
        self._show_ticks()
        self._refresh()

    def _set_words(self, number: int) -> str:
        one = self.file.lamp_sets[number - 1]
        lumens = show(one.lumens, "luminous_flux", self._system) if one.lumens else ""
        count = f"{one.count} ×" if one.count > 1 else ""
        return " ".join(part for part in (count, one.kind, lumens) if part) or str(number)

    def _facts(self) -> str:
        file, system = self.file, self._system
        found = [f"{file.format} {file.version}".strip()]
        found.append(show(file.lumens, "luminous_flux", system))
        if file.watts is not None:
            found.append(show(file.watts, "power", system))
        size = length_and_width(self.measured)
        if size is not None:
            words = tr("lit part {size}, {shape}")
            found.append(words.format(size=self._size_words(size), shape=tr(file.opening.value)))
        makers = [file.keywords.get(key, "") for key in ("MANUFAC", "COMPANY", "LUMINAIRE", "TEST")]
        told = " · ".join(line.replace("\n", " ")[:80] for line in makers if line)
        return "\n".join(part for part in (" · ".join(found), told) if part)

    def _size_words(self, size: tuple[float, float]) -> str:
        length, width = (show(side, "length", self._system) for side in size)
        return tr("{length} × {width}").format(length=length, width=width)

    def _bases(self) -> list[tuple[str, str]]:
        now = photon_flux(self._lamp)
        value = show(now.value, "photon_flux", self._system)
        keep = tr("its watts: {flux}") if self._new else tr("what is entered: {flux}")
        lumens = show(self.file.lumens, "luminous_flux", self._system)
        return [
            (_LUMENS, tr("the file’s {lumens} and its kind of light").format(lumens=lumens)),
            (_PPF, tr("the maker’s PPF")),
            (_KEEP, keep.format(flux=value)),
        ]

    def _show_ticks(self) -> None:
        size = length_and_width(self.measured)
        fits = size is not None and self._lamp.form != "spot"
        self.use_size.setVisible(fits)
        if size is not None:
            words = tr("Use its size, {size}")
            self.use_size.editor.setText(words.format(size=self._size_words(size)))
        self.use_size.set_value(fits and self._new)
        watts = self.file.watts
        self.use_watts.setVisible(watts is not None and watts <= _MOST_WATTS)
        if watts is not None:
            words = tr("Use its power, {watts}")
            self.use_watts.editor.setText(words.format(watts=show(watts, "power", self._system)))
        self.use_watts.set_value(self._new and watts is not None and watts <= _MOST_WATTS)

    def _refresh(self) -> None:
        """Show the questions that arise, what the light comes to, and what is to be known."""
        shape = distribution_of(self.measured)
        self.plot.show_distribution(shape, "cd", self.file.lumens / shape.flux)
        self.ppf.setVisible(self.basis.value == _PPF)
        self.light.setVisible(self.basis.value == _LUMENS)
        flux = self._flux()
        self.use.setEnabled(flux is not None)
        self.flux.setText(flux_words(flux, self._system) if flux else self._missing())
        self.notes.setText("\n".join(self._notes()))

    def _missing(self) -> str:
        """Return what must be chosen or typed before the light can be used."""
        if self.basis.value == _PPF:
            return tr("Type the PPF of one lamp at full power.")
        if self.basis.value == _LUMENS:
            return tr("Choose its kind of light; that turns lumens into photons.")
        return tr("Lumens alone do not say how many photons there are: choose above.")

    def _notes(self) -> list[str]:
        found = []
        up = upward_share(distribution_of(self.measured))
        if up >= _LEAST_UP:
            share = show(round(up, 2), "fraction", self._system)
            found.append(
                tr("{share} of its light goes up; that is counted too.").format(share=share)
            )
        if self.file.tilt:
            found.append(tr("It gives other light when it is tilted; that is not counted."))
        if is_long(*symmetric(*self.file.distribution.planes)[:2]):
            found.append(tr("The table is long; it is kept at every 5° of C and 1° of gamma."))
        found.append(tr("The table is kept in the design; the file is not needed again."))
        return found

    # --- choosing --------------------------------------------------------------------------

    def _choose_set(self, number: int) -> None:
        self.file = self.file.equipped(number)
        turn = self.measured.turn
        self.measured = replace(measured_from(self.file, self._name), turn=turn)
        self._show_file()

    def _choose_turn(self, turn: int) -> None:
        self.measured = replace(self.measured, turn=turn)
        self._show_ticks()
        self._refresh()

    def _choose_light(self, key: str) -> None:
        if key == FROM_FILE:
            self.light.set_value(self._light)
            self.spectrum_asked.emit()
            return
        self._light = key
        self._refresh()

    def set_own_spectrum(self, own: OwnSpectrum) -> None:
        """Take a spectrum that was read from a file as the lamp's kind of light."""
        self._own, self._light = own, OWN
        self.light.set_options(kinds_of_light(own, None))
        self.light.set_value(OWN)
        self._refresh()

    def _output(self) -> Output | None:
        """Return where the photons come from as chosen; None while that is open, or kept."""
        now = self._lamp.output.spectrum
        if self.basis.value == _PPF and self.ppf.value is not None:
            return FromFlux(ppf=float(self.ppf.value), spectrum=now)
        if self.basis.value == _LUMENS and self._light is not None:
            return FromLumens(lumens=min(self.file.lumens, 1e6), spectrum=self._light)
        return None

    def _taken(self) -> Taken:
        return Taken(
            self.measured, self._output(), self._own if self._light == OWN else None,
            length_and_width(self.measured) if self.use_size.value else None,
            self.file.watts if self.use_watts.value else None,
        )  # fmt: skip

    def _flux(self) -> PhotonFlux | None:
        """Return what the lamp would give, None while that is open."""
        if self._output() is None and self.basis.value != _KEEP:
            return None
        return photon_flux(self._taken().applied(self._lamp))

    def _take(self) -> None:
        if self._flux() is not None:
            self.accept()
            self.taken.emit(self._taken())
