"""Units that are read though nobody here shows them: stone, fathoms, bar, knots, horsepower.

Pint knows them; it is given one checked name, never the user's text, and is loaded only then.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from core.units.kinds import Unit

if TYPE_CHECKING:
    import pint

# The inside unit of each kind for which other units are in use somewhere, in pint's words.
_INSIDE = {
    "length": "meter",
    "area": "meter**2",
    "volume": "meter**3",
    "mass": "kilogram",
    "power": "watt",
    "energy": "joule",
    "current": "ampere",
    "voltage": "volt",
    "pressure": "pascal",
    "fan_pressure": "pascal",
    "vapour_pressure": "pascal",
    "force": "newton",
    "speed": "meter/second",
    "duration": "second",
    "angle": "degree",
}
# Two letters and more: single letters are constants of nature to pint ("c", "h").
_NAME = re.compile("[A-Za-z]{2,24}")


def rare_unit(name: str, kind: str) -> Unit | None:
    """Return a unit that only pint knows, or None when it is unknown or of another kind."""
    inside = _INSIDE.get(kind)
    if inside is None or not _NAME.fullmatch(name):
        return None
    registry = _registry()
    if name not in registry:
        return None
    quantity = registry.Quantity(1.0, registry.Unit(name))
    if not quantity.is_compatible_with(inside):
        return None
    return Unit(name, float(quantity.to(inside).magnitude))


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry()
