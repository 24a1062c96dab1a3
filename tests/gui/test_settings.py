"""What the window remembers comes back, and a spoilt store does no harm."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QSplitter, QWidget
from pytestqt.qtbot import QtBot

from gui.settings import MOST_RECENT, Settings


def _store(folder: Path) -> QSettings:
    return QSettings(str(folder / "kept.ini"), QSettings.Format.IniFormat)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(_store(tmp_path))


def test_choices_come_back_after_a_restart(tmp_path: Path) -> None:
    store = _store(tmp_path)
    first = Settings(store)
    first.units, first.appearance, first.text_scale = "us", "dark", 1.25
    store.sync()
    again = Settings(_store(tmp_path))
    assert (again.units, again.appearance, again.text_scale) == ("us", "dark", 1.25)


def test_an_empty_store_gives_the_usual(settings: Settings) -> None:
    assert (settings.units, settings.appearance, settings.text_scale) == ("metric", "system", 1)
    assert settings.recent_files == []


@pytest.mark.parametrize("spoilt", ["", "nan", "-3", "huge", "1e9"])
def test_a_spoilt_store_gives_the_usual(tmp_path: Path, spoilt: str) -> None:
    store = _store(tmp_path)
    for key in ("units", "appearance", "text_scale", "geometry", "splitters/main"):
        store.setValue(key, spoilt)
    settings = Settings(store)
    assert (settings.units, settings.appearance, settings.text_scale) == ("metric", "system", 1)
    assert not settings.restore_splitter("main", QSplitter())
    assert not settings.restore_geometry(QWidget())


def test_recent_designs_newest_first_without_doubles(tmp_path: Path) -> None:
    store = _store(tmp_path)
    settings = Settings(store)
    paths = [tmp_path / f"{n}.fern" for n in range(MOST_RECENT + 3)]
    for path in [*paths, paths[5]]:
        settings.add_recent(path)
    assert settings.recent_files[:2] == [paths[5], paths[-1]]
    assert len(settings.recent_files) == MOST_RECENT
    assert settings.recent_files.count(paths[5]) == 1
    settings.drop_recent(paths[5])
    assert paths[5] not in settings.recent_files


def test_a_single_recent_design_survives_the_store(tmp_path: Path) -> None:
    store = _store(tmp_path)
    Settings(store).add_recent(tmp_path / "only.fern")
    store.sync()
    assert Settings(_store(tmp_path)).recent_files == [tmp_path / "only.fern"]


def test_splitters_and_geometry_come_back(qtbot: QtBot, settings: Settings) -> None:
    def splitter() -> QSplitter:
        made = QSplitter()
        qtbot.addWidget(made)
        made.addWidget(QWidget())
        made.addWidget(QWidget())
        made.resize(400, 100)
        made.show()
        return made

    before = splitter()
    before.setSizes([300, 96])
    settings.keep_splitter("main", before)
    settings.keep_geometry(before)
    after = splitter()
    assert settings.restore_splitter("main", after)
    assert after.sizes() == before.sizes()
    assert settings.restore_geometry(after)
    assert not settings.restore_splitter("other", after)
