"""Fields of everything electric: watts, hours, plug and lead, limits, controllers' set-points.

What the loads come to is `core.power`'s work.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from core.errors import InputError
from core.hours import ALL_DAY, Periods
from core.language import tr
from core.model import (
    Design,
    Hours,
    Lamp,
    Lead,
    Outlet,
    Period,
    Plug,
    Powered,
    SetPoint,
    Strip,
    Thermostat,
    Timer,
    replace,
)
from core.power.drops import TAKEN_AREA
from core.power.loads import Loads
from core.power.room import rooms
from core.power.tree import PlugTree
from core.power.wiring import Socket
from gui.form_paths import (
    FormField,
    Link,
    Section,
    choice,
    derived,
    fresh,
    put_thing,
    quantity,
    set_at,
    tick,
)
from gui.plug_words import room_words


def electric_sections(design: Design, part: Any) -> tuple[Section, ...]:
    """Return watts and plug of a device, or limits and plug of what passes power on."""
    fields: list[FormField] = []
    if isinstance(part, Powered):
        fields += _device_fields(part)
    elif isinstance(part, Strip | Lead | Timer):
        fields += _passing_fields(design, part)
    found = Section(tr("Electricity"), (*fields, *plug_fields(design, part)))
    return (found, *room_sections(design, part))


def room_sections(design: Design, thing: Any) -> tuple[Section, ...]:
    """Return what else may be plugged in at an outlet, strip, lead or timer, as a heading."""
    room = rooms(Loads(PlugTree(design))).get(thing.id) if isinstance(thing, Socket) else None
    if room is None:
        return ()
    words = tr("At the fullest minute: {room}").format(room=room_words(room, design.units))
    return (Section(words, ()),)


def _device_fields(part: Any) -> Iterator[FormField]:
    yield quantity(part, "watts", tr("Power at full"), tr("From its nameplate."))
    if isinstance(part, Lamp):
        yield quantity(part, "dimming", tr("Dimming"), tr("100 % is full light."))
    yield hours_field(part)
    yield quantity(
        part, "hours.ramp", tr("Ramp (minutes)"), tr("Time to full and back, within its hours."),
        "count",
    )  # fmt: skip
    yield quantity(
        part, "duty", tr("Duty"),
        tr("Share of its hours that it really runs, where a thermostat or humidistat switches it."),
    )  # fmt: skip
    yield quantity(
        part, "power_factor", tr("Power factor"),
        tr("Watts over volt-amperes; cheap drivers have 0.5 to 0.6."), "count",
    )  # fmt: skip
    yield quantity(part, "inrush", tr("Inrush"), tr("Peak current while it is switched on."))
    yield quantity(
        part, "inrush_most", tr("Start together at most"),
        tr("How many its maker lets start at once on one breaker; goes before the inrush."),
    )  # fmt: skip
    yield quantity(
        part, "leakage", tr("Leaks to earth"),
        tr("Standing leakage from its data sheet, as 0.5 mA; drivers with filters have some."),
    )  # fmt: skip
    yield tick(part, "starts_hard", tr("Starts hard"), tr("Has a compressor or a motor."))


def _passing_fields(design: Design, part: Strip | Lead | Timer) -> Iterator[FormField]:
    yield quantity(
        part, "limit", tr("Carries at most"), tr("The current on its label."),
        taken=lambda design, thing: design.practice.strip_limit,
    )  # fmt: skip
    yield quantity(part, "sockets", tr("Sockets"), tr("How many plugs it takes."))
    if isinstance(part, Lead):
        yield quantity(part, "length", tr("Length"), tr("Of the cable."))
        yield quantity(
            part, "wire_area", tr("Conductor"), tr("Thin ones lose voltage and get warm.")
        )
        yield tick(part, "coiled", tr("Left coiled"), tr("A coiled lead gets much hotter."))


def hours_field(part: Any) -> FormField:
    """Return the field for when something runs."""
    return derived(
        "hours", tr("Runs"), tr("As in 07:00–19:00, or 7–9, 17–22; or all day."), "hours",
        lambda design, thing: _periods(fresh(design, thing).hours),  # type: ignore[union-attr]
        _put_hours,
    )  # fmt: skip


def _periods(hours: Hours) -> Periods:
    return tuple((period.on, period.off) for period in hours.periods) or ALL_DAY


def _put_hours(design: Design, thing: Any, periods: Periods) -> Design:
    part: Any = fresh(design, thing)
    spans = () if periods == ALL_DAY else tuple(Period(on=on, off=off) for on, off in periods)
    return put_thing(design, part, replace(part, hours=replace(part.hours, periods=spans)))


def plug_fields(design: Design, part: Any) -> Iterator[FormField]:
    """Yield where a thing is plugged in, and the lead to there."""
    if "plug" not in type(part).model_fields:
        return
    yield derived(
        "plug", tr("Plugged into"),
        tr("Outlet, strip, lead or timer; a lamp also into the lamp before it in a chain."),
        "choice", lambda design, thing: _into(design, thing), _put_plug,
        options=_plug_options, wide=True,
    )  # fmt: skip
    if part.plug is None:
        return
    yield quantity(part, "plug.lead_length", tr("Its lead"), tr("Length from it to the plug."))
    yield quantity(
        part, "plug.wire_area", tr("Its conductor"), tr("Of the device’s own lead."),
        taken=lambda design, thing: TAKEN_AREA,
    )  # fmt: skip
    yield tick(
        part, "plug.drip_loop", tr("Drip loop"),
        tr("The lead hangs in a bow below its plug, so that water drips off before it."),
    )  # fmt: skip


def _into(design: Design, thing: Any) -> str | None:
    plug = fresh(design, thing).plug  # type: ignore[union-attr]
    return plug.into if plug else None


def _plug_options(design: Design, thing: Any) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = [(None, tr("not plugged in yet"))]
    feeds = [f for f in design.room.fixtures if isinstance(f, Outlet)]
    found += [(outlet.id, outlet.name) for outlet in feeds]
    for part in design.parts:
        chained = isinstance(part, Lamp) and isinstance(thing, Lamp)
        if part.id != thing.id and (isinstance(part, Strip | Lead | Timer) or chained):
            found.append((part.id, part.name))
    return found


def _put_plug(design: Design, thing: Any, into: str | None) -> Design:
    part: Any = fresh(design, thing)
    if into is None:
        plug = None
    else:
        plug = replace(part.plug, into=into) if part.plug else Plug(into=into)
    return put_thing(design, part, replace(part, plug=plug))


# Controllers -------------------------------------------------------------------------------------


def control_field(design: Design) -> FormField:
    """Return which controller switches a device."""
    known = [part for part in design.parts if part.kind in ("thermostat", "humidistat")]
    options = [(None, tr("nothing")), *((part.id, part.name) for part in known)]
    return derived(
        "control", tr("Switched by"), tr("A thermostat or humidistat."), "choice",
        lambda design, thing: fresh(design, thing).control,  # type: ignore[union-attr]
        lambda design, thing, value: put_thing(
            design, fresh(design, thing), set_at(fresh(design, thing), ("control",), value)
        ),
        options=lambda design, thing: options,
    )  # fmt: skip


def set_point_sections(design: Design, part: Any) -> tuple[Section, ...]:
    """Return the set-points of a thermostat or humidistat, one section each."""
    value, span = ("temperature", "temperature_difference")
    if not isinstance(part, Thermostat):
        value, span = ("fraction", "fraction")
    sections = [
        _set_point_section(design, part, place, value, span)
        for place in range(len(part.set_points))
    ]
    off = quantity(
        part, "minimum_off", tr("Least time off (s)"), tr("Spares compressors."), "count"
    )
    add = Link(tr("Add a set-point"), _add_set_point)
    return (*sections, Section(tr("Switching"), (off,), (add,)))


def _set_point_section(design: Design, part: Any, place: int, value: str, span: str) -> Section:
    seasons = [(None, tr("every season")), *((s.id, s.name) for s in design.seasons)]
    halves = ((None, tr("day and night")), ("day", tr("by day")), ("night", tr("by night")))
    path = ("set_points", place)
    fields = (
        quantity(part, (*path, "value"), tr("Set to"), tr("What it aims at."), value),
        quantity(
            part, (*path, "differential"), tr("Differential"),
            tr("How far the air drifts before it switches again."), span,
        ),
        choice(part, (*path, "season"), tr("Season"), tr("When it holds."), seasons),
        choice(part, (*path, "half"), tr("Time"), tr("By day means while lamps are on."), halves),
    )  # fmt: skip
    drop = Link(tr("Take it away"), lambda design, thing: _drop_set_point(design, thing, place))
    heading = tr("Set-point {number}").format(number=place + 1)
    return Section(heading, fields, (drop,))


def _add_set_point(design: Design, thing: Any) -> Design:
    part: Any = fresh(design, thing)
    warm = isinstance(part, Thermostat)
    new = SetPoint(value=20.0) if warm else SetPoint(value=0.75, differential=0.05)
    return put_thing(design, part, replace(part, set_points=(*part.set_points, new)))


def _drop_set_point(design: Design, thing: Any, place: int) -> Design:
    part: Any = fresh(design, thing)
    points = list(part.set_points)
    if place >= len(points):
        raise InputError(tr("That set-point is gone already; choose another."))
    del points[place]
    return put_thing(design, part, replace(part, set_points=tuple(points)))
