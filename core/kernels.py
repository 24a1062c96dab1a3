"""Where compiled kernels are kept between runs: a folder of the user's cache, one per source state.

numba does not notice an edited function in another file, so the folder is named by a hash of all
of core's sources. No kernel lives here, and nothing here imports numba.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
import tempfile
from pathlib import Path

_CORE = Path(__file__).resolve().parent
_KEPT = 3
"""Source states whose kernels are kept, the latest used first."""


def prepare_cache() -> Path:
    """Point numba at this source state's folder; call it before numba is imported.

    Returns
    -------
    Path
        The folder in use: in the user's cache, or a temporary one where that cannot be written.
    """
    folder = _writable(_user_cache() / "fernwright" / "kernels" / _state_of_sources())
    os.environ["NUMBA_CACHE_DIR"] = str(folder)
    numba = sys.modules.get("numba")
    if numba is not None:
        numba.config.CACHE_DIR = str(folder)
    _remove_old(folder)
    return folder


def _user_cache() -> Path:
    """Return the folder that the system sets aside for what can be made again."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches"
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")


def _state_of_sources() -> str:
    digest = hashlib.sha256(sys.version.encode())
    for source in sorted(_CORE.rglob("*.py")):
        digest.update(source.relative_to(_CORE).as_posix().encode())
        digest.update(source.read_bytes())
    return digest.hexdigest()[:16]


def _writable(folder: Path) -> Path:
    """Return ``folder``, made and marked as used now, or a temporary one of the same name."""
    for candidate in (folder, Path(tempfile.gettempdir()) / f"fernwright-{_user()}" / folder.name):
        try:
            candidate.mkdir(parents=True, exist_ok=True)
            os.utime(candidate)
            with tempfile.TemporaryFile(dir=candidate):
                return candidate
        except OSError:
            continue
    return Path(tempfile.mkdtemp(prefix="fernwright-"))


def _user() -> str:
    return str(os.getuid()) if sys.platform != "win32" else "kernels"


def _remove_old(folder: Path) -> None:
    """Remove the folders of earlier source states but the latest used."""
    try:
        states = [state for state in folder.parent.iterdir() if state.is_dir()]
        states.sort(key=lambda state: state.stat().st_mtime, reverse=True)
    except OSError:
        return
    for state in states[_KEPT:]:
        if state != folder:
            shutil.rmtree(state, ignore_errors=True)
