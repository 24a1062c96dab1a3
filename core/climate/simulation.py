"""The simulated day: from a zone and a room to series by the minute.

Sets the kernel up and reads its results; the steps themselves are in `day_kernel`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from core import kernels
from core.arguments import within
from core.climate.day_run import DayRun, DeviceRun
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
    EnergyLedger,
    Flows,
    MoistureLedger,
)
from core.climate.psychrometrics import enthalpy, saturation_pressure, vapour_pressure
from core.climate.surfaces import Boundary
from core.climate.tables import (
    COVER,
    LEAF,
    ROOM_T,
    ROOM_W,
    TRAY,
    Kept,
    Tables,
    Work,
    around_of,
    kept,
    tables,
    work,
)
from core.climate.zone import MINUTES, Cooler, Floats, Fogger, Heater, Room, Vent, Zone
from core.errors import InputError, complaint

STEP = 60.0
"""Longest step; halving it changes the fog of a day by less than a thousandth. [s]"""

_LONGEST_RUN = 400

_run: Callable[..., None] | None = None

State = tuple[float, float, float]
"""Temperature of the air and of the slow mass, humidity ratio. [°C], [°C], [kg/kg]"""


def kernels_ready() -> bool:
    """Say whether the kernel is compiled; until then `simulate` compiles it first."""
    return _run is not None


def warm_up() -> None:
    """Compile the day's kernel, or load it from the cache; meant for a background thread."""
    global _run
    if _run is None:
        kernels.prepare_cache()
        from core.climate import day_kernel

        _run = day_kernel.run
        simulate(Zone(volume=1.0, boundaries=(Boundary(1.0, 1.0),)), Room(), warm_up=0)


def simulate(
    zone: Zone,
    room: Room,
    days: int = 1,
    warm_up: int = 2,
    *,
    step: float = STEP,
    start: State | None = None,
) -> DayRun:
    """Return how an enclosure's air runs through a day, or through the same day several times.

    One well-mixed air and one slow mass exchange heat and vapour with each other, with the room
    and with outdoors. Steps are exact for constant coefficients, and end where a controller
    switches; the mass of dry air stays what it was. Controllers feel the air at once, and what
    condenses runs off: it does not evaporate again.

    Parameters
    ----------
    zone : Zone
        The enclosure with its devices.
    room : Room
        What surrounds it.
    days : int
        How many days to keep, 1 or more.
    warm_up : int
        Days to run before, so that the start is forgotten.
    step : float
        Longest step, up to 60. [s]
    start : tuple of float, optional
        Temperature of the air and of the slow mass, and humidity ratio, before the warm-up; by
        default the room's. [°C], [°C], [kg/kg]

    Returns
    -------
    DayRun
        Series of ``days`` × 1440 minutes.

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] Moist air: ASHRAE Handbook, Fundamentals, chapter 1.
    .. [2] Coil by its bypass factor: ASHRAE Handbook, HVAC Systems and Equipment (common
       practice).
    """
    _check(days, warm_up, step)
    given = tables(zone, room)
    return _told(zone, given, *_ran(given, days * MINUTES, warm_up * MINUTES, step, start))


def _check(days: int, warm_up: int, step: float) -> None:
    for quantity, value, least in (("days", days, 1), ("days of warm-up", warm_up, 0)):
        within("Simulation", quantity, value, least, _LONGEST_RUN)
        if value != int(value):
            shown, rule = f"{value:g}", "must be whole"
            raise InputError(complaint("Simulation", quantity, shown, rule, "enter whole days"))
    within("Simulation", "step", step, 1.0, 60.0, "s")


def _ran(
    given: Tables,
    minutes: int,
    before: int,
    step: float,
    start: State | None = None,
    went: Work | None = None,
) -> tuple[Flows, Kept]:
    """Return flows and states by the minute."""
    if _run is None:
        warm_up()
    assert _run is not None
    surfaces, devices = given.kind.size, given.quantity.size
    sums, results = _flows(surfaces, devices, minutes), kept(given, minutes)
    t = float(given.around[ROOM_T, 0])
    begin = start or (t, t, float(given.around[ROOM_W, 0]))
    flow = _flows(surfaces, devices)
    known = work(given) if went is None else went
    _run(given, minutes + before, minutes, step, begin, known, flow, sums, results)
    return sums, results


class Stepper:
    """One zone through days that differ, each of which begins where the one before ended.

    Parameters
    ----------
    zone : Zone
    room : Room
        Of the first day; the mass of dry air inside stays what it is in it.
    """

    def __init__(self, zone: Zone, room: Room) -> None:
        self._zone = zone
        self._given = tables(zone, room)
        self._work = work(self._given)

    def day(self, room: Room, heat: Floats, start: State | None = None) -> DayRun:
        """Return the next day.

        Parameters
        ----------
        room : Room
        heat : ndarray, shape (1440,)
            More heat in the air than the zone's own, such as of the sun. [W]
        start : tuple of float, optional
            The end of the day before; by default the room's air.
        """
        given = self._given._replace(
            around=around_of(room, self._zone.pressure), air_watts=self._given.air_watts + heat
        )
        sums, results = _ran(given, MINUTES, 0, STEP, start, self._work)
        return _told(self._zone, given, sums, results)


def _flows(surfaces: int, devices: int, *minutes: int) -> Flows:
    widths = (ENERGY_ENTRIES, MOISTURE_ENTRIES, surfaces, devices, devices, devices)
    return Flows(*(np.zeros((*minutes, width)) for width in widths))


def _told(zone: Zone, given: Tables, sums: Flows, results: Kept) -> DayRun:
    t, mass_t, w = results.states[:-1].T
    temperatures = results.surfaces
    vapour = vapour_pressure(w, zone.pressure)
    covers, trays, leaves = (given.kind == kind for kind in (COVER, TRAY, LEAF))
    taken = sums.taken / 60
    return DayRun(
        temperature=t,
        mass_temperature=mass_t,
        humidity_ratio=w,
        humidity=np.asarray(vapour / saturation_pressure(t)),
        surface_temperature=temperatures[:, covers],
        condensing=taken[:, covers],
        water_temperature=temperatures[:, trays],
        evaporating=-taken[:, trays],
        leaf_temperature=temperatures[:, leaves],
        transpiring=-taken[:, leaves],
        devices=_devices(zone.devices, sums, results.starts),
        energy=_energy(given, sums, results.states),
        moisture=_moisture(given, sums, results.states),
        dry_air_mass=given.dry_air,
        pressure=zone.pressure,
        end=(
            float(results.states[-1, 0]),
            float(results.states[-1, 1]),
            float(results.states[-1, 2]),
        ),
    )


def _devices(
    devices: Sequence[Heater | Fogger | Vent | Cooler], sums: Flows, starts: Floats
) -> tuple[DeviceRun, ...]:
    runs = []
    for number, one in enumerate(devices):
        duty = sums.running[:, number] / 60
        removed = sums.removed[:, number] / 60
        dripped = sums.dripped[:, number] / 60
        watts = one.watts * duty + (removed / one.cop if isinstance(one, Cooler) else 0.0)
        water = one.output * duty if isinstance(one, Fogger) else dripped
        kind = type(one).__name__.lower()
        runs.append(DeviceRun(one.name, kind, duty, starts[:, number], watts, removed, water))
    return tuple(runs)


def _energy(given: Tables, sums: Flows, states: Floats) -> EnergyLedger:
    total = sums.energy.sum(axis=0)
    first, last = (
        given.dry_air * (float(enthalpy(t, w)) + given.skin * t) + given.capacity * mass
        for t, mass, w in (states[0], states[-1])
    )
    return EnergyLedger(
        electric=float(total[ELECTRIC]),
        covers=float(total[COVERS]),
        air=float(total[AIR]),
        coil=float(total[COIL]),
        water=float(total[WATER]),
        stored=float(last - first),
    )


def _moisture(given: Tables, sums: Flows, states: Floats) -> MoistureLedger:
    total = sums.moisture.sum(axis=0)
    return MoistureLedger(
        fog=float(total[FOGGED]),
        trays=float(total[TRAYS]),
        leaves=float(total[LEAVES]),
        air=float(total[AIR]),
        covers=float(total[COVERS]),
        coil=float(total[COIL]),
        rain=float(total[RAIN]),
        stored=given.dry_air * float(states[-1][2] - states[0][2]),
    )
