"""Two lists of everything: all zones with their readings, worst first, and all parts.

The same things as on the sheet, for whoever reads a list more easily.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from core.language import tr
from core.model import AnyFixture, AnyPart, Design
from core.phrases import Amount
from core.placement import Placement
from core.reading import Reading
from core.states import RANK, State
from core.study import study
from gui.readings_panel import plain_state, state_words
from gui.theme import Theme, state_role

if TYPE_CHECKING:
    from core.readings import Readings


@dataclass(frozen=True)
class Cell:
    """One cell: its text, and the state that colours it."""

    text: str
    state: State = State.FINE


@dataclass(frozen=True)
class Line:
    """One row of a table, about one part."""

    part: str
    cells: tuple[Cell, ...]


class Table(QDialog):
    """A small window with one table; Enter or a double click selects a row's part.

    Attributes
    ----------
    table : QTableWidget

    Signals
    -------
    chosen(str)
        Id of the part of the row that was chosen.
    """

    chosen = Signal(str)

    def __init__(self, theme: Theme, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setWindowTitle(title)
        self.table = QTableWidget()
        self.table.setAccessibleName(title)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.verticalHeader().hide()
        self.table.setShowGrid(False)
        self.table.setWordWrap(False)
        self.table.itemActivated.connect(self._choose)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 12, 12, 12)
        layout.addWidget(self.table)

    def sizeHint(self) -> QSize:
        """Return the room for a few columns and two dozen rows."""
        return QSize(760, 520)

    def fill(self, heads: Sequence[str], lines: Sequence[Line]) -> None:
        """Show these rows."""
        self.table.clear()
        self.table.setColumnCount(len(heads))
        self.table.setRowCount(len(lines))
        self.table.setHorizontalHeaderLabels(list(heads))
        for row, line in enumerate(lines):
            for column, cell in enumerate(line.cells):
                self.table.setItem(row, column, self._item(line, cell))
        header = self.table.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)

    def _item(self, line: Line, cell: Cell) -> QTableWidgetItem:
        item = QTableWidgetItem(cell.text)
        item.setData(Qt.ItemDataRole.UserRole, line.part)
        if not plain_state(cell.state):
            item.setForeground(QColor(self._theme.colour(state_role(cell.state))))
            item.setFont(self._theme.font(bold=True))
        return item

    def _choose(self, item: QTableWidgetItem) -> None:
        self.chosen.emit(item.data(Qt.ItemDataRole.UserRole))


def zone_heads() -> tuple[str, ...]:
    """Return the heads of the table of zones."""
    return (
        tr("Plants"), tr("Where"), tr("Light"), tr("Uniformity"), tr("DLI"), tr("Lamps above"),
        tr("Air"), tr("State"),
    )  # fmt: skip


def zone_lines(readings: Readings) -> list[Line]:
    """Return one line for each zone, the worst first."""
    look = study(readings.design, season=readings.season)
    found = []
    for zone in look.placement.zones:
        light = _about(readings.light.rows, zone.part.id, "ppfd")
        air = _about(readings.air.rows, zone.part.id, "speed")
        where = look.level_words(zone.level).render(readings.design.units)
        rows = [row for row in (light, air) if row is not None]
        asked = [row for row in rows if row.state not in (State.UNASKED, State.UNKNOWN)]
        worst = min(asked or rows, key=lambda row: RANK[row.state], default=None)
        system = readings.design.units
        cells = (
            Cell(zone.part.name),
            Cell(where),
            _value_cell(light, system),
            _ratio_cell(_about(readings.light.rows, zone.part.id, "uniformity")),
            _value_cell(_about(readings.light.rows, zone.part.id, "dli"), system),
            _value_cell(_about(readings.light.rows, zone.part.id, "drop"), system),
            _value_cell(air, system),
            Cell(state_words(worst), worst.state) if worst else Cell(tr("not known yet")),
        )
        found.append((RANK[worst.state] if worst else 9, Line(zone.part.id, cells)))
    return [line for _, line in sorted(found, key=lambda pair: pair[0])]


def _about(rows: Sequence[Reading], part: str, name: str) -> Reading | None:
    """Return the reading of one name about one part."""
    return next((row for row in rows if row.place == part and row.name == name), None)


def _value_cell(item: Reading | None, system: str) -> Cell:
    if item is None or item.value is None:
        return Cell(tr("not known yet"), State.UNKNOWN)
    return Cell(Amount(item.value, item.kind).render(system), item.state)


def _ratio_cell(item: Reading | None) -> Cell:
    if item is None or item.value is None:
        return Cell(tr("not known yet"), State.UNKNOWN)
    return Cell(f"{item.value:.2f}")


def part_heads() -> tuple[str, ...]:
    """Return the heads of the table of parts."""
    return tr("Name"), tr("Size"), tr("From the left, from the front, height"), tr("Findings")


def part_lines(design: Design, readings: Readings | None) -> list[Line]:
    """Return one line for each part and each fixture of the room."""
    placement = Placement(design)
    titles: dict[str, list[str]] = {}
    for finding in readings.findings if readings else ():
        titles.setdefault(finding.place, []).append(finding.title.render(design.units))
    things = (*design.parts, *design.room.fixtures)
    return [_part_line(thing, placement, titles.get(thing.id, [])) for thing in things]


def _part_line(thing: AnyPart | AnyFixture, placement: Placement, titles: list[str]) -> Line:
    system = placement.design.units
    box = placement.box(thing.id)
    size = " × ".join(Amount(side, "length").render(system) for side in box.size)
    place = ", ".join(Amount(at, "length").render(system) for at in box.lo)
    worst = State.BORDERLINE if titles else State.FINE
    cells = (Cell(thing.name), Cell(size), Cell(place), Cell("; ".join(titles), worst))
    return Line(thing.id, cells)
