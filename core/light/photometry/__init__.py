"""Measured lamps: LM-63 and EULUMDAT files, told apart by what they say rather than by their name.

Files are read, never written, and nothing that a file names is opened.
"""

from core.light.photometry.flux import photon_flux_of
from core.light.photometry.reader import read_photometric_file, read_photometry
from core.light.photometry.record import LampSet, Opening, PhotometricFile

__all__ = [
    "LampSet",
    "Opening",
    "PhotometricFile",
    "photon_flux_of",
    "read_photometric_file",
    "read_photometry",
]
