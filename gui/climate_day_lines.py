"""The lines of a day's climate as they are drawn: values, how sure they are, what is wanted.

The numbers are `core.climate`'s; how lines look is said in `gui.climate_day` and the day ribbon.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from core.climate.psychrometrics import saturation_pressure
from core.hours import show_clock
from core.language import tr
from core.units import label, show
from gui.time_axis import stretches

if TYPE_CHECKING:
    from core.climate.results import ClimateReadings, DeviceDay
    from core.reading import Reading
    from core.readings import Readings

Series = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
Span = tuple[float | None, float | None]

LINES = ("temperature", "humidity", "deficit")
"""What the day ribbon may show."""
TRACKS = (*LINES, "margin")
"""What the day shows, from top to bottom."""

_KINDS = {
    "temperature": "temperature",
    "humidity": "fraction",
    "deficit": "vapour_pressure",
    "margin": "temperature_difference",
}


@dataclass(frozen=True, eq=False)
class Track:
    """One quantity over the day, by the minute, in SI.

    Attributes
    ----------
    key, title, unit : str
        The title as a person reads it; the unit of ``text``.
    values, low, high : ndarray, shape (1440,)
        The line and the ends of its band.
    text : callable
        A value as the user reads it, with its unit.
    day, night : tuple of (float or None, float or None)
        What is wanted while lamps are on and off; several where plants do not agree.
    lit : ndarray of bool
        While lamps are on.
    beside : ndarray or None
        A second, dashed line, called ``beside_name``.
    before : ndarray or None
        The line before the last edit.
    """

    key: str
    title: str
    unit: str
    values: Series
    low: Series
    high: Series
    text: Callable[[float], str]
    day: tuple[Span, ...]
    night: tuple[Span, ...]
    lit: Flags
    beside: Series | None = None
    beside_name: str = ""
    before: Series | None = None

    @property
    def wanted(self) -> tuple[Series, Series]:
        """Lowest and highest wanted by the minute; not a number where there is no limit."""
        low, high = (
            np.where(self.lit, _common(self.day, end), _common(self.night, end)) for end in (0, 1)
        )
        return low, high

    def limits(self) -> list[float]:
        """Return every limit that is wanted at some time, each once, from low to high."""
        shown = [*(self.day if self.lit.any() else ()), *(self.night if (~self.lit).any() else ())]
        return sorted({end for span in shown for end in span if end is not None})

    @property
    def scale(self) -> tuple[float, float]:
        """Lowest and highest value that the drawing has room for."""
        lines = [line for line in (self.low, self.high, self.beside, self.before)
                 if line is not None]  # fmt: skip
        bottom = min(float(line.min()) for line in lines)
        top = max(float(line.max()) for line in lines)
        reach = max(top - bottom, _LEAST_REACH[self.key])
        near = [limit for limit in self.limits()
                if bottom - reach <= limit <= top + reach]  # fmt: skip
        bottom, top = min([bottom, *near]), max([top, *near])
        room = 0.1 * max(top - bottom, _LEAST_REACH[self.key])
        return bottom - room, top + room

    def words_at(self, minute: int) -> str:
        """Return the value at a minute with its range, in words."""
        value, low, high = (float(line[minute]) for line in (self.values, self.low, self.high))
        words = tr("{title} {value} ({low} to {high})")
        return words.format(
            title=self.title, value=self.text(value), low=self.text(low), high=self.text(high)
        )


_LEAST_REACH = {"temperature": 2.0, "humidity": 0.08, "deficit": 150.0, "margin": 1.5}
"""A line that hardly changes is not blown up to more than this. [°C], [1], [Pa], [K]"""


def _common(spans: tuple[Span, ...], end: int) -> float:
    """Return one end of a single range; not a number where there is none or several."""
    value = spans[0][end] if len(spans) == 1 else None
    return float("nan") if value is None else value


def tracks(readings: Readings, before: Readings | None = None) -> tuple[Track, ...]:
    """Return the lines of the day, none without an enclosure; ``before`` is of before an edit."""
    return tuple(found for key in TRACKS if (found := track(readings, key, before)) is not None)


def track(readings: Readings, key: str, before: Readings | None = None) -> Track | None:
    """Return one line; None where there is none."""
    climate, system = readings.climate, readings.design.units
    series = climate.series
    if series is None or (key == "margin" and not climate.faces):
        return None
    values: Series = getattr(series, key)
    low, high = _band(climate, key, values)
    earlier = before.climate.series if before is not None else None
    second, name = _second(climate, key)
    day, night = wanted(climate, key)
    kind = _KINDS[key]
    return Track(
        key, line_title(key), label(kind, system), values, low, high,
        lambda value: show_short(value, kind, system), day, night, series.lit, second, name,
        getattr(earlier, key) if earlier is not None else None,
    )  # fmt: skip


def show_short(value: float, kind: str, system: str, *, unit: bool = True) -> str:
    """Return a number of the climate with the digits that it deserves."""
    if kind == "fraction":
        return show(round(value, 2), kind, system, unit=unit)
    if kind == "vapour_pressure":
        return show(value, kind, system, unit=unit, digits=2)
    # Tenths of a degree; a margin near nought is not told finer than that either.
    return show(round(value, 1) + 0.0, kind, system, unit=unit)


def season_name(readings: Readings) -> str:
    """Return what the season of readings is called."""
    return readings.design.season(readings.season).name


def line_title(key: str) -> str:
    """Return what a line is called."""
    return {
        "temperature": tr("Temperature"),
        "humidity": tr("Humidity"),
        "deficit": tr("VPD"),
        "margin": tr("Dew margin"),
    }[key]


def _second(climate: ClimateReadings, key: str) -> tuple[Series | None, str]:
    series = climate.series
    assert series is not None
    if key == "temperature":
        return series.room_temperature, tr("room")
    if key == "humidity":
        return series.room_humidity, tr("room")
    if key == "deficit" and climate.zones:
        return series.leaf_deficit, tr("at leaves")
    return None, ""


def rows_of(climate: ClimateReadings, name: str) -> tuple[Reading, ...]:
    """Return the readings of one name."""
    return tuple(row for row in climate.rows if row.name == name)


def _band(climate: ClimateReadings, key: str, values: Series) -> tuple[Series, Series]:
    """Return the ends of a line's range: as far from it as its mean's are, by day and by night."""
    series = climate.series
    assert series is not None
    if key == "margin":
        below, above = _off(rows_of(climate, "margin"))
        return values - below, values + above
    ends = [_off(rows_of(climate, f"{key}-{half}")) for half in ("day", "night")]
    low = values - np.where(series.lit, ends[0][0], ends[1][0])
    high = values + np.where(series.lit, ends[0][1], ends[1][1])
    if key == "humidity":
        return np.clip(low, 0.0, 1.0), np.clip(high, 0.0, 1.0)
    return (np.maximum(low, 0.0), high) if key == "deficit" else (low, high)


def _off(rows: Iterable[Reading]) -> tuple[float, float]:
    for row in rows:
        if row.value is not None and row.low is not None and row.high is not None:
            return row.value - row.low, row.high - row.value
    return 0.0, 0.0


# --- what is wanted ------------------------------------------------------------------------------


def wanted(climate: ClimateReadings, key: str) -> tuple[tuple[Span, ...], tuple[Span, ...]]:
    """Return what is wanted by day and by night, one range or each plant group's own."""
    if key == "margin":
        spans = tuple((row.want_low, row.want_high) for row in rows_of(climate, "margin"))
        return spans, spans
    if key == "deficit":
        return _deficit_wanted(climate, "day"), _deficit_wanted(climate, "night")
    return _spans(climate, key, "day"), _spans(climate, key, "night")


def _spans(climate: ClimateReadings, key: str, half: str) -> tuple[Span, ...]:
    found = ((row.want_low, row.want_high) for row in rows_of(climate, f"{key}-{half}"))
    return tuple(dict.fromkeys(span for span in found if span != (None, None)))


def _deficit_wanted(climate: ClimateReadings, half: str) -> tuple[Span, ...]:
    """Return the deficits that wanted warmth and humidity come to, where both are agreed on."""
    warm, damp = _spans(climate, "temperature", half), _spans(climate, "humidity", half)
    if len(warm) != 1 or len(damp) != 1:
        return ()
    low = _deficit(warm[0][0], damp[0][1])
    high = _deficit(warm[0][1], damp[0][0])
    return ((low, high),) if (low, high) != (None, None) else ()


def _deficit(t: float | None, rh: float | None) -> float | None:
    if t is None or rh is None:
        return None
    return float(saturation_pressure(t)) * (1 - rh)


# --- what the day is like ------------------------------------------------------------------------


def told_at(readings: Readings, minute: int) -> str:
    """Return all that the day holds at a minute, a line each."""
    lines = [show_clock(minute)]
    lines += [one.words_at(minute) for one in tracks(readings)]
    running = [one for one in readings.climate.devices if one.duty[minute] > 0.005]
    lines += [tr("{name} runs").format(name=one.name) if one.duty[minute] > 0.995 else
              tr("{name} runs {share} of the time").format(
                  name=one.name, share=show(round(float(one.duty[minute]), 2), "fraction"))
              for one in running]  # fmt: skip
    return "\n".join(lines)


def duty_words(device: DeviceDay) -> str:
    """Return how much of the day a device runs."""
    return show(round(float(device.duty.mean()), 2), "fraction")


def strokes(device: DeviceDay, least: int = 1) -> list[tuple[int, int, float]]:
    """Return when a device runs as (from, to, share), minutes of equal share joined.

    Pauses shorter than ``least`` minutes are bridged: they could not be drawn apart, and the share
    is lowered by them.
    """
    joined: list[tuple[int, int]] = []
    for on, off in stretches(device.duty > 0.005):
        if joined and on - joined[-1][1] < least:
            joined[-1] = joined[-1][0], off
        else:
            joined.append((on, off))
    return [(on, off, float(device.duty[on:off].mean())) for on, off in joined]
