"""The two palettes, the type sizes and the flat style that every widget wears.

Drawing of particular things (vials, marks, maps) lives with those things, not here.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from pathlib import Path

from PySide6.QtCore import QObject, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QFontInfo,
    QGuiApplication,
    QPainter,
    QPalette,
    QPen,
)
from PySide6.QtWidgets import QApplication, QStyle, QWidget

from core.drawing.ink import state_role as state_role


@dataclass(frozen=True)
class Palette:
    """Named colours of one appearance, as #RRGGBB.

    Attributes
    ----------
    window, panel, sheet, raised : str
        Grounds, from the farthest to the nearest.
    ink, ink2, ink3 : str
        Text, second text, disabled text.
    edge, hair : str
        Outlines, and lines that only decorate.
    pencil, on_pencil, pencil_bg : str
        Selection, time and links; text on it; its pale ground.
    fine, edgey, out and their _bg : str
        State colours, used for nothing else.
    air, water, water_bg, lamp, lead, plant, plant_bg, wall, cover : str
        What the drawings show.
    """

    window: str
    panel: str
    sheet: str
    raised: str
    ink: str
    ink2: str
    ink3: str
    edge: str
    hair: str
    pencil: str
    on_pencil: str
    pencil_bg: str
    fine: str
    fine_bg: str
    edgey: str
    edgey_bg: str
    out: str
    out_bg: str
    air: str
    water: str
    water_bg: str
    lead: str
    lamp: str
    plant: str
    plant_bg: str
    wall: str
    cover: str

    def colour(self, role: str) -> QColor:
        """Return the colour named ``role``."""
        return QColor(getattr(self, role))


LIGHT = Palette(
    window="#E9EDEA",
    panel="#F4F6F4",
    sheet="#FBFCFB",
    raised="#FFFFFF",
    ink="#182524",
    ink2="#4A5856",
    ink3="#5F6D6A",
    edge="#7F8E8B",
    hair="#CBD3D0",
    pencil="#5B36A8",
    on_pencil="#FFFFFF",
    pencil_bg="#ECE6F8",
    fine="#14566B",
    fine_bg="#DDEBF0",
    edgey="#7E5200",
    edgey_bg="#F8EBD0",
    out="#A3163A",
    out_bg="#FBE3E7",
    air="#34557F",
    water="#2B6E93",
    water_bg="#CFE3EE",
    lead="#7A4A12",
    lamp="#E2B83C",
    plant="#5F8A5B",
    plant_bg="#DCE8D8",
    wall="#D3D9D6",
    cover="#8FA09C",
)

DARK = Palette(
    window="#121819",
    panel="#171E1F",
    sheet="#1B2324",
    raised="#232C2D",
    ink="#E8EEEC",
    ink2="#B4C0BD",
    ink3="#98A6A3",
    edge="#7D8B8C",
    hair="#38444A",
    pencil="#BBA2FF",
    on_pencil="#1A1030",
    pencil_bg="#332A4D",
    fine="#8AD9E6",
    fine_bg="#1E383F",
    edgey="#EBBE63",
    edgey_bg="#3B301A",
    out="#FF8C8C",
    out_bg="#43222A",
    air="#9DBBEA",
    water="#83C0E2",
    water_bg="#27475A",
    lead="#DBA567",
    lamp="#F0CB5A",
    plant="#8FB98A",
    plant_bg="#2B3B2B",
    wall="#2F393A",
    cover="#7F918E",
)

# Sizes at a system font of 13 px; nothing is smaller than a drawing's labels.
_BASE = 13.0
SIZES = {"first_run": 24, "title": 15, "text": 13, "second": 12, "drawing": 11}
CONTROL_HEIGHT = 28  # as the stylesheet has it, borders included
_ICONS = Path(__file__).resolve().parent.parent / "resources" / "icons"
CHOICES = ("system", "light", "dark")


def contrast(first: str, second: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2 formula)."""
    lighter, darker = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    def linear(c: float) -> float:
        return c / 12.92 if c <= 0.04045 else float(((c + 0.055) / 1.055) ** 2.4)

    c = QColor(colour)
    return 0.2126 * linear(c.redF()) + 0.7152 * linear(c.greenF()) + 0.0722 * linear(c.blueF())


def high_contrast_palette(system: QPalette) -> Palette:
    """Return a palette made of the system's own colours, where shape and words carry the states."""
    role = QPalette.ColorRole
    ground, text = system.color(role.Window).name(), system.color(role.WindowText).name()
    marked = system.color(role.Highlight).name()
    on_marked = system.color(role.HighlightedText).name()
    grounds = {"window", "panel", "sheet", "raised", "hair", "wall"}
    named = {
        f.name: ground if f.name in grounds or f.name.endswith("_bg") else text
        for f in fields(Palette)
    }
    named |= {"hair": text, "pencil": marked, "on_pencil": on_marked}
    dark = _luminance(ground) < 0.2
    return replace(Palette(**named), lamp=(DARK if dark else LIGHT).lamp)


def wants_high_contrast() -> bool:
    """Return whether the desktop asks for high contrast; Qt tells from 6.10 on."""
    accessibility = getattr(QGuiApplication.styleHints(), "accessibility", None)
    if accessibility is None:
        return False
    return bool(accessibility().contrastPreference() == Qt.ContrastPreference.HighContrast)


def motion_allowed() -> bool:
    """Return whether the desktop lets things glide."""
    style = QApplication.style()
    duration = style.styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration)
    return duration > 0 and QApplication.isEffectEnabled(Qt.UIEffect.UI_General)


def paint_focus_ring(painter: QPainter, rect: QRectF, palette: Palette, radius: float = 5) -> None:
    """Draw the 2 px ring that shows which painted thing has the keyboard, inside ``rect``."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(palette.colour("pencil"), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), radius, radius)
    painter.restore()


class Theme(QObject):
    """The appearance in use, and the one that tells widgets when it changes.

    Attributes
    ----------
    choice : str
        "system", "light" or "dark".
    palette : Palette
        The colours in use.
    text_scale : float
        Size of all text relative to the desktop's; 1 is the desktop's own.

    Signals
    -------
    changed
        Colours or text sizes differ now; whoever paints should do so again.
    """

    changed = Signal()

    def __init__(self, choice: str = "system", text_scale: float = 1.0) -> None:
        super().__init__()
        self.choice = choice
        self.text_scale = text_scale
        self._system_palette = QPalette(QGuiApplication.palette())
        self.palette = self._pick()
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow_system)
        accessibility = getattr(QGuiApplication.styleHints(), "accessibility", None)
        if accessibility is not None:
            accessibility().contrastPreferenceChanged.connect(self._follow_system)

    @property
    def is_dark(self) -> bool:
        """Whether text is lighter than its ground."""
        return _luminance(self.palette.ink) > _luminance(self.palette.sheet)

    def set_choice(self, choice: str) -> None:
        """Follow the "system", or stay "light" or "dark"."""
        self.choice = choice
        self._refresh()

    def set_text_scale(self, scale: float) -> None:
        """Make all text ``scale`` times the desktop's size, 0.8 to 2."""
        self.text_scale = min(2.0, max(0.8, scale))
        self._refresh()

    def colour(self, role: str) -> QColor:
        """Return the colour named ``role`` in the palette in use."""
        return self.palette.colour(role)

    def font(self, role: str = "text", *, bold: bool = False) -> QFont:
        """Return the system's font at the size of ``role`` (see `SIZES`), with tabular figures."""
        font = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
        # A desktop with a smaller font than ours still must not push drawings under 11 px.
        base = max(_BASE, float(QFontInfo(font).pixelSize()))
        font.setPixelSize(round(SIZES[role] * base / _BASE * self.text_scale))
        font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
        font.setFeature(QFont.Tag("tnum"), 1)
        return font

    def dress(
        self, widget: QWidget, size: str = "text", colour: str = "ink", *, bold: bool = False
    ) -> None:
        """Give one widget's text a size (see `SIZES`) and a colour."""
        widget.setFont(self.font(size, bold=bold))
        palette = widget.palette()
        palette.setColor(QPalette.ColorRole.WindowText, self.colour(colour))
        widget.setPalette(palette)

    def apply(self, app: QApplication) -> None:
        """Dress the whole application: style, palette, font and stylesheet."""
        app.setStyle("Fusion")
        app.setPalette(qt_palette(self.palette))
        app.setFont(self.font())
        app.setStyleSheet(stylesheet(self.palette))

    def _pick(self) -> Palette:
        if self.choice == "system" and wants_high_contrast():
            return high_contrast_palette(self._system_palette)
        if self.choice == "system":
            return DARK if self._system_is_dark() else LIGHT
        return DARK if self.choice == "dark" else LIGHT

    def _system_is_dark(self) -> bool:
        scheme = QGuiApplication.styleHints().colorScheme()
        if scheme != Qt.ColorScheme.Unknown:
            return bool(scheme == Qt.ColorScheme.Dark)
        return _luminance(self._system_palette.color(QPalette.ColorRole.Window).name()) < 0.2

    def _follow_system(self) -> None:
        if self.choice == "system":
            self._refresh()

    def _refresh(self) -> None:
        self.palette = self._pick()
        app = QApplication.instance()
        if isinstance(app, QApplication):
            self.apply(app)
        self.changed.emit()


def qt_palette(palette: Palette) -> QPalette:
    """Return Qt's own palette in our colours, for what the stylesheet does not reach."""
    role = QPalette.ColorRole
    roles = {
        role.Window: "panel",
        role.WindowText: "ink",
        role.Base: "raised",
        role.AlternateBase: "panel",
        role.Text: "ink",
        role.PlaceholderText: "ink3",
        role.Button: "raised",
        role.ButtonText: "ink",
        role.BrightText: "on_pencil",
        role.ToolTipBase: "raised",
        role.ToolTipText: "ink",
        role.Highlight: "pencil",
        role.HighlightedText: "on_pencil",
        role.Link: "pencil",
        role.LinkVisited: "pencil",
        role.Light: "raised",
        role.Midlight: "hair",
        role.Mid: "hair",
        role.Dark: "edge",
        role.Shadow: "edge",
    }
    made = QPalette()
    for which, name in roles.items():
        made.setColor(which, palette.colour(name))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, palette.colour("ink3"))
    return made


def stylesheet(palette: Palette) -> str:
    """Return the application's stylesheet: flat, one-pixel edges, no shadows, no gradients."""
    side = "dark" if _luminance(palette.ink) > _luminance(palette.sheet) else "light"
    sheet = _STYLE.replace("@folder", _ICONS.as_posix()).replace("@side", side)
    # Longest names first, so that "ink" does not eat the head of "ink2".
    for name in sorted((f.name for f in fields(palette)), key=len, reverse=True):
        sheet = sheet.replace("@" + name, getattr(palette, name))
    return sheet


# Widgets choose a role by a dynamic property: primary, link, quiet.
_STYLE = """
QMenuBar { background: @window; border-bottom: 1px solid @hair; min-height: 27px; }
QMenuBar::item { padding: 5px 10px; background: transparent; }
QMenuBar::item:selected { background: @pencil_bg; color: @ink; }
QMenu { background: @raised; border: 1px solid @edge; padding: 4px 0; }
QMenu::item { padding: 5px 24px 5px 16px; }
QMenu::item:selected { background: @pencil_bg; color: @ink; }
QMenu::item:disabled { color: @ink3; }
QMenu::separator { height: 1px; background: @hair; margin: 4px 0; }
QToolTip { background: @raised; color: @ink; border: 1px solid @edge; padding: 3px 6px; }
QStatusBar { background: @panel; border-top: 1px solid @hair; }
QStatusBar::item { border: 0; }
QPushButton, QComboBox, QToolButton {
  background: @raised; color: @ink; border: 1px solid @edge; border-radius: 5px;
  min-height: 24px; padding: 0 14px; }
QToolButton { padding: 0 8px; }
QPushButton:hover, QComboBox:hover, QToolButton:hover { border-color: @pencil; }
QPushButton:pressed, QToolButton:pressed { background: @pencil_bg; }
QPushButton:checked, QToolButton:checked {
  background: @pencil_bg; color: @pencil; border: 2px solid @pencil; }
QPushButton:focus, QComboBox:focus, QToolButton:focus { border: 2px solid @pencil; }
QPushButton:disabled, QComboBox:disabled, QToolButton:disabled {
  background: transparent; color: @ink3; border-color: @hair; }
QPushButton[role="primary"] {
  background: @pencil; color: @on_pencil; border-color: @pencil; font-weight: 600; }
QPushButton[role="primary"]:focus { border: 2px solid @ink; }
QPushButton[role="primary"]:disabled {
  background: transparent; color: @ink3; border-color: @hair; }
QPushButton[role="link"] {
  background: transparent; color: @pencil; border: 0; padding: 0 2px; min-height: 18px;
  text-align: left; text-decoration: underline; }
QPushButton[role="link"]:focus { border: 2px solid @pencil; }
QToolButton[role="quiet"], QComboBox[role="quiet"] {
  background: transparent; border: 1px solid transparent; padding: 0 2px; }
QToolButton[role="quiet"]:focus { border: 2px solid @pencil; }
QToolButton::menu-indicator { image: none; }
QLineEdit, QPlainTextEdit {
  background: @raised; color: @ink; border: 1px solid @edge; border-radius: 4px;
  padding: 0 8px; selection-background-color: @pencil; selection-color: @on_pencil; }
QLineEdit { min-height: 26px; max-height: 26px; }
QLineEdit:focus, QPlainTextEdit:focus { border: 2px solid @pencil; padding: 0 7px; }
QLineEdit:focus { min-height: 24px; max-height: 24px; }
QLineEdit > QToolButton { background: transparent; border: 0; min-height: 0; padding: 0; }
QLineEdit[state="taken"] { color: @ink2; }
QLineEdit[state="wrong"] { border: 2px solid @out; padding: 0 7px; }
QLineEdit[state="wrong"] { min-height: 24px; max-height: 24px; }
QLineEdit:disabled { background: @panel; color: @ink3; border-color: @hair; }
QComboBox { padding: 0 10px; border-radius: 4px; }
QComboBox[role="field"] { min-height: 26px; max-height: 26px; }
QComboBox[role="field"]:focus { min-height: 24px; max-height: 24px; padding: 0 9px; }
QComboBox::drop-down { border: 0; width: 22px; }
QComboBox::down-arrow { image: url("@folder/chevron-on-@side.svg"); width: 12px; height: 12px; }
QComboBox QAbstractItemView {
  background: @raised; color: @ink; border: 1px solid @edge;
  selection-background-color: @pencil_bg; selection-color: @ink; }
QTabBar { background: @window; }
QTabBar::tab {
  background: transparent; color: @ink2; border: 0; border-bottom: 3px solid transparent;
  padding: 7px 15px 5px 15px; }
QTabBar::tab:selected { color: @ink; border-bottom-color: @pencil; font-weight: 600; }
QTabBar::tab:focus { color: @pencil; }
QTabWidget::pane { border: 0; border-top: 1px solid @hair; }
QScrollArea { border: 0; background: transparent; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }
QScrollBar::handle { background: @edge; border-radius: 3px; margin: 2px; }
QScrollBar::handle:vertical { min-height: 24px; }
QScrollBar::handle:horizontal { min-width: 24px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QSplitter::handle { background: @hair; }
QSplitter::handle:hover { background: @pencil; }
QSplitter::handle:horizontal { width: 1px; }
QSplitter::handle:vertical { height: 1px; }
QProgressBar { background: @raised; border: 1px solid @edge; border-radius: 3px;
  min-height: 5px; max-height: 5px; }
QProgressBar::chunk { background: @pencil; border-radius: 2px; }
QCheckBox { spacing: 8px; min-height: 28px; }
QCheckBox:focus { color: @pencil; }
QCheckBox::indicator {
  width: 14px; height: 14px; background: @raised; border: 1px solid @edge; border-radius: 3px; }
QCheckBox::indicator:checked {
  background: @pencil; border-color: @pencil; image: url("@folder/tick-on-@side.svg"); }
QCheckBox::indicator:focus { border: 2px solid @pencil; width: 12px; height: 12px; }
QCheckBox::indicator:disabled { border-color: @hair; background: transparent; }
"""
