"""The vial: two lines for what is wanted, a bubble as long as the reading is unsure; and the marks.

The state comes from `core.states`; how a reading is worded beyond its state, from whoever shows it.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QVariantAnimation, Slot
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from core.drawing.vial import OUTLINE, POINT, PROUD, TOWARDS_LOW, VialShape, mark_kind, vial_shape
from core.language import tr
from core.states import LIKELY_OUT, OUT, State, judge
from gui.theme import Palette, Theme, motion_allowed, state_role

READING_SIZE = (92, 12)
LEVEL_SIZE = (56, 11)
SLIDE_MS = 120


def spoken(name: str, words: str, numbers: str = "") -> str:
    """Return what an assistive tool says of a reading: "Light, too strong: 184 at level 4"."""
    head = ", ".join(part for part in (name, words) if part)
    return f"{head}: {numbers}" if numbers else head


def paint_vial(
    painter: QPainter, rect: QRectF, shape: VialShape, state: State, palette: Palette
) -> None:
    """Draw a vial in ``rect``; its lines stand 2 px proud above and below."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    _paint_glass(painter, rect.width(), rect.height(), shape, state, palette)
    if shape.bubble is not None:
        _paint_bubble(painter, shape.bubble, rect.height() / 2, shape.bubble_height, state, palette)
    painter.setPen(QPen(palette.colour("ink"), 1.5, c=Qt.PenCapStyle.FlatCap))
    for x in shape.lines if state is not State.UNKNOWN else ():
        painter.drawLine(QPointF(x, -PROUD), QPointF(x, rect.height() + PROUD))
    painter.restore()


def _paint_glass(
    painter: QPainter, width: float, height: float, shape: VialShape, state: State, palette: Palette
) -> None:
    pen = QPen(palette.colour("edge"), 1)
    glass = QPainterPath()
    glass.addRoundedRect(QRectF(0.5, 0.5, width - 1, height - 1), height / 2, height / 2)
    if state is State.UNKNOWN:
        pen.setDashPattern([1.5, 2.0])
        painter.strokePath(glass, pen)
        return
    painter.fillPath(glass, palette.colour("raised"))
    if shape.lines:
        left, right = shape.wanted
        stretch = QPainterPath()
        stretch.addRect(QRectF(left, 0, right - left, height))
        painter.fillPath(glass.intersected(stretch), palette.colour("fine_bg"))
    painter.strokePath(glass, pen)


def _paint_bubble(
    painter: QPainter,
    bubble: tuple[float, float],
    middle: float,
    thickness: float,
    state: State,
    palette: Palette,
) -> None:
    role = state_role(state)
    width = OUTLINE.get(state, 0.0)
    start, end = bubble
    box = QRectF(start, middle - thickness / 2, end - start, thickness)
    box.adjust(width / 2, width / 2, -width / 2, -width / 2)
    solid = state is State.FINE or state in OUT
    painter.setPen(Qt.PenStyle.NoPen if solid else QPen(palette.colour(role), width))
    painter.setBrush(palette.colour(role if solid else f"{role}_bg"))
    if state in OUT or state in LIKELY_OUT:
        painter.drawPolygon(_pointed(box, left=state in TOWARDS_LOW))
    else:
        painter.drawRoundedRect(box, box.height() / 2, box.height() / 2)


def _pointed(box: QRectF, *, left: bool) -> QPolygonF:
    """Return a box with a point at one end, pointing the way a reading errs."""
    point = min(box.height() * POINT, box.width())
    tip = QPointF(box.left() if left else box.right(), box.center().y())
    shoulder = box.left() + point if left else box.right() - point
    back = box.right() if left else box.left()
    return QPolygonF(
        [
            QPointF(back, box.top()),
            QPointF(shoulder, box.top()),
            tip,
            QPointF(shoulder, box.bottom()),
            QPointF(back, box.bottom()),
        ]
    )


def paint_mark(painter: QPainter, rect: QRectF, state: State, palette: Palette) -> None:
    """Draw the mark that stands for ``state`` in lists, in the middle of ``rect`` (about 14 px)."""
    size = min(rect.width(), rect.height())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.center())
    painter.scale(size / 14, size / 14)
    role = state_role(state)
    pen = QPen(palette.colour(role), 1.7)
    kind = mark_kind(state)
    solid = kind.startswith("solid")
    painter.setPen(Qt.PenStyle.NoPen if solid else pen)
    painter.setBrush(palette.colour(role) if solid else _hollow(palette, role))
    _paint_mark_shape(painter, kind, pen)
    painter.restore()


def _hollow(palette: Palette, role: str) -> QColor:
    if role == "edge":
        return QColor(Qt.GlobalColor.transparent)
    return palette.colour(f"{role}_bg")


def _paint_mark_shape(painter: QPainter, kind: str, pen: QPen) -> None:
    if "point" in kind:
        grow = 0.5 if kind.startswith("solid") else 0.0
        box = QRectF(-5 - grow, -4 - grow, 10.5 + 2 * grow, 8 + 2 * grow)
        painter.drawPolygon(_pointed(box, left=kind.endswith("left")))
    elif "square" in kind:
        painter.drawRoundedRect(QRectF(-4.5, -4.5, 9, 9), 2, 2)
        painter.drawLine(QPointF(-2, 0), QPointF(2, 0))
    elif kind == "dotted round":
        pen.setDashPattern([1.0, 1.2])
        painter.setPen(pen)
        painter.drawEllipse(QPointF(0, 0), 4.5, 4.5)
    else:
        radius = 3.0 if kind == "small ring" else 4.5
        painter.drawEllipse(QPointF(0, 0), radius, radius)
    if kind.endswith("with line"):
        painter.drawLine(QPointF(0, -6.5), QPointF(0, 6.5))


class Vial(QWidget):
    """A small spirit level for one reading.

    Attributes
    ----------
    state : State
        What is drawn; "not known yet" until `show_reading` is called.
    """

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, *, size: tuple[int, int] = READING_SIZE
    ) -> None:
        super().__init__(parent)
        self.state = State.UNKNOWN
        self._theme = theme
        self._size = size
        self._numbers: tuple[float | None, ...] = (None,) * 5
        self._shown: tuple[float, float] | None = None
        self._slide = QVariantAnimation(self, duration=SLIDE_MS, startValue=0.0, endValue=1.0)
        self._slide.valueChanged.connect(self._slid)
        self._from: tuple[float, float] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        theme.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return the vial's size with room for the lines that stand proud."""
        width, height = self._size
        return QSize(width, height + 2 * round(PROUD))

    def set_size(self, size: tuple[int, int]) -> None:
        """Give the vial another size, as narrow windows need."""
        self._size = size
        self._slide.stop()
        shape = self.shape_now()
        self._shown = shape.bubble
        self.updateGeometry()
        self.update()

    def show_reading(
        self,
        value: float | None,
        low: float | None = None,
        high: float | None = None,
        want_low: float | None = None,
        want_high: float | None = None,
        *,
        state: State | None = None,
        name: str = "",
        words: str = "",
        numbers: str = "",
    ) -> None:
        """Show a reading, sliding the bubble from where it stood.

        Parameters
        ----------
        value, low, high, want_low, want_high : float or None
            As `core.states.judge` takes them.
        state : State, optional
            The reading's own state where more than its numbers decided it ("uneven").
        name, words, numbers : str
            What an assistive tool says: subject, state in words, numbers with their units.
        """
        self._numbers = (value, low, high, want_low, want_high)
        self.state = judge(*self._numbers) if state is None else state
        self.setAccessibleName(spoken(name or tr("Reading"), words, numbers))
        self._slide_to(self.shape_now().bubble)

    def shape_now(self) -> VialShape:
        """Return where lines and bubble belong, whatever slides at the moment."""
        return vial_shape(*self._size, *self._numbers)

    def _slide_to(self, bubble: tuple[float, float] | None) -> None:
        self._slide.stop()
        self._from = self._shown
        if bubble is None or self._from is None or not self.isVisible() or not motion_allowed():
            self._shown = bubble
            self.update()
            return
        self._slide.start()

    @Slot(object)
    def _slid(self, share: float) -> None:
        goal = self.shape_now().bubble
        if goal is None or self._from is None:
            return
        left, right = (a + (b - a) * share for a, b in zip(self._from, goal, strict=True))
        self._shown = (left, right)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the vial with its bubble where it has slid to."""
        shape = self.shape_now()
        drawn = VialShape(shape.wanted, shape.lines, self._shown, shape.bubble_height)
        width, height = self._size
        painter = QPainter(self)
        painter.setOpacity(1.0 if self.isEnabled() else 0.5)
        rect = QRectF(0, (self.height() - height) / 2, width, height)
        paint_vial(painter, rect, drawn, self.state, self._theme.palette)
