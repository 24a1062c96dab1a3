"""Both palettes are legible, the type sizes hold, and a change of appearance is told."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor, QFontInfo, QPalette
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.states import State
from gui.theme import (
    DARK,
    LIGHT,
    SIZES,
    Palette,
    Theme,
    contrast,
    high_contrast_palette,
    state_role,
    stylesheet,
)

GROUNDS = ("window", "panel", "sheet", "raised")
# WCAG 2.2, success criteria 1.4.6 (7), 1.4.3 (4.5) and 1.4.11 (3).
PAIRS = (
    [("ink", ground, 7.0) for ground in GROUNDS]
    + [(text, ground, 4.5) for text in ("ink2", "ink3") for ground in GROUNDS]
    + [("pencil", ground, 4.5) for ground in ("sheet", "panel", "pencil_bg")]
    + [(s, g, 4.5) for s in ("fine", "edgey", "out") for g in ("sheet", "panel", "pencil_bg")]
    + [(s, f"{s}_bg", 4.5) for s in ("fine", "edgey", "out")]
    + [("on_pencil", "pencil", 4.5), ("air", "sheet", 4.5), ("water", "sheet", 4.5)]
    + [("edge", ground, 3.0) for ground in ("sheet", "panel", "raised")]
)


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("front", "ground", "least"), PAIRS)
def test_contrast_holds(palette: Palette, front: str, ground: str, least: float) -> None:
    assert contrast(getattr(palette, front), getattr(palette, ground)) >= least


def test_contrast_formula_at_its_ends() -> None:
    # WCAG 2.2, definition of contrast ratio: 1 to 21.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#808080", "#808080") == pytest.approx(1)


def test_sizes_and_tabular_figures(theme: Theme) -> None:
    text = theme.font("text").pixelSize()
    assert text >= 13
    for role, size in SIZES.items():
        assert theme.font(role).pixelSize() == pytest.approx(size * text / 13, abs=0.6)
    assert min(theme.font(role).pixelSize() for role in SIZES) >= 11


def test_text_scale_grows_all_text_and_is_told(qtbot: QtBot, theme: Theme) -> None:
    before = theme.font("second").pixelSize()
    with qtbot.waitSignal(theme.changed):
        theme.set_text_scale(1.5)
    assert theme.font("second").pixelSize() == pytest.approx(1.5 * before, abs=1)
    assert QFontInfo(QApplication.font()).pixelSize() >= 19


def test_change_of_appearance_dresses_the_application(qtbot: QtBot, theme: Theme) -> None:
    with qtbot.waitSignal(theme.changed):
        theme.set_choice("dark")
    assert theme.is_dark
    ground = QApplication.palette().color(QPalette.ColorRole.Window)
    assert ground == QColor(DARK.panel)


def test_following_the_system_gives_one_of_the_palettes(theme: Theme) -> None:
    theme.set_choice("system")
    assert theme.palette in (LIGHT, DARK)
    system = QPalette()
    system.setColor(QPalette.ColorRole.Window, QColor("#101010"))
    system.setColor(QPalette.ColorRole.WindowText, QColor("#f0f0f0"))
    assert high_contrast_palette(system).lamp == DARK.lamp


def test_high_contrast_wish_of_the_desktop_is_followed(
    theme: Theme, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("gui.theme.wants_high_contrast", lambda: True)
    theme.set_choice("system")
    assert theme.palette not in (LIGHT, DARK)
    assert theme.palette.fine == theme.palette.ink
    theme.set_choice("light")
    assert theme.palette == LIGHT


def test_stylesheet_names_no_colour_that_is_left_open() -> None:
    for palette in (LIGHT, DARK):
        sheet = stylesheet(palette)
        assert "@" not in sheet
        assert "gradient" not in sheet


def test_high_contrast_uses_only_the_systems_colours_for_text_and_ground() -> None:
    system = QPalette()
    system.setColor(QPalette.ColorRole.Window, QColor("#000000"))
    system.setColor(QPalette.ColorRole.WindowText, QColor("#FFFF00"))
    system.setColor(QPalette.ColorRole.Highlight, QColor("#00FFFF"))
    made = high_contrast_palette(system)
    assert (made.sheet, made.ink, made.out, made.pencil) == (
        "#000000",
        "#ffff00",
        "#ffff00",
        "#00ffff",
    )


def test_every_state_has_a_colour_of_the_palette() -> None:
    assert {state_role(state) for state in State} == {"fine", "edgey", "out", "edge"}
