"""Fields of the seasons: the air round the enclosure by day and night or hour by hour, and the sun.

Taking air over from a file is `gui.season_files`' affair.
"""

from __future__ import annotations

import math
from typing import Any

from core.errors import DesignError
from core.language import tr
from core.model import Design, Season
from core.units import show
from gui.form_paths import FormField, Link, Section, derived, quantity, set_at, text
from gui.season_asks import ASK_LOG, ASK_WEATHER

_HOUR = 3600.0
_FIRST, _LAST, _MOST = 9, 16, 200.0
_ROOM = (
    ("room_day", tr("Room by day")),
    ("room_night", tr("Room by night")),
    ("room_humidity_day", tr("Its humidity by day")),
    ("room_humidity_night", tr("Its humidity by night")),
)
_OUTDOORS = (
    ("outdoor_day", tr("Outdoors by day")),
    ("outdoor_night", tr("Outdoors by night")),
    ("outdoor_humidity_day", tr("Humidity there by day")),
    ("outdoor_humidity_night", tr("Humidity there by night")),
)


def season_sections(design: Design) -> tuple[Section, ...]:
    """Return a section for each season, and the link that adds one."""
    each = (_season_section(design, place) for place in range(len(design.seasons)))
    return (*each, Section("", (), (Link(tr("Add a season"), _add_season),)))


def _season_section(design: Design, place: int) -> Section:
    path, season = ("seasons", place), design.seasons[place]
    tip = tr("On a typical day of this season.")
    fields = [text(design, (*path, "name"), tr("Season"), tr("As in the season menu."))]
    for profile, words in ((season.room, _ROOM), (season.outdoors, _OUTDOORS)):
        if profile is None:
            fields += [quantity(design, (*path, name), label, tip) for name, label in words]
    fields += _sun_fields(place, season)
    return Section(
        season.name,
        tuple(fields),
        tuple(_links(design, place, season)),
        note=(lambda design, thing: _profile_words(design, place)) if _logged(season) else None,
    )


def _logged(season: Season) -> bool:
    return season.room is not None or season.outdoors is not None


def _links(design: Design, place: int, season: Season) -> list[Link]:
    links = [
        Link(tr("Air from a sensor’s log (CSV)…"), asks=ASK_LOG + season.id),
        Link(tr("Air from a year of weather (EPW)…"), asks=ASK_WEATHER + season.id),
    ]
    if _logged(season):
        words = tr("Go by day and night again")
        links.append(Link(words, lambda d, thing: _without_profiles(d, place)))
    if len(design.seasons) > 1:
        words = tr("Take this season away")
        links.append(Link(words, lambda d, thing: _drop_season(d, place)))
    return links


def _profile_words(design: Design, place: int) -> str:
    """Return what is known hour by hour, and where it is from."""
    if place >= len(design.seasons):
        return ""
    season = design.seasons[place]
    said = []
    for profile, words in (
        (season.room, tr("Room hour by hour, {low} to {high}.")),
        (season.outdoors, tr("Outdoors hour by hour, {low} to {high}.")),
    ):
        if profile is not None:
            low, high = (
                show(round(end(profile.temperature), 1), "temperature", design.units)
                for end in (min, max)
            )
            said.append(words.format(low=low, high=high))
    if season.source:
        said.append(tr("From {source}.").format(source=season.source))
    return " ".join(said)


def _without_profiles(design: Design, place: int) -> Design:
    change = {"room": None, "outdoors": None, "source": ""}
    for name, value in change.items():
        design = set_at(design, ("seasons", place, name), value)
    return design


def _add_season(design: Design, thing: Any) -> Design:
    used = {season.id for season in design.seasons}
    key = next(name for i in range(1, 100) if (name := f"season-{i}") not in used)
    new = Season(id=key, name=tr("Season {number}").format(number=len(used) + 1))
    return design.having(seasons=(*design.seasons, new))


def _drop_season(design: Design, place: int) -> Design:
    gone = design.seasons[place].id
    users = [part.name for part in design.parts if any(c.season == gone for c in part.when)]
    if users:
        text_ = tr("{season}: it is named by {parts}; change that first.")
        name = design.seasons[place].name
        raise DesignError(text_.format(season=name, parts=", ".join(users[:3])))
    return design.having(seasons=tuple(s for s in design.seasons if s.id != gone))


# --- sun on the window ---------------------------------------------------------------------------


def _sun_fields(place: int, season: Season) -> list[FormField]:
    most = derived(
        f"seasons.{place}.sun.most", tr("Sun on the window, most"),
        tr("At its brightest, on the window that the enclosure stands at; empty: not counted."),
        "quantity", lambda design, thing: _sun(design, place)[2],
        lambda design, thing, value: _put_sun(design, place, most=value),
        unit="irradiance", low=0.0, high=1400.0, optional=True,
    )  # fmt: skip
    if not season.sun or not any(season.sun):
        return [most]
    ends = (_sun_end(place, 0, "rise", tr("Sun from")), _sun_end(place, 1, "sink", tr("Sun until")))
    return [most, *ends]


def _sun_end(place: int, at: int, name: str, label: str) -> FormField:
    def put(design: Design, thing: Any, value: float) -> Design:
        return _put_sun(design, place, **{name: round(value / _HOUR)})

    return derived(
        f"seasons.{place}.sun.{name}", label,
        tr("To full hours; in between the sun rises and sinks evenly."), "quantity",
        lambda design, thing: (_sun(design, place)[at] or 0) * _HOUR, put, unit="time_of_day",
    )  # fmt: skip


def _sun(design: Design, place: int) -> tuple[int, int, float | None]:
    """Return between which hours the sun is on the window, and the most; None: not counted."""
    sun = design.seasons[place].sun if place < len(design.seasons) else None
    bright = [hour for hour, value in enumerate(sun or ()) if value > 0]
    if not sun or not bright:
        return _FIRST, _LAST, None
    return max(0, bright[0] - 1), bright[-1] + 1, max(sun)


def _put_sun(
    design: Design, place: int, *, most: float | None = -1.0, rise: int | None = None,
    sink: int | None = None,
) -> Design:  # fmt: skip
    first, last, brightest = _sun(design, place)
    most = brightest if most == -1.0 else most
    rise, sink = first if rise is None else rise, last if sink is None else sink
    if sink - rise < 2:
        raise DesignError(
            tr("Sun until = {sink}:00 must be two hours or more after {rise}:00; enter another.")
            .format(sink=f"{sink:02d}", rise=f"{rise:02d}")
        )  # fmt: skip
    sun = half_wave(rise, sink, most) if most else None
    return set_at(design, ("seasons", place, "sun"), sun)  # type: ignore[no-any-return]


def half_wave(rise: int, sink: int, most: float) -> tuple[float, ...]:
    """Return a sun at each full hour that rises and sinks evenly and reaches ``most``. [W/m²]"""
    shape = [
        math.sin(math.pi * (hour - rise) / (sink - rise)) if rise < hour < sink else 0.0
        for hour in range(24)
    ]
    top = max(shape)
    return tuple(round(most * value / top, 1) for value in shape)
