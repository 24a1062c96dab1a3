"""What a form asks for where a season's air comes from a file, and which files do for that.

The way from a file to a season is `gui.season_files`'.
"""

from __future__ import annotations

from pathlib import Path

LOG_ENDINGS = (".csv", ".tsv", ".txt")
WEATHER_ENDING = ".epw"

ASK_LOG = "season log:"
"""Asks for a sensor's log; the season's id follows."""
ASK_WEATHER = "season weather:"
"""Asks for a year of weather; the season's id follows."""


def is_season_file(path: Path) -> bool:
    """Say whether a file is taken for a season's air when it is dropped."""
    return path.suffix.lower() in (*LOG_ENDINGS, WEATHER_ENDING)
