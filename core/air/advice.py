"""What was tried for the air of one zone, and the edit that was found.

What is tried, and how, is for `core.findings.air_trials`.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.finding import Remedy
from core.phrases import Phrase


@dataclass(frozen=True, eq=False)
class Advice:
    """The end of a search.

    Attributes
    ----------
    place : str
        Id of the zone's plants.
    still : bool
        Whether more air was wanted there, not less.
    remedy : Remedy or None
        None where nothing tried was of help.
    tried : Phrase
        In a sentence.
    """

    place: str
    still: bool
    remedy: Remedy | None
    tried: Phrase
