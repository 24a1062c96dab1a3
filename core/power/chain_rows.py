"""The reading of a chain of lamps: how many there are, and how many each limit allows.

The counting is in `core.power.loads`; loads of circuits are read in `core.power.reading`.
"""

from __future__ import annotations

from core.language import tr
from core.phrases import Amount, Phrase, phrase
from core.power.device_rows import NAMEPLATE
from core.power.loads import ChainLoad
from core.reading import Method, Reading, reading

CHAIN = Method(
    tr(
        "Lamps linked in series are counted and held against the maker's number and against the "
        "current of the feed and of the lead between lamps, undimmed."
    ),
    tr("Maker's limits as entered; current from watts, power factor and voltage."),
    tr("The count is exact; watts are taken as right."),
)

CHAIN_DROP = Method(
    tr(
        "Twice the length of each lead of the chain times the peak current of the lamps behind it "
        "and the resistance of its copper, added up from the feed to the lamp that loses most."
    ),
    tr("IEC 60228, class 5; NEC chapter 9, table 8, 75 °C (secondary copies)."),
    tr("Nameplate watts within 5 %; cold copper has a tenth less resistance."),
    (tr("Leads between the lamps of a row are not counted."),),
)


def chain_reading(chain: ChainLoad) -> Reading:
    """Return how many lamps a chain has, against how many it may have."""
    where = phrase("chain from {name}", name=chain.head.name)
    line = _chain_words(chain, where)
    return reading(
        "power", "chain", chain.head.id, where, float(chain.count), "count", line, CHAIN,
        want=(None, chain.most),
        assumptions=_row_assumption(chain),
    )  # fmt: skip


def chain_drop_reading(chain: ChainLoad, drop: float) -> Reading:
    """Return the share of the voltage lost from a chain's feed to the lamp that loses most."""
    where = phrase("chain from {name}", name=chain.head.name)
    words = "{drop} of the voltage is lost along the {where}"
    line = phrase(words, drop=Amount(drop, "fraction"), where=where)
    return reading(
        "power", "chain-drop", chain.head.id, where, drop, "fraction", line, CHAIN_DROP,
        spread=(drop * 0.85, drop * (1 + NAMEPLATE)),
    )  # fmt: skip


def _chain_words(chain: ChainLoad, where: Phrase) -> Phrase:
    if chain.limits is None or chain.most is None:
        return phrase(
            "{count} lamps on the {where}; no limit given", count=chain.count, where=where
        )
    by = {
        "maker": phrase("by its maker"),
        "feed": phrase("by the current of its feed"),
        "lead": phrase("by the current of its lead"),
    }
    return phrase(
        "{count} lamps on the {where}; limit {most} {by}",
        count=chain.count,
        where=where,
        most=int(chain.most),
        by=by[chain.limits.binding],
    )


def _row_assumption(chain: ChainLoad) -> tuple[Phrase, ...]:
    if all(lamp.count == 1 for lamp in chain.lamps):
        return ()
    return (phrase("The lamps of a row are taken as linked to each other"),)
