"""The reading of what else runs on a circuit, as the grower entered it.

What the design itself runs there is read in `core.power.reading`.
"""

from __future__ import annotations

from core.language import tr
from core.model import Circuit
from core.phrases import Amount, phrase
from core.reading import Method, Reading, reading

OTHERS = Method(
    tr("The current entered for other things on the circuit, times its voltage, all day long."),
    tr("Definition."),
    tr("As good as the current that was entered."),
)


def other_va(circuit: Circuit, voltage: float) -> float:
    """Return what other things on a circuit take, at power factor 1. [VA]"""
    return circuit.other_load * voltage


def counted_other(circuit: Circuit, factor: float) -> float:
    """Return the current that other things count with against the breaker.

    Taken as running for less than three hours on end unless the grower says they last. [A]
    """
    return circuit.other_load * (factor if circuit.other_lasts else 1.0)


def others(circuit: Circuit, voltage: float) -> Reading:
    """Return the reading of other things on a circuit, of which nothing is asked."""
    va = other_va(circuit, voltage)
    where = phrase("other things on {circuit}", circuit=circuit.name)
    line = phrase("{va} by {where}, as entered", va=Amount(va, "apparent_power"), where=where)
    return reading("power", "others", circuit.id, where, va, "apparent_power", line, OTHERS)
