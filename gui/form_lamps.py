"""Fields of lamps: size, and how much light one gives by whichever number the grower has.

How that light spreads is worked out in `core.light`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from core.language import tr
from core.model import (
    Design,
    FromFlux,
    FromLumens,
    FromReading,
    FromWatts,
    Lamp,
    replace,
)
from gui.form_electric import electric_sections
from gui.form_paths import FormField, Section, choice, derived, fresh, put_thing, quantity, tick

_BASES = (
    ("watts", "its watts alone"),
    ("ppf", "the maker’s PPF"),
    ("lumens", "the maker’s lumens"),
    ("reading", "one meter reading"),
)
# What a lamp starts with when the basis of its light is changed: about that of its watts.
_STARTS: dict[str, Callable[[Lamp], Any]] = {
    "watts": lambda lamp: FromWatts(),
    "ppf": lambda lamp: FromFlux(ppf=round(_flux(lamp), 1)),
    "lumens": lambda lamp: FromLumens(lumens=round(_flux(lamp) / 0.0145, -1)),
    "reading": lambda lamp: FromReading(distance=0.3, ppfd=100.0),
}
_SPECTRA = ("white-led-3000k", "white-led-4000k", "white-led-6500k")


def lamp_sections(design: Design, lamp: Lamp) -> tuple[Section, ...]:
    """Return the fields of a lamp."""
    return (
        Section(tr("Light"), (_basis_field(), *_basis_fields(lamp), *_shape_fields(lamp))),
        Section(tr("Size"), _size_fields(lamp)),
        *electric_sections(design, lamp),
        Section(tr("Chain"), _chain_fields(lamp)),
    )


def _flux(lamp: Lamp) -> float:
    """Return about how much light a lamp gives, from whatever is known. [µmol/s]"""
    if isinstance(lamp.output, FromFlux):
        return lamp.output.ppf
    if isinstance(lamp.output, FromLumens):
        return lamp.output.lumens * 0.0145
    return lamp.watts * FromWatts().efficacy


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
        return (quantity(lamp, "output.efficacy", tr("Efficacy"), tip),)
    if isinstance(output, FromFlux):
        tip = tr("All photons of one lamp at full power, 400 to 700 nm.")
        return (quantity(lamp, "output.ppf", tr("PPF at full"), tip),)
    if isinstance(output, FromLumens):
        lumens = quantity(lamp, "output.lumens", tr("Lumens"), tr("Of one lamp, from its box."))
        return (lumens, _spectrum_field(lamp, output.spectrum))
    below = tr("Below the lamp’s middle, with nothing between, at full power.")
    return (
        quantity(lamp, "output.distance", tr("Measured below"), below),
        quantity(lamp, "output.ppfd", tr("PPFD there"), tr("From a quantum meter.")),
        quantity(lamp, "output.lux", tr("Lux there"), tr("From a lux meter; PPFD goes before it.")),
        _spectrum_field(lamp, output.spectrum),
    )


def _spectrum_field(lamp: Lamp, now: str) -> FormField:
    names = dict.fromkeys((*_SPECTRA, now))
    options = [
        (name, name.replace("-", " ").replace("led", "LED").replace("k", " K")) for name in names
    ]
    tip = tr("Turns lumens into photons; warm white has a few more of them.")
    return choice(lamp, "output.spectrum", tr("Spectrum"), tip, options)


def _shape_fields(lamp: Lamp) -> tuple[FormField, ...]:
    tilt = quantity(lamp, "tilt", tr("Tilt"), tr("About its long axis, positive to the back."))
    if lamp.form != "spot":
        return (tilt,)
    half = quantity(
        lamp, "half_angle", tr("Half angle"),
        tr("Where the light has fallen to half; small angles reach far."), "angle",
    )  # fmt: skip
    return (tilt, half)


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
