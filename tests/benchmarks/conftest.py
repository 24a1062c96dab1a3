"""What the benchmarks of the window share: the same theme as its tests."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QApplication

from gui.theme import Theme


@pytest.fixture
def theme(qapp: QApplication) -> Iterator[Theme]:
    made = Theme("light")
    made.apply(qapp)
    yield made
    made.set_choice("light")
