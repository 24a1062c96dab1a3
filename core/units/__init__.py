"""Quantities as growers write them: read from text and shown as text, in two systems of units.

Inside, every kind has one unit, listed below; nothing here knows a part or a rule of the design.

Inside units: SI (m, m², m³, kg, kg/m³, W, VA, J, A, V, m³/s, m/s, Pa, s, lm, lux, N, W/(m² K), Ω/m,
lm/W), with these to note:

- ``temperature`` °C; ``temperature_difference`` K
- ``fraction`` and relative humidity 0 to 1; ``humidity_ratio`` kg/kg
- ``time_of_day`` seconds after midnight, 0 to 86 400
- ``photon_flux`` µmol/s; ``photon_flux_density`` µmol/(m² s); ``daily_light`` mol/(m² d);
  ``photon_efficacy`` µmol/J
- ``angle`` degrees
- ``water_rate`` kg/s and ``evaporation`` kg/(m² s); one litre of water is taken as one kilogram
- ``wire_area`` m²

A bare number is taken in the unit of `label`: metres or feet, litres or US gallons, kilograms or
pounds, °C or °F, per cent, hours (``duration``), and so on; a bare ``wire_area`` of the US system
is a gauge. ``7' 2`` means two inches, ``1 h 30`` thirty minutes. A comma is a decimal sign, except
that "1,200" is refused because it can be read in two ways.
"""

from core.units.numerals import show_number
from core.units.reader import LONGEST, number, parse
from core.units.table import TABLE
from core.units.writer import label, nudge, show

KINDS: tuple[str, ...] = tuple(TABLE)
SYSTEMS: tuple[str, ...] = ("metric", "us")

__all__ = [
    "KINDS",
    "LONGEST",
    "SYSTEMS",
    "label",
    "nudge",
    "number",
    "parse",
    "show",
    "show_number",
]
