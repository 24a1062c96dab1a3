"""Writes a summary as one HTML page that needs nothing else: no script, no file, no net.

What it says is gathered in `core.summary.describe`.
"""

from __future__ import annotations

from html import escape
from itertools import count

from core.drawing.ink import PAPER
from core.drawing.paper import PX
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
from core.summary.svg import FONTS, svg
from core.summary.typesetting import bound
from core.summary.vial_items import MARK, SIZE, SMALL, mark_items, vial_items

_STYLE = """
:root { color-scheme: light; }
body { margin: 0 auto; padding: 24px 16px; max-width: 960px; background: #fff; color: %(ink)s;
  font: 14px/1.45 %(fonts)s; font-variant-numeric: tabular-nums; }
header { display: flex; flex-wrap: wrap; justify-content: space-between; gap: 0 16px;
  border-bottom: 2px solid %(ink)s; padding-bottom: 8px; }
h1 { font-size: 26px; line-height: 1.2; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 17px; margin: 28px 0 0; padding-bottom: 4px; border-bottom: 1.5px solid %(ink)s; }
h2 small { float: right; font-weight: normal; font-size: 12px; color: %(ink2)s; }
h3 { font-size: 14px; margin: 16px 0 0; }
p { margin: 6px 0; }
table { width: 100%%; border-collapse: collapse; }
th, td { text-align: left; padding: 4px 8px 4px 0; border-bottom: 1px solid %(hair)s;
  vertical-align: middle; overflow-wrap: anywhere; }
thead th { font-weight: normal; font-size: 12px; color: %(ink2)s; }
.right { text-align: right; }
.ink2 { color: %(ink2)s; } .fine { color: %(fine)s; } .edgey { color: %(edgey)s; }
.out { color: %(out)s; } .edge { color: %(ink2)s; } .pencil { color: %(pencil)s; }
svg { display: block; overflow: visible; }
figure { margin: 12px 0; } figure svg { width: 100%%; height: auto; }
ul { list-style: none; margin: 0; padding: 0; }
li { display: flex; gap: 12px; padding: 8px 0; border-bottom: 1px solid %(hair)s; }
li svg { flex: none; margin-top: 3px; } li p { margin: 0; }
footer { margin-top: 32px; font-size: 12px; color: %(ink2)s; }
@media print { body { padding: 0; max-width: none; font-size: 9pt; }
  h2 { break-after: avoid; } tr, li, figure { break-inside: avoid; }
  @page { size: %(page)s; margin: 14mm; } }
"""


def html_text(summary: Summary) -> str:
    """Return the summary as the text of one HTML page."""
    page = summary.paper.name
    style = _STYLE % {**PAPER, "fonts": FONTS, "page": page}
    body = "".join(_section(section, number) for number, section in enumerate(summary.sections))
    title = escape(summary.title)
    return (
        f'<!DOCTYPE html>\n<html lang="{escape(summary.language)}">\n<head>\n'
        f'<meta charset="utf-8">\n<title>{title}</title>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta name="generator" content="Fernwright">\n<style>{style}</style>\n</head>\n<body>\n'
        f'<header><div><h1>{title}</h1><p class="ink2">{escape(summary.subtitle)}</p></div>'
        f'<p class="ink2">{escape(summary.stamp)}</p></header>\n<main>\n{body}</main>\n'
        f"<footer>{escape(summary.footer)}</footer>\n</body>\n</html>\n"
    )


def _words(text: str) -> str:
    return escape(bound(text))


def _section(section: Section, number: int) -> str:
    aside = f"<small>{escape(section.aside)}</small>" if section.aside else ""
    names = (f"s{number}-{k}" for k in count())
    blocks = list(section.blocks)
    body = ""
    if blocks and all(isinstance(block, Advice) for block in blocks):
        body = f"<ul>{''.join(_advice(b) for b in blocks if isinstance(b, Advice))}</ul>\n"
    else:
        body = "".join(_block(block, next(names)) for block in blocks)
    return f"<section><h2>{escape(section.title)}{aside}</h2>\n{body}</section>\n"


def _block(block: Block, name: str) -> str:
    if isinstance(block, Table):
        return _table(block)
    if isinstance(block, Paragraph):
        kind = "h3" if block.bold else "p"
        return f'<{kind} class="{block.role}">{_words(block.text)}</{kind}>\n'
    if isinstance(block, Picture):
        return f"<figure>{_picture(block, name)}</figure>\n"
    return f"<ul>{_advice(block)}</ul>\n"


def _picture(block: Picture, name: str) -> str:
    return svg(block.items, block.width, block.height, block.title, name)


def _advice(item: Advice) -> str:
    side = MARK * PX
    remedy = f'<p class="pencil"><b>{_words(item.remedy)}</b></p>' if item.remedy else ""
    return (
        f"<li>{svg(mark_items(item.state), side, side, item.spoken)}"
        f'<div><p><b>{_words(item.title)}</b></p><p class="ink2">{_words(item.detail)}</p>'
        f"{remedy}</div></li>"
    )


def _table(table: Table) -> str:
    head = ""
    if any(table.heads):
        cells = "".join(_head(text, k in table.right) for k, text in enumerate(table.heads))
        head = f"<thead><tr>{cells}</tr></thead>"
    small = len(table.widths) > 4
    rows = "".join(_row(row, table, small) for row in table.rows)
    return f"<table>{head}<tbody>{rows}</tbody></table>\n"


def _head(text: str, right: bool) -> str:
    kind = ' class="right"' if right else ""
    return f'<th scope="col"{kind}>{escape(text)}</th>' if text else "<td></td>"


def _row(row: tuple[Cell, ...], table: Table, small: bool) -> str:
    if len(row) == 1:
        return f'<tr><th scope="rowgroup" colspan="{len(table.widths)}">{_cell(row[0])}</th></tr>'
    cells = []
    for k, cell in enumerate(row):
        kind = ' class="right"' if k in table.right else ""
        cells.append(f"<td{kind}>{_cell(cell, small)}</td>")
    return f"<tr>{''.join(cells)}</tr>"


def _cell(cell: Cell, small: bool = False) -> str:
    if isinstance(cell, str):
        return _words(cell)
    if isinstance(cell, Styled):
        text = f"<b>{_words(cell.text)}</b>" if cell.bold else _words(cell.text)
        return f'<span class="{cell.role}">{text}</span>'
    if isinstance(cell, MarkCell):
        return svg(mark_items(cell.state), MARK * PX, MARK * PX, cell.spoken)
    return _vial(cell, SMALL if small else SIZE)


def _vial(cell: VialCell, size: tuple[float, float]) -> str:
    return svg(vial_items(cell, size), size[0] * PX, size[1] * PX, cell.spoken)
