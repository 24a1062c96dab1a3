"""The summary of a design: one description of it, written as PDF, HTML, SVG and CSV.

Only the way from a path's ending to its writer is here; what a summary says is in `describe`.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import FileError
from core.json_files import write_bytes
from core.language import tr
from core.model import Design
from core.summary.blocks import Summary
from core.summary.describe import describe
from core.summary.html import html_text
from core.summary.svg import svg
from core.summary.values import parts_csv, readings_csv

if TYPE_CHECKING:
    from core.readings import Readings

__all__ = ["ENDINGS", "describe", "write_summary"]

ENDINGS = (".pdf", ".html", ".svg", ".csv")
_LONGEST_NAME = 60


def write_summary(
    design: Design,
    readings: Readings,
    path: str | os.PathLike[str],
    *,
    stamp: date | str | None = None,
) -> list[Path]:
    """Write a summary, in the form that the path's ending asks for.

    Parameters
    ----------
    design : Design
    readings : Readings
        Of this design.
    path : path
        A file that ends in .pdf, .html, .svg or .csv (a second .csv holds the parts); or a
        folder, which gets all of them and is made where it is missing.
    stamp : date or str, optional
        The date on it; by default today. With it given, the same input gives the same bytes.

    Returns
    -------
    list of Path
        What was written.

    Raises
    ------
    FileError
        If the ending is unknown or a file cannot be written; each file is whole or as before.
    """
    target = Path(path)
    told = describe(design, readings, stamp)
    if target.is_dir() or not target.suffix:
        return _into_folder(target, design, readings, told)
    return _write(target, design, readings, told)


def _into_folder(folder: Path, design: Design, readings: Readings, told: Summary) -> list[Path]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        text = tr("The folder ‘{folder}’ cannot be made: {reason}; choose another place.")
        raise FileError(text.format(folder=folder, reason=reason)) from None
    stem = _file_name(design.name)
    return [
        file
        for ending in ENDINGS
        for file in _write(folder / f"{stem}{ending}", design, readings, told)
    ]


def _file_name(name: str) -> str:
    """Return a design's name as every file system takes it."""
    kept = re.sub(r"[^\w -]+", " ", name)
    return re.sub(r"\s+", "-", kept.strip())[:_LONGEST_NAME].strip("-") or "summary"


def _write(target: Path, design: Design, readings: Readings, told: Summary) -> list[Path]:
    makers: dict[str, Callable[[], bytes]] = {
        ".pdf": lambda: _pdf(told),
        ".html": lambda: html_text(told).encode("utf-8"),
        ".svg": lambda: _svg(told).encode("utf-8"),
        ".csv": lambda: readings_csv(design, readings).encode("utf-8"),
    }
    ending = target.suffix.lower()
    if ending not in makers:
        text = tr("‘{name}’: ending = ‘{ending}’ must be one of {known}; choose one, or a folder.")
        known = ", ".join(ENDINGS)
        raise FileError(text.format(name=target.name, ending=ending, known=known))
    files = {target: makers[ending]()}
    if ending == ".csv":
        files[target.with_stem(f"{target.stem}-parts")] = parts_csv(design, readings).encode(
            "utf-8"
        )
    for file, data in files.items():
        write_bytes(file, data, tr("The summary was not written: {reason}."))
    return list(files)


def _svg(told: Summary) -> str:
    picture = told.drawings
    assert picture is not None
    body = svg(picture.items, picture.width, picture.height, picture.title)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'


def _pdf(told: Summary) -> bytes:
    # reportlab takes a third of a second to load, so it waits until a PDF is wanted.
    from core.summary.pdf import pdf_bytes

    return pdf_bytes(told)
