"""What the Help menu shows: how far to trust the numbers, the keys, and what this program is.

Each reading explains itself in `gui.how_panel`; here stands what holds for all of them.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QDialog, QGridLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from core import __version__
from core.language import tr
from gui.theme import Theme


def trust_text() -> list[tuple[str, str]]:
    """Return what there is to say about trust, as (head, sentences)."""
    return [
        (
            tr("How sure is a number?"),
            tr(
                "Every reading has a range. In its vial two lines mark what is wanted and the "
                "bubble is as long as the reading is unsure. “Likely” means that the value is "
                "outside but its range reaches in; “borderline” that the value is inside but its "
                "range crosses a line."
            ),
        ),
        (
            tr("Where does it come from?"),
            tr(
                "Click a chosen reading once more, or press Enter: its method, its source, what "
                "was taken as given and what is left out stand there."
            ),
        ),
        (
            tr("What it cannot know"),
            tr(
                "Light depends on the lamp you really get, air on every gap, evaporation on the "
                "plants. Measure once the first shelf stands, and type what you measured: it goes "
                "before the estimate."
            ),
        ),
        (
            tr("Who decides"),
            tr(
                "Fixed wiring is decided by local rules and a licensed electrician. The strength "
                "of a floor or a wall is decided by whoever knows the building. Ratings are their "
                "makers’. This program advises; it decides nothing."
            ),
        ),
    ]


def about_text() -> list[tuple[str, str]]:
    """Return what the program is, as (head, sentences)."""
    return [
        (
            f"Fernwright {__version__}",
            tr("Design an indoor growing enclosure in its room and read what it will do."),
        ),
        (tr("Licence"), tr("MIT. It comes without any warranty.")),
    ]


def keys_text() -> list[tuple[str, str]]:
    """Return the keys and what they do, for those that no menu shows."""
    return [
        (tr("Tab"), tr("the next part on the level, while the sheet has the keyboard")),
        (tr("Enter"), tr("to the part’s first field")),
        (
            tr("Arrows"),
            tr("move by 1 cm (½ in); with Shift 10 cm (6 in), with Ctrl 1 mm (1/16 in)"),
        ),
        (tr("Esc"), tr("drop the drag, then deselect, then take the newest pin away")),
        (
            tr("Shift and a click, or P"),
            tr("pin what is read there; a click on a pin takes it away, a drag or arrows move it"),
        ),
        (tr("Digits while dragging"), tr("type the marked distance; Tab marks the other one")),
        (tr("Shift while dragging"), tr("free of guides")),
        (tr("x, y, z while dragging"), tr("hold that axis")),
        (
            tr("Drag a plug, in Power"),
            tr("plug it in elsewhere; W lists the sockets for what is selected"),
        ),
        (tr("Wheel"), tr("nearer and farther, about the pointer")),
        (tr("Middle button, or Space and drag"), tr("shift the sheet")),
        (tr("Ctrl+Enter in a finding"), tr("do its remedy")),
        (
            tr("Up and Down in a field"),
            tr("one step; with Shift a large one, with Ctrl a small one"),
        ),
    ]


class Page(QDialog):
    """A small window with text."""

    def __init__(
        self,
        theme: Theme,
        title: str,
        text: list[tuple[str, str]],
        parent: QWidget | None = None,
        *,
        beside: bool = False,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(16, 16, 16, 16)
        grid.setHorizontalSpacing(16)
        grid.setColumnStretch(1 if beside else 0, 1)
        for row, (head, words) in enumerate(text):
            grid.addWidget(_label(theme, head, bold=True), *((row, 0) if beside else (2 * row, 0)))
            grid.addWidget(_label(theme, words), *((row, 1) if beside else (2 * row + 1, 0)))
        grid.setRowStretch(2 * len(text), 1)
        scroll = QScrollArea(widgetResizable=True)
        scroll.setAccessibleName(title)
        scroll.setWidget(page)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(scroll)

    def sizeHint(self) -> QSize:
        """Return the room for a page of text."""
        return QSize(520, 420)


def _label(theme: Theme, text: str, *, bold: bool = False) -> QLabel:
    label = QLabel(text, textFormat=Qt.TextFormat.PlainText, wordWrap=True)
    label.setAlignment(Qt.AlignmentFlag.AlignTop)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    theme.dress(label, colour="ink" if bold else "ink2", bold=bold)
    return label
