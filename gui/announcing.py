"""Telling assistive tools, once and politely, that final readings have arrived.

Nothing is said while something is dragged; what each panel says is its accessible name.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget

from core.language import tr, trn
from core.states import RANK, State
from gui.readings_panel import state_words
from gui.subjects import SUBJECTS, title

if TYPE_CHECKING:
    from core.readings import Readings


def summary_words(readings: Readings) -> str:
    """Return the state of the design in one sentence: what is amiss, and how many findings."""
    heads = [readings.subject(subject).headline for subject in SUBJECTS]
    amiss = [item for item in heads if item and RANK[item.state] <= RANK[State.BORDERLINE]]
    said = [f"{title(item.subject)}: {state_words(item)}" for item in amiss]
    count = len(readings.findings)
    said.append(trn("{count} finding", "{count} findings", count).format(count=count))
    return tr("Readings are final. {what}.").format(what=". ".join(said))


class Announcer:
    """Says that readings are final, where somebody listens, and never the same twice in a row.

    Attributes
    ----------
    said : str
        What was said last.
    """

    def __init__(self, window: QWidget) -> None:
        self._window = window
        self.said = ""

    def announce(self, readings: Readings) -> None:
        """Say how the design stands now."""
        words = summary_words(readings)
        if words == self.said:
            return
        self.said = words
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self._window, words))
