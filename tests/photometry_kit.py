"""Writes photometric files for tests: every number in them is made here.

What the reader must answer follows from the numbers that went in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

GAMMA = np.arange(0.0, 91.0, 15.0)
TAGS = {
    "1986": "",
    "1991": "IESNA91",
    "1995": "IESNA:LM-63-1995",
    "2002": "IESNA:LM-63-2002",
    "2019": "IES:LM-63-2019",
}


def uneven(c: Sequence[float], gamma: Sequence[float]) -> np.ndarray:
    """Intensities that no two directions share; every number is exact in decimals."""
    return 100.0 + np.arange(len(c))[:, None] * 7.0 + np.arange(len(gamma))[None, :] * 0.5


def lambertian(step: float, peak: float = 100.0) -> tuple[np.ndarray, np.ndarray]:
    """Angles and intensities of a surface that is equally bright from all sides."""
    gamma = np.arange(0.0, 90.0 + step / 2, step)
    return gamma, np.maximum(peak * np.cos(np.radians(gamma)), 0.0)[None, :]


@dataclass
class Lm63:
    """One LM-63 file; change a field to get another."""

    version: str = "2002"
    labels: Sequence[str] = ("[TEST] written for a test", "[LUMINAIRE] board")
    tilt: str = "NONE"
    tilt_numbers: Sequence[float] = ()
    lamps: float = 1
    lumens: float = 1000
    multiplier: float = 1
    kind: int = 1
    unit: int = 2
    dimensions: Sequence[float] = (0.3, 0.6, 0.0)
    ballast: float = 1
    extra: float = 1
    watts: float = 40
    gamma: Sequence[float] = field(default_factory=lambda: GAMMA)
    c: Sequence[float] = (0.0,)
    table: np.ndarray | None = None

    def words(self) -> list[list[str]]:
        """The numbers after TILT, one list a record."""
        table = uneven(self.c, self.gamma) if self.table is None else np.atleast_2d(self.table)
        head = [self.lamps, self.lumens, self.multiplier, len(self.gamma), len(self.c)]
        head += [self.kind, self.unit, *self.dimensions]
        records = [head, [self.ballast, self.extra, self.watts], self.gamma, self.c, *table]
        if len(self.tilt_numbers):
            records.insert(0, self.tilt_numbers)
        return [[f"{value:.10g}" for value in record] for record in records]

    def text(self, separator: str = " ", end: str = "\n", per_line: int = 1000) -> str:
        """The file, with at most ``per_line`` numbers on a line."""
        lines = [TAGS[self.version]] if TAGS[self.version] else []
        lines += [*self.labels, f"TILT={self.tilt}"]
        for record in self.words():
            for at in range(0, len(record), per_line):
                lines.append(separator.join(record[at : at + per_line]))
        return end.join(lines) + end

    def line_of(self, record: int) -> int:
        """The line on which a record stands when records are not wrapped."""
        return len(self.labels) + 1 + bool(TAGS[self.version]) + record + 1


@dataclass
class Ldt:
    """One EULUMDAT file; change a field to get another."""

    symmetry: int = 0
    c: Sequence[float] = (0, 90, 180, 270)
    step: float = 90
    gamma: Sequence[float] = field(default_factory=lambda: GAMMA)
    sets: Sequence[Sequence[object]] = ((1, "LED", 2000, "4000 K", "80", 25),)
    conversion: float = 1
    area: Sequence[float] = (600, 300, 0, 0, 0, 0)
    table: np.ndarray | None = None
    comma: bool = False
    by_value: bool = False
    per_line: int = 1

    def rows(self) -> np.ndarray:
        """The intensities in the file. [cd/klm]"""
        if self.table is not None:
            return np.atleast_2d(self.table)
        return uneven(range(self.planes_listed()), self.gamma)

    def planes_listed(self) -> int:
        """How many planes the format lists for this symmetry."""
        count = len(self.c)
        return {0: count, 1: 1, 2: count // 2 + 1, 3: count // 2 + 1, 4: count // 4 + 1}[
            self.symmetry
        ]

    def lines(self) -> list[str]:
        """The file, line by line."""
        head = ["Maker of tests", 2, self.symmetry, len(self.c), self.step, len(self.gamma), 0]
        head += ["R-1", "Board", "", "board.ldt", "today"]
        body = [620, 320, 80, *self.area, 100, 85, self.conversion, 0, len(self.sets)]
        values = [value for one in self.sets for value in one]
        if self.by_value:
            values = [one[place] for place in range(6) for one in self.sets]
        numbers = [0.5] * 10 + [*self.c] + [*self.gamma] + [*self.rows().ravel()]
        shown = [self.number(value) for value in (*head, *body, *values)]
        flat = [self.number(value) for value in numbers]
        packed = [" ".join(flat[i : i + self.per_line]) for i in range(0, len(flat), self.per_line)]
        return shown + packed

    def text(self, end: str = "\r\n") -> str:
        """The file."""
        return end.join(self.lines()) + end

    def number(self, value: object) -> str:
        """A value as the file writes it."""
        if isinstance(value, str):
            return value
        shown = f"{value:.10g}"
        return shown.replace(".", ",") if self.comma else shown
