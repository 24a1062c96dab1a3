"""Making model records from loose values, with errors told as sentences.

Rules themselves stand in the record classes; this module only words what pydantic found.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from core.errors import DesignError, InputError
from core.model.base import Unit
from core.units import show

Record = TypeVar("Record", bound=BaseModel)


def build(kind: type[Record], thing: str, values: Mapping[str, Any]) -> Record:
    """Return a checked record of class ``kind``.

    Raises
    ------
    DesignError
        If a value breaks a rule; the text names ``thing``, the field, its value, the rule and
        the way out.
    """
    try:
        return kind.model_validate(dict(values))
    except ValidationError as error:
        raise DesignError(sentence(error, kind, thing)) from None


def replace(record: Record, **changes: Any) -> Record:
    """Return the record with some fields changed, checked as a new one would be.

    Raises
    ------
    DesignError
        As `build`.
    """
    unknown = next((field for field in changes if field not in type(record).model_fields), None)
    thing = str(getattr(record, "name", type(record).__name__))
    if unknown:
        raise DesignError(f"{thing}: there is no setting '{unknown}'; leave it out.")
    return build(type(record), thing, {**values(record), **changes})


def values(record: BaseModel) -> dict[str, Any]:
    """Return a record's fields as they are; what it has worked out since is left out."""
    return {name: getattr(record, name) for name in type(record).model_fields}


def sentence(error: ValidationError, kind: type[BaseModel], thing: str) -> str:
    """Return the first thing wrong, as one sentence."""
    first = error.errors(include_url=False)[0]
    if first["type"] == "value_error":
        return str(first["ctx"]["error"])
    path = [step for step in first["loc"] if not _is_tag(step)]
    where = " ".join(str(step).replace("_", " ") for step in path) or "value"
    value = _shown(first["input"], _unit(kind, path))
    rule, way_out = _rule(first, _unit(kind, path))
    return f"{thing}: {where} = {value} {rule}; {way_out}."


def _is_tag(step: int | str) -> bool:
    return isinstance(step, str) and step.startswith(("function-", "constrained-", "nullable"))


def _unit(kind: type[BaseModel], path: list[int | str]) -> str | None:
    """Return the unit kind of the field that ``path`` starts with, if it has one."""
    field = kind.model_fields.get(str(path[0])) if path else None
    if field is None:
        return None
    return next((item.kind for item in field.metadata if isinstance(item, Unit)), None)


def _shown(value: object, unit: str | None) -> str:
    if unit and isinstance(value, int | float) and not isinstance(value, bool):
        try:
            return show(float(value), unit)
        except InputError:
            return repr(value)
    text = value if isinstance(value, str) else repr(value)
    return f"'{text}'" if len(text) <= 60 else f"'{text[:57]}…'"


def _rule(first: Any, unit: str | None) -> tuple[str, str]:
    context = first.get("ctx", {})
    match first["type"]:
        case "greater_than_equal" if context["ge"] == 0:
            return "must not be negative", "enter 0 or more"
        case "greater_than_equal":
            low = _bound(context["ge"], unit)
            return f"must not be below {low}", f"enter {low} or more"
        case "greater_than" if context["gt"] == 0:
            return "must be above 0", "enter more than 0"
        case "greater_than":
            low = _bound(context["gt"], unit)
            return f"must be above {low}", f"enter more than {low}"
        case "less_than_equal":
            high = _bound(context["le"], unit)
            return f"must not be above {high}", f"enter {high} or less"
        case "finite_number":
            return "must be a finite number", "enter an ordinary number"
        case "missing":
            return "is missing", "give it a value"
        case "extra_forbidden":
            return "is not known here", "leave it out"
        case "literal_error" | "union_tag_invalid":
            known = context.get("expected") or context.get("expected_tags")
            return f"must be one of {known}", "choose one of these"
    return f"cannot be used ({first['msg'].lower()})", "correct it"


def _bound(value: object, unit: str | None) -> str:
    return show(float(value), unit) if unit and isinstance(value, int | float) else str(value)
