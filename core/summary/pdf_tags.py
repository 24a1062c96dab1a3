"""Says in a PDF what each piece of a page is, for who has it read aloud: heading, cell, drawing.

Written by hand into the file, since reportlab knows no tags (ISO 32000-1, 14.7 and 14.8); how the
pieces look is in `core.summary.pdf`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Any

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFName,
    PDFObjectReference,
    PDFString,
)

_ROOT, _DOCUMENT, _PARENTS = "Tags", "TagsDocument", "TagsParents"


@dataclass(frozen=True)
class Tag:
    """What a piece is: ``H1``, ``H2``, ``P``, ``TH``, ``TD`` or ``Figure``.

    ``alt`` says in words what is drawn; ``row`` names the table and the row of a cell.
    """

    kind: str
    alt: str = ""
    row: tuple[int, int] | None = None


def opening(tag: Tag, number: int) -> str:
    """Return what stands in a page's stream before the piece of this number on the page."""
    return f"/{tag.kind} <</MCID {number}>> BDC"


ARTIFACT, CLOSING = "/Artifact BMC", "EMC"
"""What stands before decoration that nobody has to hear, and after every piece."""


def write_tree(document: Any, pages: Sequence[Sequence[Tag]]) -> None:
    """Put the tree of all tagged pieces into reportlab's document, page by page."""
    tree = _Tree(document, pages)
    tree.write()
    catalog = document.Catalog
    catalog.MarkInfo = PDFDictionary({"Marked": "true"})
    catalog.StructTreeRoot = PDFObjectReference(_ROOT)
    for number, page in enumerate(document.Pages.pages):
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents"]
        page.StructParents = number


class _Tree:
    """The elements of the tree by name, as they are made."""

    def __init__(self, document: Any, pages: Sequence[Sequence[Tag]]) -> None:
        self._document = document
        self._pages = pages
        self._names = (f"Tag{number}" for number in count())
        self._leaves: list[list[str]] = [[] for _ in pages]

    def write(self) -> None:
        children = [*self._top()]
        document = {"S": PDFName("Document"), "P": PDFObjectReference(_ROOT)}
        self._put(_DOCUMENT, {**document, "K": _references(children)})
        numbers: list[Any] = []
        for page, names in enumerate(self._leaves):
            numbers += [page, _references(names)]
        self._document.Reference(PDFDictionary({"Nums": PDFArray(numbers)}), _PARENTS)
        root = {
            "Type": PDFName("StructTreeRoot"),
            "K": PDFObjectReference(_DOCUMENT),
            "ParentTree": PDFObjectReference(_PARENTS),
            "ParentTreeNextKey": len(self._pages),
        }
        self._document.Reference(PDFDictionary(root), _ROOT)

    def _put(self, name: str, entries: dict[str, Any]) -> None:
        entries = {"Type": PDFName("StructElem"), **entries}
        self._document.Reference(PDFDictionary(entries), name)

    def _top(self) -> Iterator[str]:
        """Yield the names of the document's children, tables being one each."""
        table: dict[tuple[int, int], list[str]] = {}
        holder = rows = ""
        for page, tags in enumerate(self._pages):
            for number, tag in enumerate(tags):
                if tag.row is None:
                    self._close(holder, table)
                    table, holder = {}, ""
                    yield self._leaf(tag, _DOCUMENT, page, number)
                    continue
                if next(iter(table), tag.row)[0] != tag.row[0]:
                    self._close(holder, table)
                    table, holder = {}, ""
                if not holder:
                    holder = next(self._names)
                    yield holder
                rows = f"{holder}Row{tag.row[1]}"
                table.setdefault(tag.row, []).append(self._leaf(tag, rows, page, number))
        self._close(holder, table)

    def _close(self, holder: str, table: dict[tuple[int, int], list[str]]) -> None:
        """Write a table with its rows, once all its cells are there."""
        if not holder:
            return
        names = [f"{holder}Row{row}" for _, row in table]
        parent = PDFObjectReference(_DOCUMENT)
        self._put(holder, {"S": PDFName("Table"), "P": parent, "K": _references(names)})
        for name, cells in zip(names, table.values(), strict=True):
            row = {"S": PDFName("TR"), "P": PDFObjectReference(holder)}
            self._put(name, {**row, "K": _references(cells)})

    def _leaf(self, tag: Tag, parent: str, page: int, number: int) -> str:
        name = next(self._names)
        entries: dict[str, Any] = {
            "S": PDFName(tag.kind),
            "P": PDFObjectReference(parent),
            "Pg": PDFObjectReference(f"Page{page + 1}"),
            "K": number,
        }
        if tag.alt:
            entries["Alt"] = PDFString(tag.alt)
        self._put(name, entries)
        self._leaves[page].append(name)
        return name


def _references(names: Sequence[str]) -> PDFArray:
    return PDFArray([PDFObjectReference(name) for name in names])
