"""Readings whose findings on the air carry what was tried with its flow: for those who can wait.

Plain readings leave that out, since it takes a second or two; what is tried, and how, is for
`core.findings.air_trials`.
"""

from __future__ import annotations

from dataclasses import replace

from core.air.flows import Arriving
from core.findings import find
from core.findings.air_trials import advise
from core.readings import ENGINES, Readings
from core.study import study


def with_trials(readings: Readings) -> Readings:
    """Return final readings with edits tried for still and for too strong air.

    Parameters
    ----------
    readings : Readings

    Returns
    -------
    Readings
        The same, but for the findings; the very same where no flow of air is known.
    """
    field = readings.air.field
    if field is None:
        return readings
    look, tried = study(readings.design, season=readings.season), Arriving()
    for advice in advise(look, field):
        tried.put_advice(field.air, advice)
    done = {engine.subject: readings.subject(engine.subject) for engine in ENGINES}
    return replace(readings, findings=find(replace(look, flows=tried, done=done)))
