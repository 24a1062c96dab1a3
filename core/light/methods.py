"""How the numbers of light are found, in sentences fit to show: method, source, how sure.

The numbers themselves are made in `core.light.zone_rows` and its neighbours.
"""

from __future__ import annotations

from core.language import tr
from core.reading import Method

METHOD_OFF = 0.05
"""Relative uncertainty of the method: shapes of lamps, wires of shelves, width of cells. [1]"""

PPFD = Method(
    tr(
        "Direct light of every lamp as a lit face that sends its photons evenly (spots: a power of "
        "the cosine; measured lamps: their table), past shelves, trays, lamp casings and other "
        "solid things, and what covers, linings, shelves, leaves and the room send on until it is "
        "absorbed; the mean over cells of at most 5 cm, over the lit hours."
    ),
    tr(
        "Lambert's formula for a polygon, the cosine law and radiosity (Siegel and Howell, Thermal "
        "Radiation Heat Transfer); photons from lumens by CIE data."
    ),
    tr(
        "Root of the squares of the lamps' flux (10 % from watts, 5 % from a measured value), of "
        "the method (5 %) and of the reflected part (20 % of it)."
    ),
    (
        tr("Surfaces are taken as dull: shiny foil sends its light on as evenly as white film."),
        tr("Daylight and lamps of the room are not counted."),
        tr("Leaves do not shade each other; posts and rims of trays cast no shade."),
        tr(
            "Reflections pass posts, cords and things whose faces are all below 300 cm²; a tilted "
            "lamp's body is a plate."
        ),
    ),
)
CELLS = Method(
    tr("The darkest and the brightest cell of the same map, and the darkest over the mean."),
    PPFD.source,
    PPFD.uncertainty,
    PPFD.omissions,
)
DLI = Method(
    tr("The light of each minute, timers, dimming and ramps included, summed over the day."),
    tr("Definition (ANSI/ASABE S640, from a secondary copy)."),
    PPFD.uncertainty,
    PPFD.omissions,
)
SHARE = Method(
    tr("What comes by way of covers, linings, shelves and leaves, over all the light."),
    tr("Radiosity between diffuse faces (Siegel and Howell, Thermal Radiation Heat Transfer)."),
    tr("The reflected part is taken as sure to 20 %: reflectances are seldom known better."),
    (tr("Shiny foil is taken as diffuse: where it throws a bright patch is not shown."),),
)
DIMMING = Method(
    tr(
        "All lamps that light the zone set alike: the mean follows their dimming, so the wanted "
        "range over the light at full power gives the range of settings."
    ),
    tr("Proportion; photons taken as proportional to the setting."),
    PPFD.uncertainty,
    (tr("Many drivers follow their scale only roughly: measure once after setting them."),),
)
HOURS = Method(
    tr("The wanted daily light over the light of an hour, at the mean over the lit hours."),
    tr("Definition (ANSI/ASABE S640, from a secondary copy)."),
    PPFD.uncertainty,
    (tr("Whether plants bear so long a day is not judged."),),
)
DROP = Method(
    tr(
        "The lamps of the level raised and lowered together, the direct light computed anew at "
        "twelve drops from 3 cm to as high as there is room, and between them by powers of the "
        "drop."
    ),
    PPFD.source,
    PPFD.uncertainty,
    (
        tr("What comes by way of other surfaces is taken to stay as it is."),
        tr("The lamps' own casings are left out of the way while they are moved."),
        tr("Only the mean at the leaf tops is looked at, not how even it is."),
    ),
)
EFFICACY = Method(
    tr("Photons of all lamps over their watts, both as they are dimmed."),
    tr("Definition."),
    tr("As uncertain as the lamps' flux."),
)
USE = Method(
    tr("Photons that land on the zones' leaf tops in a day, over the lamps' energy of the day."),
    tr("Definition."),
    tr("As uncertain as the light of the zones together."),
    (tr("What lands beside the zones counts as not used; photons that leaves send back are."),),
)
LOST = Method(
    tr("Photons that leave through covers and open faces, over all that the lamps send out."),
    SHARE.source,
    SHARE.uncertainty,
    SHARE.omissions,
)
METER = Method(
    tr("The light of each lamp turned into lux by the kind of light that lamp has."),
    tr("CIE 018: luminous efficiency of radiation; spectra as named with each lamp."),
    tr("The light's own uncertainty, that of each kind of light, and that of a usual lux meter."),
)
