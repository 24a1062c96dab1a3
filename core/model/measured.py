"""What was measured of a lamp: how it spreads its light, and its spectrum, kept in the design.

Numbers are kept as short texts, so that a table takes a line of the file and none of them is a
path that anybody follows. Reading them from files, and computing with them, is `core.light`'s work.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from core.model.base import Extent, Frozen, LuminousFlux, Name

FULL = 10_000
"""How the highest value of a table or spectrum is written; all others are shares of it."""
MOST_VALUES = 20_000
"""Most values of one table."""
MOST_ROWS = 2_000
"""Most wavelengths of one spectrum."""

_LONGEST_LIST = 16_000
_LONGEST_TABLE = 120_000
_DECIMALS = re.compile(r"[0-9]{1,4}(\.[0-9]{1,4})?( [0-9]{1,4}(\.[0-9]{1,4})?)*")
_WHOLES = re.compile(r"[0-9]{1,5}( [0-9]{1,5})*")

Numbers = Annotated[str, Field(max_length=_LONGEST_LIST)]
"""Decimal numbers from 0 to 9999.9999, a blank between them."""
Shares = Annotated[str, Field(max_length=_LONGEST_TABLE)]
"""Whole numbers from 0 to `FULL`, a blank between them."""


class Measured(Frozen):
    """How a lamp spreads its light by direction, from a photometric file.

    ``file`` is the name of the file it came from, kept as words alone. ``c`` are the angles of its
    half planes and ``gamma`` those from the lamp's axis, in degrees; ``table`` has one row of
    ``gamma`` for each of ``c``, in ten-thousandths of the highest intensity. Planes to 90 or 180
    are mirrored, a single one is the same all round. ``turn`` says in quarter turns, anticlockwise
    in plan, where the plane C0 lies from the lamp's length. ``lumens`` is the flux that the file
    tells of. [lm] ``opening`` is the size of the lit part along C0 and across. [m]
    """

    file: Name
    c: Numbers
    gamma: Numbers
    table: Shares
    turn: Literal[0, 1, 2, 3] = 0
    lumens: LuminousFlux | None = None
    opening: tuple[Extent, Extent] | None = None

    @model_validator(mode="after")
    def _sound(self) -> Self:
        planes = _rising("angles c", self.c, 360.0)
        angles = _rising("angles gamma", self.gamma, 180.0)
        if len(angles) < 2:
            raise ValueError("angles gamma = 1 must be two or more; read the file again.")
        _check_shares("table", self.table, len(planes) * len(angles))
        return self


class OwnSpectrum(Frozen):
    """The spectrum of a lamp's light, from a file of two columns.

    ``file`` is the name of that file, kept as words alone. ``power`` by wavelength is in
    ten-thousandths of the highest. [nm]
    """

    file: Name
    wavelength: Numbers
    power: Shares

    @model_validator(mode="after")
    def _sound(self) -> Self:
        rows = _rising("wavelengths", self.wavelength, 5000.0)
        if not 2 <= len(rows) <= MOST_ROWS:
            raise ValueError(
                f"wavelengths = {len(rows)} must be 2 to {MOST_ROWS}; read the file again."
            )
        _check_shares("power", self.power, len(rows))
        return self


def numbers(text: str) -> tuple[float, ...]:
    """Return the numbers that a text of `Numbers` or `Shares` holds."""
    return tuple(map(float, text.split(" ")))


def _rising(what: str, text: str, highest: float) -> tuple[float, ...]:
    if not _DECIMALS.fullmatch(text):
        raise ValueError(f"{what} = ‘{text[:20]}’ must be plain numbers; read the file again.")
    values = numbers(text)
    if values[-1] > highest or any(b <= a for a, b in pairwise(values)):
        raise ValueError(f"{what} must rise, to at most {highest:g}; read the file again.")
    return values


def _check_shares(what: str, text: str, count: int) -> None:
    if not _WHOLES.fullmatch(text):
        raise ValueError(f"{what} = ‘{text[:20]}’ must be whole numbers; read the file again.")
    values = numbers(text)
    if len(values) != count or count > MOST_VALUES:
        raise ValueError(
            f"{what} = {len(values)} values must be {count}, at most {MOST_VALUES}; read the file "
            "again."
        )
    if not 0 < max(values) <= FULL:
        raise ValueError(f"{what}: highest = {max(values):g} must be 1 to {FULL}; read it again.")
