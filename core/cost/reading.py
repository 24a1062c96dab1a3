"""Readings of cost: what a day, a month and a year of running take, by the design's own prices.

Energy comes from the readings of power, water from those of water, what is to be bought from those
of materials; a ready-made thing's price stands beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Protocol, runtime_checkable

from core.cost.money import money
from core.language import tr
from core.materials.reading import METHOD as BUILD_METHOD
from core.materials.reading import MaterialsReadings
from core.model import Cooler, Fogger, Heater, Powered, Prices
from core.phrases import Phrase, phrase
from core.power.device_rows import NAMEPLATE, DeviceLoad
from core.power.energy import Tariff, cost_per_day
from core.power.profile import DAYS_PER_MONTH
from core.power.reading import PowerReadings
from core.power.reading import read as read_power
from core.reading import Method, Reading, SubjectReadings, reading
from core.study import Study

DAYS_PER_YEAR = 365.0

METHOD = Method(
    tr(
        "Watts by the minute, thermostatted devices at the duty entered, else at the duty that the "
        "climate reading finds, times the price of energy at that minute; water as it is refilled, "
        "times its price."
    ),
    tr("Definition; a month is 365/12 days. Prices as entered."),
    tr(
        "Nameplate watts within 5 % (common practice); a refill within its own range. A device "
        "that a controller switches and whose duty nobody knows may rest all day: the lower end."
    ),
    (tr("Standing charges are not counted."),),
)

READY_METHOD = Method(tr("As entered."), tr("Its seller."))


@dataclass(frozen=True)
class DeviceCost:
    """What one device takes a day. [currency/d]"""

    id: str
    name: str
    per_day: float


@dataclass(frozen=True, kw_only=True)
class CostReadings(SubjectReadings):
    """Cost of running.

    Attributes
    ----------
    per_day, per_month, per_year : float
        Energy and water. [currency]
    energy_per_day, water_per_day : float
        The two by themselves; water is 0 where no refill is known. [currency/d]
    by_device : tuple of DeviceCost
        Dearest first.
    currency : str
    build : float or None
        What is still to be bought, as far as it has prices; None where nothing has. [currency]
    build_unpriced : int
        How many lines of the shopping list have none.
    ready_made : float or None
        A ready-made thing in its place, where its price is known. [currency]
    """

    subject: str = "cost"
    per_day: float = 0.0
    per_month: float = 0.0
    per_year: float = 0.0
    energy_per_day: float = 0.0
    water_per_day: float = 0.0
    by_device: tuple[DeviceCost, ...] = ()
    currency: str = ""
    build: float | None = None
    build_unpriced: int = 0
    ready_made: float | None = None


@runtime_checkable
class KnowsWater(Protocol):
    """Readings that know the water of a day."""

    @property
    def water_per_day(self) -> tuple[float, float, float] | None:
        """Value, low and high; None: not known. [m³/d]"""


@dataclass(frozen=True)
class Running:
    """What some days take, with the ends of its range. [currency]"""

    value: float
    low: float
    high: float

    def over(self, days: float) -> Running:
        """Return the same over several such days."""
        return Running(self.value * days, self.low * days, self.high * days)

    def plus(self, other: Running) -> Running:
        """Return both together, their ranges' ends added: the safe side."""
        return Running(self.value + other.value, self.low + other.low, self.high + other.high)


def inputs(study: Study) -> Any:
    """Return what cost looks at: prices, the limit, season, and the readings it builds on."""
    design = study.design
    devices = tuple((part.id, part.name, type(part), part.duty) for part in design.of(Powered))
    return (
        design.prices,
        design.targets.cost_per_day,
        study.season.name,
        devices,
        study.done.get("power"),
        study.done.get("water"),
        study.done.get("materials"),
    )


def read(study: Study) -> CostReadings:
    """Return the cost readings of a design."""
    prices = study.design.prices
    running, bought = _running(study), _build(study)
    bought_rows = tuple(_bought_rows(bought, prices))
    rows = (*(running.rows if running else ()), *bought_rows)
    if not rows:
        return CostReadings(nothing=phrase("nothing runs yet"), currency=prices.currency)
    known = running or CostReadings(currency=prices.currency)
    return replace(
        known,
        rows=rows,
        headline=rows[0],
        build=None if bought is None or _is_unknown(bought) else bought.total,
        build_unpriced=0 if bought is None else bought.unpriced,
        ready_made=prices.ready_made,
    )


def _running(study: Study) -> CostReadings | None:
    """Return what running takes; None where nothing runs."""
    prices = study.design.prices
    power, water = _power(study), _water(study)
    if not power.by_device and water is None:
        return None
    energy = cost_per_day(power.profile, tariff(prices))
    least, most = _energy_range(power, prices)
    day = Running(energy, least * (1 - NAMEPLATE), most * (1 + NAMEPLATE))
    day = day if water is None else day.plus(water)
    return CostReadings(
        rows=tuple(_rows(study, day, tuple(_assumptions(study, power, water)))),
        per_day=day.value,
        per_month=day.over(DAYS_PER_MONTH).value,
        per_year=day.over(DAYS_PER_YEAR).value,
        energy_per_day=energy,
        water_per_day=0.0 if water is None else water.value,
        by_device=_by_device(power, prices),
        currency=prices.currency,
    )


def _build(study: Study) -> MaterialsReadings | None:
    found = study.done.get("materials")
    return found if isinstance(found, MaterialsReadings) and found.lines else None


def _is_unknown(bought: MaterialsReadings) -> bool:
    """Tell whether nothing that is still to be bought has a price."""
    wanted = [line for line in bought.lines if line.to_buy > 0]
    return bool(wanted) and all(line.cost is None for line in wanted)


def _bought_rows(bought: MaterialsReadings | None, prices: Prices) -> Iterator[Reading]:
    """Iterate over what is bought once: the build, and a ready-made thing in its place."""
    if bought is not None and not _is_unknown(bought):
        words = "{cost} to build"
        if bought.unpriced:
            words = "{cost} to build; no price for {unpriced} of {lines} lines"
        text = phrase(
            words, cost=money(bought.total, prices.currency), unpriced=bought.unpriced,
            lines=len(bought.lines),
        )  # fmt: skip
        yield reading(
            "cost", "build", "", phrase("to build"), bought.total, "count", text, BUILD_METHOD
        )
    if prices.ready_made is not None:
        text = phrase("{cost} for a ready-made one", cost=money(prices.ready_made, prices.currency))
        yield reading(
            "cost", "ready-made", "", phrase("ready-made"), prices.ready_made, "count", text,
            READY_METHOD,
        )  # fmt: skip


def _power(study: Study) -> PowerReadings:
    done = study.done.get("power")
    return done if isinstance(done, PowerReadings) else read_power(study)


def _water(study: Study) -> Running | None:
    """Return what a day's water takes, where the readings of water know how much it is."""
    done: object = study.done.get("water")
    if not isinstance(done, KnowsWater) or done.water_per_day is None:
        return None
    value, low, high = (volume * study.design.prices.water for volume in done.water_per_day)
    return Running(value, low, high)


def tariff(prices: Prices) -> Tariff:
    """Return the design's tariff."""
    return Tariff(prices.energy, prices.energy_night, prices.night_from, prices.night_to)


def _by_device(power: PowerReadings, prices: Prices) -> tuple[DeviceCost, ...]:
    found = [DeviceCost(load.id, load.name, cost) for load, cost in _costs(power, prices)]
    return tuple(sorted(found, key=lambda item: -item.per_day))


def _costs(power: PowerReadings, prices: Prices) -> list[tuple[DeviceLoad, float]]:
    """Return each device with what it is expected to take a day. [currency/d]"""
    by_minute = tariff(prices).by_minute()
    return [(load, float(load.mean @ by_minute) / 60_000) for load in power.by_device]


def _energy_range(power: PowerReadings, prices: Prices) -> tuple[float, float]:
    """Return the ends of what the devices take by what is known of their duty. [currency/d]"""
    costs = _costs(power, prices)
    low = sum(cost * load.energy_range[0] for load, cost in costs)
    return low, sum(cost * load.energy_range[1] for load, cost in costs)


def _rows(study: Study, day: Running, taken: tuple[Phrase, ...]) -> Iterator[Reading]:
    limit = study.design.targets.cost_per_day
    spans = (
        ("day", 1.0, phrase("a day"), limit),
        ("month", DAYS_PER_MONTH, phrase("a month"), None),
        ("year", DAYS_PER_YEAR, phrase("a year"), None),
    )
    year = phrase("every day of the year is taken as one of the season '{season}'",
                  season=study.season.name)  # fmt: skip
    for name, days, span, most in spans:
        told = (*taken, year) if name != "day" else taken
        yield _row(study, name, day.over(days), span, most, told)


def _row(
    study: Study,
    name: str,
    cost: Running,
    span: Phrase,
    most: float | None,
    taken: tuple[Phrase, ...],
) -> Reading:
    currency = study.design.prices.currency
    line = phrase("{cost} {span}", cost=money(cost.value, currency), span=span)
    if most is not None:
        line = phrase("{cost}; limit {limit}", cost=line, limit=money(most, currency))
    return reading(
        "cost",
        name,
        "",
        span,
        cost.value,
        "count",
        line,
        METHOD,
        spread=(cost.low, cost.high),
        want=(None, most),
        assumptions=taken,
    )


def _assumptions(study: Study, power: PowerReadings, water: Running | None) -> Iterator[Phrase]:
    """Name what was taken because nobody said."""
    if water is None:
        yield phrase("water is not counted: how much is refilled is not known")
    switched = [load.name for load in power.by_device if _counted_in_full(study, load)]
    if switched:
        yield phrase("counted as running all of their hours: {names}", names=", ".join(switched))


def _counted_in_full(study: Study, load: DeviceLoad) -> bool:
    """Tell whether a device that could rest is counted at full power all of its hours."""
    part = study.design.part(load.id)
    always = isinstance(part, Cooler | Heater | Fogger) and load.duty is None
    return load.may_rest or (always and bool((load.mean >= load.series).all()))
