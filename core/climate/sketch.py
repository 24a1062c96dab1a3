"""Where an edit would take the air, by the steady estimate alone: quick enough to try many.

Only edits that look good here are worth a simulated day.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.climate.estimate import settle
from core.climate.from_design import setup
from core.climate.known import known
from core.climate.psychrometrics import dew_point, saturation_pressure, vapour_pressure
from core.climate.reading import flags
from core.study import Study


@dataclass(frozen=True)
class Sketch:
    """Steady air by the names of the readings: "temperature-day", "humidity-night", "margin"."""

    values: dict[str, float]

    def value(self, name: str) -> float | None:
        """Return one reading's steady value; None where there is no such half of the day."""
        return self.values.get(name)


def sketch(study: Study) -> Sketch:
    """Return the steady air of a design; empty where it is not computed."""
    made = setup(study, known(study))
    if made is None:
        return Sketch({})
    found = settle(made.zone, made.room, flags(made))
    t, w = found.temperature[0], found.humidity_ratio[0]
    vapour = vapour_pressure(w, made.zone.pressure)
    humidity = vapour / np.asarray(saturation_pressure(t))
    dew = np.asarray(dew_point(t, np.clip(humidity, 1e-4, 1.0)))
    coldest = found.surfaces[0, :, : len(made.boundaries)].min(axis=1, initial=1e3)
    halves = ("day", "night")[: t.size] if made.day.any() else ("night",)
    values = {"margin": float((coldest - dew).min())}
    for number, half in enumerate(halves):
        values[f"temperature-{half}"] = float(t[number])
        values[f"humidity-{half}"] = float(humidity[number])
    return Sketch(values)
