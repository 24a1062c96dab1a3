"""Rules on electric things beside water and heat beside what burns: cautions that name who decides.

Which plugs and sockets are where is found in `core.power.wiring`; loads are in `electric`.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

from core.finding import Finding, Remedy
from core.findings.edits import Edits, is_clear, remedy, set_to, shifted, when_settled
from core.findings.moves import along, if_it_fits, way_words
from core.findings.words import names
from core.fit.clearances import box_gap, heats, nearest_sheet
from core.fit.lengths import metres
from core.fit.standards import CLEAR_OF_HEATER, CLEAR_OF_HOT_LAMP
from core.geometry import Box, rectangle_gap
from core.model import (
    Fogger,
    Heater,
    Lamp,
    Lead,
    Outlet,
    Powered,
    Reservoir,
    Strip,
    Timer,
    Tray,
    replace,
)
from core.phrases import Phrase, phrase
from core.power.tree import PlugTree
from core.power.wiring import (
    WATER_REACH,
    Socket,
    bare_outlets,
    below_water,
    leads_above_water,
    unprotected,
    without_drip_loop,
)
from core.states import State
from core.study import Study

ABOVE_WATER = 0.10
"""How far above a water line sockets are raised (judgement). [m]"""


def socket_below_water(study: Study) -> Iterator[Finding]:
    """Find sockets lower than the water of a tray or tank beside them."""
    tree = PlugTree(study.design)
    flooded = {part.id for part in _in_the_liner(study)}
    for socket, water in below_water(tree, study.placement):
        if socket.id not in flooded and tree.devices(socket.id):
            name = study.design.by_id[water].name
            yield Finding(
                "socket-below-water",
                "power",
                State.CAUTION,
                socket.id,
                phrase(
                    "{socket} is lower than the water of {water}", socket=socket.name, water=name
                ),
                phrase(
                    "Water within {reach} may run down to it. A licensed electrician decides on "
                    "outlets in the wall.",
                    reach=metres(WATER_REACH),
                )
                if isinstance(socket, Outlet)
                else phrase("Water within {reach} may run down to it.", reach=metres(WATER_REACH)),
                remedy=_above_water(study, socket, _water_line(study, socket)),
            )


def _water_line(study: Study, socket: Socket) -> float:
    """Return the highest water within reach of a socket. [m]"""
    place, box = study.placement, study.placement.box(socket.id)
    lines = [0.0]
    for part in study.design.parts:
        if isinstance(part, Tray | Reservoir | Fogger):
            water = place.box(part.id)
            if rectangle_gap(box.footprint, water.footprint) <= WATER_REACH:
                filled = water.size[2] if isinstance(part, Fogger) else part.fill
                lines.append(water.lo[2] + filled)
    return max(lines)


@when_settled
def _above_water(study: Study, socket: Socket, line: float) -> Remedy | None:
    """Return a strip, lead or timer fixed higher than a water line; outlets stay."""
    if isinstance(socket, Outlet) or socket.place.fixing == "face" or socket.locked:
        return None
    up = line + ABOVE_WATER - study.placement.box(socket.id).lo[2]
    if up <= 0 or line + ABOVE_WATER + socket.height > study.design.room.height:
        return None
    edits = _clear_of_all(study, socket.id, along(2, up)[2])
    if edits is None:
        return None
    height = study.placement.box(socket.id).lo[2] + along(2, up)[2]
    words = phrase("Fix {name} {height} above the floor", name=socket.name, height=metres(height))
    return Remedy(words, edits)


def _clear_of_all(study: Study, part_id: str, up: float) -> Edits | None:
    edits = shifted(study, part_id, (0.0, 0.0, up))
    return edits if is_clear(study, edits) else None


def socket_in_the_liner(study: Study) -> Iterator[Finding]:
    """Find strips, leads and timers that would stand in water before the liner runs over."""
    enclosure = study.design.enclosure
    for part in _in_the_liner(study):
        lip = enclosure.liner.lowest_lip if enclosure and enclosure.liner else 0.0
        lower = study.placement.box(part.id).lo[2] - _floor(study)
        line = max(_floor(study) + lip, _water_line(study, part))
        yield Finding(
            "socket-in-the-liner",
            "power",
            State.LOW,
            part.id,
            phrase("{name} lies where spilt water collects", name=part.name),
            phrase(
                "{lower} above the enclosure’s floor; the liner fills to {lip}.",
                lower=metres(max(lower, 0.0)),
                lip=metres(lip),
            ),
            size=1.0 - lower / lip if lip else 1.0,
            remedy=_above_water(study, part, line),
        )


def _floor(study: Study) -> float:
    enclosure = study.design.enclosure
    return study.placement.box(enclosure.id).lo[2] if enclosure else 0.0


def _in_the_liner(study: Study) -> list[Strip | Lead | Timer]:
    enclosure = study.design.enclosure
    if enclosure is None or enclosure.liner is None:
        return []
    lip = _floor(study) + enclosure.liner.lowest_lip
    return [
        part
        for part in study.design.parts
        if isinstance(part, Strip | Lead | Timer)
        and study.placement.inside(part.id)
        and study.placement.box(part.id).lo[2] < lip - 1e-9
    ]


def no_drip_loop(study: Study) -> Iterator[Finding]:
    """Find leads that run down out of the enclosure without a drip loop, all in one finding."""
    bare = without_drip_loop(PlugTree(study.design), study.placement)
    if bare and _has_water(study):
        yield Finding(
            "no-drip-loop",
            "power",
            State.CAUTION,
            bare[0].id,
            phrase("No drip loop: {names}", names=names([part.name for part in bare])),
            phrase("Water that runs down a lead must drip off before the socket."),
            level=study.placement.level_of(bare[0].id),
            remedy=remedy(
                phrase("Give each a drip loop") if len(bare) > 1 else phrase("Give it a drip loop"),
                *(_looped(study, part.id) for part in bare),
            ),
        )


def _looped(study: Study, part_id: str) -> Any:
    drawn: Any = study.drawn.part(part_id)
    return set_to(study, part_id, plug=replace(drawn.plug, drip_loop=True))


def _has_water(study: Study) -> bool:
    return any(isinstance(part, Tray | Reservoir | Fogger) for part in study.design.parts)


def hangs_above_water(study: Study) -> Iterator[Finding]:
    """Find strips, leads and timers right above a tray or tank, without a drip loop."""
    for part, water in leads_above_water(PlugTree(study.design), study.placement):
        if part.plug is None or part.plug.drip_loop:
            continue
        yield Finding(
            "lead-above-water",
            "power",
            State.CAUTION,
            part.id,
            phrase(
                "{name} hangs above {water}", name=part.name, water=study.design.by_id[water].name
            ),
            phrase("Give it a drip loop, or move it. A licensed electrician decides on wiring."),
            remedy=remedy(
                phrase("Give {name} a drip loop", name=part.name), _looped(study, part.id)
            ),
        )


def no_leakage_protection(study: Study) -> Iterator[Finding]:
    """Find circuits that feed a wet enclosure and are not known to be protected."""
    rating = _trips_at(study)
    for circuit, part in unprotected(PlugTree(study.design), study.placement):
        if _has_water(study):
            yield Finding(
                "no-leakage-protection",
                "power",
                State.CAUTION,
                part.id,
                phrase("No leakage protection is known of on {circuit}", circuit=circuit.name),
                phrase(
                    "It feeds {name} beside water. Devices that trip at {rating} are made for "
                    "this; local code and a licensed electrician decide.",
                    name=part.name,
                    rating=rating,
                ),
            )


def _trips_at(study: Study) -> str:
    """Return the leakage at which protection trips where the design is used."""
    american = study.design.practice.region == "north-america"
    return "4 to 6 mA" if american else "30 mA"


def outlet_near_water(study: Study) -> Iterator[Finding]:
    """Find outlets in use beside water that are not known to be protected."""
    for outlet, water in bare_outlets(PlugTree(study.design), study.placement):
        yield Finding(
            "outlet-near-water",
            "power",
            State.CAUTION,
            outlet.id,
            phrase("No leakage protection is known of at {outlet}", outlet=outlet.name),
            phrase(
                "{water} holds water within {reach} of it. Devices that trip at {rating} are made "
                "for this; local code and a licensed electrician decide.",
                water=study.design.by_id[water].name,
                reach=metres(WATER_REACH),
                rating=_trips_at(study),
            ),
        )


def heater_near_covers(study: Study) -> Iterator[Finding]:
    """Find heaters closer to the enclosure's sheets than a published fire code asks for."""
    for heat in heats(study.placement):
        heater: Any = study.design.part(heat.heater)
        if heat.gap < CLEAR_OF_HEATER - 1e-9:
            yield Finding(
                "heater-near-covers",
                "climate",
                State.CAUTION,
                heater.id,
                phrase("{name} stands close to the {face} cover", name=heater.name, face=heat.face),
                phrase(
                    "{gap}; a published fire code asks for {clear} from what burns. Local "
                    "code decides.",
                    gap=metres(heat.gap),
                    clear=metres(CLEAR_OF_HEATER),
                ),
                size=1.0 - heat.gap / CLEAR_OF_HEATER,
                remedy=_away_from_covers(study, heater),
            )


@when_settled
def _away_from_covers(study: Study, heater: Heater) -> Remedy | None:
    """Return a heater in the room moved straight away from the enclosure, where it may go."""
    enclosure = study.design.enclosure
    if enclosure is None or study.placement.inside(heater.id) or heater.locked:
        return None
    outer, box = study.placement.box(enclosure.id), study.placement.box(heater.id)
    for axis, sign in product((0, 1), (1, -1)):
        beyond = outer.hi[axis] - box.lo[axis] if sign > 0 else box.hi[axis] - outer.lo[axis]
        shift = along(axis, sign * (beyond + CLEAR_OF_HEATER))
        far = box.moved(*shift)
        edits = if_it_fits(study, heater.id, shift)
        if (
            edits is not None
            and (nearest_sheet(study.placement, far) or (1.0,))[0] >= CLEAR_OF_HEATER
        ):
            words = phrase("Move {name} {way}", name=heater.name, way=way_words(shift))
            return Remedy(words, edits)
    return None


def hot_lamp_near(study: Study) -> Iterator[Finding]:
    """Find lamps that get hot close to leaves or covers."""
    for lamp in study.design.of(Lamp):
        if lamp.surface_hot:
            gap, thing = _nearest_to_hot(study, lamp)
            if gap < CLEAR_OF_HOT_LAMP - 1e-9:
                yield Finding(
                    "hot-lamp-near",
                    "light",
                    State.CAUTION,
                    lamp.id,
                    phrase("{name} gets hot close to {thing}", name=lamp.name, thing=thing),
                    phrase(
                        "{gap}; {clear} taken as safe, its maker decides.",
                        gap=metres(gap),
                        clear=metres(CLEAR_OF_HOT_LAMP),
                    ),
                    level=study.placement.level_of(lamp.id),
                    size=1.0 - gap / CLEAR_OF_HOT_LAMP,
                    remedy=_lamp_moved(study, lamp, CLEAR_OF_HOT_LAMP - gap),
                )


def _nearest_to_hot(study: Study, lamp: Lamp) -> tuple[float, Phrase]:
    """Return how far the nearest leaves or cover are from a lamp, and what they are. [m]"""
    box = study.placement.box(lamp.id)
    near: list[tuple[float, Phrase]] = [(float("inf"), phrase("nothing"))]
    for zone in study.placement.zones:
        leaves = study.placement.box(zone.part.id)
        near.append((box_gap(box, leaves), phrase("{name}", name=zone.part.name)))
    sheet = nearest_sheet(study.placement, box)
    if sheet is not None:
        near.append((sheet[0], phrase("the {face} cover", face=sheet[1])))
    return min(near, key=lambda item: item[0])


@when_settled
def _lamp_moved(study: Study, lamp: Lamp, lacking: float) -> Remedy | None:
    """Return the lamp drawn up from leaves, or let down from a cover, by what it lacks."""
    for words, way in (("Raise {name} by {length}", 1.0), ("Lower {name} by {length}", -1.0)):
        shift = along(2, way * lacking)
        edits = if_it_fits(study, lamp.id, shift)
        if edits is None or _still_near(study, study.placement.box(lamp.id).moved(*shift)):
            continue
        return Remedy(phrase(words, name=lamp.name, length=metres(abs(shift[2]))), edits)
    return None


def _still_near(study: Study, box: Box) -> bool:
    leaves = [study.placement.box(zone.part.id) for zone in study.placement.zones]
    sheet = nearest_sheet(study.placement, box)
    gaps = [box_gap(box, other) for other in leaves] + ([sheet[0]] if sheet else [])
    return min(gaps, default=1.0) < CLEAR_OF_HOT_LAMP - 1e-9


def tank_above_devices(study: Study) -> Iterator[Finding]:
    """Find reservoirs that stand above a device on mains power."""
    for tank in study.design.of(Reservoir):
        under = [part for part in study.design.of(Powered) if _is_under(study, part, tank)]
        if under:
            yield Finding(
                "tank-above-devices",
                "water",
                State.CAUTION,
                tank.id,
                phrase(
                    "{tank} stands above {names}",
                    tank=tank.name,
                    names=names([part.name for part in under]),
                ),
                phrase("A leak or a spill when filling runs onto it."),
                remedy=_beside(study, tank, under),
            )


def _is_under(study: Study, part: Powered, tank: Reservoir) -> bool:
    """Tell whether a device is below a tank; foggers are made to be wet."""
    if isinstance(part, Fogger):
        return False
    box, above = study.placement.box(part.id), study.placement.box(tank.id)
    overlap = box.footprint.overlap(above.footprint) is not None
    return overlap and box.hi[2] <= above.lo[2] + 1e-9


@when_settled
def _beside(study: Study, tank: Reservoir, under: list[Powered]) -> Remedy | None:
    """Return the tank moved along the surface it stands on until it is above none of these."""
    if tank.locked or tank.place.fixing != "stands":
        return None
    box = study.placement.box(tank.id)
    below = [study.placement.box(part.id) for part in under]
    for axis in (0, 1):
        ahead = max(other.hi[axis] - box.lo[axis] for other in below)
        back = max(box.hi[axis] - other.lo[axis] for other in below)
        for length in sorted((ahead, -back), key=abs):
            shift = along(axis, length)
            edits = if_it_fits(study, tank.id, shift)
            if edits is not None and not _above_any(study, box.moved(*shift)):
                words = phrase("Move {name} {way}", name=tank.name, way=way_words(shift))
                return Remedy(words, edits)
    return None


def _above_any(study: Study, box: Box) -> bool:
    devices = [p for p in study.design.of(Powered) if not isinstance(p, Fogger)]
    boxes = [study.placement.box(part.id) for part in devices]
    return any(
        box.footprint.overlap(other.footprint) and other.hi[2] <= box.lo[2] + 1e-9
        for other in boxes
    )


RULES = (
    socket_below_water,
    socket_in_the_liner,
    no_drip_loop,
    hangs_above_water,
    no_leakage_protection,
    outlet_near_water,
    heater_near_covers,
    hot_lamp_near,
    tank_above_devices,
)
