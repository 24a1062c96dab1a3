"""The main window: every panel in its place, and who tells whom. Wiring only.

What panels show and what edits do is said where panels and edits are made.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QKeyEvent,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QSplitter, QTabWidget, QVBoxLayout, QWidget

from core.arranging import EDGES
from core.catalogue import Catalogue
from core.language import tr
from gui.add_by_name import AddByName
from gui.adding import offers, shelf_entries
from gui.air_progress import AirProgress
from gui.announcing import Announcer
from gui.asking import Answering, Asking
from gui.climate_show import ClimateShow
from gui.day_ribbon import DayRibbon
from gui.document import Document
from gui.dropping import design_path, dropped_path
from gui.editing import Editing
from gui.error_bar import ErrorBar
from gui.files import Files, Questions, WriteSummary
from gui.findings_panel import FindingsPanel
from gui.head_bar import HeadBar
from gui.help_pages import Page
from gui.how_panel import HowPanel
from gui.key_panel import KeyPanel
from gui.lamp_files import LampFiles
from gui.level_rows import LevelRows
from gui.long_work import LongWork
from gui.panes import Panes
from gui.part_form import PartForm
from gui.parts_shelf import PartsShelf
from gui.readings_panel import ReadingsPanel
from gui.ribbon_lines import fill_ribbon
from gui.season_asks import is_season_file
from gui.season_files import SeasonFiles
from gui.settings import Settings
from gui.sheet import Sheet
from gui.status_line import StatusLine
from gui.tables import Table, part_heads, part_lines, zone_heads, zone_lines
from gui.theme import Theme
from gui.view import View
from gui.window_menus import WindowMenus
from gui.window_sizes import LEAST, Sizes, first_size, sizes_for

if TYPE_CHECKING:
    from core.readings import Readings

MINIMUM = QSize(*LEAST)


class MainWindow(QMainWindow):
    """The window.

    Attributes
    ----------
    document, view, settings, theme
        What the panels share.
    files : Files
    asking : Asking
    menus : WindowMenus
    actions_ : Actions
    sheet, shelf, readings, findings, form, rows, key, ribbon, head, errors, status
        The panels.
    """

    def __init__(
        self,
        document: Document,
        view: View,
        theme: Theme,
        settings: Settings,
        catalogue: Catalogue,
        solver: Answering,
        write: WriteSummary,
    ) -> None:
        super().__init__()
        self.document, self.view = document, view
        self.theme, self.settings = theme, settings
        self.catalogue = catalogue
        self._solver = solver
        self._sizes: Sizes | None = None
        self._column_chosen = False
        self._shown = False
        self._before: Readings | None = None
        self.announcer = Announcer(self)
        self.asking = Asking(document, view, solver, self)
        self.editing = Editing(document, view, catalogue, self)
        self.files = Files(document, settings, catalogue, Questions(self), write, self)
        self._make_panels()
        self.lamp_files, self.season_files = LampFiles(self), SeasonFiles(self)
        self.work = LongWork(self)
        self._lay_out()
        self.menus = WindowMenus(self)
        self.actions_ = self.menus.actions
        self._connect_shared()
        self._connect_panels()
        self._restore()
        self._show_document()

    # --- making ----------------------------------------------------------------------------

    def _make_panels(self) -> None:
        theme, view, document = self.theme, self.view, self.document
        self.head = HeadBar(theme)
        self.errors = ErrorBar(theme)
        self.shelf = PartsShelf(theme, shelf_entries())
        self.sheet = Sheet(document, view, theme, catalogue=self.catalogue)
        self.key = KeyPanel(theme, view, self.sheet)
        self.rows = LevelRows(theme, view, self.sheet)
        self.ribbon = DayRibbon(theme)
        self.readings = ReadingsPanel(theme, view)
        self.findings = FindingsPanel(theme, document, view)
        self.form = PartForm(theme, document, view, self.catalogue)
        self.how = HowPanel(theme, self)
        self.status = StatusLine(theme)
        self.air = AirProgress(self, self._solver)
        self.climate = ClimateShow(self)

    def _lay_out(self) -> None:
        self.tabs = QTabWidget()
        self.tabs.addTab(self.findings, tr("Findings"))
        self.tabs.addTab(self.form, tr("Part"))
        self.tabs.setDocumentMode(True)
        self.tabs.setAccessibleName(tr("Findings and part"))
        self.right = QSplitter(Qt.Orientation.Vertical)
        self.right.addWidget(self.readings)
        self.right.addWidget(self.tabs)
        self.right.setStretchFactor(1, 1)
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.climate.stack, 1)
        column.addWidget(self.ribbon)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        self.across.addWidget(middle)
        self.across.addWidget(self.right)
        self.across.setStretchFactor(0, 1)
        for splitter in (self.across, self.right):
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(1)
        self._set_central()
        self.setStatusBar(self.status)
        # The style adds its own margins to an entry's; together they give the bar its 28 px.
        self.menuBar().setStyleSheet("QMenuBar::item { padding: 1px 10px; }")
        self.setMinimumSize(MINIMUM)
        self.setAcceptDrops(True)
        stops = [self.shelf, self.climate.stack, self.ribbon, self.readings, self.tabs]
        self.panes = Panes(self.theme, self, stops)

    def _set_central(self) -> None:
        body = QHBoxLayout()
        body.setContentsMargins(0, 0, 0, 0)
        body.setSpacing(0)
        body.addWidget(self.shelf)
        body.addWidget(self.across, 1)
        central = QWidget()
        layout = QVBoxLayout(central)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.head)
        layout.addWidget(self.errors)
        layout.addLayout(body, 1)
        self.setCentralWidget(central)

    def _connect_shared(self) -> None:
        document, view = self.document, self.view
        document.changed.connect(self._follow_document)
        document.path_changed.connect(self._show_document)
        document.replaced.connect(self._start_afresh)
        undo = document.undo_stack
        undo.cleanChanged.connect(self._show_document)
        undo.indexChanged.connect(self._show_undo)
        view.subject_changed.connect(self._show_view)
        view.layout_changed.connect(self._show_view)
        view.minute_changed.connect(lambda: self.ribbon.set_time(view.minute))
        view.selection_changed.connect(self._follow_selection)
        self.asking.arrived.connect(self._show_readings)
        self._solver.busy_changed.connect(self._show_busy)
        self._solver.failed.connect(self._tell_failure)
        for teller in (
            self.editing.refused,
            self.sheet.commands.refused,
            self.findings.refused,
            self.form.refused,
        ):
            teller.connect(self.errors.complain)
        self.files.complained.connect(self.errors.complain)
        self.files.told.connect(self.errors.tell)
        self.files.writing.connect(self._show_writing)

    def _connect_panels(self) -> None:
        head, sheet, ribbon = self.head, self.sheet, self.ribbon
        actions = self.actions_.by_name
        head.undo.clicked.connect(actions["undo"].trigger)
        head.redo.clicked.connect(actions["redo"].trigger)
        head.summary.clicked.connect(actions["summary"].trigger)
        head.layout_chosen.connect(self.view.choose_layout)
        head.units_chosen.connect(self.use_units)
        self.across.splitterMoved.connect(self._choose_column)
        self.shelf.picked.connect(self.add)
        sheet.edit_requested.connect(self._edit_part)
        sheet.said.connect(self.status.show_hint)
        sheet.pointed.connect(lambda at: self.status.show_place(at, self.document.design.units))
        sheet.dragging_changed.connect(self._show_dragging)
        ribbon.time_changed.connect(self.view.choose_minute)
        ribbon.season_changed.connect(self.view.choose_season)
        self.readings.how_asked.connect(self._show_how)

    def _restore(self) -> None:
        if not self.settings.restore_geometry(self):
            self.resize(self.sizeHint())
        self._fit_sizes()
        self.actions_.tick(f"look {self.theme.choice}")

    # --- showing ---------------------------------------------------------------------------

    def _follow_document(self) -> None:
        # Nothing that the window itself shows changes while something is dragged.
        if not self.document.proposing:
            self._show_document()

    def _show_document(self) -> None:
        """Show what the design is called, in which units, and what can be undone."""
        design = self.document.design
        self.head.show_name(design.name, not self.document.modified)
        self.setWindowTitle(f"{design.name}[*] – Fernwright")
        self.setWindowModified(self.document.modified)
        if self.head.units.currentData() != design.units:
            self.menus.fill_add_menu()
        self.head.show_units(design.units)
        self.actions_.tick(f"units {design.units}")
        self.ribbon.set_seasons([(season.id, season.name) for season in design.seasons])
        self.sheet.setAccessibleName(self.sheet.accessible_words())
        self._show_undo()
        self._show_view()
        self._enable_edits()

    def _show_undo(self) -> None:
        undo = self.document.undo_stack
        for name, can, text in (
            ("undo", undo.canUndo(), undo.undoText()),
            ("redo", undo.canRedo(), undo.redoText()),
        ):
            self.actions_.enable([name], can)
            button = getattr(self.head, name)
            button.setEnabled(can)
            words = tr(name.capitalize())
            self.actions_.by_name[name].setText(f"{words}: {text}" if text else words)
            button.setToolTip(text)

    def _show_view(self) -> None:
        self.head.show_layout(self.view.layout)
        self.actions_.tick(f"layout {self.view.layout}")
        self.actions_.tick(f"subject {self.view.subject or 'none'}")
        if self.asking.readings is not None:
            fill_ribbon(self.ribbon, self.view.subject, self.asking.readings, self.view.line)

    def _start_afresh(self) -> None:
        """Forget what belonged to the design that is no longer open."""
        self.errors.put_away()
        self.how.hide()
        self._before = None
        self.view.choose_season(None)
        self.view.choose_minute(None)
        self.key.clear()
        self.rows.clear()
        self.readings.start_afresh(awaited=bool(self.document.design.parts))
        self.tabs.setTabText(0, tr("Findings"))
        self.status.show_hint(tr("Drag a part from the shelf, or press A and type its name"))

    def _show_readings(self, readings: Readings) -> None:
        if readings.quality == "final" or self._before is None:
            self._before = readings
        before = self._before if self.sheet.dragging else None
        self.readings.show_readings(readings, dragged=self.document.proposing)
        self.findings.show_readings(readings)
        count = len(self.findings.findings)
        self.tabs.setTabText(0, tr("Findings  {count}").format(count=count))
        self.key.show_readings(readings, before)
        self.rows.show_readings(readings)
        self.sheet.show_readings(readings)
        self.climate.show_readings(readings)
        fill_ribbon(self.ribbon, self.view.subject, readings, self.view.line)
        if self.how.isVisible() and not readings.air.passing:
            self.how.refresh(readings)
        self.air.show_readings(readings)
        if readings.quality == "final" and not readings.air.passing:
            self.announcer.announce(readings)

    def _show_busy(self, busy: bool) -> None:
        if busy and not self.sheet.dragging:
            self.status.show_work(tr("Working out the readings"))

    def _tell_failure(self, words: str) -> None:
        self.status.show_rest(tr("Readings are from before the last change"))
        self.errors.complain(tr("The readings could not be worked out: {why}.").format(why=words))

    def _show_writing(self, name: str) -> None:
        if name:
            self.status.show_work(tr("Writing {name}").format(name=name))
        else:
            self.status.show_rest("")

    def _show_dragging(self, dragging: bool) -> None:
        if dragging:
            self.status.show_rest(tr("Coarse readings while you drag"))
        self.status.show_hint(
            tr("Shift: free of guides  ·  digits: type the distance  ·  Esc: put it back")
            if dragging
            else ""
        )

    # --- doing -----------------------------------------------------------------------------

    def add(self, key: str) -> None:
        """Place a part of this key in the chosen level's free middle."""
        if self.editing.add(key):
            self.errors.put_away()
            self.activateWindow()
            self.sheet.setFocus()

    def add_by_name(self) -> None:
        """Let a part's name be typed."""
        found = offers(self.catalogue, self.document.design.units)
        asking = AddByName(self.theme, found, self)
        asking.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        asking.picked.connect(self.add)
        asking.open()

    def use_units(self, system: str) -> None:
        """Show the design in another system of units, and new designs too."""
        self.settings.units = system
        self.editing.use_units("us" if system == "us" else "metric")

    def show_zones(self) -> None:
        """Show the table of all zones."""
        if self.asking.readings is not None:
            table = self._table(tr("All zones"))
            table.fill(zone_heads(), zone_lines(self.asking.readings))

    def show_parts(self) -> None:
        """Show the table of all parts."""
        table = self._table(tr("Parts"))
        table.fill(part_heads(), part_lines(self.document.design, self.asking.readings))

    def _table(self, title: str) -> Table:
        table = Table(self.theme, title, self)
        table.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        table.chosen.connect(lambda part: self.view.select((part,)))
        table.show()
        return table

    def show_page(self, title: str, text: list[tuple[str, str]], *, beside: bool = False) -> None:
        """Show a page of the Help menu."""
        page = Page(self.theme, title, text, self, beside=beside)
        page.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        page.show()

    def _show_how(self, subject: str) -> None:
        if self.asking.readings is not None:
            self.how.show_subject(subject, self.asking.readings)

    def step_finding(self, by: int) -> None:
        """Go to the next finding, or the previous one."""
        self.tabs.setCurrentWidget(self.findings)
        self.findings.step(by)

    def _follow_selection(self) -> None:
        # A finding that was clicked selects its part; its row must stay in sight.
        if self.view.selection and not self.findings.isAncestorOf(self.focusWidget()):
            self.tabs.setCurrentWidget(self.form)
        self._enable_edits()

    def _enable_edits(self) -> None:
        names = ("cut", "copy", "duplicate", "duplicate mirrored", "delete", "turn", "turn back")
        one = bool(self.view.selection)
        self.actions_.enable((*names, "mirror x", "mirror y", "rename"), one)
        several = len(self.view.selection) > 1
        self.actions_.enable([f"align {edge}" for edge in EDGES], several)
        self.actions_.enable(("spread x", "spread y"), len(self.view.selection) > 2)

    def _edit_part(self, part_id: str) -> None:
        self.tabs.setCurrentWidget(self.form)
        self.form.focus_first()

    def rename(self) -> None:
        """Let the selected part's name be typed."""
        self.tabs.setCurrentWidget(self.form)
        self.form.focus_name()

    def next_pane(self) -> None:
        """Give the keyboard to the next pane: shelf, sheet, ribbon, readings, findings or part."""
        self.panes.next()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Bring the sheet back, or give it the keyboard, on an Escape that nobody else wanted."""
        if event.key() == Qt.Key.Key_Escape and self.climate.shown:
            self.climate.leave()
        elif event.key() == Qt.Key.Key_Escape and not self.sheet.hasFocus():
            self.panes.give(self.sheet)
        else:
            super().keyPressEvent(event)

    def use_look(self, look: str) -> None:
        """Wear the light or the dark palette, or the desktop's."""
        self.theme.set_choice(look)
        self.settings.appearance = look

    def scale_text(self, scale: float) -> None:
        """Make all text larger or smaller."""
        self.theme.set_text_scale(scale)
        self.settings.text_scale = self.theme.text_scale

    def begin(self) -> None:
        """Read the open design for the first time, then compile what makes drags quick."""
        self.asking.begin()
        self._solver.warm_up()

    # --- the window itself -----------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return the size of a first start."""
        room = self.screen().availableGeometry()
        return QSize(*first_size(room.width(), room.height()))

    def showEvent(self, event: QShowEvent) -> None:
        """Put the splitters where they were left, once there is a size to share out."""
        super().showEvent(event)
        if self._shown:
            return
        self._shown = True
        self.settings.restore_splitter("right", self.right)
        self._column_chosen = self.settings.restore_splitter("across", self.across)

    def _choose_column(self) -> None:
        self._column_chosen = True

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give panels the sizes that the window has room for."""
        super().resizeEvent(event)
        self._fit_sizes()

    def _fit_sizes(self) -> None:
        sizes = sizes_for(self.width(), self.height())
        if sizes == self._sizes:
            return
        wider = self._sizes is None or sizes.column != self._sizes.column
        self._sizes = sizes
        self.shelf.set_compact(sizes.compact)
        self.readings.set_compact(sizes.compact)
        self.readings.set_tall(sizes.tall)
        self.ribbon.setFixedHeight(sizes.ribbon)
        if wider and not self._column_chosen:
            whole = max(self.across.width(), self.width() - self.shelf.width())
            self.across.setSizes([whole - sizes.column, sizes.column])

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a design's file, or a season's air."""
        path = dropped_path(event)
        if design_path(event) is not None or (path is not None and is_season_file(path)):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the design that was dropped, or take a season's air over."""
        design, path = design_path(event), dropped_path(event)
        if design is not None:
            self.files.open_asking(design)
        elif path is not None:
            self.season_files.take_dropped(path)
        event.acceptProposedAction()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about changes that are not saved, remember the window, and end the work."""
        if not self.files.may_leave():
            event.ignore()
            return
        self.settings.keep_geometry(self)
        if self._column_chosen:
            self.settings.keep_splitter("across", self.across)
        self.settings.keep_splitter("right", self.right)
        self.files.wait()
        self.work.wait()
        # A reading under way is waited for; nobody need look at that.
        self.hide()
        self._solver.stop()
        # The stack empties itself when it ends; nobody is there any more to show that.
        self.document.undo_stack.blockSignals(True)
        event.accept()
