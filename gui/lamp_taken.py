"""What the grower takes over from a photometric file, and the lamp that comes of it.

The window that asks is `gui.lamp_file_dialog`; nothing here is a widget.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.catalogue import Catalogue
from core.geometry import turned_size
from core.light.photometry import Opening, PhotometricFile
from core.model import (
    Design,
    FromFlux,
    FromLumens,
    FromReading,
    FromWatts,
    Lamp,
    Measured,
    OwnSpectrum,
    replace,
)
from core.placement import on_grid
from core.placing import Level
from gui.adding import entry_for, with_added

Output = FromWatts | FromFlux | FromLumens | FromReading

_NARROW = 0.15
"""Width over length up to which a lit part is a tube's. [1]"""
_LONG = 0.25
"""Length from which it may be one. [m]"""
_SMALL = 0.12
"""Length up to which a round lit part is a spot's. [m]"""
_ROUND = (Opening.DISC, Opening.POINT, Opening.SPHERE, Opening.UPRIGHT_DISC)


@dataclass(frozen=True)
class Taken:
    """What was chosen.

    Attributes
    ----------
    measured : Measured
    output : Output or None
        Where its light is known from; None leaves that as it is.
    own_spectrum : OwnSpectrum or None
        A spectrum that was chosen with it.
    size : tuple of (float, float) or None
        Length and width to give the lamp. [m]
    watts : float or None
        Power to give the lamp. [W]
    """

    measured: Measured
    output: Output | None = None
    own_spectrum: OwnSpectrum | None = None
    size: tuple[float, float] | None = None
    watts: float | None = None

    def applied(self, lamp: Lamp) -> Lamp:
        """Return a lamp with all that was chosen.

        Raises
        ------
        DesignError
            If a value is beyond what a lamp may have.
        """
        changes: dict[str, Any] = {"measured": self.measured}
        if self.output is not None:
            changes["output"] = self.output
        if self.own_spectrum is not None:
            changes["own_spectrum"] = self.own_spectrum
        if self.watts is not None:
            changes["watts"] = self.watts
        lamp = replace(lamp, **changes)
        return sized(lamp, self.size) if self.size is not None else lamp


def sized(lamp: Lamp, size: tuple[float, float]) -> Lamp:
    """Return a lamp of another length and width about the same middle. [m]

    Raises
    ------
    DesignError
        If a lamp cannot have that size.
    """
    was = turned_size(lamp.width, lamp.depth, lamp.place.turn)
    now = turned_size(size[0], size[1], lamp.place.turn)
    x = on_grid(lamp.place.x + (was[0] - now[0]) / 2)
    y = on_grid(lamp.place.y + (was[1] - now[1]) / 2)
    return replace(lamp, width=size[0], depth=size[1], place=replace(lamp.place, x=x, y=y))


def length_and_width(measured: Measured) -> tuple[float, float] | None:
    """Return the size of the lit part along the lamp and across it, as it is turned. [m]"""
    if measured.opening is None:
        return None
    along, across = measured.opening
    return (across, along) if measured.turn % 2 else (along, across)


def form_of(file: PhotometricFile) -> str:
    """Return which form of lamp the lit part of a file is most like: board, tube or spot."""
    long, short = max(file.size[:2]), min(file.size[:2])
    if file.opening in _ROUND and long <= _SMALL:
        return "spot"
    return "tube" if long >= _LONG and short <= _NARROW * long else "board"


def new_lamp(catalogue: Catalogue, form: str, system: str) -> Lamp:
    """Return a lamp of a form that is nowhere yet, for what a file is shown with."""
    fields = entry_for(form, catalogue, system).fields
    keep = {key: fields[key] for key in ("form", "width", "depth", "height", "watts")}
    return Lamp(id="new", name=form.capitalize(), **keep)


def with_new_lamp(
    design: Design, catalogue: Catalogue, form: str, taken: Taken, level: Level | None,
    near: str | None,
) -> tuple[Design, str]:  # fmt: skip
    """Return the design with a new lamp of a form that gives the light taken over, and its id.

    Raises
    ------
    DesignError
        If it cannot be placed; the text says why.
    """
    added, lamp_id = with_added(design, catalogue, form, level=level, near=near)
    lamp = added.by_id[lamp_id]
    assert isinstance(lamp, Lamp)
    return added.with_parts({lamp_id: replace(taken.applied(lamp), catalogue=None)}), lamp_id
