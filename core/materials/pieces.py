"""The pieces that a frame is sawn into, each length under a letter of its own.

Letters stand on cutting diagrams, on the saw's list and on the pieces themselves.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.language import tr
from core.materials.frame import Pieces
from core.materials.frame_lines import Role


@dataclass(frozen=True)
class CutPiece:
    """Pieces of one length.

    Attributes
    ----------
    letter : str
        "A" is the longest; after "Z" comes "AA".
    length : float
        [m]
    count : int
    roles : tuple of str
        What they are for.
    """

    letter: str
    length: float
    count: int
    roles: tuple[Role, ...]


def lettered(pieces: Pieces) -> tuple[CutPiece, ...]:
    """Return the pieces of a frame, the longest first."""
    return tuple(
        CutPiece(letter(number), length, count, pieces.roles[length])
        for number, (length, count) in enumerate(pieces.lengths.items())
    )


def letter(number: int) -> str:
    """Return the letter of a number that counts from 0.

    Examples
    --------
    >>> letter(0), letter(25), letter(26)
    ('A', 'Z', 'AA')
    """
    before, here = divmod(number, 26)
    return (letter(before - 1) if before else "") + chr(ord("A") + here)


def role_name(role: Role) -> str:
    """Return what a member of the frame is called."""
    return {
        "upright": tr("upright"),
        "rail": tr("rail"),
        "jamb": tr("door upright"),
        "header": tr("door header"),
        "sill": tr("door sill"),
        "brace": tr("brace"),
    }[role]
