"""The order of a start, in a process of its own: window, then design, then readings."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
START = """
import os, sys
from gui import app
from gui.main_window import MainWindow
from gui.sheet import Sheet
redraw, show, drawn = Sheet._redraw, MainWindow.show, []
Sheet._redraw = lambda sheet: (drawn.append(len(sheet.document.design.parts)), redraw(sheet))
HEAVY = {"numba", "scipy", "pint", "pyqtgraph", "reportlab"}
def shown(window):
    show(window)
    print(len(window.document.design.parts), *sorted(HEAVY & set(sys.modules)))
def begin(window):
    print(len(window.document.design.parts), sum(count > 0 for count in drawn))
    sys.stdout.flush()
    os._exit(0)
MainWindow.show, MainWindow.begin = shown, begin
app.run([sys.argv[1]])
"""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> list[list[str]]:
    """Return what a start on the design of 60 parts prints."""
    home = str(tmp_path_factory.mktemp("home"))
    places = {"HOME": home, "XDG_CONFIG_HOME": home, "QT_QPA_PLATFORM": "offscreen"}
    nook = ROOT / "resources" / "demos" / "basement-nook.fern"
    run = subprocess.run(
        [sys.executable, "-c", START, str(nook)],
        check=True,
        cwd=ROOT,
        env={**os.environ, **places},
        timeout=60,
        capture_output=True,
        text=True,
    )
    return [line.split() for line in run.stdout.splitlines()]


def test_the_window_stands_before_the_design_is_open_and_nothing_heavy_is_loaded(told):
    assert told[0] == ["0"]


def test_the_design_is_open_before_the_readings_begin_and_drawn_twice_at_most(told):
    parts, redraws = told[1]
    assert parts == "60"
    assert int(redraws) <= 2
