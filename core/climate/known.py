"""What light and air found at the plants, as far as climate uses it.

How leaves and trays answer to it is for `evaporation` and the day's kernel.
"""

from __future__ import annotations

import numpy as np

from core.air.reading import AirReadings
from core.climate.assumed import Known
from core.light.reading import LightReadings
from core.study import Study


def known(study: Study) -> Known:
    """Return the light and the air at plants and what light is lost, where they are known."""
    return Known(speed=_speeds(study), ppfd=_light(study), lost=_lost(study))


def _light(study: Study) -> dict[str, float]:
    """Return the mean light of each zone while it is lit. [µmol/(m² s)]"""
    found = study.done.get("light")
    if not isinstance(found, LightReadings):
        return {}
    return {zone.part: zone.mean for zone in found.zones}


def _lost(study: Study) -> float | None:
    """Return the share of the light of the lamps inside that ends outside."""
    found = study.done.get("light")
    if not isinstance(found, LightReadings) or found.survey is None:
        return None
    lighting = found.survey.lighting
    if lighting.lost is None:
        return None
    inside = np.array([study.placement.inside(lamp) for lamp in lighting.lamps], dtype=float)
    sent = lighting.ppf * lighting.dimming * inside
    return float(sent @ lighting.lost / sent.sum()) if sent.sum() > 0 else None


def _speeds(study: Study) -> dict[str, float]:
    found = study.done.get("air")
    if not isinstance(found, AirReadings):
        return {}
    return {zone.part: zone.mean for zone in found.zones if zone.mean is not None}
