"""The one road by which words reach the screen: every visible string passes through `tr`.

The words themselves stay where they are used; translations are gettext catalogues under
`resources/translations`.
"""

from __future__ import annotations

import gettext
from pathlib import Path

_FOLDER = Path(__file__).resolve().parent.parent / "resources" / "translations"
_active: gettext.NullTranslations = gettext.NullTranslations()


def use_language(code: str) -> None:
    """Show all later strings in the language ``code``; unknown codes give English."""
    global _active
    _active = gettext.translation("fernwright", _FOLDER, languages=[code], fallback=True)


def tr(text: str) -> str:
    """Return ``text`` in the language in use."""
    return _active.gettext(text) if text else ""


def trn(one: str, many: str, count: int) -> str:
    """Return ``one`` or ``many``, whichever fits ``count``, in the language in use."""
    return _active.ngettext(one, many, count)
