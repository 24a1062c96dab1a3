"""Fields of the enclosure: frame, covers and linings face by face, doors, floor liner, leaks.

Sheets and frame stock are chosen from the catalogue.
"""

from __future__ import annotations

from typing import Any, cast

from core.catalogue import Catalogue
from core.errors import InputError
from core.language import tr
from core.model import (
    FACES,
    Cover,
    Design,
    Enclosure,
    FaceDoor,
    Frame,
    Liner,
    Lining,
    Sheet,
    replace,
)
from gui.form_general import size_section
from gui.form_paths import (
    FormField,
    Link,
    Section,
    choice,
    derived,
    fresh,
    put_thing,
    quantity,
    tick,
)

_OPEN = "open"
_STYLES = (("zip", "zip"), ("curtain", "curtain"), ("leaf", "leaf"))
_LIPS = (("left", "Left"), ("right", "Right"), ("front", "Front"), ("back", "Back"))


def enclosure_sections(box: Enclosure, catalogue: Catalogue) -> tuple[Section, ...]:
    """Return the fields of the enclosure."""
    covers = tuple(_cover_field(face, catalogue) for face in FACES)
    linings = tuple(_lining_field(face, catalogue) for face in FACES)
    doors = [_door_section(box, place) for place in range(len(box.doors))]
    return (
        size_section(box),
        Section(tr("Frame"), _frame_fields(box, catalogue)),
        Section(tr("Covers"), covers),
        Section(tr("Linings, whole face"), linings),
        *doors,
        Section(tr("Doors"), (), (Link(tr("Add a door"), _add_door),)),
        Section(tr("Floor liner"), _liner_fields(box)),
        Section(tr("Leaks"), (_leak_field(box),)),
    )


def _leak_field(box: Enclosure) -> FormField:
    return quantity(
        box, "air_changes_per_hour", tr("Air changes an hour"),
        tr("With every opening closed: 0.2 taped tight, 0.5 zipped, 2 and more with gaps."),
        "count",
    )  # fmt: skip


# Frame -------------------------------------------------------------------------------------------


def _frame_fields(box: Enclosure, catalogue: Catalogue) -> tuple[FormField, ...]:
    entries = catalogue.of_kind("frame")
    options: list[tuple[Any, str]] = [(entry.key, entry.title()) for entry in entries]
    if box.frame.catalogue not in [key for key, _ in options]:
        options.insert(0, (box.frame.catalogue, box.frame.material))
    stock = derived(
        "frame.catalogue", tr("Stock"), tr("What the frame is made of."), "choice",
        lambda design, thing: fresh(design, thing).frame.catalogue,  # type: ignore[union-attr]
        lambda design, thing, key: _put_frame(design, thing, key, catalogue),
        options=lambda design, thing: options, wide=True,
    )  # fmt: skip
    return (
        stock,
        quantity(box, "frame.member", tr("Member"), tr("Thickness of a frame member.")),
        quantity(box, "frame.extra_uprights", tr("More uprights"), tr("Besides the four corners.")),
        tick(box, "frame.braced", tr("Braced"), tr("Has diagonals or plates that keep it square.")),
    )


def _put_frame(design: Design, thing: Any, key: str | None, catalogue: Catalogue) -> Design:
    box: Any = fresh(design, thing)
    if key is None:
        return design
    made = cast(Frame, catalogue.record(key))
    kept = {"extra_uprights": box.frame.extra_uprights, "braced": box.frame.braced}
    return put_thing(design, box, replace(box, frame=replace(made, **kept)))


# Covers and linings ------------------------------------------------------------------------------


def _sheet_options(catalogue: Catalogue, now: Sheet | None, none: str) -> list[tuple[str, str]]:
    found = [(_OPEN, none)]
    found += [(entry.key, entry.title()) for entry in catalogue.of_kind("sheet")]
    if now is not None and _sheet_key(now) not in [key for key, _ in found]:
        found.append((_sheet_key(now), now.material))
    return found


def _sheet_key(sheet: Sheet | None) -> str:
    if sheet is None:
        return _OPEN
    return sheet.catalogue or f"own {sheet.material}"


def _cover_field(face: str, catalogue: Catalogue) -> FormField:
    return derived(
        f"cover.{face}", _face_words(face), tr("What closes this face."), "choice",
        lambda design, thing: _sheet_key(_cover(design, thing, face)),
        lambda design, thing, key: _put_cover(design, thing, face, key, catalogue),
        options=lambda design, thing: _sheet_options(
            catalogue, _cover(design, thing, face), tr("open")
        ),
    )  # fmt: skip


def _face_words(face: str) -> str:
    return tr(face.capitalize())


def _cover(design: Design, thing: Any, face: str) -> Sheet | None:
    box: Any = fresh(design, thing)
    found = box.cover(face)
    return found.sheet if found else None


def _put_cover(design: Design, thing: Any, face: str, key: str, catalogue: Catalogue) -> Design:
    box: Any = fresh(design, thing)
    old = box.cover(face)
    sheet = _chosen_sheet(old.sheet if old else None, key, catalogue)
    if sheet is None:
        new = None
    else:
        new = replace(old, sheet=sheet) if old else Cover(face=face, sheet=sheet)  # type: ignore[arg-type]
    return put_thing(design, box, replace(box, covers=_exchanged(box.covers, old, new)))


def _chosen_sheet(old: Sheet | None, key: str, catalogue: Catalogue) -> Sheet | None:
    """Return the sheet of a key: none, the one that is there, or the catalogue's."""
    if key == _OPEN:
        return None
    return old if key == _sheet_key(old) else cast(Sheet, catalogue.record(key))


def _exchanged(items: tuple[Any, ...], old: Any, new: Any) -> tuple[Any, ...]:
    """Return the items with one exchanged, added or taken away; the others keep their order."""
    if old is None:
        return (*items, new) if new is not None else items
    changed = (new if item is old else item for item in items)
    return tuple(item for item in changed if item is not None)


def _lining_field(face: str, catalogue: Catalogue) -> FormField:
    return derived(
        f"lining.{face}", _face_words(face), tr("A reflective sheet on the inside."), "choice",
        lambda design, thing: _sheet_key(_lining(design, thing, face)),
        lambda design, thing, key: _put_lining(design, thing, face, key, catalogue),
        options=lambda design, thing: _sheet_options(
            catalogue, _lining(design, thing, face), tr("none")
        ),
    )  # fmt: skip


def _lining(design: Design, thing: Any, face: str) -> Sheet | None:
    found = _whole_lining(fresh(design, thing), face)
    return found.sheet if found else None


def _whole_lining(box: Any, face: str) -> Lining | None:
    """Return the lining of a whole face; those on a part of it are left alone."""
    return next((x for x in box.linings if x.face == face and x.area is None), None)


def _put_lining(design: Design, thing: Any, face: str, key: str, catalogue: Catalogue) -> Design:
    box: Any = fresh(design, thing)
    old = _whole_lining(box, face)
    sheet = _chosen_sheet(old.sheet if old else None, key, catalogue)
    new = None if sheet is None else Lining(face=face, sheet=sheet)  # type: ignore[arg-type]
    return put_thing(design, box, replace(box, linings=_exchanged(box.linings, old, new)))


# Doors -------------------------------------------------------------------------------------------


def _door_section(box: Enclosure, place: int) -> Section:
    path = ("doors", place)
    faces = [(face, _face_words(face)) for face in ("left", "right", "front", "back")]
    styles = [(key, tr(words)) for key, words in _STYLES]
    fields = [
        choice(box, (*path, "face"), tr("In the face"), tr("Which side it opens."), faces),
        choice(box, (*path, "style"), tr("Style"), tr("Only leaves swing out."), styles),
        quantity(box, (*path, "x"), tr("Along the face"), tr("To its near edge.")),
        quantity(box, (*path, "z"), tr("Height of its foot"), tr("Above the enclosure’s floor.")),
        quantity(box, (*path, "width"), tr("Width"), tr("Of the opening.")),
        quantity(box, (*path, "height"), tr("Height"), tr("Of the opening.")),
    ]
    if box.doors[place].style == "leaf":
        leaves = ((1, tr("one")), (2, tr("two")))
        sides = (("left", tr("left")), ("right", tr("right")))
        fields.append(
            choice(box, (*path, "leaves"), tr("Leaves"), tr("Two need less room."), leaves)
        )
        fields.append(choice(box, (*path, "hinge"), tr("Hinge"), tr("Side it turns on."), sides))
    drop = Link(tr("Take this door away"), lambda design, thing: _drop_door(design, thing, place))
    return Section(tr("Door {number}").format(number=place + 1), tuple(fields), (drop,))


def _add_door(design: Design, thing: Any) -> Design:
    box: Any = fresh(design, thing)
    width, height = min(0.8, box.width), min(1.7, 0.9 * box.height)
    low = min(0.1, box.height - height)
    door = FaceDoor(x=(box.width - width) / 2, z=low, width=width, height=height)
    return put_thing(design, box, replace(box, doors=(*box.doors, door)))


def _drop_door(design: Design, thing: Any, place: int) -> Design:
    box: Any = fresh(design, thing)
    if place >= len(box.doors):
        raise InputError(tr("That door is gone already; choose another."))
    doors = tuple(door for number, door in enumerate(box.doors) if number != place)
    return put_thing(design, box, replace(box, doors=doors))


# Liner -------------------------------------------------------------------------------------------


def _liner_fields(box: Enclosure) -> tuple[FormField, ...]:
    has = derived(
        "liner", tr("Has a floor liner"), tr("A waterproof sheet with an upturned edge."), "tick",
        lambda design, thing: fresh(design, thing).liner is not None,  # type: ignore[union-attr]
        _put_liner, wide=True,
    )  # fmt: skip
    if box.liner is None:
        return (has,)
    lips = [
        quantity(
            box, f"liner.lip_{side}", tr("{side} lip").format(side=tr(words)),
            tr("Water runs over the lowest one."),
        )
        for side, words in _LIPS
    ]  # fmt: skip
    fixings = (("free", tr("stands free")), ("clipped", tr("clipped over the frame")))
    return (
        has,
        choice(box, "liner.fixing", tr("Edge"), tr("How its edge is held up."), fixings),
        quantity(
            box, "liner.out_of_level", tr("Out of level"), tr("How much lower one side lies."),
        ),
        *lips,
        quantity(box, "liner.width", tr("Its width"), tr("Empty: as wide as the enclosure.")),
        quantity(box, "liner.depth", tr("Its depth"), tr("Empty: as deep as the enclosure.")),
    )  # fmt: skip


def _put_liner(design: Design, thing: Any, on: bool) -> Design:
    box: Any = fresh(design, thing)
    return put_thing(design, box, replace(box, liner=(box.liner or Liner()) if on else None))
