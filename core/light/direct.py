"""Direct light: one row per lamp over all receivers, the hot path of every drag.

Chooses between the compiled rows and their plain twin; dimming and timers weigh the rows later.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from core import kernels
from core.light import emitters as emitting
from core.light import exchange, rows_plain
from core.light.emitters import Emitters
from core.light.given import Floats
from core.light.obstacles import Obstacles, boxes
from core.light.plan import STEPS_PER_DISTANCE, Plan, plan
from core.light.receivers import Receivers, receivers
from core.light.scene import Lamp

Rows = Callable[[Emitters, Receivers, Obstacles, Plan], Floats]

_compiled: Rows | None = None


def kernels_ready() -> bool:
    """Say whether the compiled rows answer by now; until then the plain ones do."""
    return _compiled is not None


def warm_up() -> None:
    """Compile the kernels of light, or load them from the cache; meant for a background thread.

    Until this returns, `direct_rows` answers from the plain twin with the same numbers.
    """
    global _compiled
    if _compiled is None:
        kernels.prepare_cache()
        from core.light import rows_compiled

        emitters, ground = emitting.of_lamps([Lamp((0, 0, 1), (0.1, 0.1), 1.0)]), [[(0, 0, 0)]]
        points, shelf = receivers(ground), boxes([(0, 0, 0.5)], [(1, 1, 0.6)])
        rows_compiled.rows(emitters, points, shelf, plan(emitters, points, shelf))
        _compiled = rows_compiled.rows
        exchange.warm_up()


def direct_rows(
    lamps: Sequence[Lamp],
    points: Receivers,
    obstacles: Obstacles,
    *,
    owners: Sequence[int] | None = None,
    compiled: bool | None = None,
) -> Floats:
    """Return the direct light of each lamp, at its full flux, at each point.

    Parameters
    ----------
    lamps : sequence of Lamp
    points : Receivers
        Points in groups that lie together, such as one group per zone.
    obstacles : Obstacles
        What stands between; what merely touches a lamp or a group casts no shade on it.
    owners : sequence of int, optional
        The number of each lamp by which obstacles name their owner; a lamp's own casing casts no
        shade on its light. By default no obstacle belongs to a lamp.
    compiled : bool, optional
        True compiles first if need be, False takes the plain numpy twin; by default whatever is
        ready.

    Returns
    -------
    ndarray, shape (lamps, points)
        [µmol m⁻² s⁻¹]

    Notes
    -----
    A Lambertian board or strip follows its closed form, times the share of it that is seen past
    the obstacles; other lamps are summed over samples at most their distance / 6 apart. A lamp
    that shines behind itself too counts as two, back to back.
    """
    halves = [lamp.halves() for lamp in lamps]
    count = [len(both) for both in halves]
    each = [half for both in halves for half in both]
    names = None if owners is None else np.repeat(owners, count).tolist()
    rows = emitter_rows(emitting.of_lamps(each, names), points, obstacles, compiled=compiled)
    return rows if len(each) == len(halves) else np.add.reduceat(rows, np.cumsum([0, *count[:-1]]))


def emitter_rows(
    emitters: Emitters, points: Receivers, obstacles: Obstacles, *, compiled: bool | None = None,
    steps: float = STEPS_PER_DISTANCE,
) -> Floats:  # fmt: skip
    """Return the direct light of each emitter at each point, see `plan` for ``steps``.

    [µmol m⁻² s⁻¹]
    """
    if compiled:
        warm_up()
    rows = rows_plain.rows if compiled is False or _compiled is None else _compiled
    return rows(emitters, points, obstacles, plan(emitters, points, obstacles, steps))
