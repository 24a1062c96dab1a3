"""How long the window takes to stand, and to show a design of 60 parts, from a cold process.

The goal is one second to the window (idle machine); what the engines add is in the other
benchmarks.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

ROOT = Path(__file__).parents[2]
NOOK = ROOT / "resources" / "demos" / "basement-nook.fern"
IMPORTS = "import gui.app"
START = """
import os, sys
from gui import app
from gui.main_window import MainWindow
stop = lambda window: os._exit(0)
if sys.argv[1] == "shown":
    show = MainWindow.show
    MainWindow.show = lambda window: (show(window), stop(window))
MainWindow.begin = stop
app.run([sys.argv[2]])
"""


@pytest.mark.parametrize("until", ["imported", "shown", "opened"])
def test_a_start_until(benchmark: BenchmarkFixture, tmp_path: Path, until: str) -> None:
    program = IMPORTS if until == "imported" else START
    line = [sys.executable, "-c", program, until, str(NOOK)]
    # A home of its own: neither the size nor the files of an earlier start may count.
    places = {"HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path)}
    environment = {**os.environ, **places, "QT_QPA_PLATFORM": "offscreen"}

    def start() -> None:
        subprocess.run(line, check=True, cwd=ROOT, env=environment, timeout=30)

    benchmark.pedantic(start, rounds=3, warmup_rounds=1)
