"""What Qt needs of the machine before it starts: shared libraries and a display that answers.

Qt ends the process when one is missing, so this is asked first. Standard library only: `start.py`
asks here before anything is installed, and what it installs is decided there.
"""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterable

from core.language import tr

# Shared library -> the Debian package that brings it.
DRAWING_LIBRARIES = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libfontconfig.so.1": "libfontconfig1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
}
X_LIBRARIES = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
}
WAYLAND_LIBRARIES = {
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
}
ALL_LIBRARIES = {**DRAWING_LIBRARIES, **X_LIBRARIES, **WAYLAND_LIBRARIES}

_BLAS_THREADS = (
    "OPENBLAS_NUM_THREADS",
    "OMP_NUM_THREADS",
    "MKL_NUM_THREADS",
    "VECLIB_MAXIMUM_THREADS",
)


def pin_blas() -> None:
    """Keep BLAS to one thread, which is the faster here; only works before numpy loads."""
    for name in _BLAS_THREADS:
        os.environ.setdefault(name, "1")


def needed_libraries() -> dict[str, str]:
    """Return what a window needs on the display at hand; where there are both, X will do."""
    if os.environ.get("QT_QPA_PLATFORM", "").startswith("offscreen"):
        return DRAWING_LIBRARIES
    on_x = os.environ.get("DISPLAY") or not os.environ.get("WAYLAND_DISPLAY")
    return {**DRAWING_LIBRARIES, **(X_LIBRARIES if on_x else WAYLAND_LIBRARIES)}


def missing(libraries: Iterable[str]) -> list[str]:
    """Return those shared libraries that do not load; off Linux Qt brings its own."""
    if not sys.platform.startswith("linux"):
        return []
    return [name for name in libraries if not _loads(name)]


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def install_line(packages: Iterable[str]) -> str:
    """Return the command that installs these Debian packages."""
    return "apt-get install -y --no-install-recommends " + " ".join(packages)


def has_display() -> bool:
    """Say whether a window can be shown, or Qt was told to do without a display."""
    if not sys.platform.startswith("linux"):
        return True
    if os.environ.get("QT_QPA_PLATFORM") or os.environ.get("WAYLAND_DISPLAY"):
        return True
    return bool(os.environ.get("DISPLAY")) and _x_answers()


def _x_answers() -> bool:
    """Say whether the X server that DISPLAY names lets us in; yes where this cannot be asked."""
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
    xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(None, None)
    broken = xcb.xcb_connection_has_error(connection)
    xcb.xcb_disconnect(connection)
    return not broken


def window_trouble() -> str:
    """Return in one sentence why no window can open and what to do; empty when all is well."""
    if not has_display():
        return tr(
            "There is no display to open a window on: start Fernwright from a desktop session,"
            " or write a summary with: fernwright summary FILE --to summary.pdf"
        )
    lacking = missing(needed_libraries())
    return lacking_sentence(lacking) if lacking else _qt_trouble()


def lacking_sentence(libraries: list[str]) -> str:
    """Return the sentence that names missing libraries and the command that brings them."""
    return tr(
        "The window needs system libraries that are missing ({libraries}): run as root, or its"
        " like on your system: {line}"
    ).format(
        libraries=", ".join(libraries),
        line=install_line(ALL_LIBRARIES[name] for name in libraries),
    )


def _qt_trouble() -> str:
    try:
        import PySide6.QtWidgets  # noqa: F401
    except ImportError as error:
        return tr("Qt does not load ({error}): set Fernwright up again with: start.py").format(
            error=error
        )
    return ""
