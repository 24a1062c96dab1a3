"""Parts on the clipboard: out and in again, into other designs, and hostile text refused."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.clipboard import LONGEST, copy_text, pasted, read_clip
from core.errors import DesignError, InputError
from core.model import Change, Design, Plants, Plug, Room, replace
from core.placement import Placement
from core.placing import Wish
from tests.designs import alcove

DESIGN = alcove()
IDS = [part.id for part in DESIGN.parts if part.id != "enclosure-1"]


@given(ids=st.lists(st.sampled_from(IDS), min_size=1, max_size=4, unique=True))
def test_what_is_copied_can_be_pasted_into_its_own_design(ids):
    design, tops = pasted(DESIGN, copy_text(DESIGN, ids))

    added = {part.id for part in design.parts} - {part.id for part in DESIGN.parts}
    assert set(tops) <= added
    assert [part for part in design.parts if part.id not in added] == list(DESIGN.parts)
    kinds = sorted(DESIGN.part(i).kind for i in ids if not hosts(DESIGN, i) & set(ids))
    assert sorted(design.part(top).kind for top in tops) == kinds
    names = [design.part(i).name for i in added]
    assert len(set(names)) == len(names)
    assert not set(names) & {thing.name for thing in DESIGN.by_id.values()}


def hosts(design: Design, part_id: str) -> set[str]:
    return set(Placement(design).hosts(part_id))


def test_a_copied_unit_brings_all_it_carries_and_the_plugs_among_them():
    design, tops = pasted(DESIGN, copy_text(DESIGN, ["unit-1", "strip-1"]))

    carried = design.carried(tops[0])
    assert len(carried) == len(DESIGN.carried("unit-1"))
    board = next(part for part in carried if part.kind == "lamp")
    assert board.plug == Plug(into="strip-2")


def test_pasted_into_another_design_parts_find_hosts_and_drop_what_is_not_there():
    other = Design(room=Room.rectangle(3.0, 3.0, 2.4))
    text = copy_text(DESIGN, ["unit-1"])

    design, tops = pasted(other, text)

    assert design.part(tops[0]).place.host == "room"
    assert all(getattr(part, "plug", None) is None for part in design.parts)
    assert {plants.species for plants in design.of(Plants)} == {g.key for g in design.groups}


def test_the_enclosure_goes_where_there_is_none_and_nowhere_else():
    other = Design(room=Room.rectangle(3.0, 3.0, 2.4))
    text = copy_text(DESIGN, ["enclosure-1"])

    assert len(pasted(other, text)[0].parts) == len(DESIGN.parts)
    with pytest.raises(DesignError, match="variant"):
        pasted(DESIGN, text)


def test_trays_pasted_where_there_is_no_unit_stand_on_the_chosen_level():
    target = DESIGN.with_parts(dict.fromkeys(["plants-1-left", "tray-1-left"]))
    renamed = target.with_parts(
        {"unit-1": None, **{p.id: None for p in target.carried("unit-1")}}
    ).with_parts({"unit-9": replace(DESIGN.part("unit-1"), id="unit-9")})
    text = copy_text(DESIGN, ["tray-1-left"])

    design, tops = pasted(renamed, text, Wish(("unit-9", 2)))

    assert (design.part(tops[0]).place.host, design.part(tops[0]).place.level) == ("unit-9", 2)


def test_changes_by_seasons_that_are_not_here_are_left_out():
    seasonal = replace(DESIGN.part("fan-1"), when=(Change(season="winter", absent=True),))
    text = copy_text(DESIGN.with_parts({"fan-1": seasonal}), ["fan-1"])
    mild = DESIGN.having(seasons=(DESIGN.seasons[1],))

    design, tops = pasted(mild, text)

    assert design.part(tops[0]).when == ()


def test_nothing_selected_cannot_be_copied():
    with pytest.raises(DesignError, match="select a part"):
        copy_text(DESIGN, ["door-1"])


GOOD = json.loads(copy_text(DESIGN, ["tray-1-left"]))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "plain text",
        "fernwright-parts",
        "[" * 100_000,
        '{"format": "fernwright-parts"}' + "[" * 50_000,
        json.dumps({**GOOD, "version": 2}),
        json.dumps({**GOOD, "format": "other"}),
        json.dumps({**GOOD, "parts": []}),
        json.dumps({**GOOD, "parts": GOOD["parts"] * 2}),
        json.dumps({**GOOD, "tops": ["nobody"]}),
        json.dumps({**GOOD, "more": 1}),
        json.dumps({**GOOD, "parts": [{**GOOD["parts"][0], "width": -1}]}),
        json.dumps({**GOOD, "parts": [{**GOOD["parts"][0], "width": "NaN"}]}),
        json.dumps(GOOD).replace("0.56", "1e999"),
        json.dumps(GOOD) + " " * LONGEST,
    ],
)
def test_text_that_holds_no_sound_parts_is_refused_with_a_sentence(text):
    with pytest.raises(InputError, match=r"clipboard .*copy"):
        read_clip(text)


def test_parts_that_rest_on_each_other_in_a_ring_are_refused():
    first, second = (dict(GOOD["parts"][0]) for _ in range(2))
    first["id"], second["id"] = "tray-a", "tray-b"
    first["place"] = {**first["place"], "host": "tray-b"}
    second["place"] = {**second["place"], "host": "tray-a"}

    with pytest.raises(InputError, match="clipboard"):
        read_clip(json.dumps({**GOOD, "parts": [first, second], "tops": ["tray-a"]}))


@given(text=st.text(max_size=200).map(lambda rest: '{"format":"fernwright-parts"' + rest))
def test_no_text_does_more_than_raise_an_input_error(text):
    with pytest.raises(InputError):
        read_clip(text)
