"""Where the engine of air gets its flow from: nowhere, its own computing, or another thread.

How a flow is computed says `stages`; what is read from it, `coverage`.
"""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock
from typing import ClassVar, Protocol

from core.air.advice import Advice
from core.air.fields import AirField
from core.air.from_design import RoomAir
from core.air.stages import settled_from_rest

KEPT = 12
"""Fields that a process remembers."""


class Flows(Protocol):
    """A source of fields.

    Attributes
    ----------
    newest : object
        Changes its identity whenever an answer may have become another one.
    arrives : bool
        Whether a field that is not there yet will come.
    """

    @property
    def newest(self) -> object: ...

    @property
    def arrives(self) -> bool: ...

    def field(self, air: RoomAir) -> AirField | None:
        """Return the flow of some air, if it is known."""
        ...

    def last(self) -> AirField | None:
        """Return the last field there was, of whatever air."""
        ...

    def advice(self, air: RoomAir, place: str, still: bool) -> Advice | None:
        """Return what was tried for the still, or the too strong, air of a zone."""
        ...


class Jets:
    """No flow: only jets are known."""

    newest: object = None
    arrives = False

    def field(self, air: RoomAir) -> AirField | None:
        """Return None: there is none."""
        return None

    def last(self) -> AirField | None:
        """Return None: there is none."""
        return None

    def advice(self, air: RoomAir, place: str, still: bool) -> Advice | None:
        """Return None: nothing is tried."""
        return None


JETS = Jets()


class Solving(Jets):
    """Computes the settled flow when asked, from rest: an answer does not depend on earlier ones.

    Fields are remembered for the whole process, so that equal air is computed once.
    """

    _known: ClassVar[OrderedDict[int, list[AirField]]] = OrderedDict()
    _lock: ClassVar = Lock()

    def field(self, air: RoomAir) -> AirField | None:
        """Return the settled flow on first cells."""
        with self._lock:
            found = self._find(air)
            if found is None:
                found = settled_from_rest(air)
                self._keep(found)
            return found

    def _find(self, air: RoomAir) -> AirField | None:
        return next((one for one in self._known.get(hash(air), ()) if one.air == air), None)

    def _keep(self, field: AirField) -> None:
        self._known.setdefault(hash(field.air), []).append(field)
        while len(self._known) > KEPT:
            self._known.popitem(last=False)


class Arriving:
    """Holds what another thread computes. Not safe for use from two threads at once.

    Attributes
    ----------
    arrives : bool
        Whether fields are still to come; False once the grower does without.
    """

    def __init__(self) -> None:
        self.arrives = True
        self.newest: object = None
        self._last: AirField | None = None
        self._settled: AirField | None = None
        self._advice: dict[tuple[str, bool], Advice] = {}
        self._advised: RoomAir | None = None

    def put(self, field: AirField) -> None:
        """Take a field that has arrived."""
        self._last = self.newest = field
        if field.stage.settled:
            self._settled = field

    def forget(self) -> None:
        """Let go of all fields: another design is open."""
        self.newest = self._last = self._settled = None

    def put_advice(self, air: RoomAir, advice: Advice) -> None:
        """Take what was tried for one zone of some air."""
        if self._advised != air:
            self._advice, self._advised = {}, air
        self._advice[advice.place, advice.still] = advice
        self.newest = advice

    def field(self, air: RoomAir) -> AirField | None:
        """Return the newest field if it is of this very air.

        Where nothing is to come, one that has not settled gives way to an earlier one that has.
        """
        last = self._last
        if last is None or last.air != air:
            return None
        given_up = not self.arrives and not last.stage.settled and self._settled is not None
        return None if given_up else last

    def last(self) -> AirField | None:
        """Return the newest field, of whatever air; the last settled one where none is to come."""
        return self._last if self.arrives else self._settled or self._last

    def advice(self, air: RoomAir, place: str, still: bool) -> Advice | None:
        """Return what was tried for the still, or the too strong, air of a zone."""
        return self._advice.get((place, still)) if self._advised == air else None
