"""What is set on the things themselves: hours, dimming, fan speeds, set-points of controllers.

What they then do all day is told by the readings.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.hours import show_hours
from core.language import tr
from core.model import Design, Fan, Humidistat, Lamp, Powered, Thermostat, Timer
from core.model.electric import SetPoint
from core.phrases import Amount, phrase
from core.power.tree import PlugTree
from core.summary.blocks import Cell, Table
from core.units import show

_NAMED = 3


def settings_table(design: Design) -> Table | None:
    """Return what has to be set, things that are set alike together; None for nothing."""
    tree = PlugTree(design)
    alike: dict[tuple[str, str, str], list[str]] = {}
    for part in design.parts:
        found = _timed(part, tree) if isinstance(part, Timer | Powered) else None
        if found:
            kind = f"{part.kind} {getattr(part, 'form', '')}"
            alike.setdefault((kind, *found), []).append(part.name)
    rows: list[tuple[Cell, ...]] = [
        (_names(names), hours, told) for (_, hours, told), names in alike.items()
    ]
    rows += list(_controllers(design))
    if not rows:
        return None
    heads = (tr("What"), tr("Runs"), tr("Set to"))
    return Table(heads, tuple(rows), (0.42, 0.22, 0.36))


def _names(names: list[str]) -> str:
    if len(names) <= _NAMED:
        return "; ".join(names)
    text = tr("{first} to {last}, {count} in all")
    return text.format(first=names[0], last=names[-1], count=len(names))


def _timed(part: Timer | Powered, tree: PlugTree) -> tuple[str, str] | None:
    """Return when a thing runs and what it is set to; None where nothing is set on it."""
    hours = show_hours(tree.periods(part.id))
    if isinstance(part, Timer):
        return show_hours(tuple((one.on, one.off) for one in part.hours.periods)), tr("a timer")
    control = getattr(part, "control", None)
    told = [_set_to(part)]
    if control is not None:
        told.append(tr("held by {name}").format(name=tree.design.by_id[control].name))
    if part.hours.ramp:
        told.append(tr("{minutes} min to full and back").format(minutes=part.hours.ramp))
    return hours, "; ".join(words for words in told if words)


def _set_to(part: Powered) -> str:
    if isinstance(part, Lamp):
        share = show(part.dimming, "fraction")
        return (
            tr("full power") if part.dimming >= 1 else tr("dimmed to {share}").format(share=share)
        )
    if isinstance(part, Fan):
        share = show(part.speed_setting, "fraction")
        slowed = tr("{share} of its speed").format(share=share)
        return tr("full speed") if part.speed_setting >= 1 else slowed
    return ""


def _controllers(design: Design) -> Iterator[tuple[Cell, ...]]:
    for part in design.parts:
        if isinstance(part, Thermostat | Humidistat):
            kind = "temperature" if isinstance(part, Thermostat) else "fraction"
            for point in part.set_points:
                yield part.name, _when(point, design), _point(point, kind, design.units)


def _when(point: SetPoint, design: Design) -> str:
    season = design.season(point.season).name if point.season else ""
    halves = {None: "", "day": tr("by day"), "night": tr("by night")}
    half = halves[point.half]
    return ", ".join(words for words in (season, half) if words) or tr("always")


def _point(point: SetPoint, kind: str, system: str) -> str:
    step = "temperature_difference" if kind == "temperature" else "fraction"
    return phrase(
        "{value}; switches back after {step}",
        value=Amount(point.value, kind),
        step=Amount(point.differential, step),
    ).render(system)
