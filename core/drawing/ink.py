"""The colours that paper is printed in, by role, and which of them stands for a state.

The window's palettes, the dark one among them, are in `gui.theme`.
"""

from __future__ import annotations

from core.states import LIKELY_OUT, OUT, State

PAPER: dict[str, str] = {
    "sheet": "#FFFFFF",
    "raised": "#FFFFFF",
    "ink": "#182524",
    "ink2": "#4A5856",
    "ink3": "#5F6D6A",
    "edge": "#7F8E8B",
    "hair": "#CBD3D0",
    "pencil": "#5B36A8",
    "fine": "#14566B",
    "fine_bg": "#DDEBF0",
    "edgey": "#7E5200",
    "edgey_bg": "#F8EBD0",
    "out": "#A3163A",
    "out_bg": "#FBE3E7",
    "air": "#34557F",
    "water": "#2B6E93",
    "water_bg": "#CFE3EE",
    "lead": "#7A4A12",
    "lamp": "#E2B83C",
    "plant": "#5F8A5B",
    "plant_bg": "#DCE8D8",
    "wall": "#D3D9D6",
    "cover": "#8FA09C",
}


def state_role(state: State) -> str:
    """Return the name of the colour that stands for ``state``."""
    if state in OUT or state in LIKELY_OUT:
        return "out"
    if state in (State.BORDERLINE, State.CAUTION):
        return "edgey"
    return "fine" if state is State.FINE else "edge"
