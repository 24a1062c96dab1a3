"""How readily heat, vapour and carbon dioxide pass between a leaf and moving air.

The speed of the air comes from elsewhere.
"""

from __future__ import annotations

import numpy as np

from core.arguments import Numbers, not_negative, positive
from core.errors import InputError, complaint

COEFFICIENTS = {"heat": 0.135, "vapour": 0.147, "CO2": 0.110}
"""Conductance of laminar forced convection at 1 m/s over 1 m, by what passes. [mol/(m² s)]"""

CHARACTERISTIC_SHARE = 0.72
"""Characteristic dimension over the width of a leaf."""


def leaf_conductance(speed: Numbers, width: Numbers, gas: str = "vapour") -> Numbers:
    """Return the boundary-layer conductance of a leaf, counted for one side.

    Outdoors gusts raise it 1.4 times; the factor is 1 here, indoors.

    Parameters
    ----------
    speed : float or ndarray
        Of the air at the leaf. [m/s]
    width : float or ndarray
        Of the leaf along the wind. [m]
    gas : {"vapour", "heat", "CO2"}
        What passes.

    Returns
    -------
    float or ndarray
        [mol/(m² s)]

    Raises
    ------
    InputError
        If ``speed`` is negative, ``width`` not above 0 or ``gas`` unknown.

    References
    ----------
    .. [1] Campbell and Norman, An Introduction to Environmental Biophysics, 2nd ed., 1998,
       chapter 7 (coefficients from memory).
    """
    not_negative("Leaf", "air speed", speed, "m/s")
    positive("Leaf", "width", width, "m")
    if gas not in COEFFICIENTS:
        way_out = "enter one of " + ", ".join(COEFFICIENTS)
        raise InputError(complaint("Leaf", "gas", gas, "is not known", way_out))
    dimension = CHARACTERISTIC_SHARE * np.asarray(width, dtype=float)
    return (COEFFICIENTS[gas] * np.sqrt(speed / dimension))[()]
