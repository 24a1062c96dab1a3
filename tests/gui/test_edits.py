"""Undo and redo: whatever was done, undoing all of it gives the start, redoing all the end."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.changes import moved, on_level, renamed, turned
from core.clipboard import copy_text, pasted
from core.errors import FernwrightError
from core.model import Place, Reservoir
from core.placement import Placement
from core.placing import rehosted
from gui.commands import Commands
from gui.document import Document
from gui.edits import differing
from gui.view import View
from tests.designs import alcove

START = alcove()
Act = Callable[[Document, Commands, View, int], None]


def chosen(document: Document, seed: int) -> str | None:
    parts = document.design.parts
    return parts[seed % len(parts)].id if parts else None


def select(document: Document, view: View, seed: int) -> None:
    part_id = chosen(document, seed)
    view.select([part_id] if part_id else [])


def nudge(document: Document, commands: Commands, view: View, seed: int) -> None:
    select(document, view, seed)
    commands.nudge(((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))[seed % 3])


def turn(document: Document, commands: Commands, view: View, seed: int) -> None:
    select(document, view, seed)
    commands.turn(seed % 4)


def delete(document: Document, commands: Commands, view: View, seed: int) -> None:
    select(document, view, seed)
    commands.delete()


def duplicate(document: Document, commands: Commands, view: View, seed: int) -> None:
    select(document, view, seed)
    commands.duplicate()


def rename(document: Document, commands: Commands, view: View, seed: int) -> None:
    part_id = chosen(document, seed)
    if part_id:
        commands.rename(part_id, f"Name {seed}")


def drag(document: Document, commands: Commands, view: View, seed: int) -> None:
    """Propose several steps of a drag, then let go."""
    part_id = chosen(document, seed)
    if part_id is None:
        return
    for step in (1, 2, 3):
        document.propose(moved(document.committed, [part_id], (0.02 * step, 0.0, -0.01 * step)))
    shifted = moved(document.committed, [part_id], (0.06, 0.0, -0.03))
    shifted.update(rehosted(document.design, [part_id], document.committed))
    document.propose(shifted)
    document.commit("drag")


def give_up(document: Document, commands: Commands, view: View, seed: int) -> None:
    part_id = chosen(document, seed)
    if part_id:
        document.propose(moved(document.committed, [part_id], (0.1, 0.1, 0.0)))
        document.withdraw()


def paste(document: Document, commands: Commands, view: View, seed: int) -> None:
    part_id = chosen(document, seed)
    if part_id is None:
        return
    try:
        design, _ = pasted(document.committed, copy_text(document.committed, [part_id]))
    except FernwrightError:
        return
    document.apply("paste", design)


def move_up(document: Document, commands: Commands, view: View, seed: int) -> None:
    part_id = chosen(document, seed)
    if part_id:
        document.apply_parts("level", on_level(document.committed, [part_id], 1 + seed % 4))


def undo(document: Document, commands: Commands, view: View, seed: int) -> None:
    document.undo_stack.undo()


def redo(document: Document, commands: Commands, view: View, seed: int) -> None:
    document.undo_stack.redo()


ACTS: tuple[Act, ...] = (
    nudge, turn, delete, duplicate, rename, drag, give_up, paste, move_up, undo, redo,
)  # fmt: skip


@settings(max_examples=60)
@given(
    acts=st.lists(st.tuples(st.sampled_from(ACTS), st.integers(0, 1000)), min_size=1, max_size=12)
)
def test_undoing_all_gives_the_start_and_redoing_all_the_end(qapp, acts):
    document, view = Document(START), View()
    commands = Commands(document, view)
    for act, seed in acts:
        act(document, commands, view, seed)
    end, count = document.design, document.undo_stack.index()
    Placement(end)

    for _ in range(count):
        document.undo_stack.undo()
    assert document.design == START
    assert not document.modified
    for _ in range(count):
        document.undo_stack.redo()
    assert document.design == end


@settings(max_examples=25)
@given(
    acts=st.lists(st.tuples(st.sampled_from(ACTS), st.integers(0, 1000)), min_size=1, max_size=6)
)
def test_the_ids_told_with_a_change_are_those_that_differ(qapp, acts):
    document, view = Document(START), View()
    commands = Commands(document, view)
    before = [document.design]

    def check(ids: frozenset[str]) -> None:
        told = set(ids) or {part.id for part in (*before[0].parts, *document.design.parts)}
        assert set(differing(before[0], document.design)) <= told
        before[0] = document.design

    document.changed.connect(check)
    for act, seed in acts:
        act(document, commands, view, seed)


def test_edits_are_named_in_the_undo_list(qapp):
    document, view = Document(START), View()
    commands = Commands(document, view)
    view.select(["fan-1"])
    commands.nudge((1.0, 0.0, 0.0))
    assert document.undo_stack.undoText() == "Move Fan 1"
    view.select(["fan-1", "reservoir-1"])
    commands.delete()
    assert document.undo_stack.undoText() == "Delete 2 parts"


def test_what_cannot_be_done_is_told_and_leaves_no_step(qapp, qtbot):
    document, view = Document(START), View()
    commands = Commands(document, view)
    view.select(["enclosure-1"])
    with qtbot.waitSignal(commands.refused) as told:
        commands.duplicate()

    assert "variant" in told.args[0]
    assert document.undo_stack.count() == 0


def test_an_edit_that_changes_nothing_is_no_step(qapp):
    document = Document(START)

    assert not document.apply_parts("nothing", {})
    assert not document.apply_parts("same name", renamed(START, "fan-1", " Fan 1 "))
    assert not document.apply_parts("whole turn", turned(START, ["reservoir-1"], 4))
    assert document.undo_stack.count() == 0


def test_a_proposal_that_breaks_a_rule_changes_nothing(qapp):
    document = Document(START)
    wrong = Reservoir(
        id="new-1", name="New", width=0.2, depth=0.2, height=0.2, fill=0.1,
        place=Place(host="nobody"),
    )  # fmt: skip
    with pytest.raises(FernwrightError, match="must be a part of the design"):
        document.propose({"new-1": wrong})

    assert document.design == START
    assert not document.proposing
