"""Fields of prices: energy and water, a ready-made thing, and all that is bought to build with.

What is bought is listed by `core.materials.shopping`; a part's own price is in `gui.form_general`.
"""

from __future__ import annotations

from typing import Any

from core.language import tr
from core.materials.shopping import GROUPS, group_name, priced_wares
from core.materials.wares import Ware
from core.model import Design, StockPrice, replace
from gui.form_paths import FormField, Section, derived, quantity, set_at, text


def price_sections(design: Design) -> tuple[Section, ...]:
    """Return running prices, then a section for each group of what is bought to build."""
    wares = priced_wares(design)
    bought = [
        (group, [ware for ware in wares if ware.group == group])
        for group in GROUPS
        if any(ware.group == group for ware in wares)
    ]
    return (
        Section(tr("Prices"), _running_fields(design)),
        *(
            Section(
                tr("Prices to build: {group}").format(group=group_name(group).lower()),
                tuple(field for ware in found for field in _ware_fields(design, ware)),
            )
            for group, found in bought
        ),
    )


def _running_fields(design: Design) -> tuple[FormField, ...]:
    currency = design.prices.currency
    return (
        text(design, "prices.currency", tr("Currency"), tr("Any short sign.")),
        _price_field(design, "energy", tr("A kWh ({c})"), currency),
        _price_field(design, "energy_night", tr("A kWh at night ({c})"), currency),
        _minute_field("night_from", tr("Night rate from")),
        _minute_field("night_to", tr("Night rate to")),
        _price_field(design, "water", tr("A m³ of water ({c})"), currency),
        quantity(
            design, "prices.ready_made", tr("A ready-made one ({c})").format(c=currency),
            tr("What you would buy in place of building this; it stands beside the cost."), "count",
        ),
    )  # fmt: skip


def _price_field(design: Design, name: str, label: str, currency: str) -> FormField:
    return quantity(
        design, f"prices.{name}", label.format(c=currency), tr("From the last bill."), "count"
    )


def _minute_field(name: str, label: str) -> FormField:
    path = ("prices", name)
    return derived(
        ".".join(path), label, tr("A time of day."), "quantity",
        lambda design, thing: getattr(design.prices, name) * 60.0,
        lambda design, thing, seconds: set_at(design, path, round(seconds / 60)),
        unit="time_of_day",
    )  # fmt: skip


def _ware_fields(design: Design, ware: Ware) -> tuple[FormField, FormField]:
    """Return what one of it costs, and how many are there already."""
    currency, name = design.prices.currency, ware.name.render(design.units)
    by_metre = ware.by == "length"
    label = tr("{name}, a metre ({c})") if by_metre else tr("{name} ({c})")
    price = derived(
        f"stock.{ware.key}.price", label.format(name=name, c=currency),
        tr("Empty: not known; it counts as nothing and is told."), "quantity",
        lambda design, thing: design.prices.of(ware.key).price,
        lambda design, thing, value: _with(design, ware, price=value),
        unit="count", low=0.0, high=1e6, optional=True,
    )  # fmt: skip
    words = tr("of it owned, in metres") if by_metre else tr("of them owned")
    owned = derived(
        f"stock.{ware.key}.owned", words,
        tr("{name}: need not be bought.").format(name=name), "quantity",
        lambda design, thing: design.prices.of(ware.key).owned,
        lambda design, thing, value: _with(design, ware, owned=value),
        unit="count", low=0.0, high=1e4,
    )  # fmt: skip
    return price, owned


def _with(design: Design, ware: Ware, **fields: Any) -> Design:
    item: StockPrice = replace(design.prices.of(ware.key), **fields)
    return design.having(prices=design.prices.with_stock(item))
