"""The folder compiled kernels are kept in, and that importing the light engine compiles nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from core import kernels


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A user's cache of our own; numba keeps the folder it already has."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", "")
    monkeypatch.setattr(kernels, "_user_cache", lambda: tmp_path)
    monkeypatch.delitem(sys.modules, "numba", raising=False)
    return tmp_path / "fernwright" / "kernels"


def test_folder_is_named_by_the_sources(cache: Path) -> None:
    folder = kernels.prepare_cache()
    assert folder.parent == cache
    assert os.environ["NUMBA_CACHE_DIR"] == str(folder)
    assert kernels.prepare_cache() == folder


@pytest.fixture
def sources(cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small core of our own: a kernel, what it imports, and what has nothing to do with it."""
    folder = tmp_path / "sources"
    (folder / "inner").mkdir(parents=True)
    (folder / "kernel.py").write_text(
        "import numba\nfrom core.inner import (\n    deep,\n)\nfrom core.inner.deep import B\n"
    )
    (folder / "inner" / "__init__.py").write_text("")
    (folder / "inner" / "deep.py").write_text("from core.far import A\nB = A\n")
    (folder / "far.py").write_text("A = 1\n")
    (folder / "other.py").write_text("from core.kernel import numba\n")
    monkeypatch.setattr(kernels, "_CORE", folder)
    return folder


@pytest.mark.parametrize("name", ["kernel.py", "inner/__init__.py", "inner/deep.py", "far.py"])
def test_a_changed_kernel_or_import_of_it_gets_a_new_folder(sources: Path, name: str) -> None:
    before = kernels.prepare_cache()
    (sources / name).write_text((sources / name).read_text() + "C = 2\n")
    assert kernels.prepare_cache() != before


def test_what_no_kernel_imports_keeps_the_folder(sources: Path) -> None:
    before = kernels.prepare_cache()
    (sources / "other.py").write_text("C = 2\n")
    assert kernels.prepare_cache() == before


def test_only_the_latest_folders_are_kept(cache: Path) -> None:
    for age in range(6):
        (cache / f"old{age}").mkdir(parents=True)
        os.utime(cache / f"old{age}", (1000 - age, 1000 - age))
    folder = kernels.prepare_cache()
    assert {state.name for state in cache.iterdir()} == {folder.name, "old0", "old1"}


def test_a_folder_that_another_program_may_be_using_is_kept(cache: Path) -> None:
    names = {f"new{number}" for number in range(6)}
    for name in names:
        (cache / name).mkdir(parents=True)
    folder = kernels.prepare_cache()
    assert {state.name for state in cache.iterdir()} == {folder.name, *names}


def test_temporary_folder_where_the_cache_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, cache: Path
) -> None:
    blocker = tmp_path / "file"
    blocker.write_text("in the way")
    monkeypatch.setattr(kernels, "_user_cache", lambda: blocker)
    monkeypatch.setattr(kernels.tempfile, "gettempdir", lambda: str(tmp_path))
    folder = kernels.prepare_cache()
    assert folder.is_dir()
    assert tmp_path in folder.parents


@pytest.mark.parametrize(
    ("platform", "variable", "ending"),
    [
        ("win32", "LOCALAPPDATA", "x"),
        ("darwin", "", "Library/Caches"),
        ("linux", "XDG_CACHE_HOME", "x"),
    ],
)
def test_each_system_has_its_own_cache(
    platform: str, variable: str, ending: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kernels.sys, "platform", platform)
    if variable:
        monkeypatch.setenv(variable, "/somewhere/x")
    assert kernels._user_cache().as_posix().endswith(ending)


def test_light_answers_without_numba_until_it_is_warm() -> None:
    top = Path(kernels.__file__).parents[1]
    told = subprocess.run(
        [sys.executable, "-c", _COLD], cwd=top, capture_output=True, text=True, check=True
    )
    assert told.stdout.split() == ["False", "False", "10.1321"]


_COLD = """
import sys
import core.light as light
lamp = light.Lamp((0, 0, 1), (0, 0), 31.8310 * 1.0)
row = light.direct_rows([lamp], light.receivers([[(0, 0, 0)]]), light.boxes([], []))
print("numba" in sys.modules, light.kernels_ready(), f"{row[0, 0]:.4f}")
"""
