"""What can be chosen below the key of air: going on after a stop, finer cells, the tint of age.

Whether these can be had is the solver's to say; what the tint means stands in the key.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from core.language import tr
from gui.air_words import cell_words
from gui.link import Link
from gui.theme import Theme
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings
    from gui.key_panel import KeyPanel
    from gui.sheet import Sheet


class AirChoices(QWidget):
    """Links at the foot of the key, while Air has the colour.

    Signals
    -------
    go_on_asked()
        The flow that was stopped is wanted after all.
    refine_asked()
        Finer cells are wanted.
    """

    go_on_asked = Signal()
    refine_asked = Signal()

    def __init__(self, theme: Theme, view: View, sheet: Sheet, key: KeyPanel) -> None:
        super().__init__(sheet.viewport())
        self._view, self._sheet, self._key = view, sheet, key
        self._can_go_on = self._can_refine = False
        self._has_age = False
        self.go_on = Link(theme, tr("Go on"), self)
        self.refine = Link(theme, tr("Refine"), self)
        self.age = Link(theme, "", self)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(16)
        for link in (self.go_on, self.refine, self.age):
            layout.addWidget(link)
        layout.addStretch()
        self.go_on.clicked.connect(self.go_on_asked)
        self.refine.clicked.connect(self.refine_asked)
        self.age.clicked.connect(lambda: view.show_age(not view.age))
        view.subject_changed.connect(self.place)
        view.age_changed.connect(self._name_links)
        sheet.laid_out.connect(self.place)
        self._name_links()

    def show_readings(self, readings: Readings, *, can_refine: bool, stopped: bool) -> None:
        """Offer what newer readings allow."""
        air = readings.air
        self._can_go_on = stopped and air.air is not None
        self._can_refine = can_refine and air.air is not None
        self._has_age = air.field is not None and air.field.ages is not None
        if air.air is not None:
            cell = cell_words(air.air.refined_cell, readings.design.units)
            self.refine.setText(tr("Refine to {cell}").format(cell=cell))
        self._name_links()

    def place(self) -> None:
        """Lie at the foot of the key, where there is one."""
        area = self._sheet.key_area()
        offered = self._can_go_on or self._can_refine or self._has_age
        shown = self._view.subject == "air" and offered and not area.isEmpty()
        height = self.sizeHint().height()
        self._key.leave_room(height + 6 if shown else 0, "air")
        self.setVisible(shown)
        foot = min(area.bottom(), self._sheet.viewport().height()) - height
        self.setGeometry(QRect(area.left(), foot, area.width(), height))

    def _name_links(self) -> None:
        self.go_on.setVisible(self._can_go_on)
        self.refine.setVisible(self._can_refine)
        self.age.setVisible(self._has_age)
        shown = self._view.age
        self.age.setText(tr("Hide age") if shown else tr("Show age"))
        self.age.setAccessibleName(
            tr("Hide the age of the air") if shown else tr("Show the age of the air")
        )
        self.refine.setAccessibleName(self.refine.text())
        for link in (self.go_on, self.refine, self.age):
            link.updateGeometry()
        self.place()
