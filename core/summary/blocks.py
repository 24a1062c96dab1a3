"""What a summary is made of, whatever it is written as: sections of tables, pictures and text.

What stands in them is gathered in `core.summary.describe`; how they look is the writers'.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from core.drawing.paper import Drawing
from core.states import State
from core.summary.sheet import PAPERS, Paper

Role = Literal["ink", "ink2", "fine", "edgey", "out", "edge"]


@dataclass(frozen=True)
class Styled:
    """Words that are bold, or in a colour of their own."""

    text: str
    role: Role = "ink"
    bold: bool = False


@dataclass(frozen=True)
class VialCell:
    """A drawn vial; ``spoken`` says the same to who cannot see it."""

    value: float | None
    low: float | None
    high: float | None
    want_low: float | None
    want_high: float | None
    state: State
    spoken: str


@dataclass(frozen=True)
class MarkCell:
    """The mark of a state, as in lists."""

    state: State
    spoken: str


Cell = str | Styled | VialCell | MarkCell


@dataclass(frozen=True)
class Table:
    """Rows under heads.

    A row with a single cell heads those that follow it. ``widths`` are shares of the page's
    width; ``right`` the columns whose numbers stand at the right.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    widths: tuple[float, ...]
    right: frozenset[int] = frozenset()
    title: str = ""


@dataclass(frozen=True)
class Paragraph:
    """Plain words."""

    text: str
    role: Role = "ink"
    bold: bool = False


@dataclass(frozen=True)
class Advice:
    """A finding: its mark, what is wrong, the numbers, and what would mend it."""

    state: State
    spoken: str
    title: str
    detail: str
    remedy: str = ""


@dataclass(frozen=True)
class Picture(Drawing):
    """A drawing among the blocks; its title stands for it where it is not seen."""


Block = Table | Paragraph | Advice | Picture


@dataclass(frozen=True)
class Section:
    """A heading with what belongs under it; ``aside`` stands at its right in smaller type.

    ``new_page`` starts a page where much of one is used, ``own_page`` in any case; a ``bare``
    section shows no heading on paper. A section of its own page with one drawing has its title
    among the drawing's words, too.
    """

    title: str
    blocks: tuple[Block, ...]
    aside: str = ""
    new_page: bool = False
    own_page: bool = False
    bare: bool = False


@dataclass(frozen=True)
class Summary:
    """All that is written about one design.

    ``subtitle`` says variant, season and quality; ``stamp`` the date; ``drawings`` are those to
    scale, each by the end of its file's name.
    """

    title: str
    subtitle: str
    stamp: str
    footer: str
    sections: tuple[Section, ...] = ()
    paper: Paper = PAPERS["a4"]
    language: str = "en"
    drawings: Mapping[str, Picture] = field(default_factory=dict)
