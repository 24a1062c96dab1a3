"""What the window remembers from one start to the next; nothing of it belongs to a design.

Where it is kept is the desktop's affair (QSettings).
"""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings
from PySide6.QtWidgets import QSplitter, QWidget

from core.units import SYSTEMS
from gui.theme import CHOICES

MOST_RECENT = 8
_SCALES = (0.8, 2.0)


class Settings:
    """Remembered choices, each with a sound value whatever the store holds.

    Attributes
    ----------
    units : str
        System for new designs, "metric" or "us".
    appearance : str
        "system", "light" or "dark".
    text_scale : float
        Text size relative to the desktop's, 0.8 to 2.
    recent_files : list of Path
        Last opened or saved first, at most eight.
    """

    def __init__(self, store: QSettings | None = None) -> None:
        self._store = store or QSettings("Fernwright", "Fernwright")

    @property
    def units(self) -> str:
        """System of units for new designs."""
        return self._one_of("units", SYSTEMS)

    @units.setter
    def units(self, system: str) -> None:
        self._store.setValue("units", system)

    @property
    def appearance(self) -> str:
        """Light, dark, or as the desktop is."""
        return self._one_of("appearance", CHOICES)

    @appearance.setter
    def appearance(self, choice: str) -> None:
        self._store.setValue("appearance", choice)

    @property
    def text_scale(self) -> float:
        """Text size relative to the desktop's."""
        try:
            scale = float(str(self._store.value("text_scale", 1.0)))
        except ValueError:
            return 1.0
        # The comparison also turns a not-a-number away.
        return scale if _SCALES[0] <= scale <= _SCALES[1] else 1.0

    @text_scale.setter
    def text_scale(self, scale: float) -> None:
        self._store.setValue("text_scale", scale)

    @property
    def recent_files(self) -> list[Path]:
        """Designs last opened or saved, newest first."""
        kept = self._store.value("recent_files", [])
        # An ini store gives a list of one back as a plain text.
        names = kept if isinstance(kept, list) else [kept]
        return [Path(name) for name in names if isinstance(name, str) and name][:MOST_RECENT]

    def add_recent(self, path: Path) -> None:
        """Put a design first among the recent ones."""
        whole = path.resolve()
        self._keep_recent([whole, *(p for p in self.recent_files if p != whole)])

    def drop_recent(self, path: Path) -> None:
        """Forget a design that is gone."""
        whole = path.resolve()
        self._keep_recent([p for p in self.recent_files if p not in (path, whole)])

    def _keep_recent(self, paths: list[Path]) -> None:
        self._store.setValue("recent_files", [str(p) for p in paths[:MOST_RECENT]])

    def keep_splitter(self, name: str, splitter: QSplitter) -> None:
        """Remember where a splitter's handles stand."""
        self._store.setValue(f"splitters/{name}", splitter.saveState())

    def restore_splitter(self, name: str, splitter: QSplitter) -> bool:
        """Put a splitter's handles where they stood; return whether that was known."""
        state = self._bytes(f"splitters/{name}")
        return state is not None and splitter.restoreState(state)

    def keep_geometry(self, window: QWidget) -> None:
        """Remember a window's size and place."""
        self._store.setValue("geometry", window.saveGeometry())

    def restore_geometry(self, window: QWidget) -> bool:
        """Give a window its size and place back; return whether they were known."""
        state = self._bytes("geometry")
        return state is not None and window.restoreGeometry(state)

    def _bytes(self, key: str) -> QByteArray | None:
        value = self._store.value(key)
        return value if isinstance(value, QByteArray) else None

    def _one_of(self, key: str, allowed: tuple[str, ...]) -> str:
        value = self._store.value(key, allowed[0])
        return value if isinstance(value, str) and value in allowed else allowed[0]
