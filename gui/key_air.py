"""The key of air: what the strokes and the hatching mean.

Its numbers stand in the level rows and the readings, not here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.units import label, show
from gui.key_blocks import Legend, Note, Sign
from gui.key_page import KeyPage
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings


def air_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    system = readings.design.units

    def at(speed: float) -> str:
        return show(speed, "speed", system, unit=False)

    signs = (
        Sign(0, tr("still, under {to}").format(to=at(0.1)), tr("look here"), still=True),
        Sign(1.0, tr("gentle, {low}–{high}").format(low=at(0.1), high=at(0.3)), tr("enough")),
        Sign(1.5, tr("gentle, {low}–{high}").format(low=at(0.3), high=at(0.5)), tr("best")),
        Sign(2.4, tr("brisk, over {low}").format(low=at(0.5)), tr("watch soft leaves")),
    )
    note = tr("True to ± 30 % or ± {off}, whichever is more. A place that may fall on either side "
              "says “borderline” or “likely”.").format(off=show(0.1, "speed", system))  # fmt: skip
    head = tr("Air at the leaves")
    return KeyPage(head, label("speed", system), (Legend(signs), Note(note)))
