"""Which fields the form of each kind of part has: label, place in the model, what it teaches.

Where a part is comes from `gui.form_where`, plugs and hours from `gui.form_electric`, the room's
and the design's own fields from `gui.form_design`; how fields behave is `gui.part_form`'s work.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from core.catalogue import Catalogue
from core.language import tr
from core.model import (
    AnyPart,
    Bay,
    Cooler,
    Design,
    DuctFan,
    Enclosure,
    Fan,
    FeedLine,
    Fogger,
    Heater,
    Humidistat,
    Lamp,
    Lead,
    Opening,
    Plants,
    Platform,
    Reservoir,
    ShelfUnit,
    Strip,
    Thermostat,
    Timer,
    Tray,
    WickMat,
)
from gui.form_electric import control_field, electric_sections, hours_field, set_point_sections
from gui.form_enclosure import enclosure_sections
from gui.form_general import end_sections, model_field, size_section
from gui.form_lamps import lamp_sections
from gui.form_paths import (
    FormField,
    Section,
    choice,
    derived,
    fresh,
    put_thing,
    quantity,
    set_at,
    text,
)
from gui.form_plants import plants_sections
from gui.form_shelving import unit_sections
from gui.form_where import place_fields

_SIDES = (("enclosure", "enclosure"), ("room", "room"), ("outdoors", "outdoors"))


def part_sections(design: Design, part: AnyPart, catalogue: Catalogue) -> tuple[Section, ...]:
    """Return all fields of a part's form, under their headings."""
    where = (text(part, "name", tr("Name"), tr("What it is called everywhere.")),)
    head = Section("", (*where, *place_fields(design, part)))
    more = _SECTIONS.get(type(part), _nothing)
    if isinstance(part, Enclosure):
        own = enclosure_sections(part, catalogue)
    elif isinstance(part, Plants):
        own = plants_sections(design, part, catalogue)
    else:
        own = more(design, part)
    model = model_field(design, part, catalogue)
    made = (Section("", (model,)),) if model else ()
    return (head, *made, *own, *end_sections(design, part))


def _nothing(design: Design, part: Any) -> tuple[Section, ...]:
    return ()


# Shelving ----------------------------------------------------------------------------------------


def _bay(design: Design, bay: Bay) -> tuple[Section, ...]:
    return (size_section(bay),)


def _platform(design: Design, platform: Platform) -> tuple[Section, ...]:
    surface = choice(
        platform, "surface", tr("Top"), tr("Wires let light through, boards do not."),
        (("solid", tr("solid")), ("wire", tr("wire"))),
    )  # fmt: skip
    through = quantity(
        platform, "transmittance", tr("Light let through"), tr("Share of light that passes it.")
    )
    rating = quantity(platform, "rating", tr("Carries at most"), tr("The maker’s rating."))
    body = quantity(
        platform, "displaced", tr("Volume of its body"),
        tr("Takes up water where it stands in a tray."), "volume",
    )  # fmt: skip
    return (size_section(platform), Section(tr("Top"), (surface, through, rating, body)))


def _tray(design: Design, tray: Tray) -> tuple[Section, ...]:
    fill = quantity(tray, "fill", tr("Fill depth"), tr("Water just after a refill, below the rim."))
    mat = derived(
        "wick_mat", tr("Wick mat"), tr("A mat that carries water up to the pots."), "tick",
        lambda design, thing: fresh(design, thing).wick_mat is not None,  # type: ignore[union-attr]
        _put_mat,
    )  # fmt: skip
    days = quantity(
        tray, "measured_days", tr("Days measured"),
        tr("How many days it really lasted between refills; goes before every estimate."),
    )  # fmt: skip
    displaced = quantity(
        tray, "displaced", tr("Taken up inside"),
        tr("Volume of what stands in the water besides pots, a platform for instance."), "volume",
    )  # fmt: skip
    reflect = quantity(
        tray,
        "reflectance",
        tr("Light sent back"),
        tr("Share of light that a planted tray reflects."),
    )
    found = [fill, days, displaced, reflect, mat]
    if tray.wick_mat is not None:
        found.append(
            quantity(tray, "wick_mat.thickness", tr("Mat thickness"), tr("When it is wet."))
        )
    return (size_section(tray), Section(tr("Water"), tuple(found)))


def _put_mat(design: Design, thing: Any, on: bool) -> Design:
    now: Any = fresh(design, thing)
    mat = (now.wick_mat or WickMat()) if on else None
    return put_thing(design, now, set_at(now, ("wick_mat",), mat))


# Air and climate ---------------------------------------------------------------------------------


def _fan(design: Design, fan: Fan) -> tuple[Section, ...]:
    air = (
        quantity(fan, "diameter", tr("Diameter"), tr("Of the blades; narrow jets reach farther.")),
        quantity(fan, "flow", tr("Air flow"), tr("Moved at full speed, free of any duct.")),
        quantity(
            fan, "heading", tr("Blows towards"),
            tr("Seen from above: 0° to the right, 90° to the back, 180° to the left."),
        ),
        quantity(
            fan, "elevation", tr("Tilted up"),
            tr("Up from level; negative blows down onto the leaves."), "angle",
        ),
        quantity(
            fan, "sweep", tr("Swings over"), tr("The whole angle of an oscillating fan; 0° stands "
            "still."), "angle",
        ),
        quantity(fan, "speed_setting", tr("Speed"), tr("Share of full speed it runs at.")),
    )  # fmt: skip
    return (Section(tr("Air"), air), size_section(fan), *electric_sections(design, fan))


def _duct_fan(design: Design, fan: DuctFan) -> tuple[Section, ...]:
    air = (
        quantity(fan, "diameter", tr("Diameter"), tr("Of the duct that fits it.")),
        quantity(fan, "flow", tr("Air flow"), tr("Moved with nothing in its way.")),
        *_joins(fan, tr("Draws from"), tr("Blows into")),
        quantity(fan, "duct_length", tr("Duct"), tr("Every metre of duct costs flow.")),
        quantity(fan, "bends", tr("Bends"), tr("Right angles in the duct.")),
        quantity(
            fan, "filter_drop", tr("Filter drop"), tr("Pressure lost in a filter at full flow.")
        ),
        control_field(design),
    )
    return (Section(tr("Air"), air), size_section(fan), *electric_sections(design, fan))


def _joins(part: Any, first: str, second: str) -> tuple[FormField, FormField]:
    sides = tuple((key, tr(words)) for key, words in _SIDES)
    return (
        choice(part, ("joins", 0), first, tr("The space at this end."), sides),
        choice(part, ("joins", 1), second, tr("The space at the other end."), sides),
    )


def _opening(design: Design, opening: Opening) -> tuple[Section, ...]:
    size = (
        quantity(opening, "width", tr("Width"), tr("Of the gap that is really open.")),
        quantity(opening, "height", tr("Height"), tr("Tall gaps let air in below and out above.")),
        *_joins(opening, tr("From"), tr("To")),
    )
    return (Section(tr("Opening"), size),)


def _cooler(design: Design, cooler: Cooler) -> tuple[Section, ...]:
    air = (
        choice(
            cooler, "style", tr("Style"), tr("A portable one draws its own air from the room."),
            (("window", tr("window")), ("portable", tr("portable"))),
        ),
        quantity(cooler, "cooling", tr("Cooling"), tr("Heat it takes away, from its nameplate.")),
        quantity(cooler, "air_flow", tr("Air flow"), tr("Through its cold side.")),
        *_joins(cooler, tr("Cools"), tr("Heat goes to")),
        control_field(design),
    )  # fmt: skip
    return (Section(tr("Cooling"), air), size_section(cooler), *electric_sections(design, cooler))


def _heater(design: Design, heater: Heater) -> tuple[Section, ...]:
    style = choice(
        heater, "style", tr("Style"), tr("A mat warms what stands on it."),
        (("convector", tr("convector")), ("mat", tr("mat")), ("tube", tr("tube"))),
    )  # fmt: skip
    heat = Section(tr("Heat"), (style, control_field(design)))
    return (heat, size_section(heater), *electric_sections(design, heater))


# Water -------------------------------------------------------------------------------------------


def _reservoir(design: Design, tank: Reservoir) -> tuple[Section, ...]:
    fill = quantity(tank, "fill", tr("Filled to"), tr("Water’s height when full."))
    return (size_section(tank), Section(tr("Water"), (fill,)))


def _feed(design: Design, feed: FeedLine) -> tuple[Section, ...]:
    tanks = [(part.id, part.name) for part in design.of(Reservoir)]
    targets = [
        (part.id, part.name)
        for part in design.parts
        if part.kind in ("fogger", "tray", "reservoir")
    ]
    fields = (
        choice(feed, "source", tr("From"), tr("The reservoir it draws from."), tanks),
        choice(feed, "target", tr("To"), tr("What it fills."), targets),
        choice(
            feed, "drive", tr("Driven by"),
            tr("By gravity, all water above the inlet can run out by itself."),
            (("gravity", tr("gravity")), ("pump", tr("a pump"))),
        ),
        choice(
            feed, "valve", tr("Valve"), tr("A float closes at the fill line; a tap by hand only."),
            (("none", tr("none")), ("tap", tr("tap")), ("float", tr("float"))),
        ),
        quantity(feed, "inlet", tr("Open end at"), tr("Above the foot of what it fills.")),
        quantity(feed, "bore", tr("Bore"), tr("Inside the tube.")),
        quantity(feed, "length", tr("Length"), tr("Of the tube.")),
    )  # fmt: skip
    return (Section(tr("Feed"), fields),)


def _fogger(design: Design, fogger: Fogger) -> tuple[Section, ...]:
    water = (
        quantity(fogger, "output", tr("Fog"), tr("Water turned to fog at full power.")),
        quantity(fogger, "tank", tr("Own tank"), tr("Water it holds itself."), "volume"),
        control_field(design),
    )
    return (Section(tr("Fog"), water), size_section(fogger), *electric_sections(design, fogger))


# Electric ----------------------------------------------------------------------------------------


def _electric_only(design: Design, part: Any) -> tuple[Section, ...]:
    return (*electric_sections(design, part), size_section(part))


def _timer(design: Design, timer: Any) -> tuple[Section, ...]:
    hours = Section(tr("Hours"), (hours_field(timer),))
    return (hours, *electric_sections(design, timer), size_section(timer))


def _controller(design: Design, part: Any) -> tuple[Section, ...]:
    return (*set_point_sections(design, part), size_section(part))


_SECTIONS: dict[type[Any], Callable[[Design, Any], tuple[Section, ...]]] = {
    ShelfUnit: unit_sections,
    Bay: _bay,
    Platform: _platform,
    Tray: _tray,
    Lamp: lamp_sections,
    Fan: _fan,
    DuctFan: _duct_fan,
    Opening: _opening,
    Cooler: _cooler,
    Heater: _heater,
    Reservoir: _reservoir,
    FeedLine: _feed,
    Fogger: _fogger,
    Strip: _electric_only,
    Lead: _electric_only,
    Timer: _timer,
    Thermostat: _controller,
    Humidistat: _controller,
}
