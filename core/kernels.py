"""Where compiled kernels are kept between runs: a folder of the user's cache, one per source state.

numba does not notice an edited function or number in another file, so the folder is named by a hash
of all sources that hold kernels and of those they import. No kernel lives here, and nothing here
imports numba.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

_CORE = Path(__file__).resolve().parent
_KEPT = 3
"""Source states whose kernels are kept, the latest used first."""
_IN_USE = 24 * 3600.0
"""A folder used since then may be another running program's and is kept too. [s]"""

_KERNEL = re.compile(r"^\s*(?:import numba|from numba|@compiled)\b", re.MULTILINE)
_IMPORT = re.compile(r"^\s*from (core[\w.]*) import (\([^)]*\)|[^\n]*)", re.MULTILINE)


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
    texts = {source: source.read_text(encoding="utf-8") for source in _CORE.rglob("*.py")}
    for source in sorted(_concerned(texts)):
        digest.update(source.relative_to(_CORE).as_posix().encode())
        digest.update(texts[source].encode())
    return digest.hexdigest()[:16]


def _concerned(texts: dict[Path, str]) -> set[Path]:
    """Return the sources that hold kernels, and all that they import from core."""
    found: set[Path] = set()
    waiting = [source for source, text in texts.items() if _KERNEL.search(text)]
    while waiting:
        source = waiting.pop()
        if source not in found and source in texts:
            found.add(source)
            waiting += _imported(texts[source])
    return found


def _imported(text: str) -> Iterator[Path]:
    """Iterate over where the modules that a source imports from core may be."""
    for package, names in _IMPORT.findall(text):
        folder = _CORE.joinpath(*package.split(".")[1:])
        yield folder.with_suffix(".py")
        yield folder / "__init__.py"
        for name in re.findall(r"\w+", names):
            yield folder / f"{name}.py"


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
    """Remove the folders of earlier source states but the latest used and those still in use."""
    try:
        states = [state for state in folder.parent.iterdir() if state.is_dir()]
        states.sort(key=lambda state: state.stat().st_mtime, reverse=True)
    except OSError:
        return
    for state in states[_KEPT:]:
        if state != folder and not _in_use(state):
            shutil.rmtree(state, ignore_errors=True)


def _in_use(state: Path) -> bool:
    try:
        return time.time() - state.stat().st_mtime < _IN_USE
    except OSError:
        return True
