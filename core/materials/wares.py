"""What is bought to build with and is no part: bars, rolls, boards, fittings, small things.

Each has a key under which the design keeps its price. How many of each are needed is in
`core.materials.shopping`, sizes sold in `core.materials.stock`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from core.language import tr
from core.materials.stock import Board, Roll
from core.model import Enclosure, Sheet
from core.phrases import Amount, Phrase, phrase
from core.units.table import FOOT

Group = Literal["frame", "sheets", "water", "electric", "parts"]
By = Literal["piece", "length"]

_LONG = 30
"""So much of a catalogue key goes into a ware's: keys are at most 60 characters long."""


@dataclass(frozen=True)
class Ware:
    """A thing to buy.

    Attributes
    ----------
    key : str
        Stable; also the key of its price in `core.model.Prices`.
    group : str
        Where it stands on the list.
    name : Phrase
    by : str
        ``"piece"``, or ``"length"`` for what is bought by the metre.
    """

    key: str
    group: Group
    name: Phrase
    by: By = "piece"


def bar(box: Enclosure, length: float) -> Ware:
    """Return a bar of an enclosure's frame stock. [m]"""
    key = f"bar-{_stem(box.frame.catalogue)}-{_mm(length)}"
    size = Amount(length, "length")
    return Ware(key, "frame", phrase("{stock}, {length}", stock=box.frame.material, length=size))


def roll(sheet: Sheet, size: Roll) -> Ware:
    """Return a roll of a sheet."""
    key = f"roll-{_stem(sheet.catalogue)}-{_mm(size.width)}-{_mm(size.length)}"
    return Ware(key, "sheets", _sized("{sheet}, roll {width} × {length}", sheet.material, size))


def board(sheet: Sheet, size: Board) -> Ware:
    """Return a rigid board of a sheet."""
    key = f"board-{_stem(sheet.catalogue)}-{_mm(size.width)}-{_mm(size.length)}"
    return Ware(key, "sheets", _sized("{sheet}, board {width} × {length}", sheet.material, size))


def liner(size: Roll) -> Ware:
    """Return floor liner off a roll so wide, which is sold by the metre."""
    name = phrase("Liner, {width} wide", width=Amount(size.width, "length"))
    return Ware(f"liner-{_mm(size.width)}", "water", name, "length")


def fitting(kind: str, box: Enclosure) -> Ware:
    """Return what joins members of an enclosure's frame, by kind."""
    key = f"fitting-{kind.replace(' ', '-')}-{_stem(box.frame.catalogue)}"
    words = {
        "corner": tr("Corner fitting, three ways"),
        "tee": tr("Tee"),
        "side tee": tr("Tee with a side way"),
        "cross": tr("Cross"),
        "elbow": tr("Elbow"),
        "five-way": tr("Fitting with five ways"),
        "six-way": tr("Fitting with six ways"),
        "straight": tr("Straight fitting"),
        "end": tr("End cap"),
        "bracket": tr("Angle bracket with screws"),
        "brace clamp": tr("Clamp for a brace"),
        "coupler": tr("Straight coupler"),
    }
    return Ware(key, "frame", phrase(words[kind]))


SMALL: dict[str, Ware] = {
    ware.key: ware
    for ware in (
        Ware("seam-tape", "sheets", phrase("Tape for seams"), "length"),
        Ware("clamp", "sheets", phrase("Clamp or staple for sheets")),
        Ware("zip", "sheets", phrase("Stick-on zip"), "length"),
        Ware("hinge", "sheets", phrase("Hinge")),
        Ware("latch", "sheets", phrase("Latch")),
        Ware("lamp-hanger", "electric", phrase("Hanger for a lamp")),
        Ware("lead-clip", "electric", phrase("Clip that holds a drip loop")),
        Ware("tube-connector", "water", phrase("Tube connector")),
        Ware("tube-tap", "water", phrase("Tap in a tube")),
        Ware("float-valve", "water", phrase("Float valve")),
        Ware("pump", "water", phrase("Pump")),
    )
}
"""Small things by key."""


def _sized(text: str, material: str, size: Roll | Board) -> Phrase:
    width, length = Amount(size.width, "length", unit=False), Amount(size.length, "length")
    return phrase(text, sheet=material, width=width, length=length)


def _stem(catalogue: str | None) -> str:
    return (catalogue or "own")[:_LONG].strip("-")


def _mm(length: float) -> int:
    return round(length * 1000)


def priced_for(by: By, units: str) -> float:
    """Return what a price is told for: a piece; of lengths a metre, or a foot. [1 or m]"""
    return FOOT if by == "length" and units == "us" else 1.0


def in_order(wares: Iterable[Ware]) -> tuple[Ware, ...]:
    """Return wares without repeats, in the order in which they come."""
    return tuple({ware.key: ware for ware in wares}.values())
