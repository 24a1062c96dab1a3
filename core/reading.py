"""What an engine answers: one `Reading` a number, gathered by subject.

The engines make these, `core.readings` runs them; nothing here computes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from core.phrases import Phrase
from core.states import RANK, State, judge

SUBJECTS = ("light", "air", "power", "water", "climate", "weight", "fit", "cost")


@dataclass(frozen=True)
class Method:
    """How a number is known: the method, its published source, and what it leaves out.

    All are plain sentences fit to show to a user.
    """

    method: str
    source: str
    uncertainty: str = ""
    omissions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Reading:
    """One number about one place, and how far it can be trusted.

    Attributes
    ----------
    subject : str
        One of `SUBJECTS`.
    name : str
        Which number it is, stable for programs: ``"ppfd"``, ``"load"``, ``"refill"``.
    place : str
        Id of the part, fixture or circuit it is about; empty for the whole design.
    where : Phrase
        The place in words: "level 4", "Hall circuit".
    value, low, high : float or None
        The value and the ends of its own range, in SI for ``kind``. None: not known yet.
    kind : str
        Unit kind (see `core.units`).
    want_low, want_high : float or None
        What is wanted; None where nothing is.
    state : State
        How the value stands to what is wanted.
    line : Phrase
        The row's second line: "184 at level 4; want 60–120".
    method : Method
        How it was found.
    assumptions : tuple of Phrase
        What was taken for granted because nobody said.
    words : str
        State words that replace the usual ones ("uneven"); empty for the usual.
    """

    subject: str
    name: str
    place: str
    where: Phrase
    value: float | None
    low: float | None
    high: float | None
    kind: str
    want_low: float | None
    want_high: float | None
    state: State
    line: Phrase
    method: Method
    assumptions: tuple[Phrase, ...] = ()
    words: str = ""

    @property
    def source(self) -> str:
        """The published source of the method."""
        return self.method.source

    def to_json(self, system: str = "metric") -> dict[str, Any]:
        """Return the reading as plain data, with its sentences rendered."""
        return {
            "subject": self.subject,
            "name": self.name,
            "place": self.place,
            "where": self.where.render(system),
            "value": self.value,
            "low": self.low,
            "high": self.high,
            "kind": self.kind,
            "want_low": self.want_low,
            "want_high": self.want_high,
            "state": str(self.state),
            "line": self.line.render(system),
            "method": self.method.method,
            "source": self.method.source,
            "uncertainty": self.method.uncertainty,
            "omissions": list(self.method.omissions),
            "assumptions": [item.render(system) for item in self.assumptions],
        }


def reading(
    subject: str,
    name: str,
    place: str,
    where: Phrase,
    value: float | None,
    kind: str,
    line: Phrase,
    method: Method,
    *,
    spread: tuple[float, float] | None = None,
    want: tuple[float | None, float | None] = (None, None),
    assumptions: tuple[Phrase, ...] = (),
) -> Reading:
    """Return a judged reading; ``spread`` is its own (low, high), by default just the value."""
    low, high = spread if spread is not None else (value, value)
    state = judge(value, low, high, *want)
    return Reading(
        subject, name, place, where, value, low, high, kind, *want, state, line, method, assumptions
    )


def shifted(item: Reading, by: float) -> Reading:
    """Return a reading with its value and range moved, judged anew. [as the value]"""
    value, low, high = (
        None if end is None else end + by for end in (item.value, item.low, item.high)
    )
    state = judge(value, low, high, item.want_low, item.want_high)
    return replace(item, value=value, low=low, high=high, state=state)


def distance_out(item: Reading) -> float:
    """Return how far a reading is beyond its wanted range, relative to the limit it breaks.

    Negative inside the range; used to find the reading that matters most. [1]
    """
    if item.value is None:
        return float("-inf")
    scale = max(abs(item.want_high or 0.0), abs(item.want_low or 0.0), 1e-12)
    over = (item.value - item.want_high) / scale if item.want_high is not None else float("-inf")
    under = (item.want_low - item.value) / scale if item.want_low is not None else float("-inf")
    return max(over, under)


NOT_KNOWN = Phrase("not known yet")


@dataclass(frozen=True, kw_only=True)
class SubjectReadings:
    """All readings of one subject; each subject's own class adds what its drawing needs.

    ``headline`` is the number that matters most; None when there is nothing to say yet, and then
    ``nothing`` says why. ``coarse`` marks results that a finer computation will replace,
    ``passing`` those that will be replaced so soon that other subjects keep what they found.
    """

    subject: str
    rows: tuple[Reading, ...] = ()
    headline: Reading | None = None
    nothing: Phrase = NOT_KNOWN
    coarse: bool = False
    passing: bool = False

    @property
    def state(self) -> State:
        """The state of the headline; unknown when there is none."""
        return self.headline.state if self.headline else State.UNKNOWN


def worst(rows: tuple[Reading, ...]) -> Reading | None:
    """Return the reading with the worst state, then the one farthest out; None for no rows.

    Readings that nothing is asked of count only where there are no others.
    """
    judged = [row for row in rows if row.state is not State.UNASKED] or rows
    return min(judged, key=lambda row: (RANK[row.state], -distance_out(row)), default=None)


def with_words(item: Reading, state: State, words: str) -> Reading:
    """Return the reading with another state and its own words for it."""
    return replace(item, state=state, words=words)
