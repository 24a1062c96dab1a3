"""The way in to photometric files: finds out which format a text is in and has it read.

Formats are read in `core.light.photometry.lm63` and `core.light.photometry.eulumdat`.
"""

from __future__ import annotations

from core.language import tr
from core.light import given
from core.light.distribution import Distribution
from core.light.photometry import eulumdat, lm63
from core.light.photometry.record import PhotometricFile
from core.light.source import Source, plain, text_of


def read_photometry(source: Source) -> Distribution:
    """Return how a measured lamp spreads its light, from an LM-63 or EULUMDAT file.

    Parameters
    ----------
    source : path, bytes or str
        A string of more than one line is the file's text, one of a single line a path.

    Returns
    -------
    Distribution
        Intensity in candela and ``flux`` in lumens, for the file's first lamp set. A lamp takes
        the spread from it and is scaled to its own photon flux.

    Raises
    ------
    FileError
        If the path leads to nothing that can be read.
    InputError
        If the text is in neither format, or a number cannot be used; names the line.
    """
    return read_photometric_file(source).distribution


def read_photometric_file(source: Source, *, lamp_set: int = 1) -> PhotometricFile:
    """Return all that an LM-63 or EULUMDAT file says of a lamp.

    Parameters
    ----------
    source : path, bytes or str
        A string of more than one line is the file's text, one of a single line a path.
    lamp_set : int
        Which lamp set of a EULUMDAT file the luminaire is equipped with, from 1.

    Raises
    ------
    FileError
        If the path leads to nothing that can be read.
    InputError
        If the text is in neither format, or a number cannot be used; names the line.
    """
    text, name = text_of(source, tr("Photometric file"))
    if lm63.has_tag(text):
        return lm63.read(text, name)
    if eulumdat.looks_like(text):
        return eulumdat.read(text, name, lamp_set)
    if lm63.has_tilt(text):
        return lm63.read(text, name)
    first = plain(text.lstrip()[:60].splitlines()[0])
    rule, way_out = tr("begins neither LM-63 nor EULUMDAT"), tr("choose a photometric file")
    quantity = tr("first line")
    raise given.refusal(name, quantity, f"‘{first}’", "", rule, way_out)
