"""Readings of where water comes from: gravity feeds, purified water, a fogger's minerals.

Tubes are in `core.water.feeds`, the membrane in `purify`, minerals in `minerals`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.language import tr
from core.model import FeedLine, Fogger, TapWater
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, reading
from core.study import Study
from core.water.away import first_dry
from core.water.feeds import FLOW_SPREAD, Feed
from core.water.minerals import MODERATE, PASSED, deposit_per_day, hardness_words
from core.water.purify import purified_hours, reject_volume
from core.water.use import Draw, Supply, Use

ASSUMED_HARDNESS = MODERATE
"""Taken where nobody knows the tap water: between moderately hard and hard (judgement). [kg/m³]"""

MADE = 0.25
"""Honest band of a membrane's output: its pressure and age (judgement). [1]"""

FEED = Method(
    tr(
        "The head of water above the tube’s open end drives water through its bore and length; "
        "friction by Churchill’s equation for a smooth tube, and losses at both ends and at a "
        "float valve’s seat, taken as half the bore."
    ),
    tr("Darcy and Weisbach; S. W. Churchill, Chemical Engineering 84 (1977)."),
    tr("A bore 5 % narrower passes a fifth less: −30 to +30 %."),
    (tr("Air locks and dirt in the tube are not counted."),),
)
PURIFIED = Method(
    tr(
        "A refill of everything that gets purified water, over the membrane’s rating, which is "
        "corrected from 25 °C to the tap’s temperature."
    ),
    tr(
        "Membrane makers’ correction exp[3020 (1/298.15 − 1/T)] (from memory); rejected 5 to 1 is "
        "typical and 2.3 to 1 good (EPA WaterSense, secondary copy)."
    ),
    tr("25 % for the pressure and the age of the membrane (judgement)."),
)
MINERALS = Method(
    tr("What a fogger uses in a day, times the hardness of its water."),
    tr(
        "A fogger puts the minerals of its water into the air: EPA, Indoor Air Facts 8, 1991 "
        "(secondary copy). Soft below 60, hard above 120 mg/L: USGS."
    ),
    tr("As the use of the fogger."),
    (tr("Minerals besides hardness are not counted."),),
)


@dataclass(frozen=True)
class Purified:
    """Purified water for a refill of all that gets it. [m³, m³/d, h]

    ``hours`` is None where it is bought.
    """

    volume: float
    per_day: float
    hours: float | None
    reject: float

    @property
    def reject_per_day(self) -> float:
        """What the membrane rejects for a day's use. [m³/d]"""
        return self.per_day * self.reject / self.volume


def feed_rows(study: Study, feeds: Sequence[Feed]) -> Iterator[Reading]:
    """Yield what each gravity feed passes at its lowest head, against what is needed."""
    for feed in feeds:
        runs = feed.flow_low if feed.head_low > 0 else feed.flow_full
        low, high = (runs * end for end in FLOW_SPREAD)
        yield reading(
            "water", "feed-flow", feed.id, phrase("{name}", name=feed.name), runs, "water_rate",
            _feed_words(study, feed), FEED, spread=(low, high), want=(feed.needed or None, None),
            assumptions=_feed_assumptions(feed),
        )  # fmt: skip


def _feed_words(study: Study, feed: Feed) -> Phrase:
    target = study.design.part(feed.target).name
    if feed.head_full <= 0:
        below = Amount(-feed.head_full, "length")
        return phrase("{name}: nothing runs, {target} is {below} above the water",
                      name=feed.name, target=target, below=below)  # fmt: skip
    if feed.head_low <= 0:
        return phrase(
            "{name}: {flow} runs under {head} of head; {target} takes {needed}",
            name=feed.name,
            flow=_rate(feed.flow_full),
            head=Amount(feed.head_full, "length"),
            target=target,
            needed=_rate(feed.needed),
        )
    return phrase(
        "{name}: {flow} or more runs under {low} to {head} of head; {target} takes {needed}",
        name=feed.name,
        flow=_rate(feed.flow_low),
        low=Amount(feed.head_low, "length"),
        head=Amount(feed.head_full, "length"),
        target=target,
        needed=_rate(feed.needed),
    )


def _feed_assumptions(feed: Feed) -> tuple[Phrase, ...]:
    if feed.stays <= 0:
        return ()
    stays = Amount(feed.stays, "volume")
    return (phrase("{volume} stay below what runs fast enough", volume=stays),)


def _rate(rate: float) -> Amount:
    return Amount(rate, "water_rate")


def purified_need(study: Study, supplies: Sequence[Supply]) -> Purified | None:
    """Return the purified water that a refill of everything takes; None where nothing gets any."""
    tap = study.design.tap
    if tap.purified == "nothing":
        return None
    gets = [one for one in supplies if tap.purified == "everything" or _for_fog(study, one)]
    volume = sum(one.volume for one in gets)
    if volume <= 0:
        return None
    hours = purified_hours(volume, tap.made_per_day, tap.temperature) if tap.made_per_day else None
    reject = reject_volume(volume, tap.reject) if tap.made_per_day else 0.0
    return Purified(volume, sum(one.per_day for one in gets), hours, reject)


def _for_fog(study: Study, supply: Supply) -> bool:
    """Tell whether a container feeds a fogger, or is one."""
    if supply.kind == "fogger":
        return True
    lines = (line for line in study.design.of(FeedLine) if line.source == supply.id)
    return any(isinstance(study.design.part(line.target), Fogger) for line in lines)


def purified_row(
    study: Study, need: Purified | None, supplies: Sequence[Supply]
) -> Iterator[Reading]:
    """Yield how long the purified water for a refill takes, against when it is wanted."""
    if need is None:
        return
    first, where = first_dry(supplies), phrase("purified water")
    if need.hours is None:
        line = phrase("{volume} of purified water for a refill, {use} a day",
                      volume=Amount(need.volume, "volume"),
                      use=Amount(need.per_day, "volume"))  # fmt: skip
        yield reading("water", "purified", "", where, need.volume, "volume", line, PURIFIED)
        return
    seconds = need.hours * 3600.0
    wanted = first.days.value * 86_400.0 if first and first.days else None
    line = phrase(
        "{volume} of purified water for a refill take {hours}; {reject} are rejected",
        volume=Amount(need.volume, "volume"),
        hours=Amount(seconds, "duration"),
        reject=Amount(need.reject, "volume"),
    )
    yield reading(
        "water", "purified", "", where, seconds, "duration", line, PURIFIED,
        spread=(seconds * (1 - MADE), seconds * (1 + MADE)), want=(None, wanted),
        assumptions=_taken(study.design.tap),
    )  # fmt: skip


def _taken(tap: TapWater) -> tuple[Phrase, ...]:
    return (phrase("The tap runs at {t}; {ratio} parts are rejected for each that is purified",
                   t=Amount(tap.temperature, "temperature"), ratio=f"{tap.reject:g}"),)  # fmt: skip


def minerals_rows(study: Study, use: Use) -> Iterator[Reading]:
    """Yield the minerals that each fogger puts into the air in a day."""
    for fogger in study.design.of(Fogger):
        draw = use.fogger_draw(fogger)
        if draw.value > 0:
            yield _minerals_row(study.design.tap, fogger, draw)


def _minerals_row(tap: TapWater, fogger: Fogger, draw: Draw) -> Reading:
    hardness = ASSUMED_HARDNESS if tap.hardness is None else tap.hardness
    purified = tap.purified != "nothing"
    each, low, high = (deposit_per_day(end, hardness, purified=purified) for end in draw[:3])
    line = phrase(
        "{name}: {mass} of minerals a day into the air, from {kind} water of {hardness}",
        name=fogger.name,
        mass=Amount(each, "mass"),
        kind=hardness_words(hardness * (PASSED if purified else 1.0)),
        hardness=Amount(hardness * (PASSED if purified else 1.0), "hardness"),
    )
    return reading(
        "water", "minerals", fogger.id, phrase("{name}", name=fogger.name), each, "mass", line,
        MINERALS, spread=(low, high), assumptions=_mineral_assumptions(tap),
    )  # fmt: skip


def _mineral_assumptions(tap: TapWater) -> tuple[Phrase, ...]:
    found = []
    if tap.hardness is None:
        found.append(phrase("The tap water is taken to be {hardness} hard, until you enter it",
                            hardness=Amount(ASSUMED_HARDNESS, "hardness")))  # fmt: skip
    if tap.purified != "nothing":
        passed = Amount(PASSED, "fraction")
        found.append(phrase("The membrane is taken to let {share} of it through", share=passed))
    return tuple(found)
