"""The project's description is true: packages, data, requirements; and its files name no host.

Reads files alone; that the installed program runs is tried on a bare machine.
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[1]
DESCRIPTION = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
PROJECT = DESCRIPTION["project"]
OURS = {"core", "gui", "resources", "start", "tests"}


def requirements(*extras: str) -> set[str]:
    wanted = PROJECT["dependencies"] + [
        one for extra in extras for one in PROJECT["optional-dependencies"][extra]
    ]
    return {canonicalize_name(Requirement(one).name) for one in wanted}


def test_every_requirement_has_a_lowest_version():
    every = list(PROJECT["dependencies"])
    for extra in PROJECT["optional-dependencies"].values():
        every += extra

    assert [one for one in every if ">=" not in one] == []


def test_qt_stays_below_the_release_that_miscounts_none():
    qt = next(r for r in map(Requirement, PROJECT["dependencies"]) if "PySide6" in r.name)

    assert "6.8.3" in qt.specifier
    assert "6.11.1" in qt.specifier
    assert "6.12.0" not in qt.specifier


def imported(folder: Path) -> Iterator[str]:
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                yield from (alias.name.partition(".")[0] for alias in node.names)
            elif isinstance(node, ast.ImportFrom) and node.module:
                yield node.module.partition(".")[0]


@pytest.mark.parametrize(
    ("folder", "extras"),
    [("core", ()), ("gui", ()), ("resources", ()), ("tests", ("test", "oracles"))],
)
def test_every_library_imported_is_required(folder, extras):
    foreign = set(imported(ROOT / folder)) - set(sys.stdlib_module_names) - OURS
    owners = packages_distributions()
    names = {canonicalize_name(owner) for one in foreign for owner in owners.get(one, [one])}

    assert names - requirements(*extras) == set()


@pytest.mark.parametrize("package", ["core", "gui", "resources"])
def test_every_folder_with_code_is_a_package(package):
    folders = {path.parent for path in (ROOT / package).rglob("*.py")}

    assert [str(one) for one in folders if not (one / "__init__.py").exists()] == []


def test_every_resource_is_packed():
    resources = ROOT / "resources"
    # README's pictures are for readers of the source, not for the installed program.
    files = {
        p
        for p in resources.rglob("*")
        if p.is_file() and p.suffix not in {".py", ".pyc"} and "pictures" not in p.parts
    }
    globs = DESCRIPTION["tool"]["setuptools"]["package-data"]["resources"]
    packed = {path for glob in globs for path in resources.glob(glob)}
    sources_of_others = {p for p in files if p.suffix in {".po", ".pot", ".md"}}

    assert files - packed - sources_of_others == set()


SKIPPED = {".git", ".venv", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".hypothesis"}
# Spelt apart, so that this file names none either.
HOSTS = [
    b".".join(words)
    for words in (
        (b"pypi", b"org"),
        (b"pythonhosted", b"org"),
        (b"debian", b"org"),
        (b"ubuntu", b"com"),
        (b"anaconda", b"org"),
        (b"npmjs", b"org"),
    )
]


def project_files() -> Iterator[Path]:
    for top in ROOT.iterdir():
        if top.is_file():
            yield top
        elif top.name not in SKIPPED and not top.name.endswith(".egg-info"):
            yield from (path for path in top.rglob("*") if path.is_file())


def test_no_file_names_a_package_host():
    files = [path for path in project_files() if path.suffix != ".pyc"]
    naming = [str(p) for p in files if any(host in p.read_bytes().lower() for host in HOSTS)]

    assert ROOT / "start.py" in files
    assert ROOT / ".ci" / "run" in files
    assert naming == []


def test_readme_shows_pictures_that_exist():
    shown = re.findall(r"!\[[^\]]*\]\(([^)]+)\)", (ROOT / "README.md").read_text("utf-8"))
    assert shown
    assert all((ROOT / path).is_file() for path in shown)
