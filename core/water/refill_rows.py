"""Readings of when to refill: each container, all together, and while nobody is there.

The days are found in `core.water.use` and `core.water.away`; spills are in `spill_rows`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from core.language import tr
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, reading
from core.study import Study
from core.water.away import Away, first_dry
from core.water.evaporation import ASSUMED_EVAPORATION
from core.water.use import GUESSED_DUTY, Supply

_DAY = 86_400.0
_NAMED = 2

REFILL = Method(
    tr(
        "The water just after a refill, less what pots and platforms take up, over what leaves in "
        "a day: for a tray what the climate’s day evaporates from it and its leaves, its area at a "
        "usual rate where no climate is known, or the days measured; for a fogger what it fogs."
    ),
    tr(
        "Geometry; evaporation as in Climate. Without it a loss of 1.5 mm a day from a planted "
        "tray is taken (common practice, no source)."
    ),
    tr(
        "The rate may be half or twice as high: half to twice the days. Measured days: 10 %. A "
        "fogger on a humidistat without a climate: a quarter to four times the days; at a known "
        "duty 25 %."
    ),
    (tr("Watering of pots from above is not counted."),),
)
AWAY = Method(
    tr(
        "All containers are full on leaving. What lasts only if it is topped up then, though its "
        "usual refill may not be due yet, is named."
    ),
    tr("Sums of the days of each container."),
    tr("As the days of each container."),
)


def refill_rows(study: Study, supplies: tuple[Supply, ...]) -> Iterator[Reading]:
    """Yield the days of each container that something draws from."""
    for supply in supplies:
        if supply.days:
            yield _refill(study, supply, supplies)


def _refill(study: Study, supply: Supply, supplies: tuple[Supply, ...]) -> Reading:
    days = supply.days
    assert days is not None
    where = _where(study, supply, supplies)
    want = study.design.targets.refill_days
    line = phrase(
        "{where}: refill in {days}, {low} to {high}; want {want} or more",
        where=where,
        days=days_words(days.value),
        low=beside(days.low, want),
        high=figures(days.high),
        want=figures(want),
    )
    return reading(
        "water", "refill", supply.id, where, days.value * _DAY, "duration", line, REFILL,
        spread=(days.low * _DAY, days.high * _DAY),
        want=(want * _DAY, None),
        assumptions=_assumptions(supply),
    )  # fmt: skip


def _where(study: Study, supply: Supply, supplies: tuple[Supply, ...]) -> Phrase:
    """Return a tray's level, with its name where the level has several; else the name."""
    if supply.kind != "tray" or supply.level is None:
        return phrase("{name}", name=supply.name)
    level = study.level_words(supply.level)
    trays = [one for one in supplies if one.kind == "tray" and one.level == supply.level]
    if len(trays) == 1:
        return level
    return phrase("{level}, {name}", level=level, name=supply.name)


def days_words(days: float) -> Phrase:
    """Return a number of days as it is spoken: "6 days", "1 day", "0.4 days"."""
    shown = figures(days)
    return phrase("1 day") if shown == "1" else phrase("{days} days", days=shown)


def figures(days: float) -> str:
    """Return a number of days in figures: "6", "0.4", "over 365"."""
    if days > 365:
        return tr("over 365")
    return f"{days:.0f}" if days >= 0.95 else f"{days:.1f}"


def beside(days: float, want: float) -> str:
    """Return days in figures, finer where they would read as what is wanted but are not."""
    shown = figures(days)
    alike = shown == figures(want) and abs(days - want) >= 0.05
    return f"{days:.1f}" if alike else shown


def _assumptions(supply: Supply) -> tuple[Phrase, ...]:
    found = []
    if supply.basis == "rate":
        rate = Amount(ASSUMED_EVAPORATION, "evaporation")
        found.append(phrase("Trays are taken to lose {rate}, until you type the days you measured",
                            rate=rate))  # fmt: skip
    if supply.basis == "guessed":
        duty = Amount(GUESSED_DUTY, "fraction")
        found.append(phrase("The fogger is taken to run {duty} of the time", duty=duty))
    if supply.stays > 0:
        found.append(phrase("{volume} of {name} stay below what its tube can bring",
                            volume=Amount(supply.stays, "volume"), name=supply.name))  # fmt: skip
    return tuple(found)


def whole_row(supplies: Sequence[Supply]) -> Iterator[Reading]:
    """Yield when the first of several containers is empty, and what they use together."""
    used = [supply for supply in supplies if supply.days]
    first = first_dry(used)
    if first is None or first.days is None or len(used) < 2:
        return
    days = first.days
    line = phrase(
        "all {count}: first refill in {days}, {low} to {high}; {volume} fill them, {use} go a day",
        count=len(used),
        days=days_words(days.value),
        low=figures(days.low),
        high=figures(days.high),
        volume=Amount(sum(one.volume for one in used), "volume"),
        use=Amount(sum(one.per_day for one in used), "volume"),
    )
    yield reading(
        "water", "refill-whole", "", phrase("all containers"), days.value * _DAY, "duration",
        line, REFILL, spread=(days.low * _DAY, days.high * _DAY),
    )  # fmt: skip


def away_row(found: Away | None) -> Iterator[Reading]:
    """Yield whether everything lasts while nobody is there."""
    if found is None or found.lasts is None:
        return
    days = found.lasts
    yield reading(
        "water", "away", "", phrase("while you are away"), days.value * _DAY, "duration",
        _away_words(found), AWAY, spread=(days.low * _DAY, days.high * _DAY),
        want=(found.days * _DAY, None),
    )  # fmt: skip


def _away_words(found: Away) -> Phrase:
    asked = days_words(found.days)
    if not found.top_up:
        return phrase("away for {asked}: everything lasts without topping up", asked=asked)
    before = phrase("top up {names} before, {volume} at most", names=_named(found.top_up),
                    volume=Amount(found.volume, "volume"))  # fmt: skip
    if not found.short:
        return phrase("away for {asked}: everything lasts; {before}", asked=asked, before=before)
    assert found.first is not None and found.first.days is not None
    days = found.first.days
    return phrase(
        "away for {asked}: {name} lasts {days}, {low} to {high}; {before}",
        asked=asked,
        name=found.first.name,
        days=days_words(days.value),
        low=figures(days.low),
        high=figures(days.high),
        before=before,
    )


def _named(supplies: Sequence[Supply]) -> Phrase:
    names = [supply.name for supply in supplies]
    if len(names) > _NAMED:
        return phrase("{count} containers", count=len(names))
    return phrase("{names}", names=", ".join(names))
