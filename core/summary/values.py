"""Writes readings and parts as CSV, to go on with in a spreadsheet.

Numbers are in the design's units, plain and unrounded to six digits; words are guarded against
being taken for formulas.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from io import StringIO
from typing import TYPE_CHECKING

from core.language import tr
from core.model import Design
from core.reading import Reading
from core.summary.chart import care_table
from core.summary.levels import build_table
from core.summary.plans import load_table, refill_table
from core.summary.rows import state_words, subject_name
from core.summary.settings import settings_table
from core.summary.shopping import Field, piece_table, sheet_table, shopping_rows
from core.summary.tables import circuit_table, look_of, texts
from core.units import label
from core.units.writer import display_of

if TYPE_CHECKING:
    from core.readings import Readings

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


def readings_csv(design: Design, readings: Readings) -> str:
    """Return every reading as a row."""
    heads = (
        tr("Subject"), tr("Place"), tr("Reading"), tr("Value"), tr("Low"), tr("High"),
        tr("Wanted from"), tr("Wanted to"), tr("Unit"), tr("State"),
    )  # fmt: skip
    rows = [_reading(row, design.units) for row in readings.rows()]
    return _text([heads, *rows])


def _reading(row: Reading, system: str) -> tuple[Field, ...]:
    numbers = (row.value, row.low, row.high, row.want_low, row.want_high)
    return (
        subject_name(row.subject),
        row.where.render(system),
        row.line.render(system),
        *(_outside(value, row.kind, system) for value in numbers),
        label(row.kind, system),
        state_words(row),
    )


def _outside(value: float | None, kind: str, system: str) -> float | None:
    """Return a value in the unit of its label, to six digits."""
    if value is None:
        return None
    return float(f"{display_of(kind, system).unit.outside(value):.6g}")


def parts_csv(design: Design, readings: Readings) -> str:
    """Return the list of parts, equal ones in one row."""
    unit, currency = label("length", design.units), design.prices.currency
    heads = (
        tr("Part"), tr("Count"), tr("Owned"), f"{tr('Width')} [{unit}]", f"{tr('Depth')} [{unit}]",
        f"{tr('Height')} [{unit}]", f"{tr('Watts each')} [W]", f"{tr('Price each')} [{currency}]",
        f"{tr('To buy')} [{currency}]",
    )  # fmt: skip
    rows: list[tuple[Field, ...]] = [heads]
    for item in readings.materials.items:
        sizes = (_outside(size, "length", design.units) for size in item.extent)
        rows.append((item.name, item.count, item.owned, *sizes, item.watts, item.price, item.cost))
    return _text(rows)


def value_files(design: Design, readings: Readings) -> dict[str, bytes]:
    """Return the CSV set, each file by what is added to its name; empty tables are left out."""
    look = look_of(readings)
    found = {"": readings_csv(design, readings), "-parts": parts_csv(design, readings)}
    if readings.materials.lines:
        found["-shopping"] = _text(shopping_rows(readings))
    tables = {
        "-pieces": piece_table(readings),
        "-sheets": sheet_table(readings),
        "-levels": build_table(look),
        "-circuits": circuit_table(readings),
        "-settings": settings_table(design),
        "-refills": refill_table(readings),
        "-loads": load_table(readings, look),
        "-care": care_table(readings),
    }
    found |= {key: _text(texts(table)) for key, table in tables.items() if table}
    return {key: text.encode() for key, text in found.items()}


def _text(rows: Iterable[tuple[Field, ...]]) -> str:
    buffer = StringIO()
    writer = csv.writer(buffer, lineterminator="\r\n")
    writer.writerows([guarded(field) for field in row] for row in rows)
    # The mark tells spreadsheets that the text is UTF-8.
    return "\N{BYTE ORDER MARK}" + buffer.getvalue()


def guarded(field: Field) -> Field:
    """Return a cell that no spreadsheet takes for a formula: words get a leading apostrophe."""
    if isinstance(field, str) and field.startswith(_FORMULA):
        return f"'{field}"
    return field
