"""Sums of money as text, in whatever currency a design names.

Nothing is converted; no currency is worth anything here.
"""

from __future__ import annotations

_BEFORE = {"$", "£", "¥"}


def money(amount: float, currency: str) -> str:
    """Return a sum with two decimals and its currency.

    Examples
    --------
    >>> money(0.456, "€"), money(1234.5, "$")
    ('0.46 €', '$1234.50')
    """
    text = f"{abs(amount):.2f}"
    sign = "−" if amount < 0 and float(text) else ""
    if currency in _BEFORE:
        return f"{sign}{currency}{text}"
    return f"{sign}{text} {currency}"
