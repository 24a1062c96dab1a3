"""Which page the key shows for the chosen subject.

The pages are in `gui.key_light` and its neighbours; the form they share is `gui.key_page`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from gui.key_air import air_page
from gui.key_climate import climate_page
from gui.key_cost import cost_page
from gui.key_fit import fit_page
from gui.key_light import light_page
from gui.key_page import KeyPage, Page, rows_page
from gui.key_power import power_page
from gui.key_water import water_page
from gui.key_weight import weight_page
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings

_PAGES: Mapping[str, Page] = {
    "light": light_page,
    "air": air_page,
    "power": power_page,
    "water": water_page,
    "climate": climate_page,
    "weight": weight_page,
    "fit": fit_page,
    "cost": cost_page,
}


def page_for(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return the page of the chosen subject; ``before`` are the readings from before a drag."""
    level = view.level
    if level is not None and level[0] not in readings.design.by_id:
        # Another design is open already and its readings are still to come.
        return KeyPage("", "", ())
    page = _PAGES.get(view.subject or "", rows_page)
    return page(view, readings, before)
