"""The day ribbon: time by drag, keys and steps; the mean; seasons; lamps, night, and its name."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from pytestqt.qtbot import QtBot

from core.hours import DAY
from gui.day_ribbon import DayRibbon
from gui.theme import Theme
from gui.time_axis import DayLine, lamp_bars, nights

MINUTES = np.arange(DAY)
TEMPERATURE = np.where((MINUTES >= 420) & (MINUTES < 1140), 25.4, 20.9)


@pytest.fixture
def ribbon(qtbot: QtBot, theme: Theme) -> DayRibbon:
    made = DayRibbon(theme)
    qtbot.addWidget(made)
    made.set_seasons([("winter", "Winter day"), ("summer", "Summer day")])
    made.set_lamps(((420, 1140),))
    made.set_series(
        TEMPERATURE,
        TEMPERATURE - 0.6,
        TEMPERATURE + 0.6,
        title="Temperature",
        text=lambda v: f"{v:.1f} °C",
        want=(18.0, 27.0),
    )
    made.resize(790, 76)
    made.show()
    return made


def _heard(ribbon: DayRibbon) -> list:
    heard: list = []
    ribbon.time_changed.connect(heard.append)
    return heard


def _at(ribbon: DayRibbon, minute: int) -> QPoint:
    return QPoint(round(ribbon.axis.x_of(minute)), 30)


def test_begins_with_the_whole_day_mean(ribbon: DayRibbon) -> None:
    assert ribbon.time is None
    assert ribbon.axis.accessibleName() == "Time shown, whole-day mean"


def test_dragging_the_marker_tells_every_time_it_passes(qtbot: QtBot, ribbon: DayRibbon) -> None:
    heard = _heard(ribbon)
    qtbot.mousePress(ribbon.axis, Qt.MouseButton.LeftButton, pos=_at(ribbon, 600))
    ribbon.axis.choose(ribbon.axis.minute_at(ribbon.axis.x_of(660)))
    qtbot.mouseMove(ribbon.axis, _at(ribbon, 720))
    qtbot.mouseRelease(ribbon.axis, Qt.MouseButton.LeftButton, pos=_at(ribbon, 720))
    assert heard[:2] == [600, 660]
    assert ribbon.time == heard[-1]


@pytest.mark.parametrize("minute", [0, 5, 420, 860, 1435])
def test_place_and_time_are_each_others_inverse(ribbon: DayRibbon, minute: int) -> None:
    assert ribbon.axis.minute_at(ribbon.axis.x_of(minute)) == minute


def test_outside_the_axis_is_the_days_end(ribbon: DayRibbon) -> None:
    assert ribbon.axis.minute_at(-50) == 0
    assert ribbon.axis.minute_at(5000) == DAY - 5


def test_steps_cross_midnight_and_leave_the_mean(ribbon: DayRibbon) -> None:
    heard = _heard(ribbon)
    ribbon.set_time(1430)
    ribbon.step(15)
    ribbon.step(-60)
    assert heard == [5, 1385]
    ribbon.show_mean()
    ribbon.step(15)
    assert heard == [5, 1385, None, 1400]


def test_keys_step_a_quarter_and_with_shift_an_hour(qtbot: QtBot, ribbon: DayRibbon) -> None:
    ribbon.set_time(600)
    heard = _heard(ribbon)
    qtbot.keyClick(ribbon.axis, Qt.Key.Key_Right)
    qtbot.keyClick(ribbon.axis, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(ribbon.axis, Qt.Key.Key_Home)
    assert heard == [615, 555, 0]


def test_a_time_set_by_the_program_is_not_told(ribbon: DayRibbon) -> None:
    heard = _heard(ribbon)
    ribbon.set_time(860)
    ribbon.set_time(None)
    assert heard == []


def test_the_link_goes_to_the_mean_and_back(qtbot: QtBot, ribbon: DayRibbon) -> None:
    ribbon.set_time(860)
    heard = _heard(ribbon)
    assert ribbon.mean_link.text() == "Whole-day mean"
    ribbon.mean_link.click()
    assert ribbon.mean_link.text() == "Show 14:20"
    ribbon.mean_link.click()
    assert heard == [None, 860]


def test_assistive_tools_see_a_slider_named_by_its_time(ribbon: DayRibbon) -> None:
    ribbon.set_time(860)
    seen = QAccessible.queryAccessibleInterface(ribbon.axis)
    assert seen.role() == QAccessible.Role.Slider
    assert seen.text(QAccessible.Text.Name) == "Time shown, 14:20"
    assert ribbon.axis.accessibleDescription() == "Temperature, 20.9 °C to 25.4 °C"


def test_season_tells_only_what_the_user_chose(qtbot: QtBot, ribbon: DayRibbon) -> None:
    heard: list[str] = []
    ribbon.season_changed.connect(heard.append)
    ribbon.set_season("summer")
    assert ribbon.season == "summer" and heard == []
    qtbot.keyClick(ribbon.seasons, Qt.Key.Key_Up)
    assert heard == ["winter"]
    ribbon.set_season("summer")
    ribbon.set_seasons([("summer", "Summer day"), ("dry", "Dry season")])
    assert ribbon.season == "summer" and heard == ["winter"]


def test_link_gives_way_in_a_low_ribbon(ribbon: DayRibbon) -> None:
    ribbon.resize(790, 54)
    assert not ribbon.mean_link.isVisible()
    ribbon.resize(790, 92)
    assert ribbon.mean_link.isVisible()


@pytest.mark.parametrize(
    ("periods", "bars", "dark"),
    [
        (((420, 1140),), [(420, 1140)], [(0, 420), (1140, DAY)]),
        (((1320, 360),), [(0, 360), (1320, DAY)], [(360, 1320)]),
        (((420, 540), (1020, 0)), [(420, 540), (1020, DAY)], [(0, 420), (540, 1020)]),
        (((0, 0),), [(0, DAY)], []),
        (((300, 900), (600, 1200)), [(300, 900), (600, 1200)], [(0, 300), (1200, DAY)]),
        ((), [], []),
    ],
)
def test_lamp_bars_and_nights(periods: tuple, bars: list, dark: list) -> None:
    assert lamp_bars(periods) == bars
    assert nights(periods) == dark


def _line(values: np.ndarray, filled: bool = False) -> DayLine:
    return DayLine.of(values, None, None, "t", lambda v: f"{v:.0f}", (None, None), "air", filled)


def test_numbers_stand_in_the_middle_of_the_longest_stretch() -> None:
    (top, high), (bottom, low) = _line(TEMPERATURE).extremes()
    assert (top, high) == (780, 25.4)
    assert low == 20.9
    assert bottom in (210, 1290)


def test_a_level_line_has_one_number_and_a_scale() -> None:
    flat = _line(np.full(DAY, 5.0))
    assert len(flat.extremes()) == 1
    assert flat.scale[0] < 5 < flat.scale[1]
    watts = _line(np.full(DAY, 0.0), filled=True)
    assert watts.scale[0] == 0 < watts.scale[1]


def _colours(ribbon: DayRibbon) -> set[str]:
    image = ribbon.axis.grab().toImage()
    places = ((x, y) for x in range(image.width()) for y in range(image.height()))
    return {image.pixelColor(x, y).name() for x, y in places}


def test_ribbon_draws_lamps_and_marker_in_their_colours(
    qtbot: QtBot, theme: Theme, ribbon: DayRibbon
) -> None:
    ribbon.set_time(860)
    seen = _colours(ribbon)
    for role in ("lamp", "pencil", "air"):
        assert theme.colour(role).name() in seen
    ribbon.show_mean()
    assert theme.colour("pencil").name() not in _colours(ribbon)


def test_ribbon_without_anything_draws(qtbot: QtBot, theme: Theme) -> None:
    bare = DayRibbon(theme)
    qtbot.addWidget(bare)
    assert bare.season == ""
    assert not bare.grab().isNull()
