"""Fields of prices: energy and water, a ready-made thing, and all that is bought to build with.

What is bought is listed by `core.materials.shopping`; a part's own price is in `gui.form_general`.
"""

from __future__ import annotations

from typing import Any

from core.language import tr
from core.materials.shopping import GROUPS, group_name, priced_wares
from core.materials.wares import Ware, priced_for
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
                tr("Prices to build: {group} ({c})").format(
                    group=group_name(group).lower(), c=design.prices.currency
                ),
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
            tr("What you would buy in place of building this; it stands beside the cost."), "sum",
        ),
    )  # fmt: skip


def _price_field(design: Design, name: str, label: str, currency: str) -> FormField:
    return quantity(
        design, f"prices.{name}", label.format(c=currency), tr("From the last bill."), "sum"
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
    """Return what one of it costs, and how many are there already; of lengths by metre or foot."""
    name, unit = ware.name.render(design.units), priced_for(ware.by, design.units)
    price = derived(
        f"stock.{ware.key}.price", _label(design, ware),
        tr("Empty: not known; it counts as nothing and is told."), "quantity",
        lambda design, thing: _price_in(design, ware, unit),
        lambda design, thing, value: _with(
            design, ware, price=None if value is None else value / unit
        ),
        unit="sum", low=0.0, high=1e5, optional=True,
    )  # fmt: skip
    owned = derived(
        f"stock.{ware.key}.owned", tr("owned"),
        tr("{name}: need not be bought.").format(name=name), "quantity",
        lambda design, thing: design.prices.of(ware.key).owned,
        lambda design, thing, value: _with(design, ware, owned=value),
        unit="length" if ware.by == "length" else "count", low=0.0, high=1e4,
    )  # fmt: skip
    return price, owned


def _label(design: Design, ware: Ware) -> str:
    text = "{name}"
    if ware.by == "length":
        text = tr("{name}, a foot") if design.units == "us" else tr("{name}, a metre")
    return text.format(name=ware.name.render(design.units))


def _price_in(design: Design, ware: Ware, unit: float) -> float | None:
    price = design.prices.of(ware.key).price
    return None if price is None else float(f"{price * unit:.10g}")


def _with(design: Design, ware: Ware, **fields: Any) -> Design:
    item: StockPrice = replace(design.prices.of(ware.key), **fields)
    return design.having(prices=design.prices.with_stock(item))
