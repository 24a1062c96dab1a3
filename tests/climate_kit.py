"""Zones and rooms that several climate tests run."""

from __future__ import annotations

from functools import cache

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


@cache
def weather_text() -> str:
    """Return a made-up year of weather in EPW form: a wave of the year and one of the day."""
    head = ["LOCATION,Middleton,ST,CTY,MADE,000000,50.0,10.0,1.0,100", *["COMMENTS 1"] * 7]
    rows, number = [], 0
    for month, days in enumerate((31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31), 1):
        for day in range(1, days + 1):
            for hour in range(1, 25):
                t = 9 - 10 * np.cos(2 * np.pi * (number - 20) / 365)
                t -= 5 * np.cos(2 * np.pi * (hour - 3.5) / 24)
                sun = max(0.0, float(np.cos(2 * np.pi * (hour - 12.5) / 24))) * 500
                rows.append(
                    f"2001,{month},{day},{hour},0,Q,{t:.1f},{t - 4:.1f},75,101325,0,0,0,"
                    f"{0.7 * sun:.0f},{sun:.0f},{0.3 * sun:.0f},0,0,0,0"
                )
            number += 1
    return "\n".join([*head, *rows])
