"""What the numbers on air come from, from a fan's jet alone to a flow on fine cells."""

from __future__ import annotations

from enum import StrEnum


class Stage(StrEnum):
    """What the numbers on air come from, in the order in which they get better."""

    JETS = "jets"
    MOVING = "moving"
    PREVIEW = "preview"
    SETTLED = "settled"
    FINE = "fine"
    REFINED = "refined"

    @property
    def settled(self) -> bool:
        """Whether the flow is a mean that steps change no more."""
        return self in (Stage.SETTLED, Stage.FINE, Stage.REFINED)

    @property
    def rank(self) -> int:
        """Place in the order, from 0."""
        return list(Stage).index(self)
