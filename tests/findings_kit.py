"""What the tests of findings share: one room to put trouble into, and one way to mend it.

Each test file adds the parts of its own subject.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace as with_fields
from typing import Any

from core.air.reading import read as read_air
from core.climate.reading import read as read_climate
from core.finding import Finding, mended
from core.fit.reading import read as read_fit
from core.light.reading import read as read_light
from core.model import (
    Circuit,
    Design,
    Enclosure,
    Outlet,
    Place,
    Room,
    Shelf,
    ShelfUnit,
)
from core.power.reading import read as read_power
from core.reading import SubjectReadings
from core.study import Study, study
from core.water.reading import read as read_water
from core.weight.reading import read as read_weight

Rule = Callable[[Study], Iterator[Finding]]
ENGINES: dict[str, Callable[[Study], SubjectReadings]] = {
    "air": read_air,
    "climate": read_climate,
    "fit": read_fit,
    "light": read_light,
    "power": read_power,
    "water": read_water,
    "weight": read_weight,
}


def room(*fixtures: Any, circuits: tuple[Circuit, ...] | None = None, height: float = 2.4) -> Room:
    """Return a room of 4 × 3 m with two circuits and an outlet on each."""
    if circuits is None:
        circuits = (
            Circuit(id="hall", name="Hall circuit", breaker=16.0, leakage_protected=True),
            Circuit(id="den", name="Den circuit", breaker=16.0, leakage_protected=True),
        )
    outlets = tuple(
        Outlet(id=f"outlet-{c.id}", name=f"Outlet {c.id}", wall=3, offset=0.5 + k, circuit=c.id)
        for k, c in enumerate(circuits)
    )
    outline = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    return Room(outline=outline, height=height, circuits=circuits, fixtures=(*outlets, *fixtures))


def design(*parts: Any, **fields: Any) -> Design:
    """Return a design with these parts in the room."""
    return Design(**{"room": room(), "parts": parts, **fields})


def box(**fields: Any) -> Enclosure:
    """Return an enclosure of 2 × 1 × 2 m in the room's front left corner."""
    usual = {"width": 2.0, "depth": 1.0, "height": 2.0, "place": Place(x=0.2, y=0.2)}
    return Enclosure(id="box", name="Box", **{**usual, **fields})


def unit(**fields: Any) -> ShelfUnit:
    """Return a unit of three levels that stands well."""
    usual: dict[str, Any] = {
        "width": 1.2,
        "depth": 0.5,
        "height": 1.6,
        "mass": 15.0,
        "levels": tuple(Shelf(z=z, rating=40.0) for z in (0.2, 0.7, 1.2)),
        "place": Place(x=0.5, y=0.5),
    }
    return ShelfUnit(id="unit", name="Rack", **{**usual, **fields})


def look(made: Design, *subjects: str, season: str | None = None) -> Study:
    """Return the study of a design with some subjects read."""
    seen = study(made, season=season)
    for subject in subjects:
        seen = with_fields(seen, done={**seen.done, subject: ENGINES[subject](seen)})
    return seen


def raised(rule: Rule, made: Design, *subjects: str, season: str | None = None) -> list[Finding]:
    """Return what a rule finds in a design."""
    return list(rule(look(made, *subjects, season=season)))


def after_mending(
    rule: Rule, made: Design, *subjects: str, season: str | None = None
) -> list[Finding]:
    """Return what the rule still finds once its first finding's remedy is done."""
    first = raised(rule, made, *subjects, season=season)[0]
    assert first.remedy is not None
    done = mended(made, first)
    assert done != made
    return raised(rule, done, *subjects, season=season)


def told(finding: Finding, system: str = "metric") -> tuple[str, str, str]:
    """Return a finding's title, detail and remedy in words, thin spaces made plain."""
    words = finding.remedy.words.render(system) if finding.remedy else ""
    said = (finding.title.render(system), finding.detail.render(system), words)
    title, detail, mend = (text.replace("\u2009", " ") for text in said)
    return title, detail, mend
