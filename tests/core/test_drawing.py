"""What drawings show: every kind of part in its box, the three views in step, who is seen when."""

from __future__ import annotations

from itertools import pairwise
from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.drawing.dimensions import (
    break_marks,
    dimension_marks,
    enclosure_dimensions,
    scale_bar_marks,
    shown_box,
)
from core.drawing.marks import AXES, VIEWS, Arc, Dot, Mark, Path, Words
from core.drawing.routes import plug_route
from core.drawing.seeing import as_seen, cut_height, depth_order, is_seen
from core.drawing.symbols import FIXTURES, PARTS, fixture_marks, part_marks, room_marks
from core.drawing.views import view_marks
from core.geometry import Rectangle
from core.model import (
    Bay,
    Circuit,
    Cooler,
    Cover,
    Design,
    DuctFan,
    Enclosure,
    FaceDoor,
    Fan,
    FeedLine,
    Fogger,
    Heater,
    Humidistat,
    Lamp,
    Lead,
    Liner,
    Lining,
    Obstacle,
    Opening,
    Outlet,
    Place,
    PlantGroup,
    Plants,
    Platform,
    Plug,
    Pots,
    Reservoir,
    Room,
    RoomDoor,
    RoomWindow,
    Sheet,
    Shelf,
    ShelfUnit,
    Strip,
    Thermostat,
    Timer,
    Tray,
    UnitLining,
    WickMat,
    replace,
)
from core.placement import Placement

FILM = Sheet(material="Film")
HABITS = ("fronds", "rosette", "blades", "trailing", "cushion")
MARGIN = 0.03
OVERHANG = {"cooler", "fan", "enclosure", "lamp", "fogger", "feed"}
"""Kinds that show more than their body: a hose, a throw, a door's swing, hangers, drops, a way."""


def on(host: str, x: float = 0.05, y: float = 0.05, **more: object) -> Place:
    return Place(host=host, x=x, y=y, **more)


def box_(width: float, depth: float, height: float) -> dict[str, float]:
    return {"width": width, "depth": depth, "height": height}


def grown() -> Design:
    """Return a design with every kind of part and fixture."""
    room = Room(
        name="Nook",
        outline=((0.0, 0.0), (3.2, 0.0), (3.2, 2.5), (0.0, 2.5)),
        height=2.45,
        circuits=(Circuit(id="hall", name="Hall", breaker=16.0),),
        fixtures=(
            RoomDoor(id="door", name="Door", wall=1, offset=2.2),
            RoomWindow(id="window", name="Window", wall=3, offset=0.4),
            Outlet(id="outlet", name="Outlet", wall=4, offset=1.3, circuit="hall"),
            Obstacle(id="stair", name="Stair", x=2.3, y=1.0, width=0.9, depth=1.5, height=2.0),
        ),
    )
    enclosure = Enclosure(
        id="box",
        name="Enclosure",
        place=Place(x=0.15, y=1.4),
        **box_(1.9, 0.9, 2.0),
        covers=tuple(Cover(face=face, sheet=FILM) for face in ("left", "right", "back", "top")),
        linings=(Lining(face="back", sheet=FILM),),
        doors=(FaceDoor(style="leaf", x=0.1, width=1.6, height=1.9, leaves=2),),
        liner=Liner(),
    )
    unit = ShelfUnit(
        id="unit",
        name="Shelf unit",
        place=on("box", 0.1, 0.1),
        **box_(1.2, 0.6, 1.8),
        levels=tuple(Shelf(z=z) for z in (0.1, 0.55, 1.0, 1.45)),
        linings=(UnitLining(side="back", sheet=FILM),),
        castors=True,
    )
    strip = Strip(
        id="strip",
        name="Strip",
        place=on("box", 1.5, 0.7, fixing="clipped", z=1.0),
        **box_(0.3, 0.06, 0.04),
        plug=Plug(into="outlet", drip_loop=True),
    )
    into = Plug(into="strip")
    small = box_(0.1, 0.08, 0.12)
    parts = [
        enclosure,
        unit,
        strip,
        Bay(id="bay", name="Bay", place=on("box", 1.35, 0.1), **box_(0.5, 0.6, 1.9)),
        Platform(id="stand", name="Stand", place=on("bay", z=1.0), **box_(0.4, 0.4, 0.1)),
        Reservoir(id="tank", name="Tank", place=on("bay"), **box_(0.3, 0.4, 0.42), fill=0.3),
        Fogger(
            id="fog",
            name="Fogger",
            place=on("tank"),
            **box_(0.2, 0.16, 0.13),
            output=1e-4,
            watts=60.0,
            plug=into,
            control="wet",
        ),
        FeedLine(id="feed", name="Feed", source="tank", target="tray-1"),
        Fan(
            id="fan",
            name="Fan",
            place=on("box", 0.02, 0.3, fixing="clipped", z=1.2),
            **box_(0.1, 0.2, 0.2),
            diameter=0.2,
            flow=0.03,
            watts=20.0,
            plug=into,
        ),
        DuctFan(
            id="duct",
            name="Exhaust",
            place=on("box", 0.3, 0.0, fixing="face", face="right", z=1.7),
            **box_(0.12, 0.16, 0.12),
            diameter=0.1,
            flow=0.02,
            watts=20.0,
        ),
        Opening(
            id="flap",
            name="Flap",
            width=0.3,
            height=0.2,
            joins=("room", "outdoors"),
            place=Place(host="window", fixing="face", x=0.1, z=0.1),
        ),
        Cooler(
            id="cool",
            name="Cooler",
            style="portable",
            cooling=800.0,
            watts=300.0,
            place=Place(x=0.2, y=0.2),
            **box_(0.4, 0.35, 0.7),
        ),
        *(
            Heater(
                id=f"heat-{style}",
                name="Heater",
                style=style,
                watts=100.0,
                place=Place(x=0.8 + 0.5 * k, y=0.2),
                **box_(0.4, 0.1, 0.3),
            )
            for k, style in enumerate(("convector", "mat", "tube"))
        ),
        Lead(id="lead", name="Lead", place=Place(x=0.1, y=1.0), **box_(0.3, 0.1, 0.05)),
        Lead(id="reel", name="Reel", coiled=True, place=Place(x=0.5, y=1.0), **box_(0.2, 0.2, 0.1)),
        Timer(id="timer", name="Timer", place=Place(x=1.0, y=1.0), **small),
        Thermostat(id="warm", name="Thermostat", place=Place(x=1.2, y=1.0), **small),
        Humidistat(id="wet", name="Humidistat", place=Place(x=1.4, y=1.0), **small),
        Lamp(
            id="spot",
            name="Spot",
            form="spot",
            watts=12.0,
            place=on("bay", 0.1, 0.1, fixing="hung", z=0.05),
            **box_(0.1, 0.1, 0.12),
        ),
        Lamp(
            id="tubes",
            name="Tubes",
            form="tube",
            count=3,
            watts=9.0,
            plug=into,
            place=on("unit", 0.05, 0.2, fixing="under", level=2, z=0.02),
            **box_(0.9, 0.03, 0.03),
        ),
    ]
    for number in (1, 2, 3, 4):
        parts.append(
            Tray(
                id=f"tray-{number}",
                name="Tray",
                place=on("unit", 0.02, 0.05, level=number),
                **box_(1.1, 0.5, 0.06),
                wick_mat=WickMat(),
            )
        )
    for k, habit in enumerate(HABITS):
        parts.append(
            Plants(
                id=f"plants-{k}",
                name=habit,
                species=habit,
                width=0.5,
                depth=0.4,
                leaf_low=0.03,
                leaf_high=0.12,
                pots=Pots() if k else None,
                place=on("stand") if k == 4 else on(f"tray-{k + 1}"),
            )
        )
    for number in (3, 4):
        parts.append(
            Lamp(
                id=f"board-{number}",
                name="Board",
                form="board",
                watts=30.0,
                plug=into,
                place=on("unit", 0.1, 0.1, fixing="under", level=number, z=0.03),
                **box_(0.5, 0.3, 0.03),
            )
        )
    parts.append(
        Lamp(
            id="board-top",
            name="Board",
            form="board",
            watts=30.0,
            place=on("box", 0.3, 0.2, fixing="hung", z=0.05),
            **box_(0.5, 0.3, 0.03),
        )
    )
    groups = tuple(PlantGroup(key=habit, name=habit, habit=habit) for habit in HABITS)
    return Design(room=room, parts=tuple(parts), groups=groups)


DESIGN = grown()
PLACED = Placement(DESIGN)


def reach(mark: Mark) -> list[tuple[float, float]]:
    """Return points that bound a mark."""
    if isinstance(mark, Path):
        return list(mark.points)
    if isinstance(mark, Arc):
        x, y = mark.centre
        angles = [mark.start + mark.span * k / 16 for k in range(17)]
        return [
            (x + mark.radius * cos(radians(a)), y + mark.radius * sin(radians(a))) for a in angles
        ]
    return [mark.at]


def outside(marks: tuple[Mark, ...], area: Rectangle) -> list[tuple[float, float]]:
    x0, y0, x1, y1 = area
    points = [point for mark in marks for point in reach(mark)]
    return [
        (x, y)
        for x, y in points
        if not (x0 - MARGIN <= x <= x1 + MARGIN and y0 - MARGIN <= y <= y1 + MARGIN)
    ]


def test_every_kind_of_part_and_fixture_is_drawn_in_every_view():
    drawn = {part.kind for part in DESIGN.parts} | {f.kind for f in DESIGN.room.fixtures}

    assert drawn == set(PARTS) | set(FIXTURES)
    for view in VIEWS:
        assert all(part_marks(PLACED, part.id, view) for part in DESIGN.parts)
        assert all(fixture_marks(PLACED, f.id, view) for f in DESIGN.room.fixtures)
        assert room_marks(PLACED, view)


@pytest.mark.parametrize("view", VIEWS)
def test_a_part_is_drawn_within_its_box(view):
    for part in DESIGN.parts:
        if part.kind not in OVERHANG:
            area = PLACED.box(part.id).seen(*AXES[view])
            assert outside(part_marks(PLACED, part.id, view), area) == [], part.id


@settings(max_examples=40)
@given(
    width=st.floats(0.05, 2.0),
    depth=st.floats(0.05, 2.0),
    height=st.floats(0.02, 1.0),
    turn=st.sampled_from([0, 1, 2, 3]),
    leaf=st.floats(0.01, 0.6),
    habit=st.sampled_from(HABITS),
)
def test_trays_and_plants_of_any_size_stay_within_their_boxes(
    width, depth, height, turn, leaf, habit
):
    tray = Tray(
        id="t",
        name="T",
        place=Place(x=1.0, y=1.0, turn=turn),
        fill=height / 2,
        **box_(width, depth, height),
    )
    plants = Plants(
        id="p",
        name="P",
        species=habit,
        width=width,
        depth=depth,
        leaf_low=0.0,
        leaf_high=leaf,
        place=on("t", 0.0, 0.0),
    )
    design = Design(room=Room.rectangle(5.0, 5.0, 3.0), parts=(tray, plants), groups=DESIGN.groups)
    placed = Placement(design)
    for view in VIEWS:
        for part_id in ("t", "p"):
            area = placed.box(part_id).seen(*AXES[view])
            assert outside(part_marks(placed, part_id, view), area) == []


@settings(max_examples=25)
@given(dx=st.floats(-0.3, 0.3), dy=st.floats(-0.3, 0.3))
def test_moving_a_part_moves_its_marks_alike_in_every_view(dx, dy):
    moved = replace(
        DESIGN.part("tank"),
        place=replace(DESIGN.part("tank").place, x=0.05 + dx, y=0.05 + dy),
    )
    after = Placement(DESIGN.with_parts({"tank": moved}))
    shift = (dx, dy, 0.0)
    for view in VIEWS:
        across, up = AXES[view]
        old = [p for mark in part_marks(PLACED, "tank", view) for p in reach(mark)]
        new = [p for mark in part_marks(after, "tank", view) for p in reach(mark)]
        assert new == [
            (pytest.approx(x + shift[across]), pytest.approx(y + shift[up])) for x, y in old
        ]


def across_range(part_id: str, view: str, axis: int) -> tuple[float, float]:
    values = [p[axis] for mark in part_marks(PLACED, part_id, view) for p in reach(mark)]
    return min(values), max(values)


@pytest.mark.parametrize("part_id", ["unit", "tray-1", "board-3", "tank", "stand"])
def test_plan_and_front_share_x_and_front_and_side_share_z(part_id):
    assert across_range(part_id, "plan", 0) == pytest.approx(
        across_range(part_id, "front", 0), abs=MARGIN
    )
    assert across_range(part_id, "front", 1) == pytest.approx(across_range(part_id, "side", 1))


def test_a_plan_shows_one_level_of_a_unit_its_lamps_dashed_and_all_else():
    def how(part_id):
        return is_seen(PLACED, part_id, "plan", ("unit", 2))

    assert how("tray-2") == how("plants-1") == "full"
    assert how("tray-1") is None and how("plants-2") is None
    assert how("board-3") == "dashed"
    assert how("board-4") is None and how("board-top") is None
    assert how("tank") == how("fan") == how("unit") == "full"


def test_without_a_level_a_unit_shows_its_highest():
    assert is_seen(PLACED, "tray-4", "plan") == "full"
    assert is_seen(PLACED, "board-top", "plan") == "dashed"
    assert is_seen(PLACED, "tray-3", "plan") is None


def test_hidden_parts_are_not_drawn():
    hidden = replace(DESIGN.part("tank"), hidden=True)
    placed = Placement(DESIGN.with_parts({"tank": hidden}))

    assert all(is_seen(placed, "tank", view) is None for view in VIEWS)


def test_the_cut_is_at_the_highest_leaves():
    zone = next(z for z in PLACED.zones if z.part.id == "plants-1")

    assert cut_height(PLACED, ("unit", 2)) == zone.high


def two_units() -> Placement:
    front = replace(DESIGN.part("unit"), id="near", place=Place(x=0.3, y=0.3), linings=())
    tray = replace(DESIGN.part("tray-1"), id="near-tray", place=on("near", level=1))
    return Placement(DESIGN.with_parts({"near": front, "near-tray": tray}))


def test_units_before_the_chosen_one_are_faint_and_those_behind_it_are_not_drawn():
    placed = two_units()

    assert is_seen(placed, "near-tray", "front", unit="unit") == "faint"
    assert is_seen(placed, "tray-1", "front", unit="unit") == "full"
    assert is_seen(placed, "tray-1", "front", unit="near") is None
    assert is_seen(placed, "tray-1", "front") is None
    assert is_seen(placed, "tank", "front", unit="near") == "full"


def test_faint_marks_have_neither_fills_nor_words():
    marks = as_seen(part_marks(PLACED, "tank", "front"), "faint")

    assert marks
    assert not any(isinstance(mark, Words) or getattr(mark, "fill", None) for mark in marks)


def test_dashed_marks_are_outlines_and_lamps_keep_their_longer_dash():
    (board,) = as_seen(part_marks(PLACED, "board-3", "plan"), "dashed")
    tray = as_seen(part_marks(PLACED, "tray-1", "plan"), "dashed")

    assert board.pen.dash == (5, 3) and board.fill is None
    assert [mark.pen.dash for mark in tray] == [(3, 3)]


def test_drawing_order_puts_the_room_first_and_plants_over_their_tray():
    for view in ("front", "side"):
        order = sorted(DESIGN.by_id, key=lambda one: depth_order(PLACED, one, view))
        assert order.index("box") < order.index("bay") < order.index("unit")
        assert order.index("stair") < order.index("box")
        assert order.index("unit") < order.index("tray-2") < order.index("plants-1")


def test_posts_are_dots_and_the_hall_of_dots_is_in_plan_only():
    kinds = {view: {type(m) for m in part_marks(PLACED, "unit", view)} for view in VIEWS}

    assert Dot in kinds["plan"]
    assert Dot not in kinds["front"] | kinds["side"]


def test_a_tray_is_drawn_filled_to_its_depth():
    tray = DESIGN.part("tray-1")
    level = PLACED.box("tray-1").lo[2] + tray.fill
    surface = next(
        m for m in part_marks(PLACED, "tray-1", "front") if m.pen and m.pen.role == "water"
    )

    assert [y for _, y in surface.points] == [pytest.approx(level)] * 2


def test_a_fan_is_a_ring_where_it_blows_at_the_eye_and_a_bar_where_it_does_not():
    assert any(isinstance(mark, Arc) for mark in part_marks(PLACED, "fan", "side"))
    assert not any(isinstance(mark, Arc) for mark in part_marks(PLACED, "fan", "front"))


def test_a_lead_ends_in_its_outlet_and_dips_before_it_where_it_has_a_drip_loop():
    route = plug_route(PLACED, "strip")
    outlet = PLACED.box("outlet").centre

    assert route[-1] == outlet
    assert route[-2][2] < outlet[2]
    assert all(
        sum(abs(a - b) > 1e-9 for a, b in zip(p, q, strict=True)) <= 1 for p, q in pairwise(route)
    )


def test_an_unplugged_part_has_no_lead():
    assert plug_route(PLACED, "cool") == ()


@pytest.mark.parametrize(
    ("b", "turn", "end"), [((1.0, 0.0), 0.0, (1.0, -0.1)), ((0.0, 1.0), 90.0, (-0.1, 1.0))]
)
def test_a_dimension_runs_beside_what_it_measures_with_its_number_on_the_line(b, turn, end):
    line, *_, words = dimension_marks((0.0, 0.0), b, -0.1, "1.00 m")

    assert line.points[-1] == end
    assert words.halo and words.turn == turn
    assert words.at == pytest.approx(tuple((p + q) / 2 for p, q in zip(*line.points, strict=True)))


def test_a_gap_too_small_for_its_number_puts_the_number_below_on_a_stalk():
    *_, stalk, words = dimension_marks((0.0, 0.0), (0.02, 0.0), 0.0, "2 cm", below=0.1)

    assert words.at == (0.01, -0.1)
    assert stalk.points == ((0.01, 0.0), (0.01, -0.1))


def test_the_enclosure_is_measured_once_each_way_in_the_units_asked_for():
    texts = {
        (view, system): [
            mark.text
            for mark in enclosure_dimensions(PLACED, view, system)
            if isinstance(mark, Words)
        ]
        for view in VIEWS
        for system in ("metric", "us")
    }

    assert texts["front", "metric"] == ["1.90 m", "2.00 m"]
    assert texts["plan", "metric"] == texts["side", "metric"] == ["0.90 m"]
    assert texts["side", "us"] == ["2 ft 11 3/8 in"]


@pytest.mark.parametrize(("system", "length"), [("metric", 1.0), ("us", 0.9144)])
def test_the_scale_bar_is_a_metre_or_a_yard_of_feet(system, length):
    xs = [x for mark in scale_bar_marks(system) if isinstance(mark, Path) for x, _ in mark.points]

    assert max(xs) - min(xs) == pytest.approx(length)


def test_a_room_much_larger_than_needed_is_cut_with_break_lines():
    hall = replace(DESIGN.room, outline=((0.0, 0.0), (9.0, 0.0), (9.0, 2.5), (0.0, 2.5)))
    placed = Placement(DESIGN.with_parts({"flap": None}).having(room=hall))
    shown = shown_box(placed)

    assert shown.hi[0] < 4.5
    assert len(break_marks(placed, shown, "plan")) == 1
    assert break_marks(placed, shown, "side") == ()


def test_a_whole_view_is_drawn_from_the_same_marks():
    marks = view_marks(PLACED, "front", ("unit", 2))

    assert set(part_marks(PLACED, "tray-2", "front")) <= set(marks)
    assert marks[: len(room_marks(PLACED, "front"))] == room_marks(PLACED, "front")
