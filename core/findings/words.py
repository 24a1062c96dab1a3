"""What several rules share: the states worth a finding, lists of names, shares in percent.

Sentences themselves stand in the rules.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.model import ShelfUnit
from core.phrases import Phrase, phrase
from core.states import State
from core.study import Study

AMISS = frozenset({State.HIGH, State.LOW, State.LIKELY_HIGH, State.LIKELY_LOW, State.BORDERLINE})
"""States of a reading that are worth a finding."""
SHOWN = 3
"""How many names a sentence lists before it counts the rest."""


def sentence(line: Phrase) -> Phrase:
    """Return a reading's line as a sentence of its own."""
    return phrase("{line}.", line=line)


def names(given: Sequence[str]) -> Phrase:
    """Return names as they are listed in a sentence: "A", "A and B", "A, B and 3 more"."""
    if len(given) == 1:
        return phrase("{name}", name=given[0])
    if len(given) <= SHOWN:
        return phrase("{first} and {last}", first=", ".join(given[:-1]), last=given[-1])
    shown = ", ".join(given[: SHOWN - 1])
    return phrase("{first} and {more} more", first=shown, more=len(given) - SHOWN + 1)


def level_names(study: Study, levels: Sequence[tuple[str, int]]) -> Phrase:
    """Return levels of one carrier in words: "level 2", "Rack, levels 1, 2 and 3"."""
    if not levels:
        return phrase("the floor")
    if len(levels) == 1:
        return study.level_words(levels[0])
    numbers = [str(number) for _, number in levels]
    many = phrase("levels {first} and {last}", first=", ".join(numbers[:-1]), last=numbers[-1])
    if sum(1 for _ in study.design.of(ShelfUnit)) == 1:
        return many
    return phrase("{name}, {levels}", name=study.design.by_id[levels[0][0]].name, levels=many)
