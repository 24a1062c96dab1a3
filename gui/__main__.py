"""Where the program starts: hands commands to `core.cli`, everything else to the window.

Checks the machine before Qt starts, since Qt would end the process without a word. Nothing else
is decided here; no Qt and no numpy may load before that check.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from core import __version__
from core.language import tr
from gui.system import pin_blas, window_trouble

COMMANDS = ("readings", "summary", "chart")


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program with these arguments (the process's own by default); return its exit code."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    pin_blas()
    if arguments and arguments[0] in COMMANDS:
        from core.cli import main as run_command

        return run_command(arguments)
    trouble = argument_trouble(arguments)
    if trouble:
        print(trouble, file=sys.stderr)
        return 2
    return _open_window(_parser().parse_args(arguments).file)


def opens_window(arguments: Sequence[str]) -> bool:
    """Say whether these arguments ask for a window, rather than a command, help or the version."""
    return not {"-h", "--help", "--version", *COMMANDS}.intersection(arguments[:1])


def argument_trouble(arguments: Sequence[str]) -> str:
    """Return why no design can be opened with these arguments; empty when one can."""
    if not arguments or not opens_window(arguments):
        return ""
    first = arguments[0]
    known = tr("open a .fern file, or give the command readings, summary or chart (see --help)")
    if len(arguments) > 1:
        return tr("‘{first}’ is no command; {known}.").format(first=first, known=known)
    if first.startswith("-") and first != "--":
        return tr("{first}: there is no such option; {known}.").format(first=first, known=known)
    if not first.lower().endswith(".fern") and not os.path.isfile(first):
        return tr("‘{first}’ is neither a design nor a command; {known}.").format(
            first=first, known=known
        )
    return ""


def _open_window(file: str | None) -> int:
    trouble = window_trouble()
    if trouble:
        print(trouble, file=sys.stderr)
        return 1
    from gui.app import run

    return run([file] if file else [])


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fernwright",
        description=tr("Design an indoor growing enclosure in its room and read what it will do."),
        epilog=tr(
            "Without a window: fernwright readings FILE [--json]"
            " · fernwright summary FILE --to PATH · fernwright chart FILE --to PATH"
        ),
    )
    parser.add_argument("file", nargs="?", metavar="FILE", help=tr("the .fern design to open"))
    parser.add_argument("--version", action="version", version=f"Fernwright {__version__}")
    return parser


if __name__ == "__main__":
    sys.exit(main())
