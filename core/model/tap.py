"""The water that containers are filled with: how hard it is, and how it is purified.

Containers and their tubes are in `shelving` and `devices`; what follows from all this, in
`core.water`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from core.model.base import Frozen, Hardness


class TapWater(Frozen):
    """The water from the tap, and the membrane that purifies it for some.

    ``hardness`` counts its minerals as calcium carbonate; None: not known. ``purified`` says what
    gets purified water; ``made_per_day`` is the membrane's rating at 25 °C (None: the water is
    bought), ``temperature`` that of the water that feeds it, ``reject`` what it rejects over what
    it purifies. [kg/m³, m³, °C, 1]
    """

    hardness: Hardness | None = None
    purified: Literal["nothing", "foggers", "everything"] = "nothing"
    made_per_day: Annotated[float, Field(gt=0, le=100)] | None = None
    temperature: Annotated[float, Field(ge=0, le=50)] = 15.0
    reject: Annotated[float, Field(ge=0, le=50)] = 4.0
