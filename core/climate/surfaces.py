"""What an enclosure's faces let through: U-values by sheet, gap and lining, and what is behind.

Heat that flows through them at any one time is for the balance and the day run.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.arguments import not_negative, positive, within
from core.climate.balance import INNER_FILM
from core.errors import InputError, complaint

FILM = 0.12
"""Resistance of still air at one side of a sheet, radiation included (ASHRAE, from memory).
[m² K/W]"""

CONVECTIVE_FILM = 3.1
"""Part of the inner film's conductance that is convection (from memory). [W/(m² K)]"""

USUAL_EMISSIVITY = 0.9
"""Of plastics, glass, paint and wet surfaces for heat radiation (from memory)."""

CONDUCTIVITY = {
    "film": 0.33,
    "glass": 1.0,
    "acrylic": 0.19,
    "polycarbonate": 0.20,
    "EPS": 0.037,
    "XPS": 0.029,
    "PIR": 0.023,
    "plywood": 0.13,
}
"""Of sheets (ISO 10456 and usual declarations of foams, from memory). [W/(m K)]"""

WINDOW_U = 2.8
"""Taken for a double-glazed room window, both films included (common practice). [W/(m² K)]"""

OUTER_WALL_U = 0.35
"""Taken for an insulated outer wall, both films included (common practice). [W/(m² K)]"""

INNER_WALL_U = 2.0
"""Taken for a light inner wall towards a space as warm as the room (common practice).
[W/(m² K)]"""

# ISO 6946, unventilated, heat flow level: thickness in m, resistance in m² K/W (from memory).
_GAPS = ((0.0, 0.005, 0.007, 0.010, 0.015, 0.025), (0.0, 0.11, 0.13, 0.15, 0.17, 0.18))


@dataclass(frozen=True)
class Boundary:
    """One face of an enclosure, or a part of one, and what is behind it.

    Attributes
    ----------
    area : float
        [m²]
    u : float
        From the air inside to what is behind, films included; below ``inner_film``. [W/(m² K)]
    outdoor_share : float
        How far the temperature behind follows the outdoors: 0 the room, 1 outdoors.
    inner_film : float
        Conductance of the inner film, radiation included. [W/(m² K)]
    name : str
        What results call it.

    Raises
    ------
    InputError
        If a number is outside the range given here.
    """

    area: float
    u: float
    outdoor_share: float = 0.0
    inner_film: float = INNER_FILM
    name: str = ""

    def __post_init__(self) -> None:
        thing = f"Face '{self.name}'" if self.name else "Face"
        not_negative(thing, "area", self.area, "m²")
        positive(thing, "inner film", self.inner_film, "W/(m² K)")
        within(thing, "share of outdoors", self.outdoor_share, 0.0, 1.0)
        not_negative(thing, "U-value", self.u, "W/(m² K)")
        if self.u >= self.inner_film:
            rule = f"must be below that of the air film inside, {self.inner_film:g} W/(m² K)"
            raise InputError(
                complaint(thing, "U-value", f"{self.u:g} W/(m² K)", rule, "enter less")
            )

    @property
    def outer(self) -> float:
        """Conductance from the inner surface to what is behind. [W/(m² K)]"""
        return 1 / (1 / self.u - 1 / self.inner_film) if self.u > 0 else 0.0


def u_value(*resistances: float) -> float:
    """Return the U-value of layers between two still-air films.

    Parameters
    ----------
    *resistances : float
        Of each sheet and gap. [m² K/W]

    Returns
    -------
    float
        [W/(m² K)]

    Raises
    ------
    InputError
        If a resistance is negative.
    """
    for resistance in resistances:
        not_negative("Cover", "resistance", resistance, "m² K/W")
    return 1 / (2 * FILM + sum(resistances))


def sheet_resistance(thickness: float, conductivity: float) -> float:
    """Return the resistance of a sheet: thickness over conductivity. [m, W/(m K) -> m² K/W]"""
    not_negative("Sheet", "thickness", thickness, "m")
    positive("Sheet", "conductivity", conductivity, "W/(m K)")
    return thickness / conductivity


def gap_resistance(thickness: float) -> float:
    """Return the resistance of a closed upright air gap.

    Parameters
    ----------
    thickness : float
        [m]

    Returns
    -------
    float
        [m² K/W]

    Raises
    ------
    InputError
        If ``thickness`` is negative.

    References
    ----------
    .. [1] ISO 6946, table of unventilated air layers, heat flow level (from memory).
    """
    not_negative("Gap", "thickness", thickness, "m")
    return float(np.interp(thickness, *_GAPS))


def lined(u: float, resistance: float = 0.0, emissivity: float = USUAL_EMISSIVITY) -> (
    tuple[float, float]
):  # fmt: skip
    """Return the U-value and the inner film of a cover with a lining laid on its inside.

    A bright metal lining radiates little, so its air film insulates better and it is colder.

    Parameters
    ----------
    u : float
        Of the cover without the lining. [W/(m² K)]
    resistance : float
        Of the lining. [m² K/W]
    emissivity : float
        Of the lining's inner side, above 0 and up to 1; wet metal counts as any wet surface.

    Returns
    -------
    u, inner_film : float
        [W/(m² K)]

    Raises
    ------
    InputError
        If an argument is outside its range.
    """
    positive("Cover", "U-value", u, "W/(m² K)")
    not_negative("Lining", "resistance", resistance, "m² K/W")
    positive("Lining", "emissivity", emissivity)
    within("Lining", "emissivity", emissivity, 0.0, 1.0)
    radiation = (INNER_FILM - CONVECTIVE_FILM) * emissivity / USUAL_EMISSIVITY
    film = CONVECTIVE_FILM + radiation
    return 1 / (1 / u - 1 / INNER_FILM + 1 / film + resistance), film


def against(u: float, beyond_u: float, gap: float) -> float:
    """Return the U-value of a face close to a wall, window or floor, through to its far side.

    The gap takes the place of the cover's outer film and of the wall's inner one.

    Parameters
    ----------
    u : float
        Of the cover in free air. [W/(m² K)]
    beyond_u : float
        Of the wall, window or floor by itself, both films included. [W/(m² K)]
    gap : float
        Between them. [m]

    Returns
    -------
    float
        [W/(m² K)]

    Raises
    ------
    InputError
        If a number is outside its range or a U-value higher than its films allow.
    """
    positive("Cover", "U-value", u, "W/(m² K)")
    positive("Wall", "U-value", beyond_u, "W/(m² K)")
    cover = 1 / u - FILM
    wall = 1 / beyond_u - FILM
    for thing, value, left in (("Cover", u, cover), ("Wall", beyond_u, wall)):
        if left <= 0:
            shown, rule = f"{value:g} W/(m² K)", "must leave room for the air films"
            raise InputError(complaint(thing, "U-value", shown, rule, "enter a lower one"))
    return 1 / (cover + gap_resistance(gap) + wall)
