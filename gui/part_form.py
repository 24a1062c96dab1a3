"""The form of what is selected: every field of a part, of several alike, or of the whole design.

Which fields there are is listed in `gui.form_fields` and `gui.form_design`; here they become
widgets, and what is typed becomes one undo step.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDragMoveEvent,
    QDropEvent,
    QFontMetrics,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from core.catalogue import Catalogue
from core.errors import FernwrightError, InputError
from core.language import tr
from core.model import AnyFixture, AnyPart, Design, Lamp, Part
from gui.adding import icon_of
from gui.document import Document
from gui.dropping import dropped_path
from gui.fields import ChoiceEdit, Field, LineField, TextEdit, ToggleEdit
from gui.form_design import design_sections, fixture_sections
from gui.form_fields import part_sections
from gui.form_head import FormHead
from gui.form_paths import FormField, Get, Link, Picture, Section, Thing, fresh
from gui.form_where import where_words
from gui.link import Link as LinkButton
from gui.quantity_edit import HoursEdit, QuantityEdit
from gui.season_asks import is_season_file
from gui.theme import Theme
from gui.tooltips import plain_tip
from gui.view import View

EDGE = 16
_FIELD_EMS = 11
_NOTHING = ("nothing",)
_SEVERAL = object()


class PartForm(QScrollArea):
    """The form.

    Attributes
    ----------
    fields : dict of str to Field
        The editors by key, in the order of the form.

    Signals
    -------
    refused(str)
        A link of the form could not be followed, and why; fields tell for themselves.
    asked(str, tuple)
        Something outside the form is wanted, a file as a rule, for the things with these ids.
    dropped(Path, tuple)
        A file was dropped on the form of the things with these ids.
    """

    refused = Signal(str)
    asked = Signal(str, tuple)
    dropped = Signal(object, tuple)

    def __init__(
        self,
        theme: Theme,
        document: Document,
        view: View,
        catalogue: Catalogue,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent, widgetResizable=True)
        self._theme = theme
        self._document = document
        self._view = view
        self._catalogue = catalogue
        self.fields: dict[str, Field] = {}
        self._specs: dict[str, FormField] = {}
        self._ids: tuple[str, ...] = ()
        self._shape: object = None
        self._stale = True
        self._built_columns = 2
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(tr("Part"))
        self._head = FormHead(theme)
        self._shown_options: dict[str, object] = {}
        self._notes: list[tuple[QLabel, Get]] = []
        self._pictures: list[Picture] = []
        self.setAcceptDrops(True)
        document.changed.connect(self.refresh)
        view.selection_changed.connect(self.refresh)
        theme.changed.connect(self._rebuild)

    def sizeHint(self) -> QSize:
        """Return the room for two columns of fields."""
        return QSize(344, 320)

    def things(self) -> tuple[Thing, ...]:
        """Return what the form is about: the selected parts, or the design itself."""
        design = self._document.design
        found = tuple(design.by_id[i] for i in self._view.selection if i in design.by_id)
        return found or (design,)

    def refresh(self) -> None:
        """Show what is selected as it is now; a form that nobody sees waits until it is shown."""
        self._stale = not self.isVisible()
        if self._stale:
            return
        design, things = self._document.design, self.things()
        sections = self._sections(design, things)
        self._specs = {spec.key: spec for section in sections for spec in section.fields}
        ids = tuple(getattr(thing, "id", "") for thing in things)
        shape = (ids, design.units, self._columns(), *_shape(sections))
        if shape != self._shape:
            self._shape, self._ids = shape, ids
            self._build(sections)
        self._show_values(design, things)
        self._show_head(design, things)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while the form was hidden."""
        super().showEvent(event)
        if self._stale:
            self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand the fields below each other where two do not fit side by side."""
        super().resizeEvent(event)
        if self._shape is not None and self._columns() != self._built_columns:
            self.refresh()

    def _columns(self) -> int:
        metrics = QFontMetrics(self._theme.font("second"))
        two = 2 * metrics.horizontalAdvance("m" * _FIELD_EMS) + 3 * EDGE
        return 2 if self.viewport().width() >= two else 1

    def focus_first(self) -> None:
        """Give the keyboard to the part's first field after its name."""
        names = [key for key in self.fields if key != "name"]
        if names:
            self._focus(self.fields[names[0]])

    def focus_name(self) -> None:
        """Give the keyboard to the part's name."""
        if "name" in self.fields:
            self._focus(self.fields["name"])

    def _focus(self, field: Field) -> None:
        field.editor.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if isinstance(field, LineField):
            field.editor.selectAll()
        self.ensureWidgetVisible(field, 0, 16)

    # --- which fields ----------------------------------------------------------------------

    def _sections(self, design: Design, things: Sequence[Thing]) -> tuple[Section, ...]:
        """Return the leading thing's sections, with the fields that all the others have too."""
        sections = self._sections_of(design, things[-1])
        if len(things) == 1:
            return sections
        shared = [_keys(self._sections_of(design, thing)) for thing in things]
        common = {pair for pair in set.intersection(*shared) if pair[0] != "name"}
        kept = (
            Section(section.heading, tuple(f for f in section.fields if _is_in(f, common)))
            for section in sections
        )
        return tuple(section for section in kept if section.fields)

    def _sections_of(self, design: Design, thing: Thing) -> tuple[Section, ...]:
        if isinstance(thing, Design):
            return design_sections(design)
        if isinstance(thing, Part):
            return part_sections(design, thing, self._catalogue)
        return fixture_sections(design, thing)

    # --- widgets ---------------------------------------------------------------------------

    def _rebuild(self) -> None:
        self._shape = None
        self.refresh()

    def _build(self, sections: tuple[Section, ...]) -> None:
        focused = next((key for key, f in self.fields.items() if f.editor.hasFocus()), None)
        place = self.verticalScrollBar().value()
        self._built_columns = self._columns()
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(EDGE, 10, EDGE, 16)
        column.setSpacing(8)
        self._head = FormHead(self._theme)
        column.addWidget(self._head)
        self.fields, self._shown_options = {}, {}
        self._notes, self._pictures = [], []
        for section in sections:
            self._add_section(column, section)
        hint = QLabel(tr("Type any unit: 0.80 m, 80 cm, 2 ft 7 1/2 in"), wordWrap=True)
        self._theme.dress(hint, "second", "ink2")
        column.addWidget(hint)
        column.addStretch()
        self._take(page)
        self.verticalScrollBar().setValue(place)
        if focused in self.fields:
            self.fields[str(focused)].editor.setFocus()

    def _take(self, page: QWidget) -> None:
        """Show a new page; the old one may be in the middle of telling what was typed."""
        old = self.takeWidget()
        if old is not None:
            old.hide()
            old.deleteLater()
        self.setWidget(page)

    def _add_section(self, page: QVBoxLayout, section: Section) -> None:
        if section.heading:
            heading = QLabel(section.heading, textFormat=Qt.TextFormat.PlainText, wordWrap=True)
            heading.setContentsMargins(0, 8, 0, 0)
            self._theme.dress(heading, bold=True)
            page.addWidget(heading)
        if section.picture is not None:
            self._pictures.append(section.picture(self._theme))
            page.addWidget(self._pictures[-1])
        page.addLayout(self._grid(section))
        if section.note is not None:
            note = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
            self._theme.dress(note, "second", "ink2")
            self._notes.append((note, section.note))
            page.addWidget(note)
        for link in section.links:
            page.addWidget(self._link(link))

    def _grid(self, section: Section) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(8)
        columns = self._built_columns
        for column in range(columns):
            grid.setColumnStretch(column, 1)
        rows: dict[int, list[Field]] = {}
        row, at = 0, 0
        for spec in section.fields:
            wide = spec.wide or columns == 1
            if wide and at:
                row, at = row + 1, 0
            span = columns if wide else 1
            field = self._field(spec)
            grid.addWidget(field, row, at, 1, span, Qt.AlignmentFlag.AlignTop)
            rows.setdefault(row, []).append(field)
            row, at = (row + 1, 0) if wide or at else (row, 1)
        for fields in rows.values():
            if all(isinstance(field, ToggleEdit) for field in fields):
                # Ticks beside a field stand at its height; by themselves they need no such room.
                for field in fields:
                    field.label.hide()
        return grid

    def _field(self, spec: FormField) -> Field:
        field = self._made(spec)
        field.editor.setToolTip(plain_tip(spec.tip))
        field.label.setToolTip(plain_tip(spec.tip))
        field.committed.connect(lambda value: self._commit(spec.key, value))
        self.fields[spec.key] = field
        return field

    def _made(self, spec: FormField) -> Field:
        system = self._document.design.units

        def check(value: Any) -> None:
            self._try(spec.key, value)

        if spec.kind == "choice":
            return ChoiceEdit(self._theme, spec.label, ())
        if spec.kind == "tick":
            return ToggleEdit(self._theme, spec.label)
        if spec.kind == "text":
            return TextEdit(self._theme, spec.label, optional=spec.optional, check=check)
        if spec.kind == "hours":
            return HoursEdit(self._theme, spec.label, check=check)
        return QuantityEdit(
            self._theme,
            spec.label,
            spec.unit,
            system=system,
            minimum=spec.low,
            maximum=spec.high,
            optional=spec.optional,
            check=check,
        )

    def _link(self, link: Link) -> LinkButton:
        button = LinkButton(self._theme, link.words)
        button.clicked.connect(lambda: self._follow(link))
        return button

    # --- values ----------------------------------------------------------------------------

    def _show_values(self, design: Design, things: Sequence[Thing]) -> None:
        for key, field in self.fields.items():
            spec = self._specs[key]
            values = [spec.get(design, fresh(design, thing)) for thing in things]
            alike = all(value == values[0] for value in values)
            shown = values[-1] if alike else _SEVERAL
            self._show_value(field, spec, design, things[-1], shown)
        thing = fresh(design, things[-1])
        for note, words in self._notes:
            note.setText(words(design, thing))
        for picture in self._pictures:
            picture.show_thing(design, thing)

    def _show_value(
        self, field: Field, spec: FormField, design: Design, thing: Thing, value: Any
    ) -> None:
        if isinstance(field, ChoiceEdit):
            self._show_choice(field, spec, design, thing, value)
        elif isinstance(field, ToggleEdit):
            field.set_value(value is True)
        elif isinstance(field, LineField):
            value = None if value is _SEVERAL else value
            taken = value is None and spec.taken is not None
            shown = spec.taken(design, thing) if taken and spec.taken else value
            field.set_value(_as_float(shown), taken=taken)

    def _show_choice(
        self, field: ChoiceEdit, spec: FormField, design: Design, thing: Thing, value: Any
    ) -> None:
        found = spec.options(design, thing) if spec.options else ()
        options = tuple((_as_key(key), words) for key, words in found)
        if options != self._shown_options.get(spec.key):
            field.set_options(options)
            self._shown_options[spec.key] = options
        field.set_value(_as_key(value))
        words = dict(options).get(_as_key(value), "")
        field.editor.setToolTip(plain_tip(f"{words}: {spec.tip}" if words else spec.tip))

    def _show_head(self, design: Design, things: Sequence[Thing]) -> None:
        if len(things) > 1:
            words = tr("{count} parts").format(count=len(things))
            self._head.show_thing("", words, tr("what they have in common"))
            return
        thing = things[0]
        if isinstance(thing, Design):
            self._head.show_thing("", tr("Room and design"), tr("nothing is selected"))
            return
        where = where_words(design, thing) if isinstance(thing, Part) else tr("of the room")
        self._head.show_thing(icon_of(thing), thing.name, where)

    # --- files -----------------------------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a file where a lamp's form stands; a design goes on to the window."""
        if self._takes(dropped_path(event)):
            event.acceptProposedAction()
        else:
            event.ignore()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        """Go on as it came."""
        event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Tell of the file that was dropped."""
        path = dropped_path(event)
        if path is not None and self._takes(path):
            event.acceptProposedAction()
            self.dropped.emit(path, self._ids)

    def _takes(self, path: Path | None) -> bool:
        """Say whether what is shown takes a file: a lamp its light, the design a season's air."""
        if path is None:
            return False
        things = self.things()
        if isinstance(things[0], Design):
            return is_season_file(path)
        return all(isinstance(thing, Lamp) for thing in things)

    # --- edits -----------------------------------------------------------------------------

    def _try(self, key: str, value: Any) -> Design:
        """Return the design with a value given, or say in the model's words why it cannot be.

        Raises
        ------
        InputError
            If the model refuses it.
        """
        spec = self._specs[key]
        design = self._document.committed
        try:
            for thing in self._committed_things():
                design = spec.put(design, fresh(design, thing), value)
        except FernwrightError as error:
            raise InputError(str(error)) from None
        return design

    def _committed_things(self) -> tuple[Thing, ...]:
        design = self._document.committed
        found: tuple[AnyPart | AnyFixture, ...] = tuple(
            design.by_id[i] for i in self._ids if i in design.by_id
        )
        return found or (design,)

    def _commit(self, key: str, value: Any) -> None:
        field, spec = self.fields[key], self._specs[key]
        value = None if value == _NOTHING else value
        if spec.asks and value == spec.asks:
            self._show_values(self._document.design, self.things())
            self.asked.emit(spec.asks, self._ids)
            return
        try:
            design = self._try(key, value)
        except InputError as error:
            field.set_problem(str(error))
            if isinstance(field, ChoiceEdit | ToggleEdit):
                self._show_values(self._document.design, self.things())
            return
        field.set_problem("")
        self._document.apply(self._step_words(spec), design)

    def _step_words(self, spec: FormField) -> str:
        things = self._committed_things()
        if len(things) > 1:
            return tr("{label} of {count} parts").format(label=spec.label, count=len(things))
        return tr("{label} of {name}").format(label=spec.label, name=things[0].name)

    def _follow(self, link: Link) -> None:
        if link.asks:
            self.asked.emit(link.asks, self._ids)
            return
        design = self._document.committed
        thing = self._committed_things()[-1]
        try:
            changed = link.do(design, thing)
        except FernwrightError as error:
            self.refused.emit(str(error))
            return
        self._document.apply(f"{link.words}: {thing.name}", changed)


def _as_key(value: Any) -> Any:
    """Return a choice as the key of its option; "none of them" is a choice like any other."""
    return _NOTHING if value is None else value


def _as_float(value: Any) -> Any:
    """Return whole numbers as floats, which quantity fields show."""
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _keys(sections: Sequence[Section]) -> set[tuple[str, str]]:
    return {(spec.key, spec.label) for section in sections for spec in section.fields}


def _is_in(spec: FormField, common: set[tuple[str, str]]) -> bool:
    return (spec.key, spec.label) in common


def _shape(sections: Sequence[Section]) -> tuple[object, ...]:
    """Return what makes a form need other widgets, rather than other values."""
    return tuple(
        (
            section.heading,
            tuple((spec.key, spec.label, spec.kind, spec.unit) for spec in section.fields),
            tuple(link.words for link in section.links),
            (section.note is None, section.picture is None),
        )
        for section in sections
    )
