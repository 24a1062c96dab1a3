"""Rules on where water comes from: days away, tubes, purified water, a fogger's minerals.

What runs dry as usual, and spills, are in `core.findings.water`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace as with_fields

from core.finding import Finding, Remedy
from core.findings.edits import remedy, set_to, when_settled
from core.findings.water import filled
from core.findings.words import AMISS, sentence
from core.fit.lengths import metres
from core.model import FeedLine, Fogger, replace
from core.phrases import Amount, Phrase, capital, phrase
from core.reading import Reading, distance_out
from core.states import State, judge
from core.study import Study
from core.units import parse
from core.water.evaporation import WATER_DENSITY
from core.water.feeds import FLOW_SPREAD, Feed, gravity_feed
from core.water.minerals import SOFT
from core.water.reading import WaterReadings
from core.water.source_rows import ASSUMED_HARDNESS

BORES = (0.004, 0.006, 0.008, 0.010, 0.013, 0.016)
"""Bores of tube that are sold widely (common practice). [m]"""


def _water(study: Study) -> WaterReadings | None:
    found = study.done.get("water")
    return found if isinstance(found, WaterReadings) else None


def _rows(study: Study, name: str) -> Iterator[Reading]:
    water = _water(study)
    return (row for row in (water.rows if water else ()) if row.name == name)


# While nobody is there ---------------------------------------------------------------------------

_AWAY_TITLES = {
    State.LOW: "{name} runs dry while you are away",
    State.LIKELY_LOW: "{name} likely runs dry while you are away",
    State.BORDERLINE: "{name} may run dry while you are away",
}


def dry_while_away(study: Study) -> Iterator[Finding]:
    """Find what does not surely last the days that nobody is there."""
    water = _water(study)
    row = next(_rows(study, "away"), None)
    if water is None or row is None or row.state not in AMISS:
        return
    gone = water.away
    assert gone is not None and gone.first is not None
    yield Finding(
        "dry-while-away",
        "water",
        row.state,
        gone.first.id,
        phrase(_AWAY_TITLES[row.state], name=gone.first.name),
        phrase("{line}{others}.", line=_capital(row), others=_others(len(gone.short) - 1)),
        level=gone.first.level,
        size=distance_out(row),
        remedy=_filled_to_last(study, water),
    )


def _capital(row: Reading) -> Phrase:
    """Return a reading's line as the beginning of a sentence."""
    text = row.line.text
    return phrase(capital(text), **row.line.values)


def _others(count: int) -> Phrase:
    if count <= 0:
        return phrase("")
    return (
        phrase("; another may fall short too")
        if count == 1
        else phrase("; {count} others may fall short too", count=count)
    )


@when_settled
def _filled_to_last(study: Study, water: WaterReadings) -> Remedy | None:
    """Return the containers that fall short filled deeper, where rims, shelves and liner allow."""
    gone = water.away
    assert gone is not None
    want = gone.days * 86_400.0
    rows = {
        row.place: with_fields(
            row, want_low=want, state=judge(row.value, row.low, row.high, want, None)
        )
        for row in water.rows
        if row.name == "refill"
    }
    return filled(study, water, list(gone.short), rows)


# Tubes -------------------------------------------------------------------------------------------

_FEED_TITLES = {
    State.LOW: "{name} brings too little water",
    State.LIKELY_LOW: "{name} likely brings too little water",
    State.BORDERLINE: "{name} may bring too little water",
}


def feed_too_slow(study: Study) -> Iterator[Finding]:
    """Find gravity feeds through which less runs than their target takes, or nothing."""
    water = _water(study)
    feeds = {feed.id: feed for feed in (water.feeds if water else ())}
    for row in _rows(study, "feed-flow"):
        if row.state not in AMISS:
            continue
        feed = feeds[row.place]
        dry = feed.head_full <= 0
        title = "No water runs through {name} by itself" if dry else _FEED_TITLES[row.state]
        yield Finding(
            "feed-too-slow",
            "water",
            row.state,
            feed.id,
            phrase(title, name=feed.name),
            sentence(row.line),
            size=distance_out(row),
            remedy=_pumped(study, feed) if dry else _wider(study, feed),
        )


def _pumped(study: Study, feed: Feed) -> Remedy:
    words = phrase("Drive {name} by a pump", name=feed.name)
    return remedy(words, set_to(study, feed.id, drive="pump"))


@when_settled
def _wider(study: Study, feed: Feed) -> Remedy | None:
    """Return the tube with the least bore sold that surely brings enough."""
    line = study.design.part(feed.id)
    assert isinstance(line, FeedLine)
    for bore in (bore for bore in BORES if bore > line.bore):
        wider = gravity_feed(study.placement, replace(line, bore=bore), feed.needed)
        runs = (wider.flow_low if wider.head_low > 0 else wider.flow_full) if wider else 0.0
        if runs * FLOW_SPREAD[0] >= feed.needed:
            words = phrase("Take a tube of {bore} bore for {name}", bore=metres(bore),
                           name=feed.name)  # fmt: skip
            return remedy(words, set_to(study, feed.id, bore=bore))
    return None


def water_stays(study: Study) -> Iterator[Finding]:
    """Name reservoirs of which a part of the water never arrives by gravity."""
    water = _water(study)
    for supply in water.reservoirs if water else ():
        if supply.days is not None and supply.stays > 1 / WATER_DENSITY:
            yield Finding(
                "water-stays",
                "water",
                State.CAUTION,
                supply.id,
                phrase("Not all the water of {name} arrives", name=supply.name),
                phrase(
                    "{stays} of {volume} stand too low for its tube. Raise it, or draw by a pump.",
                    stays=Amount(supply.stays, "volume"),
                    volume=Amount(supply.volume, "volume"),
                ),
                level=supply.level,
                size=supply.stays / supply.volume,
            )


# Purified water and minerals ---------------------------------------------------------------------


def purified_too_slow(study: Study) -> Iterator[Finding]:
    """Find membranes that do not make a refill before it is needed."""
    for row in _rows(study, "purified"):
        if row.state in AMISS:
            yield Finding(
                "purified-too-slow",
                "water",
                row.state,
                row.place,
                phrase(_PURIFIED_TITLES[row.state]),
                phrase(
                    "{line}; the first refill is due in {due}.",
                    line=_capital(row),
                    due=Amount(row.want_high or 0.0, "duration"),
                ),
                size=distance_out(row),
            )


_PURIFIED_TITLES = {
    State.HIGH: "Purified water takes longer to make than it lasts",
    State.LIKELY_HIGH: "Purified water likely takes longer to make than it lasts",
    State.BORDERLINE: "Purified water may take longer to make than it lasts",
}


_MINERALS = {
    (True, True): "{mass} a day, onto leaves and into the lungs of who is there.",
    (False, True): "{mass} a day where the water is {hardness} hard; yours is not known.",
    (True, False): "{mass} in {volume} of fog, onto leaves and into lungs.",
    (False, False): "{mass} in {volume} where it is {hardness} hard; yours is not known.",
}
"""By whether the hardness is known, and whether the fogger runs at all."""


def minerals_in_the_air(study: Study) -> Iterator[Finding]:
    """Name foggers that get tap water which is not surely soft."""
    tap = study.design.tap
    soft = tap.hardness is not None and tap.hardness <= SOFT
    if _water(study) is None or soft or tap.purified != "nothing":
        return
    a_day = {row.place: row.value or 0.0 for row in _rows(study, "minerals")}
    for fogger in study.design.of(Fogger):
        yield _minerals(study, fogger, a_day.get(fogger.id, 0.0))


def _minerals(study: Study, fogger: Fogger, a_day: float) -> Finding:
    tap = study.design.tap
    hardness = ASSUMED_HARDNESS if tap.hardness is None else tap.hardness
    volume = parse("1 gal" if study.design.units == "us" else "1 L", "volume")
    mass = a_day or hardness * volume
    return Finding(
        "fogger-minerals",
        "water",
        State.CAUTION,
        fogger.id,
        phrase("{name} puts the minerals of its water into the air", name=fogger.name),
        phrase(
            _MINERALS[tap.hardness is not None, a_day > 0],
            mass=Amount(mass, "mass"),
            hardness=Amount(hardness, "hardness"),
            volume=Amount(volume, "volume"),
        ),
        level=study.placement.level_of(fogger.id),
        size=mass,
        remedy=Remedy(
            phrase("Give the foggers purified water"), {}, tap=replace(tap, purified="foggers")
        ),
    )


RULES = (dry_while_away, feed_too_slow, water_stays, purified_too_slow, minerals_in_the_air)
