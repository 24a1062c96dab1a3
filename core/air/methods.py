"""How the numbers on air are known, from where, and how far they can be trusted.

Numbers themselves are in `rows` and `fresh_rows`.
"""

from __future__ import annotations

from core.language import tr
from core.reading import Method

BY_JETS = Method(
    tr(
        "The round jet of each fan: u0 min(1, 6.2 D/x) on its axis, falling off beside it as a "
        "bell whose half width is 0.095 x; the strongest jet that sees the leaf tops, averaged "
        "over a fan's sweep and over what it reaches of the zone."
    ),
    tr(
        "ASHRAE Fundamentals, space air diffusion, and Rajaratnam, Turbulent Jets, from memory; "
        "wanted 0.1 to 1.0 m/s (seedlings 0.7) by common practice."
    ),
    tr(
        "Allow ±0.1 m/s or ±30 %, whichever is larger. The jet is that of a fan in open air; check "
        "with an anemometer."
    ),
    (
        tr("What walls turn back, draughts, warm air rising and duct fans are not counted."),
        tr("Wire shelves and leaves are taken as open to air."),
    ),
)

BY_FLOW = Method(
    tr(
        "The flow through the whole enclosure, cell by cell: mass and momentum conserved, "
        "turbulence by k-epsilon, wire shelves as resistance; the mean amount of velocity at the "
        "leaf tops. Within eight diameters of a fan its round jet counts where that is faster."
    ),
    tr(
        "Launder and Spalding 1974 (k-epsilon); ASHRAE Fundamentals and Rajaratnam, Turbulent "
        "Jets (jets), from memory; wanted 0.1 to 1.0 m/s (seedlings 0.7) by common practice."
    ),
    tr(
        "Computed mean air speed. Against an independent flow solver in two enclosures, zones "
        "agreed within 0.07 m/s (typically 0.04) on the same grid; against measurements in one "
        "simple room, within 10 % of the supply speed. Allow ±0.1 m/s or ±30 %, whichever is "
        "larger; up to 0.2 m/s at jet edges, in the coarse preview, or with fans under 0.15 m on "
        "a 5 cm grid, as wherever a fan is less than three cells wide. Plants, cables and fan "
        "swirl are not included. Check with an anemometer."
    ),
    (tr("Warm air rising, draughts and what coolers and heaters blow are not counted."),),
)

CONDUCTANCE = Method(
    tr("Laminar forced convection on one side of a flat leaf: 0.147 √(u / 0.72 w) for vapour."),
    tr("Campbell and Norman, Environmental Biophysics, 1998, chapter 7, coefficients from memory."),
    tr("That of the speed, halved by the root; leaf widths differ far more."),
)

FRESH = Method(
    tr(
        "Duct fans on their curves against filter, duct, bends and flaps; leaks added as squares "
        "where fans do not balance."
    ),
    tr(
        "Haaland 1983 (duct friction), Modera and Peterson 1985 (leaks), ASHRAE Fundamentals "
        "(duct roughness), from memory."
    ),
    tr("±30 %: curves are of free-blowing fans, and filters clog. Leakage: by half or double."),
    (tr("What warmth alone drives through flaps is counted in the climate, not here."),),
)

AGE = Method(
    tr("How long ago the air came in: upwind finite volumes on the mean flow, eddies mixing."),
    tr("Sandberg, What is ventilation efficiency?, Building and Environment 16, 1981."),
    tr("That of the fresh air, ±30 %, and of the flow that carries it about."),
)
