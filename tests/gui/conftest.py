"""What the tests of the window share: one theme, with nothing gliding."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication

from gui.theme import Theme


@pytest.fixture
def theme(qapp: QApplication) -> Iterator[Theme]:
    # Without a running event loop nobody ends the widgets of earlier tests; dressing them all
    # anew would take longer and longer.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    made = Theme("light")
    made.apply(qapp)
    yield made
    made.set_choice("light")
