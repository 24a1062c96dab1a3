"""Fields of the room's fixtures, and, with nothing selected, of the room and the design itself.

Parts have theirs in `gui.form_fields`.
"""

from __future__ import annotations

from typing import Any

from core.language import tr
from core.model import (
    EUROPE,
    NORTH_AMERICA,
    AnyFixture,
    Circuit,
    Corner,
    Design,
    Obstacle,
    Outlet,
    Room,
    RoomDoor,
    RoomWindow,
    replace,
)
from core.room_shape import with_outline
from gui.form_electric import room_sections
from gui.form_paths import (
    FormField,
    Link,
    Section,
    choice,
    derived,
    quantity,
    set_at,
    text,
    tick,
)
from gui.form_prices import price_sections
from gui.form_seasons import season_sections

# Fixtures ----------------------------------------------------------------------------------------


def fixture_sections(design: Design, fixture: AnyFixture) -> tuple[Section, ...]:
    """Return all fields of a fixture's form."""
    name = text(fixture, "name", tr("Name"), tr("What it is called everywhere."))
    if isinstance(fixture, Obstacle):
        own: tuple[FormField, ...] = _obstacle_fields(fixture)
    else:
        own = (*_wall_fields(design, fixture), *_fixture_fields(design, fixture))
    notes = text(
        fixture, "notes", tr("Notes"), tr("For yourself; printed in the summary."), optional=True
    )
    return (Section("", (name, *own)), *room_sections(design, fixture), Section("", (notes,)))


def _wall_fields(design: Design, fixture: Any) -> tuple[FormField, ...]:
    walls = [(number, _wall_words(design, number)) for number in _walls(design)]
    return (
        choice(fixture, "wall", tr("In the wall"), tr("Counted along the room’s outline."), walls),
        quantity(
            fixture,
            "offset",
            tr("Along the wall"),
            tr("From the wall’s first corner, to its edge."),
        ),
    )


def _walls(design: Design) -> range:
    return range(1, len(design.room.outline) + 1)


def _wall_words(design: Design, number: int) -> str:
    if _is_rectangle(design.room):
        names = (tr("front"), tr("right"), tr("back"), tr("left"))
        return names[number - 1]
    return tr("wall {number}").format(number=number)


def _fixture_fields(design: Design, fixture: AnyFixture) -> tuple[FormField, ...]:
    if isinstance(fixture, RoomDoor):
        ends = (("near", tr("near end")), ("far", tr("far end")))
        ways = (("in", tr("into the room")), ("out", tr("out of the room")))
        return (
            quantity(fixture, "width", tr("Width"), tr("Of the leaf.")),
            quantity(
                fixture, "height", tr("Height"), tr("Of the leaf; a frame is carried through.")
            ),
            choice(fixture, "hinge", tr("Hinge"), tr("End of the opening it turns on."), ends),
            choice(fixture, "swing", tr("Swings"), tr("Where its leaf needs room."), ways),
        )
    if isinstance(fixture, RoomWindow):
        return (
            quantity(fixture, "width", tr("Width"), tr("Of the glass.")),
            quantity(fixture, "height", tr("Height"), tr("Of the glass.")),
            quantity(fixture, "sill", tr("Sill"), tr("Its lower edge above the floor.")),
        )
    assert isinstance(fixture, Outlet)
    return _outlet_fields(design, fixture)


def _outlet_fields(design: Design, outlet: Outlet) -> tuple[FormField, ...]:
    circuits = [(None, tr("not known"))]
    circuits += [(circuit.id, circuit.name) for circuit in design.room.circuits]  # type: ignore[misc]
    return (
        quantity(outlet, "z", tr("Height"), tr("Its middle above the floor.")),
        choice(outlet, "circuit", tr("Circuit"), tr("The breaker that switches it off."), circuits),
        quantity(outlet, "sockets", tr("Sockets"), tr("How many plugs it takes.")),
        quantity(
            outlet, "limit", tr("Carries at most"), tr("The current it may carry."),
            taken=lambda design, thing: design.practice.outlet_limit,
        ),
        _known_field(outlet, ("leakage_protected",)),
    )  # fmt: skip


def _known_field(thing: Any, path: tuple[str | int, ...]) -> FormField:
    """Return whether something has leakage protection; it may be not known."""
    options = ((None, tr("not known")), (True, tr("yes")), (False, tr("no")))
    tip = tr("Switches off when current leaks to earth; needed near water.")
    return choice(thing, path, tr("Leakage protection"), tip, options)


def _obstacle_fields(thing: Obstacle) -> tuple[FormField, ...]:
    return (
        quantity(thing, "x", tr("From the left"), tr("Its left side, along the front wall.")),
        quantity(thing, "y", tr("From the front"), tr("Its front side, away from the front wall.")),
        quantity(thing, "width", tr("Width"), tr("From left to right.")),
        quantity(thing, "depth", tr("Depth"), tr("From front to back.")),
        quantity(thing, "height", tr("Height"), tr("From its foot to its top.")),
        quantity(thing, "z", tr("Raised by"), tr("Its foot above the floor.")),
        choice(thing, "worked_at", tr("Worked at from"), tr("Clear floor is kept there."), _SIDES),
        *(_clear_fields(thing) if thing.worked_at else ()),
    )


_SIDES = (
    (None, tr("nowhere")),
    ("front", tr("its front")),
    ("back", tr("its back")),
    ("left", tr("its left")),
    ("right", tr("its right")),
)


def _clear_fields(thing: Obstacle) -> tuple[FormField, ...]:
    tip = tr("An electrical panel wants {clear}; local code decides.")
    return (
        quantity(thing, "clear_depth", tr("Clear floor, out"), tip.format(clear="36 in (0.914 m)")),
        quantity(
            thing, "clear_width", tr("Clear floor, along"), tip.format(clear="30 in (0.762 m)")
        ),
    )


# The room and the design -------------------------------------------------------------------------


def design_sections(design: Design) -> tuple[Section, ...]:
    """Return what the form shows while nothing is selected."""
    name = text(
        design, "name", tr("Design"), tr("Stands at the top of the window and the summary.")
    )
    return (
        Section("", (name,)),
        Section(tr("Room"), _room_fields(design), _room_links(design)),
        *season_sections(design),
        Section(tr("Electrical practice"), _practice_fields(design)),
        *(_circuit_section(design, place) for place in range(len(design.room.circuits))),
        Section("", (), (Link(tr("Add a circuit"), _add_circuit),)),
        *(_way_section(design, place) for place in range(len(design.room.way_in))),
        Section("", (), (Link(tr("Add a corner on the way in"), _add_way_corner),)),
        Section(tr("Asked for"), _target_fields(design)),
        Section(tr("Water from the tap"), _tap_fields(design)),
        *price_sections(design),
    )


def _is_rectangle(room: Room) -> bool:
    x1, y1 = max(x for x, _ in room.outline), max(y for _, y in room.outline)
    return room.outline == ((0.0, 0.0), (x1, 0.0), (x1, y1), (0.0, y1))


def _room_fields(design: Design) -> tuple[FormField, ...]:
    height = quantity(design, "room.height", tr("Height"), tr("From floor to ceiling."))
    name = text(design, "room.name", tr("Room"), tr("As in the summary’s head."))
    if _is_rectangle(design.room):
        return (name, _side_field(0, tr("Width")), _side_field(1, tr("Depth")), height)
    return (name, height, *_corner_fields(design))


def _side_field(axis: int, label: str) -> FormField:
    return derived(
        f"room.side.{axis}", label, tr("From wall to wall."), "quantity",
        lambda design, thing: max(corner[axis] for corner in design.room.outline),
        lambda design, thing, length: _put_side(design, axis, length),
        unit="length", low=0.3, high=100.0,
    )  # fmt: skip


def _put_side(design: Design, axis: int, length: float) -> Design:
    old = max(corner[axis] for corner in design.room.outline)
    corners = []
    for x, y in design.room.outline:
        far = (x, y)[axis] == old
        corners.append((length if far and axis == 0 else x, length if far and axis == 1 else y))
    return design.having(room=with_outline(design.room, tuple(corners)))


def _corner_fields(design: Design) -> tuple[FormField, ...]:
    found: list[FormField] = []
    for place in range(len(design.room.outline)):
        for axis, words in enumerate((tr("from the left"), tr("from the front"))):
            label = tr("Corner {number} {where}").format(number=place + 1, where=words)
            path = ("room", "outline", place, axis)
            found.append(_corner_field(path, label))
    return tuple(found)


def _corner_field(path: tuple[str | int, ...], label: str) -> FormField:
    def put(design: Design, thing: Any, at: float) -> Design:
        return design.having(
            room=with_outline(design.room, set_at(design.room, path[1:], at).outline)
        )

    return derived(
        ".".join(map(str, path)), label, tr("Corners follow each other along the walls."),
        "quantity", lambda design, thing: design.room.outline[path[2]][path[3]],  # type: ignore[index]
        put, unit="length",
    )  # fmt: skip


def _room_links(design: Design) -> tuple[Link, ...]:
    return (Link(tr("Add a corner"), _add_corner),)


def _add_corner(design: Design, thing: Any) -> Design:
    """Return the design with a corner in the middle of its last wall, drawn in a little."""
    outline = design.room.outline
    (ax, ay), (bx, by) = outline[-1], outline[0]
    middle = ((ax + bx) / 2, (ay + by) / 2)
    return design.having(room=replace(design.room, outline=(*outline, middle)))


def _practice_fields(design: Design) -> tuple[FormField, ...]:
    regions = (("north-america", tr("North America")), ("elsewhere", tr("elsewhere")))
    region = derived(
        "practice.region", tr("Region"), tr("Sets the numbers below, which may then be changed."),
        "choice", lambda design, thing: design.practice.region, _put_region,
        options=lambda design, thing: regions,
    )  # fmt: skip
    factor = quantity(
        design, "practice.continuous_factor", tr("Lasting loads count"),
        tr("Loads of three hours and more are multiplied by this before the breaker is asked."),
        "count",
    )  # fmt: skip
    return (
        region,
        quantity(design, "practice.voltage", tr("Voltage"), tr("Between the two conductors.")),
        quantity(
            design, "practice.breaker", tr("Breaker"), tr("Taken where no circuit is entered.")
        ),
        quantity(
            design, "practice.outlet_limit", tr("An outlet carries"), tr("Where none is given.")
        ),
        quantity(design, "practice.strip_limit", tr("A strip carries"), tr("Where none is given.")),
        quantity(
            design,
            "practice.plug_share",
            tr("One plug may take"),
            tr("Share of an outlet’s limit; 80 % is North American practice."),
            "fraction",
            taken=lambda design, thing: design.practice.one_plug,
        ),
        factor,
    )


def _put_region(design: Design, thing: Any, region: str) -> Design:
    return design.having(practice=NORTH_AMERICA if region == "north-america" else EUROPE)


def _circuit_section(design: Design, place: int) -> Section:
    path = ("room", "circuits", place)
    fields = (
        text(design, (*path, "name"), tr("Circuit"), tr("As on the breaker’s label.")),
        quantity(design, (*path, "breaker"), tr("Breaker"), tr("Its rating.")),
        quantity(
            design, (*path, "voltage"), tr("Voltage"), tr("Empty takes the practice’s."),
            taken=lambda design, thing: design.practice.voltage,
        ),
        quantity(
            design, (*path, "other_load"), tr("Other things on it"),
            tr("Current of what else hangs on this circuit."), "current",
        ),
        choice(
            design, (*path, "other_lasts"), tr("They run"),
            tr("What lasts three hours or more may count for more against the breaker."),
            (
                (None, tr("not known")),
                (False, tr("less than three hours on end")),
                (True, tr("three hours or more")),
            ),
        ),
        choice(
            design, (*path, "trip"), tr("Breaker’s type"),
            tr("On its label; B trips first when much starts at once."),
            ((None, tr("not known")), ("B", "B"), ("C", "C"), ("D", "D")),
        ),
        _known_field(design, (*path, "leakage_protected")),
    )  # fmt: skip
    drop = Link(tr("Take this circuit away"), lambda d, thing: _drop_circuit(d, place))
    return Section(design.room.circuits[place].name, fields, (drop,))


def _add_circuit(design: Design, thing: Any) -> Design:
    used = {circuit.id for circuit in design.room.circuits}
    key = next(name for i in range(1, 1000) if (name := f"circuit-{i}") not in used)
    name = tr("Circuit {number}").format(number=len(used) + 1)
    new = Circuit(id=key, name=name, breaker=design.practice.breaker)
    return design.having(room=replace(design.room, circuits=(*design.room.circuits, new)))


def _drop_circuit(design: Design, place: int) -> Design:
    """Return the design without a circuit; outlets on it are on none then."""
    gone = design.room.circuits[place].id
    fixtures = tuple(
        replace(f, circuit=None) if isinstance(f, Outlet) and f.circuit == gone else f
        for f in design.room.fixtures
    )
    circuits = tuple(c for c in design.room.circuits if c.id != gone)
    return design.having(room=replace(design.room, circuits=circuits, fixtures=fixtures))


def _way_section(design: Design, place: int) -> Section:
    """Return the fields of one corner that everything is carried round."""
    path = ("room", "way_in", place)
    fields = (
        quantity(
            design, (*path, "before"), tr("Corridor before it"),
            tr("Its clear width, coming from outdoors."),
        ),
        quantity(
            design, (*path, "after"), tr("Corridor after it"), tr("Its clear width, towards here.")
        ),
        quantity(
            design, (*path, "ceiling"), tr("Its ceiling"), tr("Empty takes the room’s."),
            taken=lambda design, thing: design.room.height,
        ),
    )  # fmt: skip
    drop = Link(tr("Take this corner away"), lambda d, thing: _drop_way_corner(d, place))
    title = tr("Way in, corner {number}").format(number=place + 1)
    return Section(title, fields, (drop,))


def _add_way_corner(design: Design, thing: Any) -> Design:
    way = (*design.room.way_in, Corner())
    return design.having(room=replace(design.room, way_in=way))


def _drop_way_corner(design: Design, place: int) -> Design:
    way = design.room.way_in
    return design.having(room=replace(design.room, way_in=(*way[:place], *way[place + 1 :])))


def _target_fields(design: Design) -> tuple[FormField, ...]:
    cost = quantity(
        design,
        "targets.cost_per_day",
        tr("Running, a day at most"),
        tr("Empty: no limit."),
        "count",
    )
    return (
        quantity(
            design, "targets.refill_days", tr("Days between refills"), tr("At least."), "count"
        ),
        quantity(
            design, "targets.away_days", tr("Days away"),
            tr("How long nobody is there to refill; empty: not asked."), "count",
        ),
        quantity(design, "targets.walkway", tr("Walkway"), tr("Clear floor before the doors.")),
        quantity(design, "targets.reach", tr("Reach"), tr("How far an arm reaches in.")),
        quantity(
            design, "targets.aisle", tr("Aisle inside"),
            tr("Clear floor before what is tended from within the enclosure."),
        ),
        tick(
            design, "targets.seated", tr("Used from a wheelchair"),
            tr("Asks for the widths and heights of ADA 2010."),
        ),
        cost,
        quantity(
            design, "targets.floor_load", tr("The floor carries"),
            tr("As somebody who knows the building said; empty: not known."),
        ),
    )  # fmt: skip


def _tap_fields(design: Design) -> tuple[FormField, ...]:
    for_what = (
        ("nothing", tr("nothing")),
        ("foggers", tr("foggers")),
        ("everything", tr("everything")),
    )
    return (
        quantity(
            design, "tap.hardness", tr("Hardness"),
            tr("Minerals as calcium carbonate; the water supplier tells it."),
        ),
        choice(
            design, "tap.purified", tr("Purified for"), tr("What gets water from a membrane."),
            for_what,
        ),
        quantity(
            design, "tap.made_per_day", tr("Membrane makes a day"),
            tr("Its rating, which holds at 25 °C; empty: purified water is bought."), "volume",
        ),
        quantity(
            design, "tap.temperature", tr("Tap temperature"),
            tr("A cold feed makes less purified water."), "temperature",
        ),
        quantity(
            design, "tap.reject", tr("Rejected for each part"),
            tr("Water that goes down the drain, over what is purified."), "count",
        ),
    )  # fmt: skip
