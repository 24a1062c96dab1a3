"""Findings: what of a design is amiss, where, by how much, and the one edit that mends it.

Rules read the engines' numbers and the places of parts; they compute nothing that an engine knows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from core.finding import Finding, in_order
from core.findings import (
    access,
    air,
    carrying,
    climate,
    electric,
    fit,
    light,
    materials,
    safety,
    starting,
    supply,
    water,
    ways,
    weight,
)
from core.study import Study

Rule = Callable[[Study], Iterator[Finding]]

RULES: tuple[Rule, ...] = (
    *light.RULES,
    *air.RULES,
    *electric.RULES,
    *starting.RULES,
    *safety.RULES,
    *water.RULES,
    *supply.RULES,
    *climate.RULES,
    *weight.RULES,
    *fit.RULES,
    *access.RULES,
    *materials.RULES,
    *ways.RULES,
    *carrying.RULES,
)
"""Every rule; each is silent where the readings it needs are missing."""


def find(study: Study) -> tuple[Finding, ...]:
    """Return all findings about a design, worst first."""
    return in_order(tuple(finding for rule in RULES for finding in rule(study)))
