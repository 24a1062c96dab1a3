"""Gathers all that a summary says about a design, in no format: sections, tables, drawings.

How it is set on a page is the writers' affair (`core.summary.pdf`, `.html`).
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING

from core.finding import Finding
from core.language import tr
from core.model import Design
from core.reading import SUBJECTS
from core.states import State, words
from core.study import Study
from core.summary.blocks import Advice, Block, Paragraph, Picture, Section, Summary, Table
from core.summary.carrying import carrying_in
from core.summary.chart import care_table
from core.summary.cuts import bar_pictures, sheet_pictures
from core.summary.levels import build_table
from core.summary.parts import part_table
from core.summary.pictures import cover, level_plans, sheet
from core.summary.plans import load_table, refill_plan, spill_table
from core.summary.rows import headlines, methods, reading_table, subject_name
from core.summary.settings import settings_table
from core.summary.sheet import Paper, Wishes
from core.summary.shopping import cut_notes, piece_table, sheet_table, shopping_table
from core.summary.tables import circuit_table, level_table, look_of
from core.summary.wiring import wiring_pictures
from core.summary.zones import left_over, zone_tables

if TYPE_CHECKING:
    from core.readings import Readings


def describe(
    design: Design,
    readings: Readings,
    stamp: date | str | None = None,
    *,
    wishes: Wishes | None = None,
) -> Summary:
    """Return everything a summary of a design says.

    Parameters
    ----------
    design : Design
    readings : Readings
        Of this design.
    stamp : date or str, optional
        The date on it; by default today. The same design, readings and stamp give the same
        summary.
    wishes : Wishes, optional
        Paper and scale; by default as the design's units and size ask for.

    Returns
    -------
    Summary

    Raises
    ------
    InputError
        If the paper asked for is not known, or the drawings do not fit on it at the scale asked
        for.
    """
    wishes = wishes or Wishes()
    look = look_of(readings)
    paper = wishes.sheet(design.units)
    drawings = {
        "": sheet(readings, look, paper, wishes.scale),
        **_numbered("levels", level_plans(readings, look, paper)),
        **_numbered("bars", bar_pictures(readings, paper)),
        **_numbered("sheets", sheet_pictures(readings, paper)),
        **_wiring(design, paper),
    }
    return Summary(
        title=design.name,
        subtitle=_subtitle(design, readings, look),
        stamp=stamp_words(stamp),
        footer=tr(
            "A plan, not a permit: local codes and licensed trades decide on wiring, loads and "
            "gas. Made with Fernwright."
        ),
        sections=tuple(_sections(design, readings, look, drawings, paper)),
        paper=paper,
        drawings=drawings,
    )


def _wiring(design: Design, paper: Paper) -> dict[str, Picture]:
    width, height = paper.room
    return _numbered("wiring", wiring_pictures(design, width, 0.8 * height))


def _numbered(name: str, pictures: Iterable[Picture]) -> dict[str, Picture]:
    """Return pictures by what is added to the names of their files."""
    return {f"-{name}-{number}": one for number, one in enumerate(pictures, start=1)}


def stamp_words(stamp: date | str | None) -> str:
    """Return a date in words; words are kept."""
    if isinstance(stamp, str):
        return stamp
    day = stamp or date.today()
    months = (
        tr("January"), tr("February"), tr("March"), tr("April"), tr("May"), tr("June"),
        tr("July"), tr("August"), tr("September"), tr("October"), tr("November"), tr("December"),
    )  # fmt: skip
    return tr("{day} {month} {year}").format(
        day=day.day, month=months[day.month - 1], year=day.year
    )


def _subtitle(design: Design, readings: Readings, look: Study) -> str:
    text = tr("Variant {variant}, {season}.").format(
        variant=design.variant_name, season=look.season.name
    )
    coarse = readings.quality == "coarse"
    return f"{text} {tr('Coarse readings: finer ones had not arrived.')}" if coarse else text


def _sections(
    design: Design,
    readings: Readings,
    look: Study,
    drawings: dict[str, Picture],
    paper: Paper,
) -> list[Section]:
    return [
        *_cover(design, readings, look, paper),
        Section(tr("Plan and elevations"), (drawings[""],), own_page=True, bare=True),
        *_some(tr("Plans of the other levels"), _named("levels", drawings)),
        _findings(readings.findings, design.units),
        *_cautions(readings.findings, design.units),
        *_build(design, readings, look, drawings),
        *_care(readings, look),
        *_in_full(readings),
        *_how(readings, design.units),
    ]


def _named(name: str, drawings: dict[str, Picture]) -> tuple[Picture, ...]:
    return tuple(one for key, one in drawings.items() if key.startswith(f"-{name}-"))


def _cover(design: Design, readings: Readings, look: Study, paper: Paper) -> list[Section]:
    aside = tr("lines: what is wanted · bubble: where it stands and how sure")
    return [
        Section(tr("What it is"), (cover(design, look, paper),), bare=True),
        Section(tr("Readings"), (headlines(readings, design.units),), aside),
    ]


def _build(
    design: Design, readings: Readings, look: Study, drawings: dict[str, Picture]
) -> list[Section]:
    """Return what is bought, cut, put up, wired and set."""
    return [
        *_one(tr("Level by level, as it is built"), build_table(look)),
        *_one(tr("Shopping list"), shopping_table(readings)),
        *_one(tr("Parts"), part_table(design, readings.materials)),
        *_some(tr("Carrying in and putting together"), carrying_in(readings)),
        *_some(tr("Cutting the frame"), _frame(readings, _named("bars", drawings))),
        *_some(tr("Cutting sheets and liner"), _sheets(readings, _named("sheets", drawings))),
        *_some(tr("Wiring"), _named("wiring", drawings)),
        *_circuits(circuit_table(readings)),
        *_one(tr("Timers, dimmers and set-points"), settings_table(design)),
        *_one(tr("Loads, shelf by shelf"), load_table(readings, look)),
    ]


def _frame(readings: Readings, bars: tuple[Picture, ...]) -> tuple[Block, ...]:
    """Return what the frame is sawn into: the pieces, the bars, and what to know of both."""
    table = piece_table(readings)
    return (*((table,) if table else ()), *bars, *cut_notes(readings))


def _sheets(readings: Readings, drawn: tuple[Picture, ...]) -> tuple[Block, ...]:
    table = sheet_table(readings)
    return (*((table,) if table else ()), *drawn)


def _care(readings: Readings, look: Study) -> list[Section]:
    """Return what is refilled, and what is cleaned and checked, and when."""
    return [
        *_some(tr("Refills"), refill_plan(readings)),
        *_one(tr("Worst spill"), spill_table(readings)),
        *_one(tr("Care"), care_table(readings)),
        *_one(tr("What each level reads"), level_table(readings, look)),
    ]


def _in_full(readings: Readings) -> list[Section]:
    """Return every subject's readings: zones in one table, then what is left."""
    found: list[Section] = []
    for name in SUBJECTS:
        subject = readings.subject(name)
        rest = reading_table(left_over(name, subject.rows), readings.design.units)
        tables = (*zone_tables(readings, name), *((rest,) if rest.rows else ()))
        title = tr("{subject} in full").format(subject=subject_name(name))
        found += _some(title, tables)
    return found


def _one(title: str, table: Table | None) -> list[Section]:
    return [Section(title, (table,))] if table else []


def _circuits(table: Table | None) -> list[Section]:
    """Return the circuits with what their room means, and who decides."""
    if table is None:
        return []
    note = tr(
        "Room left: what may still be plugged in and run for three hours or more, at the fullest "
        "minute of the day. Local code and a licensed electrician decide on fixed wiring."
    )
    return [Section(tr("Circuits, step by step"), (table, Paragraph(note, "ink2")))]


def _some(title: str, blocks: tuple[Block, ...]) -> list[Section]:
    return [Section(title, blocks)] if blocks else []


def _advice(item: Finding, system: str) -> Advice:
    remedy = item.remedy.words.render(system) if item.remedy else ""
    spoken = words(item.state, item.subject)
    title, detail = item.title.render(system), item.detail.render(system)
    return Advice(item.state, spoken, title, detail, remedy)


def _findings(findings: tuple[Finding, ...], system: str) -> Section:
    mends = [_advice(item, system) for item in findings if item.state is not State.CAUTION]
    blocks: tuple[Block, ...] = tuple(mends) or (Paragraph(_nothing(len(findings))),)
    return Section(tr("Findings and what would mend them"), blocks, new_page=True)


def _nothing(cautions: int) -> str:
    """Return what is said where nothing needs mending."""
    if not cautions:
        return tr("Nothing to mend.")
    return tr("Nothing to mend. Cautions: {count}.").format(count=cautions)


def _cautions(findings: tuple[Finding, ...], system: str) -> list[Section]:
    found = [_advice(item, system) for item in findings if item.state is State.CAUTION]
    return [Section(tr("Cautions"), tuple(found))] if found else []


def _how(readings: Readings, system: str) -> list[Section]:
    blocks: list[Block] = []
    told: set[object] = set()
    for name in (*SUBJECTS, "materials"):
        paragraphs = methods(getattr(readings, name), system, told)
        if paragraphs:
            blocks += [Paragraph(subject_name(name), bold=True), *paragraphs]
    return [Section(tr("How each number was found"), tuple(blocks))] if blocks else []
