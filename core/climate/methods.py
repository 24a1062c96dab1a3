"""How climate's numbers are known: methods, sources and what is left out, in words.

Sentences only; the methods themselves are in the modules of the package.
"""

from __future__ import annotations

from core.language import tr
from core.reading import Method

_SOURCES = tr(
    "Moist air: ASHRAE Fundamentals, chapter 1; leaves: Graamans and others, Agricultural Systems "
    "153, 2017; wet surfaces: McAdams, Heat Transmission; openings: Kiel and Wilson 1989 "
    "(coefficients of the last three from memory)."
)
_UNCERTAIN = tr(
    "U-values ± 20 %, evaporation half to twice, watts ± 5 %, duct fans 60 to 100 % of their free "
    "flow: each taken at its ends in the steady state, and added as the root of squares, with "
    "0.5 K and 3 points of humidity for one well-mixed air in a room told by a few numbers."
)
_LEFT_OUT = (
    tr("One well-mixed air: tops are warmer than bottoms, and places near a lamp or fan differ."),
    tr("Vapour that passes through covers is not counted, and what condenses runs off."),
    tr("Controllers feel the air at once; a slow sensor makes runs longer and swings wider."),
)  # fmt: skip

DAY = Method(
    tr(
        "The day simulated in steps of at most a minute that end where a controller switches: one "
        "air and one slow mass exchange heat and vapour with covers, room, outdoors, trays, leaves "
        "and devices."
    ),
    _SOURCES,
    _UNCERTAIN,
    _LEFT_OUT,
)
STEADY = Method(
    tr(
        "A steady day and a steady night of the same balances: controlled devices run just as far "
        "as they hold their set-points."
    ),
    _SOURCES,
    _UNCERTAIN,
    (
        *_LEFT_OUT,
        tr("Water and shelves that keep warmth from day into night, and short swings: they follow "
           "with the simulated day."),
    ),
)  # fmt: skip
DEW = Method(
    tr(
        "The coldest face's inner surface less the dew point of the air, minute by minute; faces "
        "by their U-values and what is behind them: room, a close wall, or a window's outdoors."
    ),
    tr("Dew point: ASHRAE Fundamentals, chapter 1; film 8.29 W/(m² K): ASHRAE, from memory."),
    _UNCERTAIN,
    (
        tr("Corners, frame members and folds are colder than the middle of a face."),
        tr("Linings do not change a face's U-value."),
    ),
)
EVAPORATED = Method(
    tr(
        "Trays by natural and forced convection with the warmth of their water; leaves by the "
        "resistance of their pores, which light opens, and of the air at them."
    ),
    tr(
        "McAdams, Heat Transmission (from memory); Graamans and others, Agricultural Systems 153, "
        "2017 (coefficients from memory)."
    ),
    tr("Half to twice: leaves differ more than any formula."),
    (tr("Shade plants close their pores more than lettuce, for which the formula was made."),),
)
SIZED = Method(
    tr(
        "A steady balance at each minute of the day with the air held as wanted, evaporation as "
        "it is, devices with a controller left out; the worst minute counts, and 25 % are added."
    ),
    tr("Balances as above; coil at 8 °C with 20 % passing by it, and the margin: common practice."),
    tr("As the U-values: ± 20 %."),
    (
        tr("Trays and leaves help a fogger; its size leaves them out."),
        tr("A fan behind a duct or filter moves 60 to 100 % of its free flow."),
    ),
)
