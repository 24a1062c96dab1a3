"""start.py: what it installs and when, what it says when it cannot go on, what it then runs.

Nothing is installed here; the other programs it calls are stood in for, except pip's own words.
"""

from __future__ import annotations

import ast
import errno
import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import pytest

import start
from gui import system


class Machine:
    """Stands in for every program that start.py runs quietly.

    Attributes
    ----------
    ran : list of str
        What was run, one word each: venv, pip, check (is pip there), apt-get.
    fails : dict
        The word of a program -> what it writes as it fails.
    """

    def __init__(self) -> None:
        self.ran: list[str] = []
        self.commands: list[list[str]] = []
        self.fails: dict[str, str] = {}

    def __call__(self, command, environment=None, tell=None):
        word = self.word_for(command)
        self.ran.append(word)
        self.commands.append(command)
        if word == "venv":
            start.venv_python().parent.mkdir(parents=True, exist_ok=True)
            start.venv_python().touch()
        return (1, self.fails[word]) if word in self.fails else (0, "")

    @staticmethod
    def word_for(command: list[str]) -> str:
        if "--version" in command:
            return "check"
        return next(word for word in ("venv", "pip", "apt-get") if word in command)


@pytest.fixture
def machine(monkeypatch, tmp_path):
    """Give a project folder of its own, not yet set up, on a machine that does what it is told."""
    (tmp_path / "pyproject.toml").write_text("one", encoding="utf-8")
    monkeypatch.setattr(start, "ROOT", tmp_path)
    monkeypatch.setattr(start, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(start, "STAMP", tmp_path / ".venv" / "stamp.json")
    monkeypatch.setattr(start, "LOG", tmp_path / ".venv" / "log")
    machine = Machine()
    monkeypatch.setattr(start, "run_quietly", machine)
    return machine


# --- old Pythons


def test_start_parses_on_python_3_6_to_say_that_it_is_too_old():
    source = Path(start.__file__).read_text(encoding="utf-8")

    ast.parse(source, feature_version=(3, 6))
    assert "from __future__" not in source


@pytest.mark.parametrize("version", [(3, 6, 15), (3, 10, 13)])
def test_an_old_python_is_told_in_one_sentence(version):
    said = start.complaint_about(version)

    assert said.startswith("Fernwright needs Python 3.11 or newer and this is 3.")
    assert "\n" not in said


def test_a_new_enough_python_is_not_complained_about():
    assert start.complaint_about((3, 11, 0)) == ""
    assert start.complaint_about((4, 0, 0)) == ""


def test_an_old_python_stops_before_anything_is_done(machine, monkeypatch, capsys):
    monkeypatch.setattr(sys, "version_info", (3, 8, 1))

    assert start.main(["--test"]) == 1
    assert machine.ran == []
    assert "this is 3.8" in capsys.readouterr().err


# --- when the environment is made, filled, or left alone


def test_the_first_start_makes_and_fills_the_environment(machine):
    start.prepare_python(set())

    assert machine.ran == ["venv", "pip"]
    assert machine.commands[-1][-2:] == ["-e", str(start.ROOT)]


def test_the_second_start_runs_nothing(machine):
    start.prepare_python(set())
    machine.ran.clear()

    start.prepare_python(set())

    assert machine.ran == []


def test_a_changed_pyproject_is_installed_again_into_the_same_environment(machine):
    start.prepare_python(set())
    machine.ran.clear()
    (start.ROOT / "pyproject.toml").write_text("two", encoding="utf-8")

    start.prepare_python(set())

    assert machine.ran == ["check", "pip"]


def test_the_extras_stay_once_installed(machine):
    start.prepare_python({"test"})
    assert machine.commands[-1][-1] == f"{start.ROOT}[test]"
    machine.ran.clear()

    start.prepare_python(set())

    assert machine.ran == []


def test_an_environment_without_pip_is_made_anew(machine):
    start.prepare_python(set())
    (start.ROOT / "pyproject.toml").write_text("two", encoding="utf-8")
    machine.ran.clear()
    machine.fails = {"check": "No module named pip"}

    start.prepare_python(set())

    assert machine.ran == ["check", "venv", "pip"]


@pytest.mark.parametrize(("key", "other"), [("python", "3.99"), ("place", "/elsewhere")])
def test_another_python_or_place_makes_the_environment_anew(machine, monkeypatch, key, other):
    start.prepare_python(set())
    machine.ran.clear()
    now = start.fingerprint()
    monkeypatch.setattr(start, "fingerprint", lambda: {**now, key: other})

    start.prepare_python(set())

    assert machine.ran == ["venv", "pip"]


def test_a_set_up_that_failed_is_tried_again(machine):
    machine.fails = {"pip": "ERROR: something odd"}
    with pytest.raises(start.SetupError, match="something odd"):
        start.prepare_python(set())
    machine.fails = {}
    machine.ran.clear()

    start.prepare_python(set())

    assert machine.ran[-1] == "pip"


def test_a_spoilt_stamp_counts_as_none(machine):
    start.prepare_python(set())
    start.STAMP.write_text("[1", encoding="utf-8")

    assert start.read_stamp() == {}


# --- what is said when it fails


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("ERROR: Could not install packages: [Errno 28] No space left on device", "disk is full"),
        ("Error: [Errno 13] Permission denied: '/opt/fernwright/.venv'", "cannot be written to"),
        ("Temporary failure in name resolution", "cannot reach the package index"),
        ("SSLError: CERTIFICATE_VERIFY_FAILED (from versions: none)", "set PIP_CERT"),
    ],
)
def test_the_reason_is_found_in_the_words(words, said):
    sentence = start.reason(words, "otherwise")

    assert said in sentence
    assert "\n" not in sentence


def test_words_without_a_known_reason_are_passed_on():
    assert start.reason("a\nERROR: odd\n", "pip failed") == "pip failed (ERROR: odd)."


def test_pips_own_words_about_an_unreachable_index_are_understood(tmp_path):
    closed = {**os.environ, "PIP_INDEX_URL": "http://127.0.0.1:9/", "PIP_CONFIG_FILE": os.devnull}
    closed.pop("PIP_FIND_LINKS", None)
    command = [sys.executable, "-m", "pip", "download", "--retries", "0", "-d", str(tmp_path)]

    code, words = start.run_quietly([*command, "numpy"], closed)

    assert code != 0
    assert "cannot reach the package index" in start.reason(words, "otherwise")


def test_a_disk_that_fills_up_while_noting_the_set_up_is_told(machine, monkeypatch, capsys):
    def full(*anything, **more):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_text", full)
    monkeypatch.setattr(start, "prepare_system", lambda libraries: None)

    assert start.main(["readings"]) == 1
    assert "The disk is full" in capsys.readouterr().err


def test_a_program_that_is_not_there_fails_with_words():
    code, words = start.run_quietly(["no-such-program-anywhere"])

    assert code == 127
    assert "no-such-program-anywhere" in words


# --- the system's packages


@pytest.fixture
def bare(machine, monkeypatch):
    """Give a Debian without graphics libraries and without Python's venv."""
    absent = ["libGL.so.1", "libxcb-cursor.so.0"]
    monkeypatch.setattr(system, "missing", lambda asked: [one for one in absent if one in asked])
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    monkeypatch.setattr(start.shutil, "which", lambda name: "/usr/bin/apt-get")
    return machine


VENV_PACKAGE = "python{}.{}-venv".format(*sys.version_info[:2])
LINE = f"apt-get install -y --no-install-recommends {VENV_PACKAGE} libgl1 libxcb-cursor0"


def test_root_gets_the_missing_packages_installed(bare, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)

    start.prepare_system(system.DRAWING_LIBRARIES)

    assert bare.ran == ["apt-get", "apt-get"]
    assert bare.commands[0][:2] == ["apt-get", "update"]
    assert " ".join(bare.commands[1]).startswith(LINE)


def test_others_are_told_the_exact_line(bare, monkeypatch, capsys):
    monkeypatch.setattr(os, "geteuid", lambda: 1000, raising=False)

    assert start.main(["--test"]) == 1
    assert capsys.readouterr().err.endswith(f"\n    {LINE}\n")
    assert bare.ran == []


def test_an_apt_that_fails_is_told_with_its_words_and_the_line(bare, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)
    bare.fails = {"apt-get": "E: Unable to fetch some archives"}

    with pytest.raises(start.SetupError) as error:
        start.prepare_system(system.DRAWING_LIBRARIES)

    assert "Unable to fetch some archives" in str(error.value)
    assert LINE in str(error.value)


def test_a_system_without_apt_is_told_the_libraries(bare, monkeypatch):
    monkeypatch.setattr(start.shutil, "which", lambda name: None)

    with pytest.raises(start.SetupError, match=r"missing \(libGL\.so\.1\)"):
        start.prepare_system(system.DRAWING_LIBRARIES)


def test_a_system_without_apt_and_venv_is_told_so(bare, monkeypatch):
    monkeypatch.setattr(start.shutil, "which", lambda name: None)

    with pytest.raises(start.SetupError, match="venv and ensurepip"):
        start.prepare_system(())


def test_libraries_of_a_display_that_is_not_used_stop_nobody(bare, monkeypatch):
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: object())

    start.prepare_system(system.WAYLAND_LIBRARIES)

    assert bare.ran == []


def test_a_command_needs_no_graphics_libraries(bare, monkeypatch):
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: object())
    monkeypatch.setattr(start, "run_program", lambda arguments: 0)

    start.main(["readings", "mine.fern"])

    assert "apt-get" not in bare.ran


# --- what is run in the end


@pytest.fixture
def ready(monkeypatch):
    """Give a machine that is all set up; note what the program is started with."""
    started: list[list[str]] = []
    monkeypatch.setattr(start, "prepare_system", lambda libraries: None)
    monkeypatch.setattr(start, "prepare_python", lambda extras: None)
    monkeypatch.setattr(start, "run_program", lambda arguments: started.append(arguments) or 0)
    return started


def test_without_a_display_the_starters_summary_is_written(ready, monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(system, "has_display", lambda: False)
    monkeypatch.chdir(tmp_path)
    target = tmp_path / "starter-summary.pdf"

    assert start.main([]) == 0
    assert ready == [["summary", str(start.STARTER), "--to", str(target)]]
    said = capsys.readouterr().out.splitlines()
    assert said[0].startswith("There is no display")
    assert said[-1] == f"The summary is in {target}"


def test_without_a_display_a_named_file_is_summarised(ready, monkeypatch, tmp_path):
    monkeypatch.setattr(system, "has_display", lambda: False)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "mine.fern").touch()

    start.main(["mine.fern"])

    assert ready == [["summary", "mine.fern", "--to", str(tmp_path / "mine-summary.pdf")]]


def test_without_a_display_a_file_that_is_not_there_is_told_in_one_sentence(
    ready, monkeypatch, tmp_path, capsys
):
    monkeypatch.setattr(system, "has_display", lambda: False)
    monkeypatch.chdir(tmp_path)

    assert start.main(["nope.fern"]) == 2

    said = capsys.readouterr()
    assert said.out == ""
    assert said.err == "nope.fern: there is no such file; give the name of a .fern design.\n"
    assert ready == []


@pytest.mark.parametrize("typed", ["--nonsense", "summry"])
def test_what_is_no_file_and_no_command_is_told_before_anything_is_set_up(ready, capsys, typed):
    assert start.main([typed]) == 2

    said = capsys.readouterr().err
    assert said.startswith((typed, f"‘{typed}’"))
    assert "readings, summary or chart" in said and said.count("\n") == 1
    assert ready == []


def test_commands_are_passed_on_as_typed_display_or_not(ready, monkeypatch):
    monkeypatch.setattr(system, "has_display", lambda: False)

    start.main(["summary", "mine.fern", "--to", "out.html"])

    assert ready == [["summary", "mine.fern", "--to", "out.html"]]


def test_with_a_display_the_window_opens(ready, monkeypatch):
    monkeypatch.setattr(system, "has_display", lambda: True)

    start.main(["mine.fern"])

    assert ready == [["mine.fern"]]


def test_the_tests_run_offscreen_with_their_arguments_and_exit_code(ready, monkeypatch):
    called = {}

    def call(command, cwd, env):
        called.update(command=command, cwd=cwd, platform=env["QT_QPA_PLATFORM"])
        return 5

    monkeypatch.setattr(subprocess, "call", call)

    assert start.main(["--test", "-k", "light"]) == 5
    assert called["command"][1:] == ["-m", "pytest", "-k", "light"]
    assert called["cwd"] == str(start.ROOT)
    assert called["platform"] == "offscreen"
