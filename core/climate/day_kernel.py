"""The day's kernel, compiled by numba: steps of one zone through time; imported only to run one.

A step takes all coefficients as constant, once at its start and once more at its middle, and is
exact for these. It is shortened until it ends where a controller switches. What flows is summed
up from the same means that move the state, so that heat and water close to rounding.
"""

# numba reads the types of its functions from the arguments of the first call.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numba

from core.climate import scalar
from core.climate.evaporation import VAPOUR_GAS_CONSTANT
from core.climate.ledgers import (
    AIR,
    COIL,
    COVERS,
    ELECTRIC,
    ENERGY_ENTRIES,
    FOGGED,
    LEAVES,
    MOISTURE_ENTRIES,
    RAIN,
    TRAYS,
    WATER,
)
from core.climate.psychrometrics import (
    DRY_AIR_GAS_CONSTANT,
    DRY_AIR_HEAT,
    LATENT_HEAT_AT_ZERO,
    MASS_RATIO,
    VAPOUR_HEAT,
)
from core.climate.tables import (
    ALWAYS,
    AREA,
    BACK,
    BEFORE,
    BEYOND,
    BY_TEMPERATURE,
    BYPASS,
    CAPACITY,
    CARRIES,
    COIL_FLOW,
    COIL_T,
    COVER,
    DRYING,
    ELECTRICITY,
    FACTOR,
    FOG,
    FOG_HEAT,
    FOGGING,
    FORCED_LENGTH,
    FREE_LENGTH,
    LATENT,
    LIT,
    LOSING,
    OUT_DENSITY,
    OUT_FLOW,
    OUT_T,
    OUT_W,
    OUTDOORS,
    OUTER,
    PASSES,
    RATIO,
    REST,
    ROOM,
    ROOM_DENSITY,
    ROOM_FLOW,
    ROOM_T,
    ROOM_W,
    SHARE,
    SLOPE,
    STAGE_W,
    TAKEN,
    TEMPERATURE,
    TOUCHED,
    TRAY,
    WARMING,
    WATTS,
    WETTING,
)
from core.climate.zone import MINUTES
from core.constants import KELVIN

WATER_HEAT = 4186.0
"""Specific heat of liquid water. [J/(kg K)]"""

_SHARPEST = 0.05
"""How closely the moment of switching is found. [s]"""

_PAST = 1e-3
"""How far past its switching point a controller may be found, in its differential."""

_FROM_DRY, _FROM_BEFORE = 2, 1
"""Newton steps to a surface's temperature, from that of a dry one or from the last step's."""

# Without numba's own memory: nothing is allocated here, and counting references to the tables
# at each call would cost a third of the time.
_OPTIONS: dict[str, Any] = {"nogil": True, "cache": True, "error_model": "numpy", "_nrt": False}
compiled: Callable[[Any], Any] = numba.njit(**_OPTIONS)

saturation = compiled(scalar.saturation)
buoyant_flow = compiled(scalar.buoyant_flow)
wet_surface = compiled(scalar.wet_surface)
relaxed = compiled(scalar.relaxed)


@compiled
def saturated_ratio(t, pressure):
    """Return the humidity ratio of saturated air and its slope."""
    vapour, slope = saturation(t)
    dry = pressure - vapour
    return MASS_RATIO * vapour / dry, MASS_RATIO * slope * pressure / dry**2


@compiled
def humidity(t, w, pressure):
    """Return the relative humidity of air."""
    return pressure * w / (MASS_RATIO + w) / saturation(t)[0]


@compiled
def enthalpy(t, w):
    """Return the heat content of moist air for each kilogram of dry air."""
    return DRY_AIR_HEAT * t + w * (LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * t)


@compiled
def balance_surface(given, n, minute, t, mass_t, w, done):
    """Find one surface's temperature and the vapour it takes; negative where it gives some off."""
    kind, inner, vapour = given.kind[n], given.heat[n, minute], given.vapour[n, minute]
    area, outer = given.surface[n, AREA], given.surface[n, OUTER]
    lit = given.absorbed[n, minute] / area if area > 0 else 0.0
    thickness = given.pressure / ((MASS_RATIO + w) * VAPOUR_GAS_CONSTANT * (t + KELVIN))
    back = mass_t
    if kind == COVER:
        share = given.surface[n, BEYOND]
        back = (1 - share) * given.around[ROOM_T, minute] + share * given.around[OUT_T, minute]
    if kind == TRAY:
        wet, _ = saturated_ratio(done[n, BEFORE], given.pressure)
        above = (done[n, BEFORE] + KELVIN) * (1 + 0.608 * wet)
        lightness = 1 - (t + KELVIN) * (1 + 0.608 * w) / above
        convection, vapour = wet_surface(
            lightness, given.speed[n, minute],
            given.surface[n, FREE_LENGTH], given.surface[n, FORCED_LENGTH],
        )  # fmt: skip
        inner += convection
        vapour *= given.surface[n, FACTOR]
    both = inner + outer
    dry = (inner * t + outer * back + lit) / both
    surface = dry if kind == COVER else done[n, BEFORE]
    pressure, rise = saturation(surface)
    taken = vapour * (thickness * w - pressure / (VAPOUR_GAS_CONSTANT * (surface + KELVIN)))
    slope, latent = 0.0, 0.0
    if kind == COVER and taken <= 0:
        taken = 0.0
    else:
        for _ in range(_FROM_DRY if kind == COVER else _FROM_BEFORE):
            gas = VAPOUR_GAS_CONSTANT * (surface + KELVIN)
            latent = LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * t - WATER_HEAT * surface
            answer = vapour * (rise - pressure / (surface + KELVIN)) / gas
            slope = vapour * thickness / (1 + answer * latent / both)
            surface += (both * (dry - surface) + latent * taken) / (both + latent * answer)
            pressure, rise = saturation(surface)
            gas = VAPOUR_GAS_CONSTANT * (surface + KELVIN)
            taken = vapour * (thickness * w - pressure / gas)
    done[n, PASSES] = inner * outer / both * area
    done[n, SHARE] = inner / both
    done[n, LATENT] = latent
    done[n, TAKEN] = taken * area
    done[n, SLOPE] = slope * area
    done[n, BACK] = back
    done[n, LIT] = lit * area
    done[n, TEMPERATURE] = surface


@compiled
def incoming(given, minute, on, t):
    """Return the dry air that comes in from the room and from outdoors. [kg/s]"""
    room = given.leak
    outdoors = 0.0
    for k in range(given.gap.shape[0]):
        width = given.gap[k, 0] * given.gap_share[k, minute]
        if given.gap[k, 2] > 0:
            flow = buoyant_flow(width, given.gap[k, 1], t, given.around[OUT_T, minute])
            outdoors += flow * given.around[OUT_DENSITY, minute]
        else:
            flow = buoyant_flow(width, given.gap[k, 1], t, given.around[ROOM_T, minute])
            room += flow * given.around[ROOM_DENSITY, minute]
    for d in range(on.size):
        level = on[d] * given.hours[d, minute]
        room += level * given.device[d, ROOM_FLOW] * given.around[ROOM_DENSITY, minute]
        outdoors += level * given.device[d, OUT_FLOW] * given.around[OUT_DENSITY, minute]
    return room, outdoors


@compiled
def coil(given, d, level, t, w, density):
    """Return what touches a cooler's coil, and the coil's humidity ratio there. [kg/s], [kg/kg]"""
    cold = given.device[d, COIL_T]
    if level == 0 or given.device[d, COIL_FLOW] == 0 or t <= cold:
        return 0.0, w
    ratio = min(w, saturated_ratio(cold, given.pressure)[0])
    touched = level * given.device[d, COIL_FLOW] * density * (1 - given.device[d, BYPASS])
    removed = touched * (enthalpy(t, w) - enthalpy(cold, ratio))
    most = level * given.device[d, CAPACITY]
    return (touched * most / removed if removed > most else touched), ratio


@compiled
def gather(given, minute, on, state, done, cold, rates):
    """Work out all coefficients at one state (air temperature, mass temperature, humidity ratio).

    ``done`` gets what each surface does, ``cold`` what touches each coil, ``rates`` the rest.
    """
    t, mass_t, w = state
    around = given.around
    capacity = DRY_AIR_HEAT + VAPOUR_HEAT * w
    density = given.pressure / (DRY_AIR_GAS_CONSTANT * (t + KELVIN) * (1 + w / MASS_RATIO))
    room, outdoors = incoming(given, minute, on, t)
    room_heat = room * (DRY_AIR_HEAT + VAPOUR_HEAT * around[ROOM_W, minute])
    out_heat = outdoors * (DRY_AIR_HEAT + VAPOUR_HEAT * around[OUT_W, minute])
    drying, losing = room + outdoors, room_heat + out_heat + given.coupling
    wetting = room * around[ROOM_W, minute] + outdoors * around[OUT_W, minute]
    warming = room_heat * around[ROOM_T, minute] + out_heat * around[OUT_T, minute]
    watts, fog = given.air_watts[minute], 0.0
    for d in range(on.size):
        level = on[d] * given.hours[d, minute]
        watts += level * given.device[d, WATTS]
        fog += level * given.device[d, FOG]
        touched, ratio = coil(given, d, level, t, w, density)
        cold[d, TOUCHED], cold[d, RATIO] = touched, ratio
        losing += touched * capacity
        warming += touched * capacity * given.device[d, COIL_T]
        if ratio < w:
            drying += touched
            wetting += touched * ratio
    fog_heat = WATER_HEAT * mass_t
    warming += watts - fog * (LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * t - fog_heat)
    for n in range(given.kind.size):
        balance_surface(given, n, minute, t, mass_t, w, done)
        drying += done[n, SLOPE]
        wetting += done[n, SLOPE] * w - done[n, TAKEN]
    rates[:] = (capacity, room, outdoors, watts, fog, fog_heat, drying, wetting + fog,
                losing, warming, w)  # fmt: skip


@compiled
def moved(given, minute, start, time, done, rates):
    """Return the state after ``time`` with the coefficients gathered, and the mean on the way."""
    end_w, mean_w = relaxed(start[2], rates[WETTING], rates[DRYING], given.dry_air, time)
    losing = rates[LOSING]
    warming = rates[WARMING] + given.coupling * start[1]
    mass_gain, mass_rate = given.mass_watts[minute], given.coupling
    for n in range(given.kind.size):
        taken = done[n, TAKEN] + done[n, SLOPE] * (mean_w - rates[STAGE_W])
        released = done[n, LIT] + done[n, LATENT] * taken
        losing += done[n, PASSES]
        warming += done[n, PASSES] * done[n, BACK] + done[n, SHARE] * released
        if given.kind[n] != COVER:
            mass_rate += done[n, PASSES]
            mass_gain += (1 - done[n, SHARE]) * released
    capacity = given.dry_air * (rates[CARRIES] + given.skin)
    end_t, mean_t = relaxed(start[0], warming, losing, capacity, time)
    end_mass, mean_mass = relaxed(
        start[1], mass_gain + mass_rate * mean_t, mass_rate, given.capacity, time
    )
    return (end_t, end_mass, end_w), (mean_t, mean_mass, mean_w)


@compiled
def booked(given, minute, on, start, mean, time, done, cold, rates, flow):
    """Sum up in ``flow`` what the means move, and return the state that it leads to.

    Heat content is what is conserved: the air's temperature follows from it.
    """
    mean_t, mean_mass, mean_w = mean
    steam = LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * mean_t
    room, outdoors, fog = rates[ROOM], rates[OUTDOORS], rates[FOGGING]
    room_w, out_w = given.around[ROOM_W, minute], given.around[OUT_W, minute]
    inside = enthalpy(mean_t, mean_w)
    brought = room * (enthalpy(given.around[ROOM_T, minute], room_w) - inside)
    brought += outdoors * (enthalpy(given.around[OUT_T, minute], out_w) - inside)
    exchanged = room * (room_w - mean_w) + outdoors * (out_w - mean_w)
    liquid = fog * rates[FOG_HEAT]
    coupled = given.coupling * (mean_t - mean_mass)
    change = rates[ELECTRICITY] + brought + liquid - coupled
    into_mass = given.mass_watts[minute] + coupled
    water = exchanged + fog
    lit, through, chilled = 0.0, 0.0, 0.0
    for n in range(given.kind.size):
        taken = done[n, TAKEN] + done[n, SLOPE] * (mean_w - rates[STAGE_W])
        back = done[n, BACK] if given.kind[n] == COVER else mean_mass
        released = done[n, LIT] + done[n, LATENT] * taken
        given_off = done[n, PASSES] * (mean_t - back) - done[n, SHARE] * released
        change -= given_off + taken * steam
        water -= taken
        lit += done[n, LIT]
        liquid -= taken * (steam - done[n, LATENT])
        flow.taken[n] += taken * time
        if given.kind[n] == COVER:
            through -= given_off + released
            flow.moisture[COVERS] -= taken * time
        else:
            into_mass += given_off + released
            flow.moisture[TRAYS if given.kind[n] == TRAY else LEAVES] -= taken * time
    for d in range(on.size):
        touched, ratio = cold[d, TOUCHED], cold[d, RATIO]
        dripped = touched * (mean_w - ratio) if ratio < rates[STAGE_W] else 0.0
        sensible = touched * rates[CARRIES] * (mean_t - given.device[d, COIL_T])
        carried = dripped * WATER_HEAT * given.device[d, COIL_T]
        removed = sensible + dripped * steam - carried
        change -= removed + carried
        water -= dripped
        liquid -= carried
        chilled -= removed
        flow.removed[d] += removed * time
        flow.dripped[d] += dripped * time
        flow.running[d] += on[d] * given.hours[d, minute] * time
        flow.moisture[COIL] -= dripped * time
    flow.moisture[AIR] += exchanged * time
    flow.moisture[FOGGED] += fog * time
    flow.energy[ELECTRIC] += (rates[ELECTRICITY] + given.mass_watts[minute] + lit) * time
    flow.energy[AIR] += brought * time
    flow.energy[COVERS] += through * time
    flow.energy[COIL] += chilled * time
    flow.energy[WATER] += liquid * time
    end_w = start[2] + water * time / given.dry_air
    heat = enthalpy(start[0], start[2]) + given.skin * start[0] + change * time / given.dry_air
    capacity = DRY_AIR_HEAT + VAPOUR_HEAT * end_w + given.skin
    end_t = (heat - LATENT_HEAT_AT_ZERO * end_w) / capacity
    end_mass = start[1] + into_mass * time / given.capacity
    return rained_out(given, end_t, end_mass, end_w, flow)


@compiled
def rained_out(given, t, mass_t, w, flow):
    """Let fog that the air cannot hold fall out as water, which warms the air that keeps it."""
    most, slope = saturated_ratio(t, given.pressure)
    if w <= most:
        return t, mass_t, w
    heat = enthalpy(t, w) + given.skin * t
    for _ in range(6):
        most, slope = saturated_ratio(t, given.pressure)
        held = enthalpy(t, most) + (given.skin + (w - most) * WATER_HEAT) * t
        rate = given.skin + DRY_AIR_HEAT + VAPOUR_HEAT * most + (w - most) * WATER_HEAT
        rate += slope * (LATENT_HEAT_AT_ZERO + (VAPOUR_HEAT - WATER_HEAT) * t)
        t += (heat - held) / rate
    most, _ = saturated_ratio(t, given.pressure)
    fallen = (w - most) * given.dry_air
    flow.moisture[RAIN] -= fallen
    flow.energy[WATER] -= fallen * WATER_HEAT * t
    t = (heat - (w - most) * WATER_HEAT * t - LATENT_HEAT_AT_ZERO * most) / (
        DRY_AIR_HEAT + VAPOUR_HEAT * most + given.skin
    )
    return t, mass_t, most


@compiled
def stepped(given, minute, on, start, time, work, flow):
    """Return the state after one step; ``flow`` gets what moved in it."""
    done, cold, rates = work.done, work.cold, work.rates
    gather(given, minute, on, start, done, cold, rates)
    middle, _ = moved(given, minute, start, time / 2, done, rates)
    gather(given, minute, on, middle, done, cold, rates)
    _, mean = moved(given, minute, start, time, done, rates)
    for part in flow:
        part[:] = 0.0
    return booked(given, minute, on, start, mean, time, done, cold, rates, flow)


@compiled
def excess(given, d, minute, on, state):
    """Return how far a device is past its switching point, in differentials."""
    if given.quantity[d] == BY_TEMPERATURE:
        value = state[0]
    else:
        value = humidity(state[0], state[2], given.pressure)
    start, stop, sign = given.on[d, minute], given.off[d, minute], given.above[d]
    past = sign * (stop - value) if on[d] else sign * (value - start)
    return past / abs(start - stop)


@compiled
def furthest(given, minute, on, rest, state):
    """Return the largest excess of all devices that may switch now."""
    most = -1.0
    for d in range(on.size):
        free = given.hours[d, minute] > 0 and (on[d] > 0 or rest[d] <= 0)
        if given.quantity[d] != ALWAYS and free:
            most = max(most, excess(given, d, minute, on, state))
    return most


@compiled
def decide(given, minute, on, rest, state, starts):
    """Switch every device that is past its switching point."""
    for d in range(on.size):
        was = on[d]
        if given.hours[d, minute] == 0:
            on[d] = 0.0
        elif given.quantity[d] == ALWAYS:
            on[d] = 1.0
        elif (was > 0 or rest[d] <= 0) and excess(given, d, minute, on, state) >= 0:
            on[d] = 1.0 - was
        if was > 0 and on[d] == 0:
            rest[d] = given.device[d, REST]
        if was == 0 and on[d] > 0:
            starts[d] += 1.0


@compiled
def longest(on, rest, time):
    """Return ``time``, or how long until the first resting device may start."""
    for d in range(on.size):
        if on[d] == 0 and rest[d] > 0:
            time = min(time, rest[d])
    return time


@compiled
def to_switching(given, minute, on, rest, start, time, work, flow):
    """Return how long to step, and the end: up to the first moment at which a device switches."""
    end = stepped(given, minute, on, start, time, work, flow)
    late = furthest(given, minute, on, rest, end)
    early, before, side = 0.0, furthest(given, minute, on, rest, start), 0
    while late > _PAST and time - early > _SHARPEST:
        tried = early + (time - early) * before / (before - late)
        tried = min(max(tried, early) + 0.4 * _SHARPEST, time - 0.4 * _SHARPEST)
        there = stepped(given, minute, on, start, tried, work, flow)
        past = furthest(given, minute, on, rest, there)
        # Illinois: an end that stays twice counts half.
        if past >= 0:
            before = before / 2 if side == 1 else before
            time, late, side, end = tried, past, 1, there
        else:
            late = max(late / 2, 2 * _PAST) if side == -1 else late
            early, before, side = tried, past, -1
    if side == -1:
        end = stepped(given, minute, on, start, time, work, flow)
    return time, end


@compiled
def keep(row, flow, sums):
    """Add the flows of one step to those of its minute."""
    for n in range(ENERGY_ENTRIES):
        sums.energy[row, n] += flow.energy[n]
    for n in range(MOISTURE_ENTRIES):
        sums.moisture[row, n] += flow.moisture[n]
    for n in range(flow.taken.size):
        sums.taken[row, n] += flow.taken[n]
    for d in range(flow.running.size):
        sums.running[row, d] += flow.running[d]
        sums.removed[row, d] += flow.removed[d]
        sums.dripped[row, d] += flow.dripped[d]


@compiled
def run(given, minutes, recorded, longest_step, state, work, flow, sums, kept):
    """Run through ``minutes``, and keep the last ``recorded`` of them minute by minute.

    ``sums`` gets the flows by the minute, ``kept`` the state at the start of each minute and at
    the end of the last, the surfaces' temperatures and the devices' starts.
    """
    devices = given.quantity.size
    on, rest, begun = work.on, work.rest, work.begun
    work.done[:, BEFORE] = state[0]
    for count in range(minutes):
        minute = count % MINUTES
        row = count - (minutes - recorded)
        begun[:] = 0.0
        if row >= 0:
            kept.states[row] = state
        left = 60.0
        while left > 1e-9:
            decide(given, minute, on, rest, state, begun)
            time = longest(on, rest, min(left, longest_step))
            time, state = to_switching(given, minute, on, rest, state, time, work, flow)
            for n in range(given.kind.size):
                work.done[n, BEFORE] = work.done[n, TEMPERATURE]
            left -= time
            for d in range(devices):
                rest[d] = rest[d] - time if rest[d] - time > 1e-9 else 0.0
            if row >= 0:
                keep(row, flow, sums)
        if row >= 0:
            for n in range(given.kind.size):
                kept.surfaces[row, n] = work.done[n, TEMPERATURE]
            for d in range(devices):
                kept.starts[row, d] = begun[d]
    kept.states[recorded] = state
