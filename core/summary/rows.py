"""Readings, levels, circuits, refills, parts and methods of a design as tables of words.

The page they stand on is put together in `core.summary.describe`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from core.drawing.ink import state_role
from core.language import tr
from core.phrases import capital
from core.reading import SUBJECTS, Reading, SubjectReadings, distance_out
from core.states import LIKELY_OUT, OUT, State, words
from core.summary.blocks import Cell, Paragraph, Role, Styled, Table, VialCell
from core.units import show

if TYPE_CHECKING:
    from core.readings import Readings

_QUIET = {State.FINE, State.UNASKED, State.UNKNOWN}
_DAY = 86400.0
_WHOLE_DAYS = 1.5 * _DAY
"""Times from here on are told in whole days. [s]"""
_MANY = 4
"""So many readings of one kind that nothing is asked of are told in one row."""
_SEPARATORS = (" ", "\N{THIN SPACE}", "\N{NO-BREAK SPACE}")


def subject_name(subject: str) -> str:
    """Return the subject's name as the window has it."""
    names = {
        "light": tr("Light"),
        "air": tr("Air"),
        "power": tr("Power"),
        "water": tr("Water"),
        "climate": tr("Climate"),
        "weight": tr("Weight"),
        "fit": tr("Fit"),
        "cost": tr("Cost"),
        "materials": tr("Materials"),
    }
    return names[subject]


def state_words(item: Reading) -> str:
    """Return the words that stand beside a reading's vial."""
    if item.words:
        return tr(item.words)
    one_sided = (item.want_low is None) != (item.want_high is None)
    return words(item.state, item.subject, one_sided=one_sided)


def state_cell(item: Reading) -> Styled:
    """Return the state words in their colour, bold where something is the matter."""
    quiet = item.state in _QUIET
    role: Role = "ink2" if quiet else state_role(item.state)  # type: ignore[assignment]
    return Styled(state_words(item), role, not quiet)


def vial_cell(item: Reading, system: str) -> VialCell:
    """Return a reading's vial."""
    spoken = f"{subject_name(item.subject)}, {state_words(item)}: {item.line.render(system)}"
    numbers = (item.value, item.low, item.high, item.want_low, item.want_high)
    return VialCell(*numbers, item.state, spoken)


def amount(value: float | None, kind: str, system: str) -> str:
    """Return a number with its unit, or a dash where it is not known."""
    if value is None:
        return "–"
    if kind == "duration" and value >= _WHOLE_DAYS:
        return tr("{days} d").format(days=round(value / _DAY))
    # Counts have no digits of their own; sums of money and ratios come as counts.
    return show(value, kind, system, digits=3) if kind == "count" else show(value, kind, system)


def span(low: float | None, high: float | None, kind: str, system: str) -> str:
    """Return a range with its unit once: "60–120 µmol/(m² s)"; a dash where it is not known."""
    if low is None or high is None:
        return "–"
    first, last = (amount(end, kind, system) for end in (low, high))
    if first == last:
        return first
    unit = _unit(last)
    same = unit and _unit(first) == unit and first.count(unit) == 1
    joint = "–" if not first.startswith("−") and not last.startswith("−") else tr(" to ")
    return f"{first[: -len(unit)] if same else first}{joint}{last}"


def _unit(text: str) -> str:
    """Return a quantity's unit with the space before it; empty for none or for several."""
    at = min((i for sep in _SEPARATORS if (i := text.find(sep)) > 0), default=-1)
    unit = text[at:] if at > 0 else ""
    return "" if any(char.isdigit() for char in unit.replace("m²", "").replace("m³", "")) else unit


def wanted(item: Reading, system: str) -> str:
    """Return what is wanted in words: a range, "at least …", "at most …", or nothing."""
    low, high, kind = item.want_low, item.want_high, item.kind
    if low is not None and high is not None:
        return span(low, high, kind, system)
    if low is not None:
        return tr("at least {amount}").format(amount=amount(low, kind, system))
    if high is not None:
        return tr("at most {amount}").format(amount=amount(high, kind, system))
    return ""


def headlines(readings: Readings, system: str) -> Table:
    """Return the eight subjects with the number that matters most in each."""
    rows: list[tuple[Cell, ...]] = []
    for name in SUBJECTS:
        found = readings.subject(name)
        head = Styled(subject_name(name), bold=True)
        item = found.headline
        if item is None:
            unknown = VialCell(None, None, None, None, None, State.UNKNOWN, tr("not known yet"))
            rows.append((head, found.nothing.render(system), unknown, ""))
            continue
        line = _approximate(found, item.line.render(system))
        rows.append((head, line, vial_cell(item, system), state_cell(item)))
    return Table(("", "", "", ""), tuple(rows), (0.1, 0.51, 0.165, 0.225))


def _approximate(found: SubjectReadings, line: str) -> str:
    return f"≈ {line}" if found.coarse else line


def reading_table(readings: Iterable[Reading], system: str) -> Table:
    """Return readings with their own ranges and what is wanted.

    Many of one kind that nothing is asked of stand as one row, from the least to the greatest;
    many that are as wanted, by the one nearest its limit; those that nobody knows yet by name.
    """
    rows = [
        _reading_cells(group[0], system) if len(group) == 1 else _many_cells(group, system)
        for group in _grouped(readings)
    ]
    heads = (tr("Reading"), tr("Between"), tr("Wanted"), "", tr("State"))
    return Table(heads, tuple(rows), (0.33, 0.19, 0.2, 0.125, 0.155))


def _grouped(rows: Iterable[Reading]) -> list[list[Reading]]:
    """Gather the readings of one name that are not known, or many: not asked for, or as wanted."""
    found: dict[tuple[str, State | int], list[Reading]] = {}
    for number, row in enumerate(rows):
        alike = row.state if row.state in _QUIET else number
        found.setdefault((row.name, alike), []).append(row)
    return [
        part
        for (_, state), group in found.items()
        for part in (
            [group] if len(group) >= _MANY or state is State.UNKNOWN else [[row] for row in group]
        )
    ]


def _reading_cells(item: Reading, system: str) -> tuple[Cell, ...]:
    return (
        capital(item.line.render(system)),
        span(item.low, item.high, item.kind, system),
        wanted(item, system),
        "" if item.state is State.UNASKED else vial_cell(item, system),
        state_cell(item),
    )


def _many_cells(group: Sequence[Reading], system: str) -> tuple[Cell, ...]:
    """Return one row for many readings: the least, the greatest, and how many there are."""
    if group[0].value is None:
        places = "; ".join(dict.fromkeys(capital(row.where.render(system)) for row in group))
        return places, "–", wanted(group[0], system), "", state_cell(group[0])
    if group[0].state is State.FINE:
        return _fine_cells(max(group, key=distance_out), len(group), system)
    in_order = sorted(group, key=lambda row: row.value or 0.0)
    least, most = in_order[0], in_order[-1]
    line = tr("{count} alike. Least: {least}. Most: {most}.").format(
        count=len(group), least=least.line.render(system), most=most.line.render(system)
    )
    low = min((row.low for row in group if row.low is not None), default=None)
    high = max((row.high for row in group if row.high is not None), default=None)
    return line, span(low, high, least.kind, system), "", "", state_cell(least)


def _fine_cells(item: Reading, count: int, system: str) -> tuple[Cell, ...]:
    """Return one row for many readings that are as wanted: the one nearest its limit."""
    line = item.line.render(system)
    text = tr("{count} alike, all as wanted. Nearest to the limit: {line}")
    return (text.format(count=count, line=line), *_reading_cells(item, system)[1:])


def level_cells(item: Reading | None, system: str) -> Cell:
    """Return a reading's value in the colour of its state; a dash where there is none."""
    if item is None:
        return Styled("–", "ink2")
    quiet = item.state in _QUIET
    role: Role = "ink" if quiet else state_role(item.state)  # type: ignore[assignment]
    value = amount(item.value, item.kind, system) if item.value is not None else tr("not known yet")
    sign = "" if quiet else f", {state_words(item)}"
    bold = item.state in OUT or item.state in LIKELY_OUT
    return Styled(f"{value}{sign}", role, bold)


def about(rows: Iterable[Reading], place: str, names: tuple[str, ...] = ()) -> Reading | None:
    """Return the first reading about a place, of one of the names where these are given."""
    mine = [row for row in rows if row.place == place and (not names or row.name in names)]
    return next(iter(mine), None)


def methods(found: SubjectReadings, system: str, told: set[object]) -> tuple[Paragraph, ...]:
    """Return how a subject's numbers were found, and what was taken for granted.

    ``told`` holds what other subjects have said already, which is not said again; it grows.
    """
    paragraphs: list[Paragraph] = []
    items = (*found.rows, *((found.headline,) if found.headline else ()))
    for method in dict.fromkeys(item.method for item in items if item.method not in told):
        told.add(method)
        parts = [
            method.method,
            tr("Source: {source}").format(source=method.source) if method.source else "",
            method.uncertainty,
            *method.omissions,
        ]
        paragraphs.append(Paragraph(" ".join(_sentence(part) for part in parts if part)))
    texts = (text.render(system) for item in items for text in item.assumptions)
    taken = dict.fromkeys(text for text in texts if text not in told)
    told.update(taken)
    if taken:
        given = " ".join(_sentence(capital(text)) for text in taken)
        paragraphs.append(Paragraph(tr("Taken for granted: {list}").format(list=given), "ink2"))
    return tuple(paragraphs)


def _sentence(text: str) -> str:
    text = tr(text).strip()
    return text if text.endswith((".", "!", "?")) else f"{text}."
