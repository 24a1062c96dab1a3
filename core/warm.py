"""Fills the cache of compiled kernels, run beside the window as ``python -m core.warm [ENGINE…]``.

Compiling holds Python's lock for seconds, so the window does it in another process and loads each
result once its engine is told as done. The kernels themselves are in the engines' packages.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence

from core.air.flow.solve import warm_up as warm_air
from core.climate.simulation import warm_up as warm_climate
from core.light import warm_up as warm_light

ENGINES: dict[str, Callable[[], None]] = {
    "light": warm_light,
    "air": warm_air,
    "climate": warm_climate,
}
"""In the order in which the window can make use of them: drags wait for light."""


def main(engines: Sequence[str] = ()) -> None:
    """Compile kernels at low priority, or find them compiled already; tell each that is done.

    Parameters
    ----------
    engines : sequence of str
        Whose, in this order; by default all.
    """
    if hasattr(os, "nice"):
        os.nice(10)
    for engine in engines or ENGINES:
        ENGINES[engine]()
        print(engine, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
