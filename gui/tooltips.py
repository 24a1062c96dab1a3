"""Tooltips that show text as it is, however it was named, and break long lines.

What a tooltip says is decided where the thing is made.
"""

from __future__ import annotations

from html import escape


def plain_tip(text: str) -> str:
    """Return ``text`` so that Qt shows every character and every line of it; empty stays empty."""
    return f"<p>{escape(text)}</p>".replace("\n", "<br>") if text else ""
