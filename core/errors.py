"""The exceptions Fernwright raises on purpose, and the form of their messages.

A message says the thing, the quantity with its value, the rule, and the way out. Unsafe designs
are findings (see `core.findings`), never exceptions.
"""


class FernwrightError(Exception):
    """Base of all errors that Fernwright raises on purpose; its text is fit to show to a user."""


class InputError(FernwrightError, ValueError):
    """A value that was typed or passed in cannot be used."""


class DesignError(FernwrightError, ValueError):
    """A part, or the way parts refer to each other, breaks a rule of the model."""


class CancelledError(FernwrightError):
    """Work was given up because its result is no longer wanted."""


class FileError(FernwrightError):
    """A file cannot be read or written; the file on disk is untouched."""


def complaint(thing: str, quantity: str, value: object, rule: str, way_out: str) -> str:
    """Return an error message in the house form.

    Examples
    --------
    >>> complaint("Fan 'Intake'", "flow", "−3 m³/h", "must not be negative", "enter 0 or more")
    "Fan 'Intake': flow = −3 m³/h must not be negative; enter 0 or more."
    """
    return f"{thing}: {quantity} = {value} {rule}; {way_out}."
