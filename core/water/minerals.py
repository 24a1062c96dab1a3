"""How hard water is called, and the minerals that a fogger leaves behind.

Which water a fogger gets is the design's.
"""

from __future__ import annotations

from core.arguments import not_negative
from core.language import tr

SOFT, MODERATE, HARD = 0.060, 0.120, 0.180
"""Upper ends of soft, moderately hard and hard water, as calcium carbonate. [kg/m³]"""

PASSED = 0.05
"""Share of the minerals that a membrane lets through (common practice: 2 to 10 %)."""


def hardness_words(hardness: float) -> str:
    """Return what water of a hardness is called.

    Parameters
    ----------
    hardness : float
        As calcium carbonate. [kg/m³]

    References
    ----------
    .. [1] U.S. Geological Survey, Water Science School, "Hardness of Water": soft to 60,
       moderately hard to 120, hard to 180 mg/L, above very hard.
    """
    not_negative("Water", "hardness", hardness, "kg/m³")
    steps = ((SOFT, tr("soft")), (MODERATE, tr("moderately hard")), (HARD, tr("hard")))
    return next((words for end, words in steps if hardness <= end), tr("very hard"))


def deposit_per_day(use: float, hardness: float, *, purified: bool = False) -> float:
    """Return the minerals that a fogger puts into the air in a day.

    All that is dissolved goes out with the drops and is left where they dry.

    Parameters
    ----------
    use : float
        Water fogged. [m³/d]
    hardness : float
        Of the tap water, as calcium carbonate. [kg/m³]
    purified : bool
        Whether the water has come through a membrane, which lets `PASSED` through.

    Returns
    -------
    float
        [kg/d]

    Raises
    ------
    InputError
        If a number is negative or not finite.

    References
    ----------
    .. [1] U.S. EPA, Indoor Air Facts No. 8, "Use and Care of Home Humidifiers", 1991: ultrasonic
       and impeller humidifiers disperse the minerals of their water (secondary copy).
    """
    not_negative("Fogger", "use", use, "m³/d")
    not_negative("Water", "hardness", hardness, "kg/m³")
    return use * hardness * (PASSED if purified else 1.0)
