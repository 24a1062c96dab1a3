"""The summary of a design: one description of it, written as PDF, HTML, SVG, CSV and calendar.

Only the way from a path's ending to its writer is here; what a summary says is in `describe`.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import FileError
from core.json_files import write_bytes
from core.language import tr
from core.model import Design
from core.summary.blocks import Picture, Summary
from core.summary.care import care_events
from core.summary.chart import wall_chart
from core.summary.describe import describe
from core.summary.html import html_text
from core.summary.ics import calendar_text
from core.summary.sheet import Wishes
from core.summary.svg import svg
from core.summary.values import value_files

if TYPE_CHECKING:
    from core.readings import Readings

__all__ = ["ENDINGS", "Wishes", "describe", "write_chart", "write_summary"]

ENDINGS = (".pdf", ".html", ".svg", ".csv", ".ics")
_LONGEST_NAME = 60


@dataclass(frozen=True)
class _Job:
    """What is written: the design with its readings, the date on it, the day care begins."""

    design: Design
    readings: Readings
    stamp: date | str | None
    start: date
    wishes: Wishes

    @cached_property
    def told(self) -> Summary:
        return describe(self.design, self.readings, self.stamp, wishes=self.wishes)


def write_summary(
    design: Design,
    readings: Readings,
    path: str | os.PathLike[str],
    *,
    stamp: date | str | None = None,
    start: date | None = None,
    wishes: Wishes | None = None,
) -> list[Path]:
    """Write a summary, in the form that the path's ending asks for.

    Parameters
    ----------
    design : Design
    readings : Readings
        Of this design.
    path : path
        A file that ends in .pdf, .html, .svg (more files hold further drawings), .csv (more files
        hold further tables) or .ics (the calendar of care); or a folder, which gets all of them
        and the wall chart, and is made where it is missing.
    stamp : date or str, optional
        The date on it; by default today. With it and ``start`` given, the same input gives the
        same bytes.
    start : date, optional
        The day on which all containers are full and everything is clean; by default the stamp's
        date.
    wishes : Wishes, optional
        Paper and scale.

    Returns
    -------
    list of Path
        What was written.

    Raises
    ------
    FileError
        If the ending is unknown or a file cannot be written; each file is whole or as before.
    InputError
        If paper or scale cannot be used.
    """
    target = Path(path)
    job = _job(design, readings, stamp, start, wishes)
    if target.is_dir() or not target.suffix:
        return _into_folder(target, job)
    return _put(_files(target, job))


def write_chart(
    design: Design,
    readings: Readings,
    path: str | os.PathLike[str],
    *,
    start: date | None = None,
    wishes: Wishes | None = None,
) -> Path:
    """Write the wall chart of care, a page that ends in .pdf or .html, and return its path.

    Raises
    ------
    FileError
        If the ending is another, or the file cannot be written.
    """
    target = Path(path)
    told = wall_chart(design, readings, start or date.today(), wishes)
    makers = {".pdf": lambda: _pdf(told), ".html": lambda: html_text(told).encode()}
    ending = target.suffix.lower()
    if ending not in makers:
        raise _unknown(target, tuple(makers))
    return _put({target: makers[ending]()})[0]


def _job(
    design: Design,
    readings: Readings,
    stamp: date | str | None,
    start: date | None,
    wishes: Wishes | None,
) -> _Job:
    day = stamp if isinstance(stamp, date) else date.today()
    return _Job(design, readings, stamp, start or day, wishes or Wishes())


def _into_folder(folder: Path, job: _Job) -> list[Path]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        text = tr("The folder ‘{folder}’ cannot be made: {reason}; choose another place.")
        raise FileError(text.format(folder=folder, reason=reason)) from None
    stem = _file_name(job.design.name)
    files: dict[Path, bytes] = {}
    for ending in ENDINGS:
        files |= _files(folder / f"{stem}{ending}", job)
    chart = wall_chart(job.design, job.readings, job.start, job.wishes)
    files[folder / f"{stem}-wall-chart.pdf"] = _pdf(chart)
    return _put(files)


def _file_name(name: str) -> str:
    """Return a design's name as every file system takes it."""
    kept = re.sub(r"[^\w -]+", " ", name)
    return re.sub(r"\s+", "-", kept.strip())[:_LONGEST_NAME].strip("-") or "summary"


def _files(target: Path, job: _Job) -> dict[Path, bytes]:
    """Return what belongs in the file of this ending, and in those beside it."""
    makers: dict[str, Callable[[], dict[str, bytes]]] = {
        ".pdf": lambda: {"": _pdf(job.told)},
        ".html": lambda: {"": html_text(job.told).encode()},
        ".svg": lambda: {key: _svg(one) for key, one in job.told.drawings.items()},
        ".csv": lambda: value_files(job.design, job.readings),
        ".ics": lambda: {"": _calendar(job)},
    }
    ending = target.suffix.lower()
    if ending not in makers:
        raise _unknown(target, ENDINGS)
    return {target.with_stem(f"{target.stem}{key}"): data for key, data in makers[ending]().items()}


def _unknown(target: Path, known: tuple[str, ...]) -> FileError:
    text = tr("‘{name}’: ending = ‘{ending}’ must be one of {known}; choose one, or a folder.")
    ending = target.suffix.lower()
    return FileError(text.format(name=target.name, ending=ending, known=", ".join(known)))


def _put(files: Mapping[Path, bytes]) -> list[Path]:
    for file, data in files.items():
        write_bytes(file, data, tr("The summary was not written: {reason}."))
    return list(files)


def _svg(picture: Picture) -> bytes:
    body = svg(picture.items, picture.width, picture.height, picture.title)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'.encode()


def _calendar(job: _Job) -> bytes:
    return calendar_text(care_events(job.readings, job.start), stamp=job.start).encode()


def _pdf(told: Summary) -> bytes:
    # reportlab takes a third of a second to load, so it waits until a PDF is wanted.
    from core.summary.pdf import pdf_bytes

    return pdf_bytes(told)
