"""Where a part is, as its form shows it: what holds it, on which level, and how far from where.

The places themselves are resolved in `core.placement`; dragging changes them too, on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from core.language import tr
from core.model import (
    FACES,
    ROOM,
    AnyPart,
    Design,
    Enclosure,
    Lamp,
    Part,
    Place,
    ShelfUnit,
    replace,
)
from core.model.references import HOSTS
from core.phrases import capital
from core.placement import Placement
from gui.form_paths import FormField, Thing, derived, fresh, put_thing, quantity

Where = tuple[str, str, int | None, str | None]
"""A host, a fixing, a level and a face."""

_LAMP_GAP = 0.02
_FIXINGS: dict[str, tuple[str, ...]] = {
    "lamp": ("under", "hung", "clipped", "stands"),
    "fan": ("clipped", "stands", "hung"),
    "duct-fan": ("face", "hung", "stands"),
    "opening": ("face",),
    "cooler": ("face", "stands"),
    "fogger": ("stands", "hung", "clipped"),
    "strip": ("stands", "clipped", "hung"),
    "timer": ("stands", "clipped", "hung"),
    "thermostat": ("clipped", "stands", "hung"),
    "humidistat": ("clipped", "stands", "hung"),
}
_NEVER_CARRIED = {"enclosure"}


def where_words(design: Design, part: Part) -> str:
    """Return in words where a part is: "on Shelf unit A, level 3"."""
    return _words(design, _where(part.place))


def _where(place: Place) -> Where:
    return place.host, place.fixing, place.level, place.face


def _words(design: Design, where: Where) -> str:
    host_id, fixing, level, face = where
    host = design.by_id.get(host_id)
    name = host.name if host is not None else tr("the room")
    if fixing == "face":
        side = tr("{face} face of {host}").format(face=tr(face or ""), host=name)
        return tr("in the {side}").format(side=side) if face else tr("in {host}").format(host=name)
    if fixing == "hung":
        return tr("hung from {host}").format(host=name if host else tr("the ceiling"))
    if fixing == "clipped":
        return tr("clipped to {host}").format(host=name if host else tr("the wall"))
    if fixing == "under" and level is not None:
        return tr("under {host}, shelf {level}").format(host=name, level=level)
    if fixing == "under":
        return tr("under {host}").format(host=name)
    if level is not None:
        return tr("on {host}, level {level}").format(host=name, level=level)
    return tr("on {host}").format(host=name if host else tr("the floor"))


def _offers(design: Design, part: AnyPart) -> Iterator[Where]:
    """Yield all places that a part of this kind may be given."""
    carried = {item.id for item in design.carried(part.id)} | {part.id}
    for fixing in _FIXINGS.get(part.kind, ("stands",)):
        if fixing in ("stands", "hung", "clipped"):
            yield ROOM, fixing, None, None
        for host in (*design.parts, *design.room.fixtures):
            if host.kind in HOSTS[fixing] and host.id not in carried:
                yield from _offers_on(host, fixing)


def _offers_on(host: Any, fixing: str) -> Iterator[Where]:
    if isinstance(host, ShelfUnit) and fixing in ("stands", "under"):
        if fixing == "stands":
            yield host.id, fixing, None, None
        for level in range(1, len(host.levels) + 1):
            yield host.id, fixing, level, None
    elif isinstance(host, Enclosure) and fixing == "face":
        for face in FACES:
            yield host.id, fixing, None, face
    else:
        yield host.id, fixing, None, None


def place_fields(design: Design, part: AnyPart) -> tuple[FormField, ...]:
    """Return the fields of a part's place."""
    if part.kind == "feed":
        return ()
    found: list[FormField] = []
    if part.kind not in _NEVER_CARRIED:
        found.append(_where_field())
    found += _offsets(part)
    if isinstance(part, Lamp) and drop_of(design, part) is not None:
        found.append(_drop_field())
    if part.place.fixing != "face":
        found.append(_turn_field())
    return tuple(found)


def _where_field() -> FormField:
    return derived(
        "where", tr("Where"),
        tr("What holds it. What it carries goes along."),
        "choice",
        lambda design, thing: _where(fresh(design, thing).place),  # type: ignore[union-attr]
        _put_where,
        options=lambda design, thing: [
            (where, capital(_words(design, where))) for where in _all(design, thing)
        ],
        wide=True,
    )  # fmt: skip


def _all(design: Design, thing: Thing) -> list[Where]:
    part = fresh(design, thing)
    assert isinstance(part, Part)
    found = list(_offers(design, part))
    now = _where(part.place)
    return found if now in found else [now, *found]


def _put_where(design: Design, thing: Thing, where: Where) -> Design:
    """Return the design with a part on another host, as near to where it was as that allows."""
    part: Any = fresh(design, thing)
    host, fixing, level, face = where
    placement = Placement(design)
    size = placement.frame(host).size
    box = placement.box(part.id)
    x, y = placement.in_host(host, box, box.lo[0], box.lo[1])
    along = size[0] if face not in ("left", "right") else size[1]
    x = _within(x, box.size[0], along)
    y = _within(y, box.size[1], size[1])
    z = _height(placement, part, host, fixing)
    if fixing == "face":
        x, y = _within(x, part.extent[0], along), 0.0
    place = Place.model_validate(
        {"host": host, "fixing": fixing, "level": level, "face": face,
         "x": x, "y": y, "z": z, "turn": 0 if fixing == "face" else part.place.turn}
    )  # fmt: skip
    return put_thing(design, part, replace(part, place=place))


def _within(at: float, length: float, room: float) -> float:
    return min(max(0.0, at), max(0.0, room - length))


def _height(placement: Placement, part: AnyPart, host: str, fixing: str) -> float:
    if fixing == "clipped":
        base = placement.frame(host).origin[2]
        return max(0.0, placement.box(part.id).lo[2] - base)
    if fixing == "face":
        sill = placement.frame(host).size[2]
        return _within(placement.box(part.id).lo[2], part.extent[2], sill)
    if fixing == "under" and isinstance(part, Lamp):
        return _LAMP_GAP
    return 0.0


def _offsets(part: AnyPart) -> list[FormField]:
    """Return the fields of a part's place in its host's own axes."""
    fixing, face = part.place.fixing, part.place.face
    if fixing == "face" and face not in ("top", "bottom"):
        start = tr("From the front") if face in ("left", "right") else tr("From the left")
        tip = tr("Along the face, to its near edge.")
        up = quantity(part, "place.z", tr("Height"), tr("Its lower edge above the host’s foot."))
        return [quantity(part, "place.x", start, tip), up]
    left = tr("From the host’s left side to this part’s, as the host stands unturned.")
    front = tr("From the host’s front to this part’s, as the host stands unturned.")
    found = [
        quantity(part, "place.x", tr("From the left"), left),
        quantity(part, "place.y", tr("From the front"), front),
    ]
    words, tip = {
        "under": (tr("Below the shelf"), tr("The gap between the shelf above and this part.")),
        "hung": (tr("Below the top"), tr("How far down it hangs.")),
        "clipped": (tr("Height"), tr("Its underside above the host’s foot.")),
    }.get(fixing, (tr("Raised by"), tr("How far it stands above the surface; usually nothing.")))
    if fixing != "face":
        found.append(quantity(part, "place.z", words, tip))
    return found


def _turn_field() -> FormField:
    options = [(0, tr("not turned")), (1, "90°"), (2, "180°"), (3, "270°")]
    return derived(
        "place.turn", tr("Turned"), tr("Anticlockwise, seen from above; R does it on the sheet."),
        "choice",
        lambda design, thing: fresh(design, thing).place.turn,  # type: ignore[union-attr]
        lambda design, thing, turn: _put_place(design, thing, turn=turn),
        options=lambda design, thing: options,
    )  # fmt: skip


def _put_place(design: Design, thing: Thing, **changes: Any) -> Design:
    part: Any = fresh(design, thing)
    return put_thing(design, part, replace(part, place=replace(part.place, **changes)))


# Drop --------------------------------------------------------------------------------------------


def drop_of(design: Design, lamp: Lamp) -> float | None:
    """Return how far a lamp's underside is above the highest leaves it hangs over. [m]"""
    placement = Placement(design)
    level = placement.level_of(lamp.id)
    zones = [zone for zone in placement.zones if zone.level == level and level is not None]
    box = placement.box(lamp.id)
    under = [zone for zone in zones if zone.area.overlap(box.footprint)] or zones
    if not under:
        return None
    return box.lo[2] - max(zone.high for zone in under)


def _drop_field() -> FormField:
    return derived(
        "drop", tr("Drop to leaves"),
        tr("From the lamp down to the highest leaves. The farther, the weaker and the more even."),
        "quantity", lambda design, thing: _drop(design, thing), _put_drop, unit="length",
        low=-1.0, high=10.0,
    )  # fmt: skip


def _drop(design: Design, thing: Thing) -> float | None:
    lamp = fresh(design, thing)
    return drop_of(design, lamp) if isinstance(lamp, Lamp) else None


def _put_drop(design: Design, thing: Thing, drop: float) -> Design:
    now = _drop(design, thing)
    part: Any = fresh(design, thing)
    if now is None:
        return design
    higher = drop - now
    down = part.place.fixing in ("under", "hung")
    z = part.place.z - higher if down else part.place.z + higher
    return _put_place(design, thing, z=z)
