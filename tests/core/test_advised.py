"""What is tried for the air comes with the findings of those who can wait for it."""

from __future__ import annotations

import pytest

from core.advised import with_trials
from core.findings import air_trials
from core.model import Fan, Place
from core.readings import Readings, read
from core.states import LIKELY_OUT, OUT
from tests.air_kit import box, circulation, design, plants

WEAK = circulation(diameter=0.1, flow=0.006, heading=180.0)
STILL = design(box(), WEAK, plants(place=Place(host="box", x=1.3, y=0.4, z=0.8)))
"""A fan that blows at the wall behind it, and leaves 1.3 m before it."""


def air_findings(readings: Readings) -> dict[str, str]:
    found = (item for item in readings.findings if item.subject == "air")
    return {item.title.render("metric"): item.detail.render("metric") for item in found}


def test_findings_on_still_air_carry_the_edit_that_mends_it_and_all_else_stays() -> None:
    plain = read(STILL)
    tried = with_trials(plain)

    (before,) = (item for item in plain.findings if item.subject == "air")
    (after,) = (item for item in tried.findings if item.subject == "air")
    assert before.remedy is None
    assert after.remedy is not None and after.title == before.title
    assert "Edits tried by their jets: " in after.detail.render("metric")
    others = [
        [item.title.render("metric") for item in one.findings if item.subject != "air"]
        for one in (plain, tried)
    ]
    assert others[0] == others[1] and others[0]
    assert tried.rows() == plain.rows()
    mended = read(STILL.with_parts(after.remedy.parts))
    (row,) = (row for row in mended.air.rows if row.name == "speed")
    assert row.state not in OUT | LIKELY_OUT


def test_where_nothing_mends_it_the_finding_says_what_was_tried(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(air_trials, "TURNS", (5,))
    monkeypatch.setattr(air_trials, "_added", lambda search: iter(()))
    (detail,) = air_findings(with_trials(read(STILL))).values()
    assert detail.endswith(
        "Edits tried by their jets: 1; the best of them with the flow: 1. None was enough."
    )


def test_without_a_fan_nothing_is_tried() -> None:
    still = STILL.with_parts({next(iter(STILL.of(Fan))).id: None})
    readings = read(still)
    assert with_trials(readings) is readings
