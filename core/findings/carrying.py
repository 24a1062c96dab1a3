"""Rules on carrying in and putting together: what does not tilt up, go through, or must go first.

All are cautions: there is a way round, and no number settles whether it will do.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.finding import Finding
from core.findings.moves import fit_readings, fit_rows
from core.findings.words import AMISS, names, sentence
from core.phrases import Phrase, phrase
from core.reading import Reading, distance_out
from core.states import State
from core.study import Study

_WAYS_ROUND = {
    "part": "{line}. Carry it in parts.",
    "bar": "{line}. Make it of two pieces.",
    "board": "{line}. Cut it before.",
}


def cannot_tilt_up(study: Study) -> Iterator[Finding]:
    """Find frames and units that cannot be tilted up."""
    for row in fit_rows(study, "tilt"):
        if row.state in AMISS:
            yield _way_round(
                row,
                "cannot-tilt-up",
                phrase("{name} cannot be tilted up", name=row.where),
                phrase("{line}. Assemble it standing.", line=row.line),
            )


def cannot_carry_in(study: Study) -> Iterator[Finding]:
    """Find what goes through no door of the room, or round no corner before it, in one piece."""
    fit = fit_readings(study)
    for item, row in fit.carried if fit else ():
        if row.state in AMISS:
            yield _way_round(
                row,
                "cannot-carry-in",
                phrase("{name} cannot be carried in whole", name=row.where),
                phrase(_WAYS_ROUND[item.load.kind], line=row.line),
            )


def goes_in_first(study: Study) -> Iterator[Finding]:
    """Find what must be in its place before the enclosure's covers go on, all in one finding."""
    rows = fit_rows(study, "first")
    if not rows:
        return
    tightest = max(rows, key=distance_out)
    listed = names([row.where.render() for row in rows])
    words = (
        "{names} goes in before the covers"
        if len(rows) == 1
        else ("{names} go in before the covers")
    )
    title = phrase(words, names=listed)
    yield _way_round(tightest, "goes-in-first", title, sentence(tightest.line))


def _way_round(row: Reading, rule: str, title: Phrase, detail: Phrase) -> Finding:
    return Finding(rule, "fit", State.CAUTION, row.place, title, detail, size=distance_out(row))


RULES = (cannot_tilt_up, cannot_carry_in, goes_in_first)
