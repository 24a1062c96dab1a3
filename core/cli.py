"""The commands that need no window: print a design's readings, write its summary or wall chart.

Here is only the way from arguments to text on a terminal; what is read and how a summary looks is
said elsewhere.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import sys
import unicodedata
from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any, NoReturn

from core.advised import with_trials
from core.errors import FernwrightError, InputError
from core.finding import Finding
from core.language import tr
from core.model import Design
from core.reading import SUBJECTS, Reading, SubjectReadings
from core.readings import Readings, read
from core.storage import load
from core.summary import Wishes, write_chart, write_summary
from core.summary.rows import span, state_words, subject_name
from core.warm import ENGINES

TROUBLE = 2
"""Exit code when something asked for cannot be done."""
OWN_FAULT = 3
"""Exit code when the program itself failed."""

_GAP = "  "
# Control characters, marks that turn the writing direction, halves of characters, line breaks.
_UNPRINTABLE = {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command with these arguments (the process's own by default); return its exit code."""
    _let_all_text_pass()
    try:
        options = _parser().parse_args(argv)
        commands = {"readings": _readings, "summary": _summary, "chart": _chart}
        commands[options.command](options)
        sys.stdout.flush()
    except SystemExit as asked:  # --help has printed all there is to say
        return int(asked.code or 0)
    except FernwrightError as error:
        return _complain(str(error), TROUBLE)
    except BrokenPipeError:
        _close_quietly()
    except KeyboardInterrupt:
        return _complain(tr("Stopped. Nothing was changed."), 130)
    except Exception as error:  # a fault of the program's own still ends in a sentence
        text = tr("Fernwright failed at its own work: {kind}: {text}. The design is unchanged.")
        return _complain(text.format(kind=type(error).__name__, text=error), OWN_FAULT)
    return 0


def _let_all_text_pass() -> None:
    """Let a terminal that lacks a sign show a question mark instead of ending the program."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]


def _close_quietly() -> None:
    """Drop what is still to be written: the reader of our output has gone."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _complain(text: str, code: int) -> int:
    print(printable(text), file=sys.stderr)
    return code


class _Parser(argparse.ArgumentParser):
    """A parser that complains in one sentence."""

    def error(self, message: str) -> NoReturn:
        text = tr("{command}: {message}; {command} --help tells more.")
        raise InputError(text.format(command=self.prog, message=message))


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="fernwright", description=tr("Read a design without a window."))
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    readings = commands.add_parser("readings", help=tr("print what the engines say of a design"))
    readings.add_argument("--json", action="store_true", help=tr("as JSON, numbers in SI"))
    summary = commands.add_parser("summary", help=tr("write a design's summary"))
    summary.add_argument(
        "--to",
        required=True,
        metavar="PATH",
        help=tr("a file that ends in .pdf, .html, .svg, .csv or .ics, or a folder for all of them"),
    )
    summary.add_argument(
        "--scale", metavar="1:N", help=tr("of the drawings; the largest that fits")
    )
    chart = commands.add_parser("chart", help=tr("write the wall chart of a design's care"))
    chart.add_argument(
        "--to", required=True, metavar="PATH", help=tr("a file that ends in .pdf or .html")
    )
    for command in (summary, chart):
        command.add_argument("--paper", metavar="NAME", help=tr("A4, Letter or A3; by the units"))
        command.add_argument(
            "--date",
            metavar="DAY",
            help=tr("the date on it, from which care is counted, as 2026-11-24; today by default"),
        )
    for command in (readings, summary, chart):
        command.add_argument("file", metavar="FILE", help=tr("the .fern design"))
        command.add_argument("--season", help=tr("id or name of a season; the first by default"))
    return parser


def _readings(options: argparse.Namespace) -> None:
    readings = with_trials(_read(options))
    if options.json:
        # ASCII only, so that no name in the design can steer the terminal.
        print(json.dumps(readings.to_json(), indent=1, allow_nan=False))
        return
    for line in report(readings):
        print(line)


def _summary(options: argparse.Namespace) -> None:
    wishes, day = Wishes(options.paper, _scale(options.scale)), _date(options.date)
    readings = with_trials(_read(options))
    for path in write_summary(readings.design, readings, options.to, stamp=day, wishes=wishes):
        print(printable(str(path)))


def _chart(options: argparse.Namespace) -> None:
    wishes, day = Wishes(options.paper), _date(options.date)
    readings = _read(options)
    path = write_chart(readings.design, readings, options.to, start=day, wishes=wishes)
    print(printable(str(path)))


def _scale(text: str | None) -> int | None:
    """Return 25 for "1:25" or "25"."""
    if text is None:
        return None
    number = text.partition(":")[2] if ":" in text else text
    if not number.strip().isdecimal() or int(number) < 1:
        raise InputError(tr("Scale ‘{text}’ cannot be read; enter it as 1:25.").format(text=text))
    return int(number)


def _date(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        words = tr("Date ‘{text}’ cannot be read; enter it as 2026-11-24.")
        raise InputError(words.format(text=text)) from None


def _read(options: argparse.Namespace) -> Readings:
    """Return the readings as the window tells them: with kernels, so that none is coarse."""
    design = load(options.file)
    season = _season(design, options.season)
    for make_ready in ENGINES.values():
        make_ready()
    return read(design, season=season)


def _season(design: Design, asked: str | None) -> str | None:
    if asked is None:
        return None
    for season in design.seasons:
        if asked.casefold() in (season.id, season.name.casefold()):
            return season.id
    known = ", ".join(season.id for season in design.seasons)
    text = tr("Season ‘{asked}’ must be a season of the design; choose one of {known}.")
    raise InputError(text.format(asked=asked, known=known))


def report(readings: Readings) -> Iterator[str]:
    """Yield the lines that tell the readings of a design, in its own units.

    Every subject is headed by its state and the number that matters most; then follow its rows:
    state, own range, and the number with its place and what is wanted.
    """
    design = readings.design
    season = design.season(readings.season).name
    yield printable(f"{design.name} · {design.variant_name} · {season}")
    rows = {name: _rows(readings.subject(name), design.units) for name in SUBJECTS}
    widths = _widths([row for table in rows.values() for row in table])
    for name in SUBJECTS:
        yield ""
        yield _heading(readings.subject(name), name, design.units)
        for row in rows[name]:
            cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=True)]
            yield (_GAP + _GAP.join(cells)).rstrip()
    yield ""
    yield from _findings(readings.findings, design.units)


def _heading(found: SubjectReadings, name: str, system: str) -> str:
    if found.headline is None:
        said = found.nothing.render(system)
    else:
        line = found.headline.line.render(system)
        said = f"{state_words(found.headline)}. {'≈ ' if found.coarse else ''}{line}"
    return printable(f"{subject_name(name)}: {said}")


def _rows(found: SubjectReadings, system: str) -> list[tuple[str, ...]]:
    return [_row(item, system) for item in found.rows]


def _row(item: Reading, system: str) -> tuple[str, ...]:
    between = span(item.low, item.high, item.kind, system)
    return tuple(printable(text) for text in (state_words(item), between, item.line.render(system)))


def _widths(rows: list[tuple[str, ...]]) -> list[int]:
    return [max(map(len, column)) for column in zip(*rows, strict=True)] or [0, 0, 0]


def _findings(findings: Sequence[Finding], system: str) -> Iterator[str]:
    if not findings:
        yield tr("Nothing to mend.")
        return
    yield tr("Findings: {count}").format(count=len(findings))
    for number, item in enumerate(findings, start=1):
        yield printable(f"{number:>3}  {item.title.render(system)}")
        detail = item.detail.render(system)
        if detail:
            yield printable(f"     {detail}")
        if item.remedy is not None:
            mend = tr("To mend: {remedy}").format(remedy=item.remedy.words.render(system))
            yield printable(f"     {mend}")


def printable(text: Any) -> str:
    """Return a text on one line, with whatever could steer a terminal replaced by �."""
    return "".join(
        "�" if unicodedata.category(sign) in _UNPRINTABLE else sign for sign in str(text)
    )
