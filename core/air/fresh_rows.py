"""Readings of fresh air: air changes, what each duct fan moves, how old the air is.

How much fans move says `ventilation`, how old air is, `flow.age`.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.air.fields import Ages
from core.air.methods import AGE, FRESH
from core.air.rows import OFF_FRESH
from core.air.ventilation import DuctFlow, Ventilation
from core.model import Enclosure
from core.phrases import Amount, Phrase, phrase
from core.reading import Reading, reading
from core.study import Study


def fresh_rows(
    study: Study, enclosure: Enclosure, fresh: Ventilation, ages: Ages | None
) -> Iterator[Reading]:
    """Iterate over the readings of an enclosure's fresh air."""
    where = phrase("{name}", name=enclosure.name)
    yield _changes_row(enclosure, fresh, where)
    for at_work in fresh.fans:
        yield _duct_row(study, at_work, fresh)
    if ages is not None:
        yield from _age_rows(enclosure, ages, where, fresh.assumptions)


def _changes_row(enclosure: Enclosure, fresh: Ventilation, where: Phrase) -> Reading:
    changes = fresh.air_changes
    told = (
        "{changes} air changes an hour"
        if fresh.driven
        else "{changes} air changes an hour by leaks"
    )
    spread = (
        (changes * (1 - OFF_FRESH), changes * (1 + OFF_FRESH))
        if fresh.driven
        else (changes / 2, changes * 2)
    )
    return reading(
        "air", "air-changes", enclosure.id, where, changes, "count",
        phrase(told, changes=Amount(changes, "count")), FRESH,
        spread=spread, assumptions=fresh.assumptions,
    )  # fmt: skip


def _duct_row(study: Study, at_work: DuctFlow, fresh: Ventilation) -> Reading:
    name = study.design.part(at_work.part).name
    line = phrase(
        "{name} moves {flow} against {pressure}",
        name=name,
        flow=Amount(at_work.flow, "flow"),
        pressure=Amount(max(at_work.pressure, 0.0), "fan_pressure"),
    )
    spread = at_work.flow * (1 - OFF_FRESH), at_work.flow * (1 + OFF_FRESH)
    return reading(
        "air", "duct-flow", at_work.part, phrase("{name}", name=name), at_work.flow, "flow",
        line, FRESH, spread=spread, assumptions=fresh.assumptions,
    )  # fmt: skip


def _age_rows(
    enclosure: Enclosure, ages: Ages, where: Phrase, assumed: tuple[Phrase, ...]
) -> Iterator[Reading]:
    mean, share = ages.mean, ages.effectiveness
    yield reading(
        "air", "age", enclosure.id, where, mean, "duration",
        phrase("air {age} old on average", age=Amount(mean, "duration")), AGE,
        spread=(mean / (1 + OFF_FRESH), mean / (1 - OFF_FRESH)), assumptions=assumed,
    )  # fmt: skip
    line = phrase(
        "fresh air used by {share}; 50 % where all air mixes", share=Amount(share, "fraction")
    )
    yield reading(
        "air", "age-effectiveness", enclosure.id, where, share, "fraction", line, AGE,
        assumptions=assumed,
    )  # fmt: skip
