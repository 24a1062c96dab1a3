"""Numbers out of the lines of a text file, with errors that name the line.

What the columns mean is for the readers of each form.
"""

from __future__ import annotations

import math
import os
import re
from pathlib import Path

from core.errors import FileError
from core.json_files import read_bytes
from core.language import tr

MOST_LINES = 1_000_000
"""Longest file that is read. [lines]"""

LONGEST_LINE = 4000
"""Longest line that is read. [characters]"""

_NUMBER = re.compile(r"[-+\u2212]?\s*(\d{1,12}([.,]\d{0,12})?|[.,]\d{1,12})([eE][-+]?\d{1,2})?")


def text_of(path: str | os.PathLike[str]) -> str:
    """Return the text of a file that the user chose, whatever its letters are encoded in.

    Raises
    ------
    FileError
        If it cannot be read or is too large.
    """
    data = read_bytes(path)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")


def lines_of(text: str, name: str) -> list[str]:
    """Return the lines of a file, refusing what no such file has.

    Raises
    ------
    FileError
        If there are too many lines or one is too long.
    """
    lines = text.splitlines()
    if len(lines) > MOST_LINES:
        words = tr("has {count} lines, and at most {most} are read; leave some out")
        raise FileError(_told(name, None, words.format(count=len(lines), most=MOST_LINES)))
    for number, line in enumerate(lines, 1):
        if len(line) > LONGEST_LINE:
            raise refusal(name, number, tr("is too long to be a line of measurements"))
    return lines


def refusal(name: str, line: int, words: str) -> FileError:
    """Return the error about one line of a file; ``words`` follow "weather.csv, line 7"."""
    return FileError(_told(name, line, words))


def _told(name: str, line: int | None, words: str) -> str:
    where = f"‘{Path(name).name}’" if line is None else tr("‘{name}’, line {line}:").format(
        name=Path(name).name, line=line
    )  # fmt: skip
    return f"{where} {words}."


def number(text: str) -> float | None:
    """Return a number written with a point or a comma, its unit left out; None where there is none.

    Thousands are not parted: "1,234" is 1.234.
    """
    found = _NUMBER.match(text.strip().strip('"'))
    if found is None:
        return None
    try:
        value = float(found[0].replace(",", ".").replace("\u2212", "-").replace(" ", ""))
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def within(name: str, line: int, quantity: str, text: str, low: float, high: float) -> float:
    """Return a number of a line that lies within limits.

    Raises
    ------
    FileError
        If it is no number or outside of them; the text names the line.
    """
    value = number(text)
    if value is None:
        words = tr("{quantity} = ‘{text}’ must be a number; correct it or leave the line out")
        raise refusal(name, line, words.format(quantity=quantity, text=text.strip()[:40]))
    if not low <= value <= high:
        words = tr("{quantity} = {value} must be from {low} to {high}; correct it or leave the "
                   "line out")  # fmt: skip
        told = words.format(quantity=quantity, value=f"{value:g}", low=f"{low:g}", high=f"{high:g}")
        raise refusal(name, line, told)
    return value
