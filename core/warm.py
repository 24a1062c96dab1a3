"""Fills the cache of compiled kernels, run beside the window as ``python -m core.warm``.

Compiling holds Python's lock for seconds, so the window does it in another process and loads the
result afterwards. The kernels themselves are in the engines' packages.
"""

from __future__ import annotations

import os

from core.light import warm_up


def main() -> None:
    """Compile all kernels at low priority, or find them compiled already."""
    if hasattr(os, "nice"):
        os.nice(10)
    warm_up()


if __name__ == "__main__":
    main()
