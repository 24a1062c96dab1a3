"""The seven steps of the light map: their colours, their breaks, and the signs that stand for them.

Painting them on a screen belongs to `gui.light_map`, on paper to `core.summary`; how much light
falls is `core.light`'s affair.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Steps = npt.NDArray[np.uint8]
Points = npt.NDArray[np.float64]

# Cividis at PLACES (see resources/colour/README.md): dark is dim, and the order survives every kind
# of colour blindness.
PLACES = (0.02, 0.17, 0.36, 0.52, 0.68, 0.86, 1.0)
COLOURS = ("#002455", "#243E6C", "#5C616E", "#817F79", "#AA9F75", "#DBC761", "#FFEA46")
TOO_LITTLE = (0, 1)
TOO_MUCH = (5, 6)


def breaks(want_low: float, want_high: float) -> tuple[float, ...]:
    """Return the six values that part the seven steps, rising.

    Two steps mean too little, three are wanted, two are too much.

    Parameters
    ----------
    want_low, want_high : float
        The wanted range. [µmol m⁻² s⁻¹]

    Returns
    -------
    tuple of float, length 6
        [µmol m⁻² s⁻¹]
    """
    third = (want_high - want_low) / 3
    inner = (want_low, want_low + third, want_low + 2 * third, want_high)
    return (want_low / 2, *inner, 1.5 * want_high)


def equal_breaks(highest: float) -> tuple[float, ...]:
    """Return six breaks that part 0 to ``highest`` evenly, for a place without plants.

    Parameters
    ----------
    highest : float
        The brightest value shown. [µmol m⁻² s⁻¹]

    Returns
    -------
    tuple of float, length 6
        [µmol m⁻² s⁻¹]
    """
    return tuple(highest * k / 7 for k in range(1, 7))


def step_image(ppfd: npt.ArrayLike, at: tuple[float, ...]) -> Steps:
    """Return the step, 0 to 6, of each cell of a light map.

    A cell exactly at the lower end of the wanted range, or at its upper end, is a wanted one.

    Parameters
    ----------
    ppfd : array_like, shape (rows, columns)
        Photon flux density. [µmol m⁻² s⁻¹]
    at : tuple of float, length 6
        The breaks, from `breaks` or `equal_breaks`. [µmol m⁻² s⁻¹]

    Returns
    -------
    ndarray of uint8, shape (rows, columns)
    """
    values = np.asarray(ppfd, dtype=float)
    # Upper breaks belong to the step below them, lower breaks to the step above.
    lower = np.searchsorted(at[:4], values, side="right")
    upper = np.searchsorted(at[4:], values, side="left")
    steps: Steps = (lower + upper).astype(np.uint8)
    return steps


def sign_points(
    steps: Steps, width: float, height: float, which: tuple[int, ...], pitch: float = 8.0
) -> Points:
    """Return where the signs of some steps stand on a picture of the map.

    The signs keep one pitch whatever the scale, every other row moved by half of it, so that the
    map reads without colour at every zoom.

    Parameters
    ----------
    steps : ndarray, shape (rows, columns)
        Row 0 at the top of the picture.
    width, height : float
        Size of the picture. [px]
    which : tuple of int
        The steps to mark: `TOO_LITTLE` or `TOO_MUCH`.
    pitch : float
        Distance between signs. [px]

    Returns
    -------
    ndarray, shape (signs, 2)
        x and y of each sign. [px]
    """
    rows = np.arange(pitch / 2, height, pitch)
    columns = np.arange(pitch / 2, width, pitch)
    x, y = np.meshgrid(columns, rows)
    x = x + np.where(np.arange(len(rows)) % 2, pitch / 2, 0.0)[:, None]
    x, y = x.ravel(), y.ravel()
    on = x < width
    x, y = x[on], y[on]
    cells = steps[
        (y * steps.shape[0] / height).astype(int), (x * steps.shape[1] / width).astype(int)
    ]
    table = np.zeros(256, dtype=bool)
    table[list(which)] = True
    marked = table[cells]
    return np.column_stack([x[marked], y[marked]])
