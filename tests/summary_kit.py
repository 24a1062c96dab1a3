"""Readings of the example designs, made quickly, for what the summary makes of them."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import resources
from core.air.flows import JETS
from core.readings import Reader, Readings
from core.storage import load

DEMOS = Path(resources.__file__).parent / "demos"
NAMES = tuple(sorted(file.stem for file in DEMOS.glob("*.fern")))


@lru_cache
def quickly(demo: str) -> Readings:
    """Return coarse readings of a demo; the air is told by jets alone."""
    return Reader(flows=JETS).update(load(DEMOS / f"{demo}.fern"), quality="coarse")
