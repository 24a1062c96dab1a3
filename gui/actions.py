"""Everything the menus and keys can do, as data: text, keys, menu, and the name of what it does.

What each does is said in `gui.main_window`, which hands over one callable for each name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from core.language import tr
from gui.subjects import SUBJECTS, title

MENUS = ("File", "Edit", "Add", "Show", "Help")


@dataclass(frozen=True)
class ActionSpec:
    """One entry of a menu.

    Attributes
    ----------
    name : str
        What it does, for the window's table of callables.
    text : str
        Words in the menu; they end in … where a question follows.
    menu : str
        One of `MENUS`, or "Show/Appearance" for a submenu.
    keys : tuple of str
        Its shortcuts, the first one shown.
    sheet : bool
        Whether the keys act only while the sheet has the focus, as letters and digits must.
    group : str
        Entries of one group exclude each other and carry a tick.
    apart : bool
        Whether a line stands above it.
    ticked : bool
        Whether it carries a tick of its own while it holds.
    """

    name: str
    text: str
    menu: str
    keys: tuple[str, ...] = ()
    sheet: bool = False
    group: str = ""
    apart: bool = False
    ticked: bool = False


def _subjects() -> tuple[ActionSpec, ...]:
    numbered = enumerate(SUBJECTS, start=1)
    return tuple(
        ActionSpec(
            f"subject {name}", title(name), "Show", (str(number),), sheet=True, group="subject"
        )
        for number, name in numbered
    )


def specs() -> tuple[ActionSpec, ...]:
    """Return all actions, in the order of the menus."""
    return (*_file(), *_edit(), *_add(), *_show(), *_help())


def _file() -> tuple[ActionSpec, ...]:
    return (
        ActionSpec("new", tr("New"), "File", ("Ctrl+N",)),
        ActionSpec("open", tr("Open…"), "File", ("Ctrl+O",)),
        ActionSpec("save", tr("Save"), "File", ("Ctrl+S",), apart=True),
        ActionSpec("save as", tr("Save as…"), "File", ("Ctrl+Shift+S",)),
        ActionSpec("summary", tr("Write summary…"), "File", ("Ctrl+E",), apart=True),
        ActionSpec("quit", tr("Quit"), "File", ("Ctrl+Q",), apart=True),
    )


def _edit() -> tuple[ActionSpec, ...]:
    return (
        ActionSpec("undo", tr("Undo"), "Edit", ("Ctrl+Z",)),
        ActionSpec("redo", tr("Redo"), "Edit", ("Ctrl+Shift+Z", "Ctrl+Y")),
        ActionSpec("cut", tr("Cut"), "Edit", ("Ctrl+X",), apart=True),
        ActionSpec("copy", tr("Copy"), "Edit", ("Ctrl+C",)),
        ActionSpec("paste", tr("Paste"), "Edit", ("Ctrl+V",)),
        ActionSpec("duplicate", tr("Duplicate"), "Edit", ("Ctrl+D",)),
        ActionSpec("duplicate mirrored", tr("Mirrored copy"), "Edit", ("Ctrl+Shift+D",)),
        ActionSpec("delete", tr("Delete"), "Edit", ("Del", "Backspace"), sheet=True),
        ActionSpec("select all", tr("Select all"), "Edit", ("Ctrl+A",), sheet=True),
        ActionSpec("turn", tr("Turn a quarter"), "Edit", ("R",), sheet=True, apart=True),
        ActionSpec("turn back", tr("Turn a quarter back"), "Edit", ("Shift+R",), sheet=True),
        ActionSpec("mirror x", tr("Mirror left to right"), "Edit"),
        ActionSpec("mirror y", tr("Mirror front to back"), "Edit"),
        *_in_line(),
        ActionSpec("rename", tr("Rename"), "Edit", ("F2",)),
        ActionSpec("plug", tr("Plug into…"), "Edit", ("W",), sheet=True),
    )


def _in_line() -> tuple[ActionSpec, ...]:
    menu = "Edit/Several parts"
    return (
        ActionSpec("align left", tr("Left ends in line"), menu),
        ActionSpec("align middle x", tr("Middles in line, left to right"), menu),
        ActionSpec("align right", tr("Right ends in line"), menu),
        ActionSpec("align front", tr("Fronts in line"), menu, apart=True),
        ActionSpec("align middle y", tr("Middles in line, front to back"), menu),
        ActionSpec("align back", tr("Backs in line"), menu),
        ActionSpec("align bottom", tr("Undersides in line"), menu, apart=True),
        ActionSpec("align top", tr("Tops in line"), menu),
        ActionSpec("spread x", tr("Equal gaps from left to right"), menu, apart=True),
        ActionSpec("spread y", tr("Equal gaps from front to back"), menu),
    )


def _add() -> tuple[ActionSpec, ...]:
    return (
        ActionSpec("add by name", tr("By name…"), "Add", ("A",), sheet=True),
        ActionSpec("add lamp file", tr("Lamp from a photometric file…"), "Add"),
    )


def _show() -> tuple[ActionSpec, ...]:
    return (
        *_subjects(),
        ActionSpec("subject none", tr("No subject"), "Show", ("0",), sheet=True, group="subject"),
        ActionSpec(
            "layout sheet", tr("Whole sheet"), "Show", ("Ctrl+1",), group="layout", apart=True
        ),
        ActionSpec("layout plan", tr("Plan"), "Show", ("Ctrl+2",), group="layout"),
        ActionSpec("layout front", tr("Front"), "Show", ("Ctrl+3",), group="layout"),
        ActionSpec("layout side", tr("Side"), "Show", ("Ctrl+4",), group="layout"),
        ActionSpec("fit", tr("Fit"), "Show", ("Ctrl+0",), apart=True),
        ActionSpec("nearer", tr("Nearer"), "Show", ("Ctrl++", "Ctrl+=")),
        ActionSpec("farther", tr("Farther"), "Show", ("Ctrl+-",)),
        ActionSpec("level up", tr("Level above"), "Show", ("PgUp",), sheet=True, apart=True),
        ActionSpec("level down", tr("Level below"), "Show", ("PgDown",), sheet=True),
        ActionSpec("next finding", tr("Next finding"), "Show", ("F8",)),
        ActionSpec("previous finding", tr("Previous finding"), "Show", ("Shift+F8",)),
        ActionSpec("later", tr("A quarter hour later"), "Show/Time", ("Alt+Right",)),
        ActionSpec("earlier", tr("A quarter hour earlier"), "Show/Time", ("Alt+Left",)),
        ActionSpec("hour later", tr("An hour later"), "Show/Time", ("Alt+Shift+Right",)),
        ActionSpec("hour earlier", tr("An hour earlier"), "Show/Time", ("Alt+Shift+Left",)),
        ActionSpec("mean", tr("Whole-day mean"), "Show/Time"),
        ActionSpec("refine air", tr("Refine"), "Show/Air"),
        ActionSpec("age of air", tr("Age of the air"), "Show/Air", ticked=True),
        *_climate(),
        ActionSpec("zones", tr("All zones…"), "Show", apart=True),
        ActionSpec("parts", tr("Parts…"), "Show"),
        ActionSpec("load", tr("Load over the day…"), "Show"),
        ActionSpec("next pane", tr("Next pane"), "Show", ("F6",)),
        ActionSpec("units metric", tr("Metric"), "Show/Units", group="units", apart=True),
        ActionSpec("units us", tr("US customary"), "Show/Units", group="units"),
        ActionSpec("look system", tr("As the desktop"), "Show/Appearance", group="look"),
        ActionSpec("look light", tr("Light"), "Show/Appearance", group="look"),
        ActionSpec("look dark", tr("Dark"), "Show/Appearance", group="look"),
        ActionSpec("text larger", tr("Larger text"), "Show/Text size"),
        ActionSpec("text smaller", tr("Smaller text"), "Show/Text size"),
        ActionSpec("text usual", tr("As the desktop"), "Show/Text size"),
    )


def _climate() -> tuple[ActionSpec, ...]:
    menu = "Show/Climate"
    lines = (
        ("temperature", tr("Temperature in the ribbon")),
        ("humidity", tr("Humidity in the ribbon")),
        ("deficit", tr("VPD in the ribbon")),
    )
    return (
        *(ActionSpec(f"line {name}", words, menu, group="line") for name, words in lines),
        ActionSpec("year", tr("The year…"), menu, apart=True),
        ActionSpec("opening widths", tr("Opening widths…"), menu),
    )


def _help() -> tuple[ActionSpec, ...]:
    return (
        ActionSpec("trust", tr("How far to trust it"), "Help"),
        ActionSpec("keys", tr("Keys"), "Help"),
        ActionSpec("about", tr("About Fernwright"), "Help", apart=True),
    )


class Actions:
    """All actions built, in a menu bar.

    Attributes
    ----------
    by_name : dict of str to QAction
    menus : dict of str to QMenu
        By path, as "Show" or "Show/Units".
    """

    def __init__(
        self, window: QWidget, bar: QMenuBar, handlers: Mapping[str, Callable[[], object]]
    ) -> None:
        self._window = window
        self._groups: dict[str, QActionGroup] = {}
        self.by_name: dict[str, QAction] = {}
        self.menus: dict[str, QMenu] = {name: bar.addMenu(tr(name)) for name in MENUS}
        self._sheet: list[QAction] = []
        for spec in specs():
            self._add(spec, handlers[spec.name])

    def give_to_sheet(self, sheet: QWidget) -> None:
        """Let letters and digits act while the sheet, or what lies on it, has the focus."""
        sheet.addActions(self._sheet)

    def tick(self, name: str, *, on: bool = True) -> None:
        """Put the tick of a group at the action ``name``, or that of an action alone on or off."""
        self.by_name[name].setChecked(on)

    def enable(self, names: Iterable[str], on: bool) -> None:
        """Let some actions be chosen, or not."""
        for name in names:
            self.by_name[name].setEnabled(on)

    def _add(self, spec: ActionSpec, handler: Callable[[], object]) -> None:
        action = QAction(spec.text, self._window)
        action.setShortcuts([QKeySequence(keys) for keys in spec.keys])
        if spec.sheet:
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            self._sheet.append(action)
        if spec.group:
            self._group(spec.group).addAction(action)
        action.setCheckable(spec.ticked or bool(spec.group))
        action.triggered.connect(lambda: handler())
        menu = self._menu(spec.menu)
        if spec.apart:
            menu.addSeparator()
        menu.addAction(action)
        self.by_name[spec.name] = action

    def _group(self, name: str) -> QActionGroup:
        if name not in self._groups:
            self._groups[name] = QActionGroup(self._window)
        return self._groups[name]

    def _menu(self, path: str) -> QMenu:
        if path not in self.menus:
            parent, _, name = path.partition("/")
            self.menus[path] = self.menus[parent].addMenu(tr(name))
        return self.menus[path]
