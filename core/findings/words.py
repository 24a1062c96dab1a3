"""What several rules share: the states worth a finding, lists of names, shares in percent.

Sentences themselves stand in the rules.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.phrases import Amount, Phrase, phrase
from core.states import State

AMISS = frozenset({State.HIGH, State.LOW, State.LIKELY_HIGH, State.LIKELY_LOW, State.BORDERLINE})
"""States of a reading that are worth a finding."""
SHOWN = 3
"""How many names a sentence lists before it counts the rest."""


def names(given: Sequence[str]) -> Phrase:
    """Return names as they are listed in a sentence: "A", "A and B", "A, B and 3 more"."""
    if len(given) == 1:
        return phrase("{name}", name=given[0])
    if len(given) <= SHOWN:
        return phrase("{first} and {last}", first=", ".join(given[:-1]), last=given[-1])
    shown = ", ".join(given[: SHOWN - 1])
    return phrase("{first} and {more} more", first=shown, more=len(given) - SHOWN + 1)


def all_of(given: Sequence[str]) -> Phrase:
    """Return what an edit of several parts is about: one name, "both", or "all 5"."""
    if len(given) == 1:
        return phrase("{name}", name=given[0])
    if len(given) == 2:
        return phrase("both, {first} and {last},", first=given[0], last=given[1])
    return phrase("all {count}", count=len(given))


def percent(share: float) -> Amount:
    """Return a share in whole percent: "41 %"."""
    return Amount(round(share, 2), "fraction")
