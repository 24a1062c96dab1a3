"""Zones and rooms that several climate tests run."""

from __future__ import annotations

import numpy as np

from core.climate import Boundary, Control, Fogger, LampHeat, Room, WetTray, Zone

HOURS = np.arange(1440) / 60
LIT = ((HOURS >= 6) & (HOURS < 20)).astype(float)
COVERS = (Boundary(20.0, 4.15, name="sides"), Boundary(7.0, 4.15, 0.5, name="back"))


def zone(**change) -> Zone:
    """A planted enclosure of 9.3 m³ under 240 W of lamps, without devices that switch."""
    usual = {
        "volume": 9.3,
        "boundaries": COVERS,
        "leakage": 1.3,
        "lamps": (LampHeat(240 * LIT),),
        "light_out": 0.2,
        "other_watts": 40.0,
        "trays": (WetTray(1.2, 0.6),),
    }
    return Zone(**{**usual, **change})


def bare(**change) -> Zone:
    """Air between covers and nothing else; its slow mass hardly touches it."""
    usual = {"volume": 9.3, "boundaries": COVERS, "leakage": 1.0, "coupling": 1e-6}
    return Zone(**{**usual, **change})


def humidistat(set_point=0.8, differential=0.06, **change) -> Control:
    return Control.below("humidity", set_point, differential, **change)


def fogger(output=6e-5, **change) -> Fogger:
    return Fogger(**{"name": "Fog", "output": output, "control": humidistat(), **change})


def cool_room(**change) -> Room:
    usual = {"temperature": 18.0, "humidity": 0.5, "outdoor_temperature": 8.0}
    return Room(**{**usual, **change})
