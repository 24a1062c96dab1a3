"""The way in: commands go to core.cli, a machine that cannot show a window is told in one sentence.

The window itself is not opened here.
"""

from __future__ import annotations

import sys
from types import ModuleType

import pytest

from core import __version__
from gui import __main__, system


@pytest.fixture
def handed_on(monkeypatch):
    """Stand in for the modules that do the work; note which got what."""
    seen: list[tuple[str, list[str]]] = []
    for module, function in (("core.cli", "main"), ("gui.app", "run")):
        stand_in = ModuleType(module)
        note = lambda argv, module=module: seen.append((module, list(argv))) or 7  # noqa: E731
        setattr(stand_in, function, note)
        monkeypatch.setitem(sys.modules, module, stand_in)
    return seen


def test_commands_go_to_the_command_line_with_their_name(handed_on):
    assert __main__.main(["summary", "a.fern", "--to", "a.pdf"]) == 7
    assert handed_on == [("core.cli", ["summary", "a.fern", "--to", "a.pdf"])]


@pytest.mark.parametrize(("typed", "passed"), [(["a.fern"], ["a.fern"]), ([], [])])
def test_a_file_or_nothing_opens_the_window(handed_on, monkeypatch, typed, passed):
    monkeypatch.setattr(__main__, "window_trouble", lambda: "")

    assert __main__.main(typed) == 7
    assert handed_on == [("gui.app", passed)]


def test_trouble_is_told_and_no_window_opens(handed_on, monkeypatch, capsys):
    monkeypatch.setattr(__main__, "window_trouble", lambda: "No light.")

    assert __main__.main([]) == 1
    assert capsys.readouterr().err == "No light.\n"
    assert handed_on == []


@pytest.mark.parametrize(
    "typed", [["bogus"], ["summry"], ["--nonsense"], ["summry", "a.fern"], ["a.txt"]]
)
def test_no_file_and_no_command_is_told_in_one_sentence(handed_on, monkeypatch, capsys, typed):
    monkeypatch.setattr(__main__, "window_trouble", lambda: "")

    assert __main__.main(typed) == 2
    said = capsys.readouterr().err
    assert typed[0] in said
    assert "readings, summary or chart" in said and said.count("\n") == 1
    assert handed_on == []


def test_a_design_by_another_ending_opens_if_it_is_there(handed_on, monkeypatch, tmp_path):
    monkeypatch.setattr(__main__, "window_trouble", lambda: "")
    file = tmp_path / "design.json"
    file.touch()

    assert __main__.main([str(file)]) == 7


def test_version(capsys):
    with pytest.raises(SystemExit) as end:
        __main__.main(["--version"])
    assert end.value.code == 0
    assert capsys.readouterr().out == f"Fernwright {__version__}\n"


@pytest.mark.parametrize(
    ("arguments", "window"),
    [
        ([], True),
        (["a.fern"], True),
        (["readings", "a.fern"], False),
        (["summary"], False),
        (["--help"], False),
        (["--version"], False),
    ],
)
def test_which_arguments_ask_for_a_window(arguments, window):
    assert __main__.opens_window(arguments) is window


linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asked on Linux alone")


@pytest.fixture
def no_display(monkeypatch):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)


@linux
def test_no_display_is_told_with_what_to_do_instead(no_display):
    assert not system.has_display()
    assert "fernwright summary FILE --to" in system.window_trouble()


@linux
def test_a_display_that_does_not_answer_is_none(no_display, monkeypatch):
    if system.missing(["libxcb.so.1"]):
        pytest.skip("cannot be asked without libxcb")
    monkeypatch.setenv("DISPLAY", ":4711")

    assert not system.has_display()


@linux
@pytest.mark.parametrize("name", ["WAYLAND_DISPLAY", "QT_QPA_PLATFORM"])
def test_wayland_and_a_chosen_platform_count_as_a_display(no_display, monkeypatch, name):
    monkeypatch.setenv(name, "offscreen")

    assert system.has_display()


@linux
def test_missing_libraries_are_named_with_the_line_that_brings_them(monkeypatch):
    lacking = ["libGL.so.1", "libdbus-1.so.3"]
    monkeypatch.setattr(system, "missing", lambda libraries: lacking)

    trouble = system.window_trouble()

    assert "libGL.so.1, libdbus-1.so.3" in trouble
    assert "apt-get install -y --no-install-recommends libgl1 libdbus-1-3" in trouble


@linux
def test_only_libraries_that_do_not_load_are_missing():
    assert system.missing(["libc.so.6", "libfern-of-no-kind.so.3"]) == ["libfern-of-no-kind.so.3"]


@linux
@pytest.mark.parametrize(
    ("displays", "wanted"),
    [
        ({"DISPLAY": ":0"}, system.X_LIBRARIES),
        ({"WAYLAND_DISPLAY": "wayland-0"}, system.WAYLAND_LIBRARIES),
        ({"DISPLAY": ":0", "WAYLAND_DISPLAY": "wayland-0"}, system.X_LIBRARIES),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, {}),
    ],
)
def test_the_libraries_follow_the_display(no_display, monkeypatch, displays, wanted):
    for name, value in displays.items():
        monkeypatch.setenv(name, value)

    assert system.needed_libraries() == {**system.DRAWING_LIBRARIES, **wanted}


def test_blas_is_pinned_unless_the_user_said_otherwise(monkeypatch):
    monkeypatch.setenv("OMP_NUM_THREADS", "3")
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)

    system.pin_blas()

    assert system.os.environ["OMP_NUM_THREADS"] == "3"
    assert system.os.environ["OPENBLAS_NUM_THREADS"] == "1"
