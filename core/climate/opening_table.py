"""How wide to open the window for each outdoor temperature, so that day and night stay in range.

Widths come from the steady estimate; what a day makes of a chosen one is for the simulation.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.arguments import positive
from core.climate.estimate import settle
from core.climate.from_design import Setup
from core.climate.reading import flags
from core.climate.zone import Beyond, Gap, Room, by_minute
from core.model import Span

OUTDOORS = (-10.0, -5.0, 0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0)
"""Outdoor temperatures that the table has rows for. [°C]"""

WIDEST = 0.5
"""The window is not opened wider than this. [m]"""

_HALVINGS = 9


@dataclass(frozen=True)
class Opened:
    """How wide to open in one half of the day.

    Attributes
    ----------
    width : float or None
        None: even the widest does not hold the highest wanted. [m]
    temperature : float
        That it leads to, or that the widest leads to. [°C]
    too_cool : bool
        Whether even a closed window is below the lowest wanted.
    """

    width: float | None
    temperature: float
    too_cool: bool = False


@dataclass(frozen=True)
class OpeningRow:
    """One row: an outdoor temperature, and both halves of the day."""

    outdoors: float
    day: Opened
    night: Opened | None


def opening_table(
    made: Setup,
    day: Span,
    night: Span,
    height: float = 1.0,
    beyond: Beyond = "outdoors",
    outdoors: tuple[float, ...] = OUTDOORS,
) -> tuple[OpeningRow, ...]:
    """Return the narrowest opening that keeps each half of the day at or below its highest.

    The enclosure's own openings count as shut; the room stays as the season tells, and follows
    outdoors where the opening leads to the room.

    Parameters
    ----------
    made : Setup
    day, night : Span
        Wanted temperatures. [°C]
    height : float
        Of the opening. [m]
    beyond : {"outdoors", "room"}
        Where it leads.
    outdoors : tuple of float
        [°C]

    Returns
    -------
    tuple of OpeningRow

    Raises
    ------
    InputError
        If ``height`` is not above 0.
    """
    positive("Opening", "height", height, "m")
    return tuple(_row(made, (day, night), height, beyond, t) for t in outdoors)


def _row(
    made: Setup, wanted: tuple[Span, Span], height: float, beyond: Beyond, t: float
) -> OpeningRow:
    room = made.room
    shift = t - by_minute("Outdoors", "temperature", room.outdoor_temperature).mean()
    moved = np.asarray(room.outdoor_temperature, dtype=float) + shift
    around = Room(
        np.asarray(room.temperature, dtype=float) + (shift if beyond == "room" else 0.0),
        room.humidity,
        moved,
        room.outdoor_humidity,
    )
    count = len(flags(made))
    found = [_narrowest(made, around, span, height, beyond, half)
             for half, span in zip(range(count), wanted, strict=False)]  # fmt: skip
    return OpeningRow(t, found[0], found[1] if count > 1 else None)


def _narrowest(
    made: Setup, room: Room, wanted: Span, height: float, beyond: Beyond, half: int
) -> Opened:
    """Return the narrowest width that holds the highest wanted: wider is cooler, or not at all."""

    def inside(width: float) -> float:
        gaps = (Gap(width, height, beyond),)
        zone = replace(made.zone, gaps=gaps)
        return float(settle(zone, room, flags(made)).temperature[0, half])

    shut = inside(0.0)
    too_cool = wanted.low is not None and shut < wanted.low
    if wanted.high is None or shut <= wanted.high:
        return Opened(0.0, shut, too_cool)
    widest = inside(WIDEST)
    if widest > wanted.high:
        return Opened(None, widest)
    low, high = 0.0, WIDEST
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if inside(middle) <= wanted.high else (middle, high)
    return Opened(high, inside(high))
