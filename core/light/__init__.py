"""Light: lamps, what stands between, and the photons that arrive.

The formulas here know numbers only; `core.light.reading` turns a design into their arguments.
"""

from core.light.canopy import CanopyLight, CellGrid, canopy_light, cell_grid, share_in_range
from core.light.direct import direct_rows, kernels_ready, warm_up
from core.light.distribution import Distribution, beam_exponent, cosine_power
from core.light.factors import view_factor
from core.light.meter import MeterReading, light_from_spectrum, lux_of, meter_reads, ppfd_of
from core.light.obstacles import NOBODY, Obstacles, boxes
from core.light.photometry import PhotometricFile, read_photometric_file, read_photometry
from core.light.receivers import Receivers, receivers
from core.light.scene import Lamp, Scene, Surface
from core.light.solve import LightField, solve
from core.light.spectrum import dli, photons_per_joule, photons_per_kilolux
from core.light.spectrum_file import Spectrum, read_spectrum

__all__ = [
    "NOBODY",
    "CanopyLight",
    "CellGrid",
    "Distribution",
    "Lamp",
    "LightField",
    "MeterReading",
    "Obstacles",
    "PhotometricFile",
    "Receivers",
    "Scene",
    "Spectrum",
    "Surface",
    "beam_exponent",
    "boxes",
    "canopy_light",
    "cell_grid",
    "cosine_power",
    "direct_rows",
    "dli",
    "kernels_ready",
    "light_from_spectrum",
    "lux_of",
    "meter_reads",
    "photons_per_joule",
    "photons_per_kilolux",
    "ppfd_of",
    "read_photometric_file",
    "read_photometry",
    "read_spectrum",
    "receivers",
    "share_in_range",
    "solve",
    "view_factor",
    "warm_up",
]
