"""Fields of lamps: how much light one gives by whichever number the grower has, how it spreads.

What the light comes to is worked out in `core.light`; files are taken over by `gui.lamp_files`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QVBoxLayout

from core.language import tr
from core.light.lamp_light import kind_of_light, photon_flux, spread
from core.light.measured import upward_share
from core.model import (
    Design,
    FromFlux,
    FromLumens,
    FromReading,
    FromWatts,
    Lamp,
    replace,
)
from core.units import show
from gui.form_electric import electric_sections
from gui.form_paths import (
    FormField,
    Link,
    Picture,
    Section,
    Thing,
    choice,
    derived,
    fresh,
    put_thing,
    quantity,
    set_at,
    tick,
)
from gui.lamp_choices import (
    DISTRIBUTION,
    FROM_FILE,
    chosen_light,
    flux_words,
    kinds_of_light,
    turns,
)
from gui.lamp_taken import length_and_width, sized
from gui.photometry_plot import PolarPlot
from gui.theme import Theme

_BASES = (
    ("watts", "its watts alone"),
    ("ppf", "the maker’s PPF"),
    ("lumens", "the maker’s lumens"),
    ("reading", "one meter reading"),
)
# What a lamp starts with when the basis of its light is changed: about that of its watts.
_STARTS: dict[str, Callable[[Lamp], Any]] = {
    "watts": lambda lamp: FromWatts(spectrum=lamp.output.spectrum),
    "ppf": lambda lamp: FromFlux(ppf=round(_flux(lamp), 1), spectrum=lamp.output.spectrum),
    "lumens": lambda lamp: FromLumens(lumens=round(_lumens(lamp), -1), **_light(lamp)),
    "reading": lambda lamp: FromReading(distance=0.3, ppfd=100.0, **_light(lamp)),
}
_SAME_SIZE = 0.001
"""Difference from which a file's size is offered. [m]"""
_LEAST_UP = 0.005
"""Share of the light upwards from which it is told of. [1]"""


class SpreadPlot(Picture):
    """How a measured lamp, or a spot, spreads its light."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.plot = PolarPlot(theme)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.plot)

    def show_thing(self, design: Design, thing: Thing) -> None:
        """Show a lamp's intensities at full power."""
        assert isinstance(thing, Lamp)
        shape = spread(thing)
        if shape is not None:
            scale = photon_flux(thing).value / shape.flux
            self.plot.show_distribution(shape, "µmol/(s sr)" if scale else "", scale or 1.0)


def lamp_sections(design: Design, lamp: Lamp) -> tuple[Section, ...]:
    """Return the fields of a lamp."""
    return (
        Section(tr("Light"), (_basis_field(), *_basis_fields(lamp)), note=_flux_note),
        _spread_section(lamp),
        Section(tr("Size"), _size_fields(lamp), _size_links(design, lamp)),
        *electric_sections(design, lamp),
        Section(tr("Chain"), _chain_fields(lamp)),
    )


# How much light ----------------------------------------------------------------------------------


def _flux(lamp: Lamp) -> float:
    """Return about how much light a lamp gives; its watts' where nothing is known. [µmol/s]"""
    return photon_flux(lamp).value or lamp.watts * FromWatts().efficacy


def _lumens(lamp: Lamp) -> float:
    return 1000.0 * _flux(lamp) / kind_of_light(lamp)[0].per_kilolux


def _light(lamp: Lamp) -> dict[str, Any]:
    """Return the kind of light that a lamp has, where one is said."""
    spectrum = lamp.output.spectrum
    return {} if spectrum is None else {"spectrum": spectrum}


def _flux_note(design: Design, thing: Thing) -> str:
    lamp = fresh(design, thing)
    return flux_words(photon_flux(lamp), design.units) if isinstance(lamp, Lamp) else ""


def _basis_field() -> FormField:
    return derived(
        "output", tr("Its light is known from"),
        tr("The maker’s PPF is best; watts alone are good for a first look."), "choice",
        lambda design, thing: fresh(design, thing).output.basis,  # type: ignore[union-attr]
        _put_basis,
        options=lambda design, thing: [(key, tr(words)) for key, words in _BASES], wide=True,
    )  # fmt: skip


def _put_basis(design: Design, thing: Any, basis: str) -> Design:
    lamp = fresh(design, thing)
    assert isinstance(lamp, Lamp)
    return put_thing(design, lamp, replace(lamp, output=_STARTS[basis](lamp)))


def _basis_fields(lamp: Lamp) -> tuple[FormField, ...]:
    output = lamp.output
    if isinstance(output, FromWatts):
        tip = tr("Light for each watt; good boards give 2.2 to 2.8 µmol/J, tubes about 1.7.")
        return (quantity(lamp, "output.efficacy", tr("Efficacy"), tip), _light_field())
    if isinstance(output, FromFlux):
        tip = tr("All photons of one lamp at full power, 400 to 700 nm.")
        return (quantity(lamp, "output.ppf", tr("PPF at full"), tip), _light_field())
    if isinstance(output, FromLumens):
        lumens = quantity(lamp, "output.lumens", tr("Lumens"), tr("Of one lamp, from its box."))
        return (lumens, _light_field())
    below = tr("Below the lamp’s middle, with nothing between, at full power.")
    return (
        quantity(lamp, "output.distance", tr("Measured below"), below),
        quantity(lamp, "output.ppfd", tr("PPFD there"), tr("From a quantum meter.")),
        quantity(lamp, "output.lux", tr("Lux there"), tr("From a lux meter; PPFD goes before it.")),
        _light_field(),
    )


def _light_field() -> FormField:
    """Return the choice of a lamp's kind of light; watts and PPF may leave it open."""
    return derived(
        "output.spectrum", tr("Kind of light"),
        tr("Turns lumens and lux into photons, and light into what a lux meter reads."), "choice",
        lambda design, thing: chosen_light(fresh(design, thing)),  # type: ignore[arg-type]
        lambda design, thing, key: put_thing(
            design, fresh(design, thing), set_at(fresh(design, thing), ("output", "spectrum"), key)
        ),
        options=_light_options, asks=FROM_FILE,
    )  # fmt: skip


def _light_options(design: Design, thing: Thing) -> list[tuple[Any, str]]:
    lamp = fresh(design, thing)
    assert isinstance(lamp, Lamp)
    found = kinds_of_light(lamp.own_spectrum, chosen_light(lamp))
    needed = isinstance(lamp.output, FromLumens | FromReading)
    return found if needed else [(None, tr("not known")), *found]


# How it spreads ----------------------------------------------------------------------------------


def _spread_section(lamp: Lamp) -> Section:
    another = tr("Another photometric file…") if lamp.measured else tr("From a photometric file…")
    links = [Link(another, asks=DISTRIBUTION)]
    if lamp.measured is not None:
        links.append(Link(tr("Leave the file’s light out again"), _drop_measured))
    shown = lamp.measured is not None or lamp.form == "spot"
    return Section(
        tr("How it spreads"), _shape_fields(lamp), tuple(links), note=_spread_note,
        picture=SpreadPlot if shown else None,
    )  # fmt: skip


def _shape_fields(lamp: Lamp) -> tuple[FormField, ...]:
    tilt = quantity(lamp, "tilt", tr("Tilt"), tr("About its long axis, positive to the back."))
    if lamp.measured is not None:
        tip = tr("Which way the file’s plane C0 points; turn it if light falls the wrong way.")
        lies = choice(lamp, "measured.turn", tr("Plane C0 lies"), tip, turns())
        return (tilt, lies) if len(lamp.measured.c.split()) > 1 else (tilt,)
    if lamp.form != "spot":
        return (tilt,)
    half = quantity(
        lamp, "half_angle", tr("Half angle"),
        tr("Where the light has fallen to half; small angles reach far."), "angle",
    )  # fmt: skip
    return (tilt, half)


def _spread_note(design: Design, thing: Thing) -> str:
    lamp = fresh(design, thing)
    assert isinstance(lamp, Lamp)
    if lamp.measured is None:
        if lamp.form == "spot":
            return tr("Taken as a power of the cosine.")
        return tr("Taken as even from its whole lit face, as boards without lenses are.")
    words = tr("As measured in ‘{file}’.").format(file=lamp.measured.file)
    shape = spread(lamp)
    up = upward_share(shape) if shape is not None else 0.0
    if up < _LEAST_UP:
        return words
    share = show(round(up, 2), "fraction", design.units)
    return words + " " + tr("{share} of its light goes up.").format(share=share)


def _drop_measured(design: Design, thing: Thing) -> Design:
    lamp = fresh(design, thing)
    assert isinstance(lamp, Lamp)
    return put_thing(design, lamp, replace(lamp, measured=None))


# Size and chain ----------------------------------------------------------------------------------


def _size_links(design: Design, lamp: Lamp) -> tuple[Link, ...]:
    """Return the offer of the size that a measured lamp's file tells of."""
    size = length_and_width(lamp.measured) if lamp.measured else None
    if size is None or lamp.form == "spot":
        return ()
    if max(abs(size[0] - lamp.width), abs(size[1] - lamp.depth)) < _SAME_SIZE:
        return ()
    length, width = (show(side, "length", design.units) for side in size)
    words = tr("The file says {length} × {width}; use it").format(length=length, width=width)
    return (Link(words, _use_size),)


def _use_size(design: Design, thing: Thing) -> Design:
    lamp = fresh(design, thing)
    assert isinstance(lamp, Lamp) and lamp.measured is not None
    size = length_and_width(lamp.measured)
    assert size is not None
    return put_thing(design, lamp, sized(lamp, size))


def _size_fields(lamp: Lamp) -> tuple[FormField, ...]:
    count = quantity(
        lamp, "count", tr("How many"), tr("Equal ones side by side count as one part.")
    )
    found = [
        quantity(lamp, "width", tr("Length"), tr("Along the lamp.")),
        quantity(lamp, "depth", tr("Width"), tr("Across one of them.")),
        quantity(lamp, "height", tr("Height"), tr("From its underside to its top.")),
        count,
    ]
    if lamp.count > 1:
        found.append(quantity(lamp, "spacing", tr("Apart"), tr("From middle to middle.")))
    return tuple(found)


def _chain_fields(lamp: Lamp) -> tuple[FormField, ...]:
    return (
        quantity(lamp, "chain_most", tr("Most in a chain"), tr("As its maker allows."), "count"),
        quantity(lamp, "chain_current", tr("Chain’s current"), tr("What its link lead may carry.")),
        tick(lamp, "driver_inside", tr("Driver inside"), tr("Its driver’s heat stays in the box.")),
        tick(lamp, "surface_hot", tr("Gets hot"), tr("Its surface can burn leaves and hands.")),
    )
