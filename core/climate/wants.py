"""What the plants inside want of their air, each group by itself or all together.

Ranges only; whether the air keeps them is said in `rows`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Literal

from core.climate.results import Half
from core.model import PlantGroup, Plants, Span
from core.study import Study

Wanted = Literal["temperature", "humidity"]


def groups_inside(study: Study) -> tuple[PlantGroup, ...]:
    """Return the plant groups that stand inside the enclosure, each once."""
    zones = (zone for zone in study.design.of(Plants) if study.placement.inside(zone.id))
    found = (study.design.group(zone.species) for zone in zones)
    return tuple(dict.fromkeys(group for group in found if group is not None))


def range_of(group: PlantGroup, what: Wanted, half: Half) -> Span:
    """Return what one group wants by day or by night; open at both ends where nothing is said."""
    if what == "humidity":
        return group.humidity or Span()
    return (group.temperature_day if half == "day" else group.temperature_night) or Span()


def wants(study: Study, what: Wanted, half: Half) -> list[tuple[str, Span]]:
    """Return one range that suits all plants inside; where there is none, each group's own."""
    each = [(group.name, range_of(group, what, half)) for group in groups_inside(study)]
    low = _most((span.low for _, span in each), max)
    high = _most((span.high for _, span in each), min)
    if low is not None and high is not None and low > high:
        return [(name, span) for name, span in each if span != Span()]
    return [("", Span(low=low, high=high))]


def held(study: Study, what: Wanted, half: Half) -> Span:
    """Return the range to hold: what suits most; its ends meet where groups cannot agree."""
    spans = [span for _, span in wants(study, what, half)]
    low = _most((span.low for span in spans), max)
    high = _most((span.high for span in spans), min)
    if low is not None and high is not None and low > high:
        middle = (low + high) / 2
        return Span(low=middle, high=middle)
    return Span(low=low, high=high)


def _most(values: Iterable[float | None], choose: Callable[[list[float]], float]) -> float | None:
    known = [value for value in values if value is not None]
    return choose(known) if known else None
