"""Findings on what an enclosure is built from: what raises each, what does not, what mends it."""

from __future__ import annotations

from dataclasses import replace as with_fields
from typing import Any

import pytest

from core.finding import Finding, mended
from core.findings.materials import RULES, size_saves
from core.materials.reading import read
from core.model import (
    Cover,
    Design,
    Enclosure,
    FaceDoor,
    Frame,
    Lamp,
    Liner,
    Place,
    Room,
    Sheet,
    Tray,
    replace,
)
from core.states import RANK, State
from core.study import study

PIPE = Frame(material="PVC pipe, 25 mm", catalogue="pipe-25", member=0.025)
TUBE = Frame(material="Steel tube, 20 × 20 mm", catalogue="steel-tube-20", member=0.02)
FILM = Sheet(material="Clear film", catalogue="film-clear", transmittance=0.85, reflectance=0.1)


def design(*others: Any, units: str = "metric", **fields: Any) -> Design:
    size = {"width": 0.9, "depth": 0.5, "height": 1.8}
    box = Enclosure(id="box", name="Box", **{"frame": PIPE, **size, **fields})
    room = Room.rectangle(9.0, 8.0, 3.5)
    return Design(room=room, parts=(box, *others), units=units)


def found(drawn: Design, quality: Any = "final", *, sizes: bool = False) -> dict[str, Finding]:
    """Return findings by their rule; sizes nearby are tried only where a test is about them."""
    look = study(drawn, quality=quality)
    look = with_fields(look, done={"materials": read(look)})
    rules = RULES if sizes else [rule for rule in RULES if rule is not size_saves]
    return {finding.rule: finding for rule in rules for finding in rule(look)}


def test_a_long_rail_of_pipe_sags_and_an_upright_under_it_mends_that() -> None:
    """At 0.85 m a pipe of 25 mm bends 2 mm of the 4 it may, at 1.95 m 60 of 10: as the fourth
    power of its span."""
    assert "member-sags" not in found(design())
    long = design(width=2.0)
    finding = found(long)["member-sags"]
    assert (finding.subject, finding.place) == ("weight", "box")
    assert finding.state in (State.LIKELY_HIGH, State.HIGH)
    assert finding.remedy is not None
    assert "upright" in finding.remedy.words.render()
    after = mended(long, finding)
    assert after.enclosure is not None
    assert after.enclosure.frame.extra_uprights > 0
    again = found(after).get("member-sags")
    assert again is None or RANK[again.state] > RANK[finding.state]


def test_where_a_door_leaves_no_place_for_uprights_stiffer_stock_is_offered() -> None:
    doors = tuple(
        FaceDoor(face=face, style="curtain", x=0.03, z=0.05, width=1.94, height=1.7)
        for face in ("front", "back")
    )  # fmt: skip
    drawn = design(width=2.0, doors=doors)
    finding = found(drawn)["member-sags"]
    assert finding.remedy is not None
    assert finding.remedy.words.render().startswith("Build it of ")
    assert "member-sags" not in found(mended(drawn, finding))


def test_what_hangs_from_the_frame_makes_it_sag() -> None:
    def state(mass: float) -> State | None:
        lamp = Lamp(
            id="l", name="Lamp", form="board", width=0.4, depth=0.3, height=0.05, watts=50.0,
            mass=mass, place=Place(host="box", fixing="hung", z=0.05),
        )  # fmt: skip
        finding = found(design(lamp, width=1.5, frame=TUBE)).get("member-sags")
        return None if finding is None else finding.state

    assert state(0.0) is None
    assert state(300.0) is not None


def test_members_longer_than_a_bar_are_told() -> None:
    """Pipe is sold in 3 m: a rail of 3.2 m is joined, one of 2.9 m is not."""
    assert "member-joined" not in found(design(width=2.9))
    finding = found(design(width=3.2))["member-joined"]
    assert finding.state is State.CAUTION
    # Four rails run along the width
    assert finding.title.render() == "4 members are longer than a bar"
    assert "bars are 3.00 m" in finding.detail.render()


def test_a_liner_that_no_roll_gives_in_one_piece_is_told() -> None:
    """The widest liner is 4 m wide and 5 m long: 3.9 × 4.9 m fits it, 4.1 × 4.9 m does not."""
    fits = Liner(lip_left=0.0, lip_right=0.0, lip_front=0.0, lip_back=0.0, width=3.9, depth=4.9)
    assert "liner-in-pieces" not in found(design(liner=fits))
    wide = replace(fits, width=4.1)
    assert found(design(liner=wide))["liner-in-pieces"].state is State.CAUTION


def test_a_seam_that_no_roll_keeps_out_of_a_door_is_told() -> None:
    """Film is up to 4 m wide: a door 4.5 × 4.2 m takes a seam, one of 3 m does not."""

    def rules(width: float) -> list[str]:
        door = FaceDoor(style="curtain", x=0.2, z=0.1, width=width, height=4.2)
        drawn = design(width=5.0, height=4.5, covers=(Cover(face="front", sheet=FILM),),
                       doors=(door,))  # fmt: skip
        return [rule for rule in found(drawn) if rule.startswith("seam-in-door")]

    assert rules(3.0) == []
    assert len(rules(4.6)) == 1


def test_a_size_that_saves_a_bar_is_offered_once_and_does() -> None:
    """Twelve members of 1.008 m take a bar of 2 m each; 10 mm less, and two come from each."""
    drawn = design(width=1.065, depth=1.065, height=1.065)
    finding = next(f for rule, f in found(drawn, sizes=True).items() if rule.endswith("-saves"))
    assert (finding.subject, finding.state) == ("cost", State.CAUTION)
    after = mended(drawn, finding)
    before, now = read(study(drawn)).made, read(study(after)).made
    assert before is not None and now is not None

    def length(made: Any) -> float:
        return sum(bar * count for bar, count in made.frame.cuts.bought.items())

    assert length(now) < length(before)


def test_no_smaller_size_is_offered_that_what_is_inside_does_not_fit() -> None:
    drawn = design(width=1.065, depth=1.065, height=1.065)
    tight = Tray(id="s", name="Tray", width=1.06, depth=1.06, height=1.06,
                 place=Place(host="box"))  # fmt: skip
    assert any(rule.endswith("-saves") for rule in found(drawn, sizes=True))
    full = drawn.with_parts({"s": tight})
    assert not any(rule.endswith("-saves") for rule in found(full, sizes=True))


def test_nothing_is_tried_while_something_is_dragged() -> None:
    drawn = design(width=2.0)
    dragged = found(drawn, "coarse", sizes=True)
    assert not any(rule.endswith("-saves") for rule in dragged)
    assert dragged["member-sags"].remedy is None


@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_design_without_an_enclosure_has_none_of_them(units: Any) -> None:
    empty = Design(room=Room.rectangle(3.0, 3.0, 2.4), units=units)
    assert found(empty, sizes=True) == {}
