"""What a lux meter or a phone would read over a zone that several lamps light.

Each lamp's light is turned into lux by that lamp's own kind of light; one kind alone is turned in
`core.light.meter`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.light.from_design import LampSource
from core.light.lamp_light import kind_of_light
from core.light.maps import LightMap
from core.light.meter import LUX_METER, PHONE, lux_of
from core.light.methods import METHOD_OFF
from core.light.output import LampLight
from core.phrases import Phrase, phrase


@dataclass(frozen=True)
class ZoneMeter:
    """What a meter held flat at the leaf tops of a zone would show.

    Attributes
    ----------
    lux : float
        Mean over the zone. [lx]
    lux_meter, phone : tuple of (float, float)
        Ends of what one would show, uncertainty of the light, of its kinds and of the meter
        included. [lx]
    assumptions : tuple of Phrase
        The kinds of light it holds for.
    """

    lux: float
    lux_meter: tuple[float, float]
    phone: tuple[float, float]
    assumptions: tuple[Phrase, ...]


def zone_meter(
    light: LightMap,
    lamps: Sequence[LampSource],
    minute: int | None = None,
    *,
    method: float = METHOD_OFF,
) -> ZoneMeter:
    """Return what a lux meter and a phone would read over a zone.

    Parameters
    ----------
    light : LightMap
        Of the zone.
    lamps : sequence of LampSource
        All lamps of the design, in the order of the rows of ``light``.
    minute : int, optional
        Of the day; the mean over the lit hours by default.
    method : float
        Relative uncertainty of how the light was found. [0–1]

    Notes
    -----
    Light that came by way of walls counts with the kind of the lamp that sent it; coloured walls
    would change it.
    """
    kinds = [kind_of_light(lamp.part) for lamp in lamps]
    photons = (light.weights(minute) * light.means).tolist()
    parts = [float(lux_of(part, kind)) for part, (kind, _) in zip(photons, kinds, strict=True)]
    lux = sum(parts)
    off = sum(part * kind.uncertainty for part, (kind, _) in zip(parts, kinds, strict=True))
    share = math.hypot(light.flux_uncertainty, method, off / lux if lux > 0 else 0.0)
    return ZoneMeter(
        lux, _about(lux, share, LUX_METER), _about(lux, share, PHONE),
        _told([kind for kind, part in zip(kinds, parts, strict=True) if part > 0]),
    )  # fmt: skip


def _about(lux: float, share: float, meter: float) -> tuple[float, float]:
    off = math.hypot(share, meter)
    return lux * max(1.0 - off, 0.0), lux * (1.0 + off)


def _told(kinds: Sequence[tuple[LampLight, str]]) -> tuple[Phrase, ...]:
    """Return the kinds of light that lux was worked out for, each once."""
    known = dict.fromkeys(light.name for light, taken in kinds if not taken)
    taken = dict.fromkeys(light.name for light, taken in kinds if taken)
    return (
        *(phrase("Lux for {light}", light=name) for name in known),
        *(phrase("Lux for {light}, taken: no kind of light is known", light=name)
          for name in taken),
    )  # fmt: skip
