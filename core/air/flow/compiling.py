"""How the flow's kernels are compiled: one set of options for all of them.

Importing this loads numba; the kernels themselves live in the modules named ``_kernels``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numba

compiled: Callable[[Any], Any] = numba.njit(
    nogil=True,
    cache=True,
    error_model="numpy",
    fastmath={"reassoc", "contract", "arcp", "nsz", "nnan", "ninf"},
)
