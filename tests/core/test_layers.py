"""Arrows between modules go downward only: core knows no Qt and no window, and nobody imports back.

Looks at modules as they load and as they are written; what they do is tested elsewhere.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

LOADED = "print(*sorted({name.partition('.')[0] for name in sys.modules}))"
IMPORT_ALL_OF_CORE = f"""
import importlib, pkgutil, sys
import core
for module in pkgutil.walk_packages(core.__path__, "core."):
    importlib.import_module(module.name)
{LOADED}
"""
ASK_FOR_HELP = f"""
import contextlib, io, sys
from gui.__main__ import main
with contextlib.suppress(SystemExit), contextlib.redirect_stdout(io.StringIO()):
    main(["--help"])
{LOADED}
"""


def loaded_by(code: str, *options: str) -> set[str]:
    run = subprocess.run(
        [sys.executable, *options, "-c", f"import sys; sys.path.insert(0, {str(ROOT)!r})\n{code}"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return set(run.stdout.split())


def test_no_core_module_loads_qt_or_the_window():
    loaded = loaded_by(IMPORT_ALL_OF_CORE)

    assert "core" in loaded
    assert not loaded & {"PySide6", "shiboken6", "gui"}


def test_help_loads_neither_qt_nor_numpy():
    loaded = loaded_by(ASK_FOR_HELP)

    assert "gui" in loaded
    assert not loaded & {"PySide6", "shiboken6", "numpy", "pydantic"}


def test_start_and_what_it_asks_need_the_standard_library_alone():
    # -S leaves site-packages out, as before anything is installed.
    assert "gui" in loaded_by(f"import start, gui.__main__\n{LOADED}", "-I", "-S")


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(tree: ast.AST) -> Iterator[str]:
    """Yield what a module imports, at its top or later; imports for type checkers do not count."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            continue
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"a relative import: {ast.unparse(node)}"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        yield from imports(node)


def import_graph() -> dict[str, set[str]]:
    files = {module_name(p): p for top in ("core", "gui") for p in (ROOT / top).rglob("*.py")}
    graph: dict[str, set[str]] = {}
    for name, path in files.items():
        wanted = set(imports(ast.parse(path.read_text(encoding="utf-8"))))
        # "core.model.Design" stands for the module core.model, "core.model.base" for itself.
        found = {one if one in files else one.rpartition(".")[0] for one in wanted}
        graph[name] = (found & set(files)) - {name}
    return graph


def test_core_never_imports_the_window_even_late():
    graph = import_graph()
    upward = [
        (name, one)
        for name, wanted in graph.items()
        for one in wanted
        if name.partition(".")[0] == "core" and one.partition(".")[0] == "gui"
    ]

    assert "core.errors" in graph
    assert upward == []


def test_no_import_cycles():
    order = list(TopologicalSorter(import_graph()).static_order())

    assert order.index("core.language") < order.index("gui.__main__")
