"""Gathers all that a summary says about a design, in no format: sections, tables, drawings.

How it is set on a page is the writers' affair (`core.summary.pdf`, `.html`).
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from core.drawing.marks import View
from core.drawing.seeing import LevelKey, cut_height
from core.drawing.third_angle import Drawings, Inlay, Titles, lay_out
from core.finding import Finding
from core.language import tr
from core.model import Design, ShelfUnit
from core.phrases import Amount
from core.reading import SUBJECTS, worst
from core.states import State, words
from core.study import Study
from core.summary.blocks import Advice, Block, Paragraph, Picture, Section, Summary, Table
from core.summary.key import key_items, level_map, map_items
from core.summary.parts import part_table
from core.summary.plans import load_table, refill_plan, spill_table
from core.summary.rows import headlines, methods, reading_table, subject_name
from core.summary.tables import circuit_table, level_table, look_of

if TYPE_CHECKING:
    from core.readings import Readings

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
A4, LETTER = (210.0, 297.0), (215.9, 279.4)
"""Width and height of a page. [mm]"""
MARGIN = 14.0
_LEAVES = ("ppfd", "ppfd-lowest")
_BESIDES = 104.0
"""What else stands on the first page: head, readings, foot. [mm]"""


def describe(design: Design, readings: Readings, stamp: date | str | None = None) -> Summary:
    """Return everything a summary of a design says.

    Parameters
    ----------
    design : Design
    readings : Readings
        Of this design.
    stamp : date or str, optional
        The date on it; by default today. The same design, readings and stamp give the same
        summary.

    Returns
    -------
    Summary
    """
    look = look_of(readings)
    picture = _picture(design, readings, look)
    return Summary(
        title=design.name,
        subtitle=_subtitle(design, readings, look),
        stamp=_stamp(stamp),
        footer=tr(
            "A plan, not a permit: local codes and licensed trades decide on wiring, loads and "
            "gas. Made with Fernwright."
        ),
        sections=tuple(_sections(design, readings, look, picture)),
        letter=design.units == "us",
        drawings=picture,
    )


def _stamp(stamp: date | str | None) -> str:
    if isinstance(stamp, str):
        return stamp
    day = stamp or date.today()
    return f"{day.day} {tr(_MONTHS[day.month - 1])} {day.year}"


def _subtitle(design: Design, readings: Readings, look: Study) -> str:
    text = tr("Variant {variant}, {season}.").format(
        variant=design.variant_name, season=look.season.name
    )
    coarse = readings.quality == "coarse"
    return f"{text} {tr('Coarse readings: finer ones had not arrived.')}" if coarse else text


def shown_level(readings: Readings, look: Study) -> LevelKey | None:
    """Return the level the plan is cut at: that of the light that matters most, on a unit if any.

    A bay or a platform is shown only where no plants stand on a shelf unit.
    """
    levels = {zone.part.id: zone.level for zone in look.placement.zones if zone.level}
    on_units = {key: level for key, level in levels.items() if _unit(level, look)}
    known = on_units or levels
    asked = [row for row in readings.light.rows if row.place in known and row.name in _LEAVES]
    matters = (readings.light.headline, worst(tuple(asked)))
    places = (row.place for row in matters if row and row.place in known)
    return known.get(next(places, ""), next(iter(known.values()), None))


def _picture(design: Design, readings: Readings, look: Study) -> Picture:
    width, height = LETTER if design.units == "us" else A4
    room = (width - 2 * MARGIN, height - _BESIDES)
    level = shown_level(readings, look)
    light = level_map(readings, level)
    over: dict[View, Inlay] = {}
    if light:
        over["plan"] = lambda frame: map_items(light, frame, look)
    titles = _titles(level, look, design.units)
    found = lay_out(
        look.placement, *room, level=level, unit=_unit(level, look), titles=titles, inlays=over
    )
    items = found.items
    if light and level:
        words = look.level_words(level).render(design.units)
        items += key_items(light, found.spare, words, design.units)
    return Picture(items, room[0], found.height, _spoken(found, design, look))


def _unit(level: LevelKey | None, look: Study) -> str | None:
    """Return the shelf unit that the elevations look at."""
    host = look.design.by_id.get(level[0]) if level else None
    return host.id if isinstance(host, ShelfUnit) else None


def _titles(level: LevelKey | None, look: Study, system: str) -> Titles:
    if level is None:
        return Titles()
    title = tr("Plan at {level}").format(level=look.level_words(level).render(system))
    height = Amount(cut_height(look.placement, level), "length").render(system)
    return Titles(title, tr("{height} up").format(height=height))


def _spoken(found: Drawings, design: Design, look: Study) -> str:
    count = len(design.parts)
    return tr("{name}: plan, front and side at 1:{scale}; {count} parts").format(
        name=design.name, scale=found.scale, count=count
    )


def _sections(design: Design, readings: Readings, look: Study, picture: Picture) -> list[Section]:
    system = design.units
    aside = tr("lines: what is wanted · bubble: where it stands and how sure")
    found = [
        Section(tr("Drawings"), (picture,)),
        Section(tr("Readings"), (headlines(readings, system),), aside),
        _findings(readings.findings, system),
        *_cautions(readings.findings, system),
        *_one(tr("Level by level"), level_table(readings, look)),
        *_circuits(circuit_table(readings)),
        *_plan(tr("Refills"), refill_plan(readings)),
        *_one(tr("Worst spill"), spill_table(readings)),
        *_one(tr("Loads, shelf by shelf"), load_table(readings, look)),
    ]
    found += [
        Section(tr("{subject}: every reading").format(subject=subject_name(name)), (table,))
        for name in SUBJECTS
        if (table := reading_table(readings.subject(name), system)).rows
    ]
    parts = _one(tr("Parts"), part_table(design, readings.materials))
    return [*found, *parts, *_how(readings, system)]


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


def _plan(title: str, blocks: tuple[Block, ...]) -> list[Section]:
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
    for name in (*SUBJECTS, "materials"):
        paragraphs = methods(getattr(readings, name), system)
        if paragraphs:
            blocks += [Paragraph(subject_name(name), bold=True), *paragraphs]
    return [Section(tr("How each number was found"), tuple(blocks))] if blocks else []
