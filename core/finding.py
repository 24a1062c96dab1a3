"""What a finding is: something to mend, where, and the edit that mends it.

The rules that make findings are in `core.findings`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from core.model import AnyPart, Design, Practice, Room, TapWater
from core.phrases import Phrase
from core.states import RANK, State


@dataclass(frozen=True)
class Remedy:
    """One edit that mends a finding: parts to replace, add (new ids) or remove (None).

    ``room``, ``practice`` or ``tap`` replace the design's own where the mend is there.
    """

    words: Phrase
    parts: Mapping[str, AnyPart | None]
    room: Room | None = None
    practice: Practice | None = None
    tap: TapWater | None = None


@dataclass(frozen=True)
class Finding:
    """Something to mend, or a caution.

    Attributes
    ----------
    rule : str
        Which rule found it, stable for programs.
    subject : str
        The subject it belongs to.
    state : State
        ``LOW``/``HIGH``, the likely states, ``BORDERLINE`` or ``CAUTION``.
    place : str
        Id of the part it is about; empty for the whole design.
    level : tuple of (str, int) or None
        The level to show for it.
    title, detail : Phrase
        What is wrong and where; the numbers.
    size : float
        How far out, for ordering within a state. [1]
    remedy : Remedy or None
        The undoable edit that mends it.
    """

    rule: str
    subject: str
    state: State
    place: str
    title: Phrase
    detail: Phrase
    level: tuple[str, int] | None = None
    size: float = 0.0
    remedy: Remedy | None = None

    def to_json(self, system: str = "metric") -> dict[str, Any]:
        """Return the finding as plain data, with its sentences rendered."""
        return {
            "rule": self.rule,
            "subject": self.subject,
            "state": str(self.state),
            "place": self.place,
            "title": self.title.render(system),
            "detail": self.detail.render(system),
            "remedy": self.remedy.words.render(system) if self.remedy else None,
        }


def in_order(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return findings worst first: out, likely, borderline, caution; then by size."""
    return tuple(sorted(findings, key=lambda item: (RANK[item.state], -item.size, item.rule)))


def mended(design: Design, finding: Finding) -> Design:
    """Return a design as drawn with a finding's remedy done; unchanged where there is none.

    Raises
    ------
    DesignError
        If the design has changed so that the remedy no longer fits it.
    """
    remedy = finding.remedy
    if remedy is None:
        return design
    named = {"room": remedy.room, "practice": remedy.practice, "tap": remedy.tap}
    fields = {name: value for name, value in named.items() if value is not None}
    changed = design.having(**fields) if fields else design
    return changed.with_parts(remedy.parts) if remedy.parts else changed
