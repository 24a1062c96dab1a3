"""Fields that a form is composed of: label above, editor 28 high, message below when it is wrong.

Fields with quantities and hours are in `gui.quantity_edit`; which fields a part has, in the form.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QEvent, QRectF, QSignalBlocker, Qt, Signal
from PySide6.QtGui import (
    QAction,
    QDragEnterEvent,
    QFocusEvent,
    QIcon,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QStyle,
    QStyleOptionComboBox,
    QStylePainter,
    QVBoxLayout,
    QWidget,
)

from core.errors import InputError
from core.language import tr
from gui.theme import Theme

Check = Callable[[Any], None]
_MARK = 16


def wrong_icon(theme: Theme) -> QIcon:
    """Return the mark of a field whose text cannot be used: a ring with a stroke and a dot."""
    made = QIcon()
    for ratio in (1.0, 1.5, 2.0, 3.0):
        made.addPixmap(_wrong_pixmap(theme, ratio))
    return made


def _wrong_pixmap(theme: Theme, ratio: float) -> QPixmap:
    side = round(_MARK * ratio)
    pixmap = QPixmap(side, side)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(ratio, ratio)
    painter.setPen(QPen(theme.colour("out"), 1.6, c=Qt.PenCapStyle.RoundCap))
    painter.drawEllipse(QRectF(2, 2, 12, 12))
    painter.drawLine(8, 5, 8, 8)
    painter.drawPoint(8, 11)
    painter.end()
    pixmap.setDevicePixelRatio(ratio)
    return pixmap


class Field(QWidget):
    """One labelled editor with room for a message below.

    Attributes
    ----------
    label : QLabel
        The words above; violet while the editor has the keyboard.
    editor : QWidget
        What is typed into, chosen from or ticked.
    problem : str
        Why the text cannot be used; empty when it can.

    Signals
    -------
    committed(object)
        The user gave this value; never sent for a value set by the program.
    """

    committed = Signal(object)

    def __init__(
        self, theme: Theme, label: str, editor: QWidget, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.theme = theme
        self.problem = ""
        self.editor = editor
        self.label = QLabel(label, self, textFormat=Qt.TextFormat.PlainText)
        self.label.setBuddy(editor)
        self.message = QLabel(self, textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self.message.hide()
        editor.setAccessibleName(label)
        editor.setProperty("role", "field")
        self.setFocusProxy(editor)
        self._lay_out()
        theme.changed.connect(self.dress)
        self.dress()

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(3)
        layout.addWidget(self.label)
        layout.addWidget(self.editor)
        layout.addWidget(self.message)

    def dress(self) -> None:
        """Put label and message into the theme's fonts and colours."""
        self.theme.dress(self.label, "second", "pencil" if self.editor.hasFocus() else "ink2")
        self.theme.dress(self.message, "second", "out")

    def set_problem(self, text: str) -> None:
        """Say below the editor why its text cannot be used, or nothing for ""."""
        self.problem = text
        self.message.setText(text)
        self.message.setVisible(bool(text))
        self.editor.setAccessibleDescription(text)
        self._make_room()
        self.restyle()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the message break its lines anew."""
        super().resizeEvent(event)
        self._make_room()

    def _make_room(self) -> None:
        # Forms ask for the least height without a width, which knows nothing of wrapped lines.
        self.message.setMinimumHeight(max(0, self.message.heightForWidth(self.width())))

    def restyle(self) -> None:
        """Let the stylesheet see whether the text is wrong."""
        set_state(self.editor, "wrong" if self.problem else "")


def set_state(widget: QWidget, state: str) -> None:
    """Set the property ``state`` by which the stylesheet tells editors apart."""
    if widget.property("state") == state:
        return
    widget.setProperty("state", state)
    widget.style().unpolish(widget)
    widget.style().polish(widget)


class Line(QLineEdit):
    """A line editor that tells of arrows, Escape and focus, and keeps those keys to itself.

    Signals
    -------
    stepped(int, Qt.KeyboardModifier)
        Up (1) or Down (−1) was pressed.
    escaped
        Escape was pressed while the text was being changed.
    focus_changed
        The keyboard came or went.
    """

    stepped = Signal(int, object)
    escaped = Signal()
    focus_changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.untouched = ""
        self.steps = False

    @property
    def touched(self) -> bool:
        """Whether the text differs from the one that was shown."""
        return self.text() != self.untouched

    def event(self, event: QEvent) -> bool:
        """Claim Escape and the arrows before a window's shortcut does; leave it what is its own."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if self._claims(event):
                event.accept()
                return True
            if self._leaves(event):
                event.ignore()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step, or put the text back, or type."""
        if not self._claims(event):
            super().keyPressEvent(event)
        elif event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            up = event.key() == Qt.Key.Key_Up
            self.stepped.emit(1 if up else -1, event.modifiers())

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take words that are dragged here; a file is the form's."""
        if event.mimeData().hasUrls():
            event.ignore()
        else:
            super().dragEnterEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Take the keyboard."""
        super().focusInEvent(event)
        self.focus_changed.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Give the keyboard away."""
        super().focusOutEvent(event)
        self.focus_changed.emit()

    def _leaves(self, event: QKeyEvent) -> bool:
        """Say whether a key is the window's: undo and redo, while there is no typing to undo."""
        standard = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
        return not self.touched and any(event.matches(key) for key in standard)

    def _claims(self, event: QKeyEvent) -> bool:
        if event.key() == Qt.Key.Key_Escape:
            return self.touched
        return self.steps and event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down)


class LineField(Field):
    """A field for a value that is typed: read on Enter or when the keyboard leaves.

    Text that cannot be read stays, with its message below; Escape puts the last good text back.
    Text that nobody touched is never read, so a rounded text never replaces the exact value.

    Attributes
    ----------
    value : object
        The value that is shown, None while there is none.
    taken : bool
        Whether the program assumed the value; typing makes it the user's.
    """

    editor: Line

    def __init__(
        self,
        theme: Theme,
        label: str,
        parent: QWidget | None = None,
        *,
        optional: bool = False,
        check: Check | None = None,
    ) -> None:
        super().__init__(theme, label, Line(), parent)
        self.value: Any = None
        self.taken = False
        self._optional = optional
        self._check = check
        self._mark: QAction | None = None
        self.editor.editingFinished.connect(self.commit)
        self.editor.escaped.connect(self.put_back)
        self.editor.focus_changed.connect(self.dress)

    def read(self, text: str) -> Any:
        """Return the value that ``text`` means, or raise `InputError`."""
        raise NotImplementedError

    def shown(self, value: Any) -> str:
        """Return the text for ``value``."""
        raise NotImplementedError

    def set_value(self, value: Any, *, taken: bool = False) -> None:
        """Show a value from the design; the same value leaves what is being typed alone."""
        if (value, taken) == (self.value, self.taken) and self.editor.untouched:
            return
        self.value, self.taken = value, taken
        self.put_back()

    def put_back(self) -> None:
        """Show the value again, dropping what was typed."""
        text = "" if self.value is None else self.shown(self.value)
        if self.taken and text:
            text = tr("≈ {value}, taken").format(value=text)
        self.editor.untouched = text
        self.editor.setText(text)
        self.set_problem("")

    def commit(self) -> None:
        """Read the text and send its value, or say why it cannot be used."""
        if not self.editor.touched:
            self.set_problem("")
            return
        try:
            value = self._checked(self.editor.text())
        except InputError as error:
            self.set_problem(str(error))
            return
        self.give(value)

    def give(self, value: Any) -> None:
        """Take ``value`` as the user's and send it if it is news."""
        news = value != self.value or self.taken
        self.value, self.taken = value, False
        self.put_back()
        if self.editor.hasFocus():
            self.editor.selectAll()
        if news:
            self.committed.emit(value)

    def restyle(self) -> None:
        """Let the stylesheet see a wrong text or a taken value, and show the mark."""
        set_state(self.editor, "wrong" if self.problem else "taken" if self.taken else "")
        if self._mark is not None:
            self.editor.removeAction(self._mark)
            self._mark = None
        if self.problem:
            place = QLineEdit.ActionPosition.TrailingPosition
            self._mark = self.editor.addAction(wrong_icon(self.theme), place)

    def _checked(self, text: str) -> Any:
        if self._optional and not text.strip():
            return None
        value = self.read(text)
        if self._check is not None:
            self._check(value)
        return value


class TextEdit(LineField):
    """A field for words, such as a name. Sends `committed` with a str."""

    def __init__(
        self,
        theme: Theme,
        label: str,
        parent: QWidget | None = None,
        *,
        optional: bool = False,
        longest: int = 80,
        check: Check | None = None,
    ) -> None:
        super().__init__(theme, label, parent, check=check)
        self._may_be_empty = optional
        self.editor.setMaxLength(longest)

    def read(self, text: str) -> str:
        """Return the words without stray spaces."""
        words = " ".join(text.split())
        if not words and not self._may_be_empty:
            rule = tr("{label} is empty; enter a few letters.")
            raise InputError(rule.format(label=self.label.text()))
        return words

    def shown(self, value: str) -> str:
        """Return the words as they are."""
        return value


class _Choices(QComboBox):
    """A choice list that leaves the wheel to the form it stands in.

    Signals
    -------
    focus_changed
        The keyboard came or went.
    """

    focus_changed = Signal()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the choice, with an ellipsis where it is too long."""
        painter = QStylePainter(self)
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ComboBoxEditField
        control = QStyle.ComplexControl.CC_ComboBox
        room = self.style().subControlRect(control, option, part, self).width()
        words = self.fontMetrics().elidedText(
            self.currentText() or self.placeholderText(), Qt.TextElideMode.ElideRight, room - 4
        )
        option.currentText = words
        painter.drawComplexControl(control, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Let the form scroll instead."""
        event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Take the keyboard."""
        super().focusInEvent(event)
        self.focus_changed.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Give the keyboard away."""
        super().focusOutEvent(event)
        self.focus_changed.emit()


class ChoiceEdit(Field):
    """A field for one of several things.

    Attributes
    ----------
    value : object
        Key of the chosen option, None while nothing is chosen.

    Signals
    -------
    committed(object)
        Key of the option that the user chose.
    """

    editor: _Choices

    def __init__(
        self,
        theme: Theme,
        label: str,
        options: Sequence[tuple[Any, str]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, label, _Choices(), parent)
        self.editor.setMinimumContentsLength(6)
        adjust = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        self.editor.setSizeAdjustPolicy(adjust)
        self.value: Any = None
        self.set_options(options)
        self.editor.activated.connect(self._chosen)
        self.editor.focus_changed.connect(self.dress)

    def set_options(self, options: Sequence[tuple[Any, str]]) -> None:
        """Offer other options, as (key, words); the choice stays if it is among them."""
        with QSignalBlocker(self.editor):
            self.editor.clear()
            for key, words in options:
                self.editor.addItem(words, key)
        self._keys = [key for key, _ in options]
        self.set_value(self.value)

    def set_value(self, value: Any) -> None:
        """Show the option with the key ``value``; an unknown key shows none."""
        self.value = value if value in self._keys else None
        with QSignalBlocker(self.editor):
            index = self._keys.index(value) if self.value is not None else -1
            self.editor.setCurrentIndex(index)

    def _chosen(self, index: int) -> None:
        key = self._keys[index]
        if key != self.value:
            self.value = key
            self.committed.emit(key)


class ToggleEdit(Field):
    """A field for yes or no; its words stand beside the tick. Sends `committed` with a bool.

    Attributes
    ----------
    value : bool
    """

    editor: QCheckBox

    def __init__(
        self, theme: Theme, label: str, parent: QWidget | None = None, *, heading: str = ""
    ) -> None:
        super().__init__(theme, heading, QCheckBox(label), parent)
        self.editor.setAccessibleName(label)
        self.editor.clicked.connect(self._ticked)

    @property
    def value(self) -> bool:
        """Whether the tick is set."""
        return self.editor.isChecked()

    def set_value(self, value: bool) -> None:
        """Set or clear the tick without telling anybody."""
        with QSignalBlocker(self.editor):
            self.editor.setChecked(value)

    def _ticked(self) -> None:
        self.committed.emit(self.value)
