"""Which class each ``kind`` in a file stands for.

The classes are in the sibling modules.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from pydantic import BaseModel

from core.model.design import AnyPart
from core.model.room import AnyFixture


def _classes(union: object) -> dict[str, type[BaseModel]]:
    members = get_args(get_args(union)[0])
    return {kind.model_fields["kind"].default: kind for kind in members}


PART_KINDS: Mapping[str, type[BaseModel]] = _classes(AnyPart)
"""The classes of parts by kind."""
FIXTURE_KINDS: Mapping[str, type[BaseModel]] = _classes(AnyFixture)
"""The classes of the room's fixtures by kind."""
