"""What is read of all lamps together and of whole levels: photons per energy, use, what is lost.

Zones are `core.light.zone_rows`' affair.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.light.maps import REFLECTANCE_OFF
from core.light.methods import CELLS, EFFICACY, LOST, USE
from core.light.survey import Survey
from core.light.zone_rows import light_number
from core.phrases import Amount, percent, phrase
from core.power.tree import running_watts
from core.reading import Reading, reading
from core.study import Study

_KWH = 3.6
"""Megajoules in a kilowatt hour. [MJ]"""


def level_rows(study: Study, found: Survey, method: float) -> Iterator[Reading]:
    """Iterate over the mean light of each level with plants or lamps, lit place or not."""
    for level in found.levels:
        off = level.off(method)
        line = phrase(
            "{value} over all of {where}: {low} to {high}",
            value=light_number(level.mean),
            where=study.level_words(level.level),
            low=light_number(level.low),
            high=light_number(level.high),
        )
        yield reading(
            "light", "ppfd-level", level.level[0], study.level_words(level.level), level.mean,
            "photon_flux_density", line, CELLS, spread=_about(level.mean, off),
        )  # fmt: skip


def whole_rows(found: Survey, method: float) -> Iterator[Reading]:
    """Iterate over what is read of all lamps together."""
    everywhere = phrase("all lamps")
    sent = efficacy(found)
    if sent is not None:
        line = phrase("{value} by all lamps", value=Amount(sent, "photon_efficacy"))
        yield reading(
            "light", "efficacy", "", everywhere, sent, "photon_efficacy", line, EFFICACY,
            spread=_about(sent, _flux_off(found)),
        )  # fmt: skip
    used = use(found)
    if used is not None:
        line = phrase("{value} lands on leaf tops", value=Amount(used, "photon_efficacy"))
        yield reading(
            "light", "use", "", everywhere, used, "photon_efficacy", line, USE,
            spread=_about(used, _off_together(found, method)),
        )  # fmt: skip
    share = lost(found)
    if share is not None:
        line = phrase(
            "{share} of the light leaves through covers and open faces",
            share=percent(share),
        )
        off = REFLECTANCE_OFF * share * (1 - share)
        yield reading(
            "light", "lost", "", everywhere, share, "fraction", line, LOST,
            spread=(share - off, share + off),
        )  # fmt: skip


def _about(value: float, off: float) -> tuple[float, float]:
    return value * (1 - off), value * (1 + off)


def efficacy(found: Survey) -> float | None:
    """Return photons of all lamps over their watts, as they are dimmed. [µmol/J]"""
    watts = sum(running_watts(lamp.part) for lamp in found.lamps)
    photons = sum(lamp.ppf * lamp.part.dimming for lamp in found.lamps)
    return photons / watts if watts > 0 else None


def _flux_off(found: Survey) -> float:
    flux = found.lighting.ppf * found.lighting.dimming
    total = float(flux.sum())
    return float(flux @ found.lighting.uncertainty) / total if total > 0 else 0.0


def kwh_per_mol(found: Survey) -> float | None:
    """Return the lamps' energy for each mole that lands on leaf tops. [kWh/mol]"""
    hours = found.lighting.levels.sum(axis=1) / 60
    energy = sum(
        running_watts(lamp.part) * lit / 1000 for lamp, lit in zip(found.lamps, hours, strict=True)
    )
    moles = sum(zone.dli * zone.area.area for zone in found.zones)
    return float(energy) / moles if moles > 0 else None


def use(found: Survey) -> float | None:
    """Return the photons that land on leaf tops in a day over the lamps' energy. [µmol/J]"""
    energy = kwh_per_mol(found)
    return 1 / (_KWH * energy) if energy else None


def _off_together(found: Survey, method: float) -> float:
    """Return the relative uncertainty of all zones' light, taken as erring together."""
    weights = [zone.dli * zone.area.area for zone in found.zones]
    offs = [zone.off(method) for zone in found.zones]
    return sum(w * off for w, off in zip(weights, offs, strict=True)) / (sum(weights) or 1.0)


def lost(found: Survey) -> float | None:
    """Return the share of a day's photons that leaves the growing space; None if not known. [1]"""
    each = found.lighting.lost
    sent = found.lighting.ppf * found.lighting.dimming * found.lighting.levels.sum(axis=1)
    return float(sent @ each) / float(sent.sum()) if each is not None and sent.sum() > 0 else None
