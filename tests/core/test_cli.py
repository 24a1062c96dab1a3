"""The commands: the window’s numbers as text or JSON, summaries, and troubles in one sentence."""

from __future__ import annotations

import csv
import html
import json
import os
import re
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import icalendar
import pytest

from core import cli
from core.advised import with_trials
from core.cli import main, printable, report
from core.errors import FileError
from core.model import Design, replace
from core.reading import SUBJECTS
from core.readings import Readings, read
from core.states import State
from core.storage import dumps, load, save
from core.summary.rows import span, state_words
from core.warm import ENGINES

TOP = Path(__file__).parents[2]
FOLDER = TOP / "resources" / "demos"
DEMOS = sorted(file.stem for file in FOLDER.glob("*.fern"))
ALCOVE = FOLDER / "stair-alcove.fern"
STARTER = FOLDER / "starter.fern"
QUIET = {State.FINE, State.UNASKED, State.UNKNOWN}
ADVICE = {"dimming", "drop"}
"""Readings that the findings' remedies tell."""


@pytest.fixture(scope="module")
def alcove() -> Readings:
    for make_ready in ENGINES.values():
        make_ready()
    return with_trials(read(load(ALCOVE)))


def one_space(text: str) -> str:
    """Return a text with all sorts of space alike."""
    return re.sub(r"\s", " ", text)


def run(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    code = main([str(argument) for argument in arguments])
    out, err = capsys.readouterr()
    return code, out, err


# Readings ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_readings_of_every_demo_are_printed(name: str, capsys: Any) -> None:
    code, out, err = run(capsys, "readings", FOLDER / f"{name}.fern")
    assert (code, err) == (0, "")
    for subject in SUBJECTS:
        assert f"\n{subject.capitalize()}: " in out


def test_no_reflection_is_coarse_where_nobody_waits_for_a_drag() -> None:
    done = process("readings", str(STARTER), "--json")

    assert done.returncode == 0
    assert b"kernels ready" not in done.stdout


def test_the_head_tells_design_variant_and_season(capsys: Any) -> None:
    _, out, _ = run(capsys, "readings", ALCOVE)
    assert out.splitlines()[0] == "Stair alcove · A, two boards a level · Winter day"


def test_every_row_tells_state_range_and_line_in_the_words_of_the_window(alcove: Readings) -> None:
    lines = list(report(alcove))
    rows = alcove.rows()
    assert len(rows) > 20
    for row in rows:
        own = span(row.low, row.high, row.kind, "metric")
        told = (state_words(row), own, row.line.render("metric"))
        assert any(
            line.startswith(f"  {told[0]} ") and f"  {told[1]}  " in line and line.endswith(told[2])
            for line in lines
        ), told


def test_columns_stand_under_each_other(alcove: Readings) -> None:
    lines = list(report(alcove))
    rows = [line for line in lines if re.match(r"  \S", line) and not re.match(r"  \d+  ", line)]
    widest = max(len(state_words(row)) for row in alcove.rows())
    assert all(line[2 + widest : 4 + widest] == "  " for line in rows)


def test_every_finding_is_told_with_its_remedy(alcove: Readings) -> None:
    text = "\n".join(report(alcove))
    assert f"\nFindings: {len(alcove.findings)}\n" in text
    assert len(alcove.findings) >= 3
    for item in alcove.findings:
        assert item.title.render("metric") in text
        assert item.detail.render("metric") in text
        if item.remedy:
            assert f"To mend: {item.remedy.words.render('metric')}" in text


def test_a_us_design_is_told_in_us_units(capsys: Any) -> None:
    _, out, _ = run(capsys, "readings", FOLDER / "garage-bay.fern")
    assert "°F" in out
    assert "°C" not in out


def test_an_empty_room_says_what_is_missing_and_has_nothing_to_mend(capsys: Any) -> None:
    _, out, _ = run(capsys, "readings", FOLDER / "empty-room.fern")
    assert "Nothing to mend." in out


def test_json_is_what_the_readings_say(capsys: Any, alcove: Readings) -> None:
    code, out, _ = run(capsys, "readings", ALCOVE, "--json")
    assert code == 0
    assert json.loads(out) == json.loads(json.dumps(alcove.to_json()))
    assert "Edits tried by their jets: " in out
    assert out.isascii()


def test_text_and_json_tell_the_same_numbers(capsys: Any) -> None:
    _, text, _ = run(capsys, "readings", ALCOVE)
    _, data, _ = run(capsys, "readings", ALCOVE, "--json")
    for row in json.loads(data)["readings"]:
        assert row["line"] in text


@pytest.mark.parametrize("asked", ["summer", "Summer day", "SUMMER"])
def test_a_season_is_chosen_by_id_or_name(asked: str, capsys: Any) -> None:
    nook = FOLDER / "basement-nook.fern"
    _, winter, _ = run(capsys, "readings", nook)
    code, summer, _ = run(capsys, "readings", nook, "--season", asked)
    assert code == 0
    assert "· Summer day" in summer.splitlines()[0]
    assert summer != winter


# Summaries ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("ending", [".html", ".svg", ".csv", ".pdf"])
def test_a_summary_is_written_by_its_ending(ending: str, capsys: Any, tmp_path: Path) -> None:
    target = tmp_path / f"starter{ending}"
    code, out, err = run(capsys, "summary", STARTER, "--to", target)
    assert (code, err) == (0, "")
    assert str(target) in out.splitlines()
    assert target.stat().st_size > 1000


def test_a_folder_gets_pdf_and_html(capsys: Any, tmp_path: Path) -> None:
    code, out, _ = run(capsys, "summary", STARTER, "--to", tmp_path)
    assert code == 0
    assert {".pdf", ".html"} <= {Path(line).suffix for line in out.splitlines()}
    assert all(Path(line).exists() for line in out.splitlines())


def test_the_csv_beside_the_summary_holds_every_number_that_readings_prints(
    capsys: Any, tmp_path: Path, alcove: Readings
) -> None:
    target = tmp_path / "a.csv"
    assert run(capsys, "summary", ALCOVE, "--to", target)[0] == 0
    told = list(csv.reader(target.read_text("utf-8-sig").splitlines()))
    lines = [one[2].lstrip("'") for one in told[1:]]
    assert [one_space(line) for line in lines] == [
        one_space(row.line.render("metric")) for row in alcove.rows()
    ]


def test_the_summary_holds_the_range_of_every_reading_that_is_not_as_wanted(
    capsys: Any, tmp_path: Path, alcove: Readings
) -> None:
    target = tmp_path / "a.html"
    assert run(capsys, "summary", ALCOVE, "--to", target)[0] == 0
    text = one_space(html.unescape(target.read_text(encoding="utf-8")))
    told = [r for r in alcove.rows() if r.state not in QUIET and r.name not in ADVICE]
    assert len(told) >= 3
    for row in told:
        own = one_space(span(row.low, row.high, row.kind, "metric"))
        assert own.removesuffix(" µmol/(m² s)") in text, row.line.render()


@pytest.mark.parametrize("what", ["summary", "chart"])
def test_the_same_day_gives_the_same_bytes(what: str, capsys: Any, tmp_path: Path) -> None:
    for name in ("a.pdf", "b.pdf"):
        to = ("--to", tmp_path / name, "--date", "2026-11-24", "--paper", "a3")
        assert run(capsys, what, STARTER, *to)[0] == 0
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_a_calendar_of_care_begins_on_the_day_asked_for(capsys: Any, tmp_path: Path) -> None:
    target = tmp_path / "care.ics"
    assert run(capsys, "summary", STARTER, "--to", target, "--date", "2026-11-24")[0] == 0
    events = icalendar.Calendar.from_ical(target.read_bytes()).walk("VEVENT")
    assert len(events) >= 3
    for event in events:
        days = event["RRULE"]["INTERVAL"][0]
        assert event["DTSTART"].dt == date(2026, 11, 24) + timedelta(days=days)


WITHOUT_QT = """
import sys
class Blocked:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in ("PySide6", "shiboken6", "pyqtgraph"):
            raise ModuleNotFoundError(f"no {name} here")
sys.meta_path.insert(0, Blocked())
from gui.__main__ import main
sys.exit(main(sys.argv[1:]))
"""


def test_a_summary_is_written_where_there_is_no_display_and_no_qt(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT_QT, "summary", str(STARTER), "--to", str(tmp_path / "all")],
        cwd=TOP, capture_output=True, text=True, check=False,
        env={key: value for key, value in os.environ.items() if "DISPLAY" not in key},
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    endings = {path.suffix for path in (tmp_path / "all").iterdir()}
    assert endings == {".pdf", ".html", ".svg", ".csv", ".ics"}


# Troubles ----------------------------------------------------------------------------------------


def refused(capsys: pytest.CaptureFixture[str], *arguments: object) -> str:
    code, out, err = run(capsys, *arguments)
    assert code == 2
    assert out == ""
    assert err.count("\n") == 1
    assert "Traceback" not in err
    return err.strip()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ([], "COMMAND"),
        (["paint"], "paint"),
        (["readings"], "FILE"),
        (["summary", "a.fern"], "--to"),
        (["readings", "a.fern", "--loud"], "--loud"),
        (["readings", "no-such.fern"], "There is no file ‘no-such.fern’"),
        (["summary", "no-such.fern", "--to", "a.pdf"], "There is no file ‘no-such.fern’"),
        (["readings", str(FOLDER)], "is a folder"),
        (["readings", str(ALCOVE), "--season", "monsoon"], "choose one of winter, summer"),
        (["summary", str(STARTER), "--to", "a.docx"], ".docx"),
        (["summary", str(STARTER), "--to", "nowhere/at/all/a.html"], "nowhere"),
        (["summary", str(STARTER), "--to", "a.pdf", "--scale", "half"], "enter it as 1:25"),
        (["summary", str(STARTER), "--to", "a.pdf", "--scale", "1:2"], "too large for A4"),
        (["summary", str(STARTER), "--to", "a.pdf", "--paper", "A9"], "one of A4, Letter, A3"),
        (["summary", str(STARTER), "--to", "a.pdf", "--date", "soon"], "enter it as 2026-11-24"),
        (["chart", str(STARTER), "--to", "a.svg"], "one of .pdf, .html"),
    ],
)
def test_what_cannot_be_done_is_told_in_one_sentence(
    arguments: list[str], told: str, capsys: Any, tmp_path: Path, monkeypatch: Any
) -> None:
    monkeypatch.chdir(tmp_path)
    assert told in refused(capsys, *arguments)
    assert list(tmp_path.iterdir()) == []


def test_a_broken_file_is_told_in_one_sentence_and_left_alone(capsys: Any, tmp_path: Path) -> None:
    file = tmp_path / "broken.fern"
    file.write_text('{"format": "fernwright", "schema": 1, ', encoding="utf-8")
    before = file.read_bytes()
    assert refused(capsys, "readings", file).endswith("Nothing was changed.")
    assert file.read_bytes() == before


def test_help_is_given_without_trouble(capsys: Any) -> None:
    code, out, _ = run(capsys, "summary", "--help")
    assert code == 0
    assert "--to" in out


def test_a_fault_of_our_own_ends_in_a_sentence(capsys: Any, monkeypatch: Any) -> None:
    def fails(_: Any) -> Design:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(cli, "load", fails)
    code, _, err = run(capsys, "readings", STARTER)
    assert code == 3
    assert err == (
        "Fernwright failed at its own work: ZeroDivisionError: division by zero. "
        "The design is unchanged.\n"
    )


def test_stopping_is_no_fault(capsys: Any, monkeypatch: Any) -> None:
    def stops(_: Any) -> Design:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "load", stops)
    assert run(capsys, "readings", STARTER) == (130, "", "Stopped. Nothing was changed.\n")


# Terminals ---------------------------------------------------------------------------------------

NASTY = "Fern \x1b[31m\x07\x9b2J\u202e\u2028\nwright"


def test_what_could_steer_a_terminal_is_replaced() -> None:
    assert printable(NASTY) == "Fern �[31m��2J���wright"
    assert printable("21 °C · Ström – 日本 ≈ µ") == "21 °C · Ström – 日本 ≈ µ"


@pytest.mark.parametrize("json_too", [[], ["--json"]])
def test_names_from_a_file_cannot_steer_the_terminal(
    json_too: list[str], capsys: Any, tmp_path: Path
) -> None:
    design = load(STARTER)
    parts = tuple(replace(part, name=f"{NASTY} {part.id}") for part in design.parts)
    save(design.having(name=NASTY, parts=parts), tmp_path / "nasty.fern")
    code, out, _ = run(capsys, "readings", tmp_path / "nasty.fern", *json_too)
    assert code == 0
    for sign in "\x1b\x07\x9b\u202e\u2028":
        assert sign not in out


def test_names_in_complaints_cannot_steer_the_terminal(capsys: Any, tmp_path: Path) -> None:
    data = json.loads(dumps(load(STARTER)))
    part = data["variants"][0]["parts"][5]
    part |= {"name": NASTY, "watts": -1}
    (tmp_path / "nasty.fern").write_text(json.dumps(data), encoding="utf-8")
    told = refused(capsys, "readings", tmp_path / "nasty.fern")
    assert "\x1b" not in told
    assert "watts = −1 W must not be negative" in told


def process(*arguments: str, **settings: Any) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "gui", *arguments]
    return subprocess.run(command, cwd=TOP, capture_output=True, check=False, **settings)


def test_a_terminal_without_the_signs_gets_question_marks() -> None:
    surroundings = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    done = process("readings", str(STARTER), env=surroundings)
    assert done.returncode == 0, done.stderr
    assert done.stderr == b""
    assert b"Starter ? A ? Winter day" in done.stdout


@pytest.mark.skipif(os.name == "nt", reason="pipes close otherwise there")
def test_a_reader_that_leaves_early_is_no_trouble() -> None:
    command = f"'{sys.executable}' -m gui readings '{ALCOVE}' | head -1; exit ${{PIPESTATUS[0]}}"
    done = subprocess.run(["bash", "-c", command], cwd=TOP, capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


def test_file_errors_are_the_same_as_in_the_window(tmp_path: Path, capsys: Any) -> None:
    (tmp_path / "a.fern").write_text("{", encoding="utf-8")
    with pytest.raises(FileError) as caught:
        load(tmp_path / "a.fern")
    assert refused(capsys, "readings", tmp_path / "a.fern") == str(caught.value)
