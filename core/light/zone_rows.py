"""What is read of one zone's light: its leaf tops, its lowest leaves, its day, and how even it is.

What could be done about it is in `core.light.zone_advice`; the light itself comes from
`core.light.survey`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.light.from_design import LampSource
from core.light.maps import REFLECTANCE_OFF, USUAL_HOURS, ZoneLight
from core.light.methods import CELLS, DLI, METER, PPFD, SHARE
from core.light.survey import Survey
from core.light.zone_meter import zone_meter
from core.phrases import Amount, Phrase, percent, phrase
from core.reading import Method, Reading, reading
from core.states import State, judge_spread, words
from core.study import Study

Want = tuple[float | None, float | None]


@dataclass(frozen=True, eq=False)
class ZoneRows:
    """Makes the readings of zones.

    Attributes
    ----------
    study : Study
    found : Survey
    method : float
        Relative uncertainty of the method. [1]
    """

    study: Study
    found: Survey
    method: float

    def rows(self, zone: ZoneLight) -> Iterator[Reading]:
        """Iterate over what is read of a zone: while something is dragged the main three alone."""
        taken = self.assumptions(zone)
        yield self.tops(zone, taken)
        yield self.lowest(zone, taken)
        yield self.daily(zone, taken)
        if self.study.quality == "coarse":
            return
        yield from self.cells(zone, taken)
        yield self.reflected(zone, taken)
        yield self.meter(zone)

    def row(
        self,
        zone: ZoneLight,
        name: str,
        value: float,
        kind: str,
        line: Phrase,
        method: Method,
        *,
        spread: tuple[float, float] | None = None,
        want: Want = (None, None),
        taken: tuple[Phrase, ...] = (),
    ) -> Reading:
        """Return one judged reading of a zone."""
        return reading(
            "light", name, zone.part, self.where(zone), value, kind, line, method,
            spread=spread, want=want, assumptions=taken,
        )  # fmt: skip

    def tops(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
        """Return the light at the leaf tops."""
        line = phrase(
            "{value} at {where}; {want}",
            value=light_number(zone.mean),
            where=self.where(zone),
            want=want_words(zone.want, zone.group.name),
        )
        made = self.row(
            zone, "ppfd", zone.mean, "photon_flux_density", line, PPFD,
            spread=zone.bubble(self.method), want=zone.want, taken=taken,
        )  # fmt: skip
        return _spread_judged(made, zone)

    def lowest(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
        """Return the light at the lowest leaves, which may be too weak but not too strong."""
        below, want = zone.lowest, (zone.want[0], None)
        line = phrase(
            "{value} at the lowest leaves, {where}; {want}",
            value=light_number(below.mean),
            where=self.where(zone),
            want=want_words(want, zone.group.name),
        )
        return self.row(
            zone, "ppfd-lowest", below.mean, "photon_flux_density", line, PPFD,
            spread=_scaled(zone, self.method, below.mean), want=want, taken=taken,
        )  # fmt: skip

    def daily(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
        """Return the daily light, judged where the plants' range is one of daily light."""
        day = zone.group.daily_light if zone.group.ppfd is None else None
        want = (day.low, day.high) if day else (None, None)
        line = phrase(
            "{dli} at {where}; {want}" if day else "{dli} at {where}",
            dli=Amount(zone.dli, "daily_light"),
            where=self.where(zone),
            want=want_words(want, zone.group.name),
        )
        return self.row(
            zone, "dli", zone.dli, "daily_light", line, DLI,
            spread=_scaled(zone, self.method, zone.dli), want=want, taken=taken,
        )  # fmt: skip

    def cells(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Iterator[Reading]:
        """Iterate over the darkest cell, the brightest, and the darkest over the mean."""
        for name, text, value in (
            ("ppfd-least", "{value} where it is darkest, {where}", zone.low),
            ("ppfd-most", "{value} where it is brightest, {where}", zone.high),
        ):
            line = phrase(text, value=light_number(value), where=self.where(zone))
            yield self.row(
                zone, name, value, "photon_flux_density", line, CELLS,
                spread=_scaled(zone, self.method, value), taken=taken,
            )  # fmt: skip
        even = phrase(
            "{value} of the mean where it is darkest, {where}",
            value=f"{zone.uniformity:.2f}",
            where=self.where(zone),
        )
        yield self.row(zone, "uniformity", zone.uniformity, "fraction", even, CELLS, taken=taken)

    def reflected(self, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
        """Return the share that does not come straight from the lamps."""
        share = zone.reflected_share
        line = phrase(
            "{share} reflected, {where}",
            share=percent(share),
            where=self.where(zone),
        )
        off = REFLECTANCE_OFF * share * (1 - share)
        return self.row(
            zone, "reflected", share, "fraction", line, SHARE,
            spread=(share - off, share + off), taken=taken,
        )  # fmt: skip

    def meter(self, zone: ZoneLight) -> Reading:
        """Return what a lux meter would show."""
        shown = zone_meter(zone, self.found.lamps, method=self.method)
        low, high = shown.phone
        line = phrase(
            "{lux} by a lux meter, {where}; a phone may say {low}–{high}",
            lux=Amount(rounded_lux(shown.lux), "illuminance"),
            where=self.where(zone),
            low=Amount(rounded_lux(low), "illuminance", unit=False),
            high=Amount(rounded_lux(high), "illuminance"),
        )
        return self.row(
            zone, "lux", shown.lux, "illuminance", line, METER,
            spread=shown.lux_meter, taken=shown.assumptions,
        )  # fmt: skip

    def where(self, zone: ZoneLight) -> Phrase:
        """Return the level's name, with the plants' where the level has several zones."""
        level = self.study.level_words(zone.level)
        shared = sum(1 for other in self.found.zones if other.level == zone.level) > 1
        return phrase("{level}, {name}", level=level, name=zone.name) if shared else level

    def assumptions(self, zone: ZoneLight) -> tuple[Phrase, ...]:
        """Return what was taken for granted about a zone and the lamps that light it."""
        near = set(zone.lit_by())
        lamps = [lamp for lamp in self.found.lamps if lamp.part.id in near or lamp.ppf == 0]
        found = [_lamp_words(lamp) for lamp in lamps]
        said = [words for words in found if words is not None]
        if zone.group.ppfd is None and zone.group.daily_light is not None:
            said.append(_daily_words(zone))
        return (*said, *self.found.assumptions)


def _scaled(zone: ZoneLight, method: float, value: float) -> tuple[float, float]:
    """Return the range of a value that is as unsure as the zone's mean."""
    low, high = zone.bubble(method)
    scale = value / zone.mean if zone.mean > 0 else 1.0
    return low * scale, high * scale


def _spread_judged(made: Reading, zone: ZoneLight) -> Reading:
    """Return the reading as uneven where its mean is inside but too little of its area is."""
    share = zone.in_range
    if share is None or made.state not in (State.FINE, State.BORDERLINE):
        return made
    state = judge_spread(made.state, share)
    if judge_spread(State.FINE, share) is State.FINE:
        return made
    return replace(made, state=state, words=words(state, "light", uneven=True))


def light_number(value: float) -> str:
    """Return a photon flux density without its unit, whole from 10 up: "184", "7.5"."""
    return f"{value:.0f}" if value >= 9.95 else f"{value:.1f}"


def rounded_lux(lux: float) -> float:
    """Return lux to two figures: no meter that growers have is surer. [lx]"""
    return float(f"{lux:.2g}")


def want_words(want: Want, plants: str) -> Phrase:
    """Return what is wanted as it ends a reading's line: "want 60–120"."""
    low, high = want
    if low is not None and high is not None:
        return phrase("want {low}–{high}", low=light_number(low), high=light_number(high))
    if low is not None:
        return phrase("want {low} or more", low=light_number(low))
    if high is not None:
        return phrase("want at most {high}", high=light_number(high))
    return phrase("{plants}: enter yours", plants=plants)


def _lamp_words(lamp: LampSource) -> Phrase | None:
    if not lamp.flux.assumption:
        return None
    return phrase("{name}: {taken}", name=lamp.part.name, taken=lamp.flux.assumption)


def _daily_words(zone: ZoneLight) -> Phrase:
    hours = zone.hours or USUAL_HOURS
    return phrase(
        "The wanted light is the daily light of {plants} over {hours} h",
        plants=zone.group.name,
        hours=f"{hours:.3g}",
    )
