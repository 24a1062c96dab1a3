"""From whatever holds a file of text (path, bytes, text) to its text and what to call it.

Looks at sizes, encodings and how a number is written; what a text says is read elsewhere.
"""

from __future__ import annotations

import codecs
import os
import re
from pathlib import Path

from core.errors import InputError
from core.json_files import read_bytes
from core.language import tr
from core.light import given

LARGEST_FILE = 8_000_000
"""Longest file that is read. [bytes]"""

LONGEST_TEXT = 1000
"""Most characters that are kept of one line of free text."""

LONGEST_NUMBER = 40
"""Most characters of a number."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")

Source = str | bytes | os.PathLike[str]


def text_of(source: Source, what: str, largest: int = LARGEST_FILE) -> tuple[str, str]:
    """Return the text in a source, and the name by which complaints call it.

    Parameters
    ----------
    source : path, bytes or str
        A string of more than one line is the text itself, one of a single line a path.
    what : str
        Name of a text that comes without a path.
    largest : int
        [bytes]

    Raises
    ------
    FileError
        If the path leads to nothing that can be read.
    InputError
        If the source is none of the three, too large, or no text.
    """
    if isinstance(source, str) and ("\n" in source or "\r" in source):
        return _checked(source, what, largest), what
    if isinstance(source, bytes):
        return _decoded(source, what, largest), what
    if isinstance(source, str | os.PathLike) and str(source):
        name = tr("‘{name}’").format(name=plain(Path(source).name))
        return _decoded(_bytes_of(source, largest), name, largest), name
    rule, way_out = tr("is no file"), tr("give its path, its bytes or its text")
    raise given.refusal(what, tr("source"), plain(repr(source))[:60], "", rule, way_out)


def _bytes_of(path: str | os.PathLike[str], largest: int) -> bytes:
    try:
        return read_bytes(path, largest)
    except ValueError:
        shown, rule = plain(str(path))[:60], tr("holds a character that no path can hold")
        thing, way_out = tr("File"), tr("choose another file")
        raise given.refusal(thing, tr("path"), shown, "", rule, way_out) from None


def _decoded(data: bytes, name: str, largest: int) -> str:
    """Return text in UTF-8, or else in Latin-1, which older programs write."""
    _check_size(len(data), name, largest)
    try:
        return _checked(data.removeprefix(codecs.BOM_UTF8).decode("utf-8"), name, largest)
    except UnicodeDecodeError:
        return _checked(data.decode("latin-1"), name, largest)


def _checked(text: str, name: str, largest: int) -> str:
    _check_size(len(text), name, largest)
    sound = text.removeprefix("\ufeff").rstrip("\0\x1a")
    place = sound.find("\0")
    if place >= 0:
        rule, way_out = tr("is no text"), tr("choose a plain text file")
        raise given.refusal(name, tr("character {n}").format(n=place + 1), "NUL", "", rule, way_out)
    if not sound.strip():
        raise _refusal(name, 0, tr("hold no text"), tr("choose another file"))
    return sound


def _check_size(size: int, name: str, largest: int) -> None:
    if size > largest:
        rule = tr("must not be more than {most}").format(most=largest)
        raise _refusal(name, size, rule, tr("choose another file"))


def _refusal(name: str, size: int, rule: str, way_out: str) -> InputError:
    return given.refusal(name, tr("bytes"), size, "", rule, way_out)


def plain(text: str) -> str:
    """Return text of a file fit to be shown: printable characters only, and not too many."""
    shown = text[:LONGEST_TEXT].replace("\t", " ")
    return "".join(letter for letter in shown if letter.isprintable()).strip()


def as_number(word: str) -> float | None:
    """Return what a word says as a number, None if it is none."""
    if len(word) > LONGEST_NUMBER or not _NUMBER.fullmatch(word):
        return None
    return float(word)
