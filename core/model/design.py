"""The document: one room, the current variant's parts, and everything else a file holds.

References between parts are checked here; each part's own rules are in its class.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import Annotated, Any, Literal, Self, TypeVar

from pydantic import Field, model_validator

from core.model.base import (
    ROOM,
    Current,
    Days,
    Extent,
    Frozen,
    Half,
    Key,
    Name,
    Part,
    Pressure,
    Text,
    Voltage,
)
from core.model.building import build, replace, values
from core.model.devices import (
    Cooler,
    DuctFan,
    Fan,
    FeedLine,
    Fogger,
    Heater,
    Opening,
    Reservoir,
)
from core.model.electric import Humidistat, Lead, Strip, Thermostat, Timer
from core.model.enclosure import Enclosure
from core.model.lamps import Lamp
from core.model.references import check_references, part_at
from core.model.room import AnyFixture, Room
from core.model.season import SUMMER, WINTER, Season
from core.model.shelving import Bay, PlantGroup, Plants, Platform, ShelfUnit, Tray
from core.model.tap import TapWater

AnyPart = Annotated[
    Enclosure
    | ShelfUnit
    | Bay
    | Platform
    | Tray
    | Plants
    | Lamp
    | Fan
    | DuctFan
    | Opening
    | Reservoir
    | FeedLine
    | Fogger
    | Cooler
    | Heater
    | Strip
    | Lead
    | Timer
    | Thermostat
    | Humidistat,
    Field(discriminator="kind"),
]

System = Literal["metric", "us"]
Kind = TypeVar("Kind", bound=Part)


class Practice(Frozen):
    """The electrical practice that limits are judged by; every number may be changed.

    ``continuous_factor`` multiplies loads that last three hours or more before they are compared
    with the breaker. ``plug_share`` is the share of an outlet's limit that one plug may take; None:
    by the region. [V, A]
    """

    region: Literal["north-america", "elsewhere"] = "elsewhere"
    voltage: Voltage = 230.0
    continuous_factor: Annotated[float, Field(ge=1, le=2)] = 1.0
    breaker: Current = 16.0
    outlet_limit: Current = 13.0
    strip_limit: Current = 10.0
    plug_share: Annotated[float, Field(gt=0, le=1)] | None = None

    @property
    def one_plug(self) -> float:
        """The share of an outlet's limit that one plug may take: as given, else by the region.

        In North America 80 %: NEC 210.21(B)(2), 12 A at a 15 A receptacle (secondary copy).
        """
        return self.plug_share or (0.8 if self.region == "north-america" else 1.0)


EUROPE = Practice()
NORTH_AMERICA = Practice(
    region="north-america",
    voltage=120.0,
    continuous_factor=1.25,
    breaker=15.0,
    outlet_limit=15.0,
    strip_limit=15.0,
)


class StockPrice(Frozen):
    """What one thing costs that is bought to build with and is no part: a bar, a roll, a fitting.

    ``key`` is that of a `core.materials.wares.Ware`; ``price`` is for one, or for a metre of what
    goes by length; ``owned`` is how many, or how many metres, need not be bought.
    """

    key: Key
    price: Annotated[float, Field(ge=0, le=1e6)] | None = None
    owned: Annotated[float, Field(ge=0, le=10_000)] = 0.0


class Prices(Frozen):
    """What energy, water and materials cost; ``currency`` is any short text. [per kWh, per m³]

    ``stock`` lists what the grower knows of bars, sheets and fittings; ``ready_made`` is what a
    ready-made thing in place of this design would cost.
    """

    currency: Annotated[str, Field(min_length=1, max_length=8)] = "€"
    energy: Annotated[float, Field(ge=0, le=100)] = 0.30
    energy_night: Annotated[float, Field(ge=0, le=100)] | None = None
    night_from: Annotated[int, Field(ge=0, le=1440)] = 22 * 60
    night_to: Annotated[int, Field(ge=0, le=1440)] = 6 * 60
    water: Annotated[float, Field(ge=0, le=1000)] = 4.0
    ready_made: Annotated[float, Field(ge=0, le=1e7)] | None = None
    stock: Annotated[tuple[StockPrice, ...], Field(max_length=500)] = ()

    def of(self, key: str) -> StockPrice:
        """Return what is known of one thing; nothing, where it is not listed."""
        return next((item for item in self.stock if item.key == key), StockPrice(key=key))

    def with_stock(self, item: StockPrice) -> Prices:
        """Return the prices with one thing's entry replaced, or taken out where it says nothing."""
        others = tuple(other for other in self.stock if other.key != item.key)
        says = item.price is not None or item.owned > 0
        return replace(self, stock=(*others, item) if says else others)


class Targets(Frozen):
    """What the grower asks for beyond the plants' own wants. [days, m, per day, Pa]

    ``away_days`` is how long nobody is there to refill, ``floor_load`` what the floor may carry
    as somebody who knows the building said; None: nothing is asked. ``aisle`` is the clear floor
    before what is tended from within the enclosure, ``seated`` whether all of it is to be used
    from a wheelchair.
    """

    refill_days: Days = 5.0
    away_days: Days | None = None
    walkway: Extent = 0.70
    reach: Extent = 0.60
    aisle: Extent = 0.50
    seated: bool = False
    cost_per_day: Annotated[float, Field(ge=0, le=1000)] | None = None
    floor_load: Pressure | None = None


class Variant(Frozen):
    """One layout of the same room."""

    id: Key
    name: Name
    notes: Text = ""
    parts: tuple[AnyPart, ...] = ()


class Design(Frozen):
    """The whole document with one variant's parts open for work; ``others`` are kept aside."""

    name: Name = "New design"
    units: System = "metric"
    room: Room
    seasons: Annotated[tuple[Season, ...], Field(min_length=1, max_length=12)] = (WINTER, SUMMER)
    practice: Practice = EUROPE
    prices: Prices = Prices()
    tap: TapWater = TapWater()
    targets: Targets = Targets()
    groups: tuple[PlantGroup, ...] = ()
    variant_id: Key = "a"
    variant_name: Name = "A"
    variant_notes: Text = ""
    parts: tuple[AnyPart, ...] = ()
    others: tuple[Variant, ...] = ()

    @model_validator(mode="after")
    def _references_hold(self) -> Self:
        check_references(self)
        return self

    @cached_property
    def by_id(self) -> Mapping[str, AnyPart | AnyFixture]:
        """Every part and every fixture of the room by id."""
        things: dict[str, AnyPart | AnyFixture] = {item.id: item for item in self.room.fixtures}
        things.update((part.id, part) for part in self.parts)
        return things

    def part(self, part_id: str) -> AnyPart:
        """Return the part with this id; `KeyError` when there is none."""
        part = self.by_id[part_id]
        if not isinstance(part, Part):
            raise KeyError(part_id)
        return part

    @cached_property
    def enclosure(self) -> Enclosure | None:
        """The enclosure, if one has been placed."""
        return next(self.of(Enclosure), None)

    def of(self, kind: type[Kind]) -> Iterator[Kind]:
        """Iterate over the parts of one class."""
        if kind not in self._sorted_out:
            self._sorted_out[kind] = tuple(part for part in self.parts if isinstance(part, kind))
        found: tuple[Kind, ...] = self._sorted_out[kind]
        return iter(found)

    @cached_property
    def _sorted_out(self) -> dict[type[Part], tuple[Any, ...]]:
        """The parts of each class that has been asked for."""
        return {}

    def group(self, key: str) -> PlantGroup | None:
        """Return the plant group with this key, or None."""
        return next((group for group in self.groups if group.key == key), None)

    def season(self, season_id: str | None) -> Season:
        """Return the season with this id; the first one for None or an unknown id."""
        return next((item for item in self.seasons if item.id == season_id), self.seasons[0])

    @cached_property
    def held(self) -> Mapping[str, tuple[AnyPart, ...]]:
        """What rests directly on, in or under each host, by the host's id."""
        found: dict[str, list[AnyPart]] = {}
        for part in self.parts:
            found.setdefault(part.place.host, []).append(part)
        return {host: tuple(parts) for host, parts in found.items()}

    def carried(self, part_id: str) -> tuple[AnyPart, ...]:
        """Return all that rests on, in or under a part, directly or through others.

        What rests on it directly comes first; parts as near as each other keep their order.
        """
        found: list[AnyPart] = []
        level = list(self.held.get(part_id, ()))
        while level:
            found += level
            level = [part for host in level for part in self.held.get(host.id, ())]
            level.sort(key=lambda part: self._order[part.id])
        return tuple(found)

    @cached_property
    def _order(self) -> Mapping[str, int]:
        return {part.id: number for number, part in enumerate(self.parts)}

    def with_parts(self, changed: Mapping[str, AnyPart | AnyFixture | None]) -> Design:
        """Return the design with some parts replaced, added (new ids) or removed (None).

        The room's fixtures may be among them.

        Raises
        ------
        DesignError
            If a reference would break.
        """
        fixtures, parts = self.room.fixtures, self.parts
        new = [item for key, item in changed.items() if key not in self.by_id and item is not None]
        kept_parts = [changed.get(part.id, part) for part in parts]
        kept_fixtures = [changed.get(item.id, item) for item in fixtures]
        fields: dict[str, Any] = {
            "parts": (*filter(None, kept_parts), *(item for item in new if isinstance(item, Part)))
        }
        fixed = (*filter(None, kept_fixtures), *(i for i in new if not isinstance(i, Part)))
        if fixed != fixtures:
            fields["room"] = replace(self.room, fixtures=fixed)
        return self.having(**fields)

    def having(self, **fields: Any) -> Design:
        """Return the design with other values in some of its fields, checked again.

        Raises
        ------
        DesignError
            If the result breaks a rule of the model.
        """
        return build(Design, "Design", {**values(self), **fields})

    def at(self, season: str | None, half: Half | None) -> Design:
        """Return the design as it is in one season by day or night: absent parts left out."""
        if not any(part.when for part in self.parts):
            return self
        parts = [part_at(part, season, half) for part in self.parts]
        gone = _gone(list(self.parts), parts)
        return self.having(parts=tuple(_loosen(p, gone) for p in parts if p and p.id not in gone))

    def new_id(self, stem: str, taken: Iterable[str] = ()) -> str:
        """Return a part id that starts with ``stem`` and is not in use."""
        used = {*self.by_id, *taken, ROOM}
        return next(name for i in range(1, 100_000) if (name := f"{stem}-{i}") not in used)


def _gone(before: list[AnyPart], after: list[AnyPart | None]) -> set[str]:
    """Return the ids of absent parts and of all they carry or feed."""
    gone = {old.id for old, new in zip(before, after, strict=True) if new is None}
    grown = True
    while grown:
        more = {p.id for p in before if p.id not in gone and (_needs(p) & gone)}
        gone |= more
        grown = bool(more)
    return gone


def _needs(part: AnyPart) -> set[str]:
    needs = {part.place.host}
    if isinstance(part, FeedLine):
        needs |= {part.source, part.target}
    return needs


def _loosen(part: AnyPart, gone: set[str]) -> AnyPart:
    """Take back references to absent parts: what was plugged into one counts as unplugged."""
    plug = getattr(part, "plug", None)
    control = getattr(part, "control", None)
    changes: dict[str, Any] = {}
    if plug is not None and plug.into in gone:
        changes["plug"] = None
    if control in gone:
        changes["control"] = None
    return replace(part, **changes) if changes else part
