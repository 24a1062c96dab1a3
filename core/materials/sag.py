"""How far level members bend down under their own weight and what hangs from them.

Which members there are is in `core.materials.frame`; stiffness of stock in
`core.materials.stock`.
"""

from __future__ import annotations

from core.arguments import not_negative, positive
from core.constants import GRAVITY

SAG_LIMIT = 1 / 200
"""Sag above this share of the span is told (within the l/150 to l/300 that EN 1995-1-1 table 7.2
gives for beams on two supports, from memory). [1]"""


def sag(load: float, span: float, stiffness: float, second_moment: float) -> float:
    """Return how far the middle of a bar on two supports bends down under an even load.

    Parameters
    ----------
    load : float
        [N/m]
    span : float
        Between the supports. [m]
    stiffness : float
        Modulus of elasticity. [Pa]
    second_moment : float
        Second moment of area. [m⁴]

    Returns
    -------
    float
        5 w l⁴ / (384 E I), at once; plastic and wood go on sinking for months. [m]

    Raises
    ------
    InputError
        If ``load`` is negative or another number is not above 0.

    References
    ----------
    .. [1] Gere, Goodno, Mechanics of Materials, 8th ed. 2013, table H-2, case 1.
    """
    not_negative("Member", "load", load, "N/m")
    positive("Member", "span", span, "m")
    positive("Member", "modulus of elasticity", stiffness, "Pa")
    positive("Member", "second moment of area", second_moment, "m⁴")
    return 5 * load * span**4 / (384 * stiffness * second_moment)


def own_load(area: float, density: float) -> float:
    """Return the weight of a bar by its length. [N/m]

    Parameters
    ----------
    area : float
        Of its cross-section. [m²]
    density : float
        [kg/m³]
    """
    not_negative("Member", "cross-section", area, "m²")
    not_negative("Member", "density", density, "kg/m³")
    return area * density * GRAVITY
