"""Writes a summary as PDF: pages, running heads, tables that go over several pages.

What it says is gathered in `core.summary.describe`; single marks are painted by `pdf_items`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    KeepTogether,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
    Spacer,
)
from reportlab.platypus import Paragraph as Lines
from reportlab.platypus import Table as Grid

from core.drawing.ink import PAPER
from core.drawing.paper import PX, Item
from core.language import tr
from core.states import State
from core.summary.blocks import (
    Advice,
    Block,
    Cell,
    MarkCell,
    Paragraph,
    Picture,
    Section,
    Styled,
    Summary,
    Table,
    VialCell,
)
from core.summary.pdf_items import BOLD, REGULAR, paint, register_fonts
from core.summary.pdf_tags import ARTIFACT, CLOSING, Tag, opening, write_tree
from core.summary.sheet import FOOT, HEAD, MARGIN
from core.summary.typesetting import bound
from core.summary.vial_items import MARK, SIZE, SMALL, mark_items, vial_items

_FIRST_HEAD = 22.5
"""How far below the first page's edge text begins. [mm]"""
_LEAST_BELOW_HEADING, _LEAST_OF_PAGE = 32.0, 215.0
"""A section starts a new page where less is left; the second for those that ask for one. [mm]"""
_BODY, _SMALL, _LEADING = 8.6, 8.0, 11.0
PLAIN = Tag("P")


class Drawn(Flowable):  # type: ignore[misc]
    """Drawing items as one piece of the page, with what they are for who cannot see it. [mm]"""

    def __init__(self, items: Iterable[Item], width: float, height: float, tag: Tag) -> None:
        super().__init__()
        self.items = tuple(items)
        self.width, self.height = width * mm, height * mm
        self.tag = tag

    def draw(self) -> None:
        """Paint the items with their origin at the piece's top left corner."""
        with self.canv.tagged(self.tag):
            paint(self.canv, self.items, 0, self.height)


class Text(Lines):  # type: ignore[misc]
    """A paragraph that says what it is; what is drawn again on a later page is decoration."""

    def __init__(self, *given: Any, tag: Tag = PLAIN, **named: Any) -> None:
        super().__init__(*given, **named)
        self.tag = tag
        self.drawn = False

    def draw(self) -> None:
        """Draw the lines between the marks of their tag."""
        with self.canv.tagged(None if self.drawn else self.tag):
            super().draw()
        self.drawn = True


class Bookmark(Flowable):  # type: ignore[misc]
    """A place without size that the document's outline leads to."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self.title = title
        self.width = self.height = 0.0

    def draw(self) -> None:
        """Tell the canvas that this page has the place."""
        self.canv.mark(self.title)


class _Pages(Canvas):  # type: ignore[misc]
    """A canvas that knows how many pages there are before it writes the first."""

    def __init__(self, *given: Any, summary: Summary, **named: Any) -> None:
        super().__init__(*given, **named)
        self._summary = summary
        self._kept: list[dict[str, Any]] = []
        self._marks: list[str] = []
        self._tags = [Tag("H1")]  # the title, which is drawn with the page's furniture

    @contextmanager
    def tagged(self, tag: Tag | None) -> Iterator[None]:
        """Mark what is drawn meanwhile as a piece of its own; None: as decoration."""
        if tag is not None:
            self._tags.append(tag)
        self._code.append(opening(tag, len(self._tags) - 1) if tag else ARTIFACT)
        yield
        self._code.append(CLOSING)

    @contextmanager
    def titled(self) -> Iterator[None]:
        """Mark what is drawn meanwhile as the document's title."""
        self._code.append(opening(self._tags[0], 0))
        yield
        self._code.append(CLOSING)

    def mark(self, title: str) -> None:
        """Let the document's outline lead to this page under a title."""
        self._marks.append(title)

    def showPage(self) -> None:
        """Keep the page until all are known."""
        self._kept.append(dict(self.__dict__))
        self._marks, self._tags = [], []
        self._startPage()

    def save(self) -> None:
        """Write all pages with their heads and feet."""
        self.setViewerPreference("DisplayDocTitle", "true")
        for number, page in enumerate(self._kept, start=1):
            self.__dict__.update(page)
            for title in self._marks:
                self.bookmarkPage(title)
                self.addOutlineEntry(title, title, 0)
            _furniture(self, self._summary, number, len(self._kept))
            super().showPage()
        write_tree(self._doc, [page["_tags"] for page in self._kept])
        super().save()


def _furniture(canvas: _Pages, summary: Summary, number: int, count: int) -> None:
    """Draw what stands at the head and foot of each page."""
    size, rise = (17, 8.6) if number == 1 else (10, 2.5)
    left, right = MARGIN * mm, (summary.paper.width - MARGIN) * mm
    line = summary.paper.height * mm - (HEAD - 3 if number > 1 else _FIRST_HEAD - 2) * mm
    title = _shortened(canvas, summary.title, BOLD, size, right - left - 45 * mm)
    with canvas.titled() if number == 1 else canvas.tagged(None):
        _type(canvas, BOLD, size, "ink")
        canvas.drawString(left, line + rise * mm, title)
    with canvas.tagged(None):
        _type(canvas, REGULAR, 8.6, "ink2")
        pages = tr("Page {number} of {count}").format(number=number, count=count)
        canvas.drawRightString(right, line + rise * mm, pages)
        if number == 1:
            canvas.drawString(left, line + 3 * mm, summary.subtitle)
            canvas.drawRightString(right, line + 3 * mm, summary.stamp)
        canvas.setStrokeColor(PAPER["ink" if number == 1 else "hair"])
        canvas.setLineWidth(1.2 if number == 1 else 0.8)
        canvas.line(left, line, right, line)
        _type(canvas, REGULAR, 7.6, "ink2")
        canvas.drawString(left, 9 * mm, summary.footer)


def _type(canvas: Canvas, font: str, size: float, role: str) -> None:
    canvas.setFont(font, size)
    canvas.setFillColor(PAPER[role])


def _shortened(canvas: Canvas, text: str, font: str, size: float, room: float) -> str:
    """Return a text cut with an ellipsis to the width there is. [pt]"""
    if canvas.stringWidth(text, font, size) <= room:
        return text
    while text and canvas.stringWidth(f"{text}…", font, size) > room:
        text = text[:-1]
    return f"{text.rstrip()}…"


def pdf_bytes(summary: Summary) -> bytes:
    """Return the summary as a PDF; the same summary gives the same bytes."""
    register_fonts()
    width, height = summary.paper.width, summary.paper.height
    buffer = BytesIO()
    document = BaseDocTemplate(
        buffer,
        pagesize=(width * mm, height * mm),
        invariant=1,
        lang=summary.language,
        title=summary.title,
        subject=summary.subtitle,
        author=tr("Made with Fernwright"),
        creator="Fernwright",
    )
    document.addPageTemplates(
        [
            PageTemplate("first", [_frame(width, height, _FIRST_HEAD)]),
            PageTemplate("later", [_frame(width, height, HEAD)]),
        ]
    )
    room = width - 2 * MARGIN
    story: list[Flowable] = [NextPageTemplate("later")]
    for section in summary.sections:
        story += _section(section, room)

    def pages(*given: Any, **named: Any) -> _Pages:
        return _Pages(*given, summary=summary, **named)

    document.build(story, canvasmaker=pages)
    return buffer.getvalue()


def _frame(width: float, height: float, head: float) -> Frame:
    return Frame(
        MARGIN * mm,
        FOOT * mm,
        (width - 2 * MARGIN) * mm,
        (height - head - FOOT) * mm,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )


def style(role: str = "ink", *, bold: bool = False, size: float = _BODY, **more: Any) -> Any:
    """Return a paragraph style in the paper's own typeface."""
    return ParagraphStyle(
        "text",
        fontName=BOLD if bold else REGULAR,
        fontSize=size,
        leading=size * _LEADING / _BODY,
        textColor=PAPER[role],
        **more,
    )


def _words(text: str) -> str:
    """Return a text as reportlab's paragraphs take it."""
    return escape(bound(text))


def _section(section: Section, room: float) -> list[Flowable]:
    least = _LEAST_OF_PAGE if section.new_page else _LEAST_BELOW_HEADING
    start = PageBreak() if section.own_page else CondPageBreak(least * mm)
    body = [piece for block in section.blocks for piece in _block(block, room)]
    mark = Bookmark(section.title)
    if section.bare:
        return [start, mark, *body]
    head = [mark, _heading(section, room)]
    if isinstance(section.blocks[0], Picture):
        # A heading stays with its drawing, however high that is.
        head, body = [KeepTogether([*head, body[0]])], body[1:]
    return [start, *head, *body, Spacer(0, 4.5 * mm)]


def _heading(section: Section, room: float) -> Flowable:
    title = Text(escape(section.title), style(bold=True, size=10.5), tag=Tag("H2"))
    aside = Text(escape(section.aside), style("ink2", alignment=2))
    grid = Grid([[title, aside]], colWidths=[room * 0.5 * mm, room * 0.5 * mm])
    grid.setStyle(
        [
            *_padding(0, 1.2),
            ("LINEBELOW", (0, 0), (-1, -1), 0.9, PAPER["ink"]),
            ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
        ]
    )
    return grid


def _padding(side: float, height: float) -> list[tuple[Any, ...]]:
    everywhere = ((0, 0), (-1, -1))
    return [
        ("LEFTPADDING", *everywhere, side),
        ("RIGHTPADDING", *everywhere, 5),
        ("TOPPADDING", *everywhere, height),
        ("BOTTOMPADDING", *everywhere, height * 1.5),
    ]


def _block(block: Block, room: float) -> list[Flowable]:
    if isinstance(block, Table):
        return [_grid(block, room), Spacer(0, 1.5 * mm)]
    if isinstance(block, Paragraph):
        tag = Tag("H3") if block.bold else PLAIN
        return [Text(_words(block.text), _paragraph_style(block), tag=tag)]
    if isinstance(block, Advice):
        return [_advice(block, room)]
    tag = Tag("Figure", block.title)
    return [Drawn(block.items, block.width, block.height, tag), Spacer(0, 2 * mm)]


def _paragraph_style(block: Paragraph) -> Any:
    """Return the style of a small heading, which stays with what follows, or of plain text."""
    if block.bold:
        space = {"spaceBefore": 5, "spaceAfter": 1.5, "keepWithNext": 1}
        return style(block.role, bold=True, **space)
    return style(block.role, size=_SMALL, spaceBefore=1.5, spaceAfter=1.5)


def _advice(item: Advice, room: float) -> Flowable:
    mark = _mark(item.state, Tag("Figure", item.spoken))
    words = [
        Text(_words(item.title), style(bold=True)),
        Text(_words(item.detail), style("ink2")),
    ]
    if item.remedy:
        words.append(Text(_words(item.remedy), style("pencil", bold=True)))
    grid = Grid([[mark, words]], colWidths=[7 * mm, (room - 7) * mm])
    grid.setStyle(
        [
            *_padding(0, 2.2),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEBELOW", (0, 0), (-1, -1), 0.5, PAPER["hair"]),
        ]
    )
    return KeepTogether([grid])


def _grid(table: Table, room: float) -> Flowable:
    widths = [share * room * mm for share in table.widths]
    headed = any(table.heads)
    rows: list[list[Any]] = []
    spans: list[tuple[Any, ...]] = []
    if headed:
        key = (id(table), 0)
        rows.append([_head(text, k in table.right, key) for k, text in enumerate(table.heads)])
    small = len(table.widths) > 4
    for row in table.rows:
        if len(row) == 1:
            spans.append(("SPAN", (0, len(rows)), (-1, len(rows))))
            row = tuple(Styled(cell, bold=True) if isinstance(cell, str) else cell for cell in row)
        key = (id(table), len(rows))
        cells = [_cell(cell, k in table.right, small, key) for k, cell in enumerate(row)]
        rows.append(cells + [""] * (len(widths) - len(cells)))
    grid = Grid(rows, colWidths=widths, repeatRows=int(headed))
    lines = [("LINEBELOW", (0, 0), (-1, -1), 0.5, PAPER["hair"])]
    middle = [("VALIGN", (0, 0), (-1, -1), "MIDDLE")]
    grid.setStyle([*_padding(0, 1.4), *lines, *middle, *spans])
    return grid


def _head(text: str, right: bool, row: tuple[int, int]) -> Flowable:
    look = style("ink2", size=7.8, alignment=2 if right else 0)
    return Text(escape(text), look, tag=Tag("TH", row=row))


def _cell(cell: Cell, right: bool, small: bool, row: tuple[int, int]) -> Any:
    alignment = 2 if right else 0
    tag = Tag("TD", row=row)
    if isinstance(cell, str):
        return Text(_words(cell), style(alignment=alignment), tag=tag) if cell else ""
    if isinstance(cell, Styled):
        look = style(cell.role, bold=cell.bold, alignment=alignment)
        return Text(_words(cell.text), look, tag=tag)
    if isinstance(cell, MarkCell):
        return _mark(cell.state, Tag("TD", cell.spoken, row))
    return _vial(cell, SMALL if small else SIZE, Tag("TD", cell.spoken, row))


def _mark(state: State, tag: Tag) -> Drawn:
    return Drawn(mark_items(state), MARK * PX, MARK * PX, tag)


def _vial(cell: VialCell, size: tuple[float, float], tag: Tag) -> Drawn:
    return Drawn(vial_items(cell, size), size[0] * PX, size[1] * PX, tag)
