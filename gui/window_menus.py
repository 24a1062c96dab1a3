"""What each action of the menus does in the main window, and the menus that fill themselves.

Words and keys of the actions are data in `gui.actions`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from core.arranging import EDGES
from core.language import tr
from gui.actions import Actions
from gui.adding import offers
from gui.climate_day_lines import LINES
from gui.head_bar import LAYOUTS
from gui.help_pages import about_text, keys_text, trust_text
from gui.load_chart import show_load
from gui.plug_menu import show_plug_menu
from gui.subjects import SUBJECTS
from gui.theme import CHOICES

if TYPE_CHECKING:
    from gui.main_window import MainWindow

Handlers = dict[str, Callable[[], object]]


class WindowMenus:
    """The menus of a main window.

    Attributes
    ----------
    actions : Actions
    recent : QMenu
        The files last open.
    """

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self.actions = Actions(window, window.menuBar(), handlers(window))
        self.actions.give_to_sheet(window.sheet)
        window.climate.give_keys(self.actions)
        menus = self.actions.menus
        self.recent = QMenu(tr("Open recent"), window)
        menus["File"].insertMenu(self.actions.by_name["save"], self.recent)
        menus["File"].aboutToShow.connect(self.fill_recent)
        self.fill_recent()
        self._fill_examples(menus["Help"])
        self.fill_add_menu()

    def fill_recent(self) -> None:
        """List the files last open."""
        window = self._window
        self.recent.clear()
        for path in window.settings.recent_files:
            self._add(self.recent, path.name, self._opener(path)).setToolTip(str(path))
        self.recent.setEnabled(not self.recent.isEmpty())

    def fill_add_menu(self) -> None:
        """Put every part of the catalogue, in this system's sizes, under its heading."""
        menu, window = self.actions.menus["Add"], self._window
        kept = [self.actions.by_name[name] for name in ("add by name", "add lamp file")]
        for old in [action for action in menu.actions() if action not in kept]:
            menu.removeAction(old)
            old.deleteLater()
        groups: dict[str, QMenu] = {}
        for offer in offers(window.catalogue, window.document.design.units):
            if offer.group not in groups:
                groups[offer.group] = menu.addMenu(offer.group)
            self._add(groups[offer.group], offer.words, self._adder(offer.key))

    def _fill_examples(self, menu: QMenu) -> None:
        examples = QMenu(tr("Examples"), self._window)
        menu.insertMenu(self.actions.by_name["about"], examples)
        for name, words in self._window.files.examples():
            self._add(examples, words, self._shower(name))

    def _add(self, menu: QMenu, words: str, do: Callable[[], object]) -> QAction:
        action = menu.addAction(words)
        action.triggered.connect(lambda: do())
        return action

    def _opener(self, path: Path) -> Callable[[], object]:
        return lambda: self._window.files.open_asking(path)

    def _adder(self, key: str) -> Callable[[], object]:
        return lambda: self._window.add(key)

    def _shower(self, name: str) -> Callable[[], object]:
        files = self._window.files
        return lambda: files.may_leave() and files.open_example(name)


def handlers(window: MainWindow) -> Handlers:
    """Return what each action of `gui.actions` does."""
    return {
        **_file_handlers(window),
        **_edit_handlers(window),
        **_show_handlers(window),
        **_look_handlers(window),
        **_help_handlers(window),
    }


def _file_handlers(window: MainWindow) -> Handlers:
    files = window.files
    return {
        "new": files.new,
        "open": files.open,
        "save": files.save,
        "save as": files.save_as,
        "summary": files.write_summary,
        "quit": window.close,
    }


def _edit_handlers(window: MainWindow) -> Handlers:
    commands, undo = window.sheet.commands, window.document.undo_stack
    return {
        "undo": undo.undo,
        "redo": undo.redo,
        "cut": commands.cut,
        "copy": commands.copy,
        "paste": commands.paste,
        "duplicate": commands.duplicate,
        "duplicate mirrored": commands.duplicate_mirrored,
        "delete": commands.delete,
        "select all": commands.select_all,
        "turn": lambda: commands.turn(1),
        "turn back": lambda: commands.turn(-1),
        "mirror x": lambda: commands.mirror("x"),
        "mirror y": lambda: commands.mirror("y"),
        **{f"align {edge}": partial(commands.align, edge) for edge in EDGES},
        "spread x": lambda: commands.spread("x"),
        "spread y": lambda: commands.spread("y"),
        "rename": window.rename,
        "plug": lambda: show_plug_menu(window.sheet),
        "add by name": window.add_by_name,
        "add lamp file": window.lamp_files.ask_for_new,
    }


def _show_handlers(window: MainWindow) -> Handlers:
    sheet, ribbon = window.sheet, window.ribbon
    return {
        **{f"subject {name}": _subject(window, name) for name in SUBJECTS},
        "subject climate": window.climate.choose,
        **{f"line {name}": partial(window.view.choose_line, name) for name in LINES},
        "year": lambda: _show_year(window),
        "opening widths": lambda: _show_openings(window),
        "subject none": _subject(window, None),
        **{f"layout {name}": _layout(window, name) for name, _ in LAYOUTS},
        "fit": sheet.refit,
        "nearer": sheet.zoom_in,
        "farther": sheet.zoom_out,
        "level up": lambda: sheet.commands.change_level(1),
        "level down": lambda: sheet.commands.change_level(-1),
        "next finding": lambda: window.step_finding(1),
        "previous finding": lambda: window.step_finding(-1),
        "later": lambda: ribbon.step(15),
        "earlier": lambda: ribbon.step(-15),
        "hour later": lambda: ribbon.step(60),
        "hour earlier": lambda: ribbon.step(-60),
        "mean": ribbon.show_mean,
        "refine air": window.air.refine,
        "age of air": lambda: window.view.show_age(not window.view.age),
        "zones": window.show_zones,
        "parts": window.show_parts,
        "load": lambda: show_load(window.theme, window.asking, window),
        "next pane": window.next_pane,
    }


def _subject(window: MainWindow, name: str | None) -> Callable[[], object]:
    return lambda: window.view.choose_subject(name)


def _layout(window: MainWindow, name: str) -> Callable[[], object]:
    return lambda: window.view.choose_layout(name)


def _show_year(window: MainWindow) -> None:
    # Loaded when it is asked for, so that the window is there sooner.
    from gui.year_dialog import show_year

    show_year(window)


def _show_openings(window: MainWindow) -> None:
    from gui.opening_widths import show_openings

    show_openings(window)


def _look_handlers(window: MainWindow) -> Handlers:
    theme = window.theme
    return {
        "units metric": lambda: window.use_units("metric"),
        "units us": lambda: window.use_units("us"),
        **{f"look {name}": _look(window, name) for name in CHOICES},
        "text larger": lambda: window.scale_text(theme.text_scale + 0.1),
        "text smaller": lambda: window.scale_text(theme.text_scale - 0.1),
        "text usual": lambda: window.scale_text(1.0),
    }


def _look(window: MainWindow, name: str) -> Callable[[], object]:
    return lambda: window.use_look(name)


def _help_handlers(window: MainWindow) -> Handlers:
    return {
        "trust": lambda: window.show_page(tr("How far to trust it"), trust_text()),
        "keys": lambda: window.show_page(tr("Keys"), keys_text(), beside=True),
        "about": lambda: window.show_page(tr("About Fernwright"), about_text()),
    }
