"""The eight subjects as the window names them: title, icon, and the question each answers.

Their order is `core.reading.SUBJECTS`; how a subject is drawn is said in `gui.overlays`.
"""

from __future__ import annotations

from core.language import tr
from core.reading import SUBJECTS

_QUESTIONS = {
    "light": "Enough light at each shelf?",
    "air": "Does air move at the leaves?",
    "power": "Is the circuit fine?",
    "water": "When to refill?",
    "climate": "Warm and moist enough, day and night?",
    "weight": "Do the shelves carry it?",
    "fit": "Does it fit, and can you reach in?",
    "cost": "What to buy, and what it costs to run?",
}


def title(subject: str) -> str:
    """Return the subject's name as it stands in its row."""
    return tr(subject.capitalize())


def question(subject: str) -> str:
    """Return what the grower asks; shown until there is an answer."""
    return tr(_QUESTIONS[subject])


__all__ = ["SUBJECTS", "question", "title"]
