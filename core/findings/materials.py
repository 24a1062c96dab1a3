"""Rules on what an enclosure is built from: members that sag or are joined, seams, sizes that save.

How it is cut is in the readings of materials; sizes nearby are tried in `core.materials.nearby`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import cast

from core.catalogue import load_catalogue
from core.errors import DesignError
from core.finding import Finding, Remedy
from core.findings.edits import after, remedy, set_to, when_settled
from core.findings.words import AMISS, sentence
from core.fit.overlaps import outside, overlaps
from core.materials.from_design import bends, frame_graph, hung_mass
from core.materials.nearby import Saving, nearby_savings
from core.materials.plans import EnclosureMaterials
from core.materials.reading import MaterialsReadings, sag_row, worst_bend
from core.model import AnyPart, Enclosure, Frame, System, replace
from core.phrases import Amount, Phrase, phrase
from core.placement import Placement
from core.reading import distance_out
from core.states import RANK, State
from core.study import Study

MORE_UPRIGHTS = 4
"""So many more are tried before other stock is."""


def _made(study: Study) -> tuple[Enclosure, EnclosureMaterials] | None:
    """Return the enclosure as drawn and what it is made of."""
    found = study.done.get("materials")
    box = study.drawn.enclosure
    if box is None or not isinstance(found, MaterialsReadings) or found.made is None:
        return None
    return box, found.made


# Members that sag --------------------------------------------------------------------------------

_SAG_TITLES = {
    State.HIGH: "The frame of {name} sags",
    State.LIKELY_HIGH: "The frame of {name} likely sags",
    State.BORDERLINE: "The frame of {name} may sag",
}


def member_sags(study: Study) -> Iterator[Finding]:
    """Find the level member of the frame that sags most, where that is too much."""
    found = _made(study)
    worst = worst_bend(found[1].frame.bends) if found else None
    if found is None or worst is None:
        return
    row = sag_row(found[0], worst)
    if row.state in AMISS:
        yield Finding(
            "member-sags",
            "weight",
            row.state,
            found[0].id,
            phrase(_SAG_TITLES[row.state], name=found[0].name),
            sentence(row.line),
            size=distance_out(row),
            remedy=_held_up(study, found[0], row.state),
        )


@when_settled
def _held_up(study: Study, box: Enclosure, state: State) -> Remedy | None:
    """Return the fewest more uprights, else other stock, after which nothing sags too much."""
    hung = hung_mass(study.drawn, box)
    for words, frame in _stiffer(box, study.drawn.units):
        try:
            other = replace(box, frame=frame)
        except DesignError:
            continue
        worst = worst_bend(bends(other, frame_graph(other), hung))
        if worst is None or RANK[sag_row(other, worst).state] > max(
            RANK[state], RANK[State.CAUTION]
        ):
            return remedy(words, set_to(study, box.id, frame=frame))
    return None


def _stiffer(box: Enclosure, units: System) -> Iterator[tuple[Phrase, Frame]]:
    now = box.frame
    for more in range(1, MORE_UPRIGHTS + 1):
        text = "Add an upright" if more == 1 else "Add {count} uprights"
        yield phrase(text, count=more), replace(now, extra_uprights=now.extra_uprights + more)
    for frame in _frames(units):
        if frame.catalogue != now.catalogue:
            kept = {"extra_uprights": now.extra_uprights, "braced": now.braced}
            yield phrase("Build it of {stock}", stock=frame.material), replace(frame, **kept)


@lru_cache(maxsize=2)
def _frames(units: System) -> tuple[Frame, ...]:
    """Return the catalogue's frame stock sold in these units."""
    catalogue = load_catalogue()
    entries = [entry for entry in catalogue.of_kind("frame") if units in entry.systems]
    return tuple(cast(Frame, catalogue.record(entry.key)) for entry in entries)


# What is joined ----------------------------------------------------------------------------------


def member_joined(study: Study) -> Iterator[Finding]:
    """Name members that are longer than the longest bar that is sold."""
    found = _made(study)
    spliced = found[1].frame.pieces.spliced if found else ()
    if found is not None and spliced:
        bar = max(found[1].frame.stock.lengths)
        title = "{count} members are longer than a bar" if len(spliced) > 1 else (
            "A member is longer than a bar"
        )  # fmt: skip
        yield Finding(
            "member-joined",
            "weight",
            State.CAUTION,
            found[0].id,
            phrase(title, count=len(spliced)),
            phrase(
                "The longest is {length}, bars are {bar}. A joint in a span is its weakest place: "
                "set it over an upright, or double it.",
                length=Amount(max(member.cut for member in spliced), "length"),
                bar=Amount(bar, "length"),
            ),
            size=max(member.cut for member in spliced) / bar,
        )


def liner_in_pieces(study: Study) -> Iterator[Finding]:
    """Name a floor liner that no roll gives in one piece."""
    found = _made(study)
    liner = found[1].liner if found else None
    if found is not None and liner is not None and not liner.in_one_piece:
        yield Finding(
            "liner-in-pieces",
            "water",
            State.CAUTION,
            found[0].id,
            phrase("The floor liner of {name} needs a seam", name=found[0].name),
            phrase(
                "It is {width} × {depth} flat, the widest roll {roll} × {length}. A seam leaks "
                "sooner or later; ask for a wider sheet.",
                width=Amount(liner.blank.width, "length"),
                depth=Amount(liner.blank.depth, "length"),
                roll=Amount(liner.roll.width, "length"),
                length=Amount(liner.roll.length, "length"),
            ),
            size=liner.blank.area,
        )


def seam_in_door(study: Study) -> Iterator[Finding]:
    """Name sheets whose seams no roll keeps out of a door."""
    found = _made(study)
    for plan in found[1].rolls if found else ():
        if found is not None and plan.seams_in_doors:
            yield Finding(
                f"seam-in-door-{plan.ware.key}",
                "cost",
                State.CAUTION,
                found[0].id,
                phrase("A seam of {sheet} runs through a door", sheet=plan.sheet.material),
                phrase(
                    "No roll is wide enough to pass it: the widest taken is {roll}. A narrower "
                    "door, or a wider roll, has none.",
                    roll=Amount(plan.roll.width, "length"),
                ),
                size=plan.seams_in_doors,
            )


# Sizes that save ---------------------------------------------------------------------------------


def size_saves(study: Study) -> Iterator[Finding]:
    """Offer the nearby size of the enclosure that saves most and holds all that is in it."""
    box = study.drawn.enclosure
    if box is None or box.locked or study.quality == "coarse" or _made(study) is None:
        return
    for saving in sorted(nearby_savings(study.drawn), key=_least_saved):
        smaller = set_to(study, box.id, **{saving.edge: saving.length})
        if _still_fits(study, smaller):
            yield _saving(box, saving, Remedy(_saving_words(saving), {box.id: smaller}))
            return


def _least_saved(saving: Saving) -> tuple[float, float]:
    """Return a key that puts what saves most first, then what changes least."""
    return -saving.bars_length - saving.sheet_area, -saving.length


def _still_fits(study: Study, smaller: AnyPart) -> bool:
    """Tell whether nothing stands out or in each other's way that did not before."""
    try:
        now = Placement(after(study, {smaller.id: smaller}))
    except DesignError:
        return False
    before = study.placement
    known = {(item.a, item.b) for item in overlaps(before)}
    held = {item.part for item in outside(before)}
    apart = all((item.a, item.b) in known for item in overlaps(now))
    return apart and all(item.part in held for item in outside(now))


_EDGES = {
    "width": "Make the enclosure {length} wide",
    "depth": "Make the enclosure {length} deep",
    "height": "Make the enclosure {length} high",
}


def _saving_words(saving: Saving) -> Phrase:
    return phrase(_EDGES[saving.edge], length=Amount(saving.length, "length"))


def _saving(box: Enclosure, saving: Saving, mend: Remedy) -> Finding:
    less = Amount(getattr(box, saving.edge) - saving.length, "length")
    saved = {
        (True, False): "{less} less saves {bars} of bars.",
        (False, True): "{less} less saves {sheets} of sheets.",
        (True, True): "{less} less saves {bars} of bars and {sheets} of sheets.",
    }[saving.bars_length > 0, saving.sheet_area > 0]
    return Finding(
        f"{saving.edge}-saves",
        "cost",
        State.CAUTION,
        box.id,
        phrase("{name}, a little smaller, would take less", name=box.name),
        phrase(
            saved,
            less=less,
            bars=Amount(saving.bars_length, "length"),
            sheets=Amount(saving.sheet_area, "area"),
        ),
        size=saving.bars_length + saving.sheet_area,
        remedy=mend,
    )


RULES = (member_sags, member_joined, liner_in_pieces, seam_in_door, size_saves)
