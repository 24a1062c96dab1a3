"""How things get their electricity: plugs, strips, leads, timers, controllers, running hours.

Devices themselves are in the modules of what they do; circuits and outlets are in `room`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from core.model.base import (
    Boxed,
    Current,
    Fraction,
    Frozen,
    Half,
    Key,
    Length,
    Minute,
    PartId,
    Power,
    WireArea,
)


class Period(Frozen):
    """On from ``on`` to ``off``, in minutes of the day; wraps midnight; equal means all day."""

    on: Minute
    off: Minute


class Hours(Frozen):
    """When something runs each day: no period means all day; ``ramp`` minutes to full and back."""

    periods: Annotated[tuple[Period, ...], Field(max_length=12)] = ()
    ramp: Annotated[int, Field(ge=0, le=240)] = 0


class Plug(Frozen):
    """Where a device is plugged in, and the lead to there.

    ``into`` is an outlet, a strip, an extension lead, a timer, or the next lamp of a chain.
    """

    into: PartId
    lead_length: Length = 1.5
    wire_area: WireArea | None = None
    drip_loop: bool = False


class Powered(Boxed):
    """A box that draws power.

    ``watts`` is at full power, ``duty`` the share of time it runs while its hours are on (a
    thermostatted device); None means always. ``starts_hard`` marks compressors and motors.
    ``inrush`` is the peak current of one of them at switch-on, ``inrush_most`` how many its maker
    lets start together on one breaker, which goes before it; ``leakage`` what one of them leaks to
    earth while all is well. [A, 1, A]
    """

    watts: Power
    power_factor: Annotated[float, Field(gt=0, le=1)] = 1.0
    hours: Hours = Hours()
    duty: Fraction | None = None
    plug: Plug | None = None
    starts_hard: bool = False
    inrush: Current | None = None
    inrush_most: Annotated[int, Field(ge=1, le=1000)] | None = None
    leakage: Current | None = None


class Strip(Boxed):
    """A strip of sockets; ``limit`` is the current it may carry. [A]"""

    kind: Literal["strip"] = "strip"
    sockets: Annotated[int, Field(ge=1, le=24)] = 6
    limit: Current | None = None
    plug: Plug | None = None


class Lead(Boxed):
    """An extension lead lying in the room; ``length`` is of the cable. [m]"""

    kind: Literal["lead"] = "lead"
    length: Length = 5.0
    wire_area: WireArea = 1.5e-6
    limit: Current | None = None
    sockets: Annotated[int, Field(ge=1, le=12)] = 1
    coiled: bool = False
    plug: Plug | None = None


class Timer(Boxed):
    """A timer between a device and its outlet; what is plugged into it follows its hours."""

    kind: Literal["timer"] = "timer"
    hours: Hours = Hours()
    limit: Current | None = None
    sockets: Annotated[int, Field(ge=1, le=12)] = 1
    plug: Plug | None = None


class SetPoint(Frozen):
    """A controller's target; ``season``/``half`` None means always.

    ``value`` is in °C for a thermostat, 0–1 for a humidistat; so is ``differential``.
    """

    value: float
    differential: Annotated[float, Field(ge=0, le=40)] = 1.0
    season: Key | None = None
    half: Half | None = None


class Thermostat(Boxed):
    """Switches a heater, cooler or fan by temperature."""

    kind: Literal["thermostat"] = "thermostat"
    set_points: tuple[SetPoint, ...] = ()
    minimum_off: Annotated[int, Field(ge=0, le=3600)] = 180


class Humidistat(Boxed):
    """Switches a fogger or an exhaust by relative humidity."""

    kind: Literal["humidistat"] = "humidistat"
    set_points: tuple[SetPoint, ...] = ()
    minimum_off: Annotated[int, Field(ge=0, le=3600)] = 0
