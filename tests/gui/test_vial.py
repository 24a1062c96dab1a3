"""The bubble tells the truth: state, word, mark and spoken name agree, and its measures hold."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from core.drawing.vial import END_GAP, mark_kind, vial_shape
from core.states import State, judge, words
from gui.theme import DARK, LIGHT, Palette, Theme
from gui.vial import LEVEL_SIZE, READING_SIZE, Vial, paint_mark, paint_vial, spoken

S = State
# value, uncertainty (±), wanted low, wanted high, state, word, mark
ROWS = [
    (184.0, 15.0, 60.0, 120.0, S.HIGH, "too strong", "solid point right"),
    (71.0, 6.0, 40.0, 90.0, S.FINE, "within the range", "solid round"),
    (35.0, 3.0, 40.0, 90.0, S.LOW, "too weak", "solid point left"),
    (38.0, 3.0, 40.0, 90.0, S.LIKELY_LOW, "likely too weak", "hollow point left"),
    (42.0, 3.0, 40.0, 90.0, S.BORDERLINE, "borderline", "hollow round with line"),
    (88.0, 3.0, 40.0, 90.0, S.BORDERLINE, "borderline", "hollow round with line"),
    (92.0, 3.0, 40.0, 90.0, S.LIKELY_HIGH, "likely too strong", "hollow point right"),
    (40.0, 0.0, 40.0, 90.0, S.FINE, "within the range", "solid round"),
    (90.0, 0.0, 40.0, 90.0, S.FINE, "within the range", "solid round"),
    (39.9, 0.0, 40.0, 90.0, S.LOW, "too weak", "solid point left"),
    (90.1, 0.0, 40.0, 90.0, S.HIGH, "too strong", "solid point right"),
    (65.0, 25.0, 40.0, 90.0, S.FINE, "within the range", "solid round"),
    (65.0, 25.1, 40.0, 90.0, S.BORDERLINE, "borderline", "hollow round with line"),
    (37.0, 3.0, 40.0, 90.0, S.LIKELY_LOW, "likely too weak", "hollow point left"),
    (36.9, 3.0, 40.0, 90.0, S.LOW, "too weak", "solid point left"),
    (93.0, 3.0, 40.0, 90.0, S.LIKELY_HIGH, "likely too strong", "hollow point right"),
    (20.0, 200.0, 40.0, 90.0, S.LIKELY_LOW, "likely too weak", "hollow point left"),
    (612.0, 30.0, None, 2300.0, S.FINE, "within the limit", "solid round"),
    (2300.0, 0.0, None, 2300.0, S.FINE, "within the limit", "solid round"),
    (2300.0, 10.0, None, 2300.0, S.BORDERLINE, "borderline", "hollow round with line"),
    (2305.0, 10.0, None, 2300.0, S.LIKELY_HIGH, "likely too strong", "hollow point right"),
    (2400.0, 10.0, None, 2300.0, S.HIGH, "too strong", "solid point right"),
    (6.0, 0.5, 5.0, None, S.FINE, "within the limit", "solid round"),
    (6.0, 2.0, 5.0, None, S.BORDERLINE, "borderline", "hollow round with line"),
    (4.5, 2.0, 5.0, None, S.LIKELY_LOW, "likely too weak", "hollow point left"),
    (2.0, 0.5, 5.0, None, S.LOW, "too weak", "solid point left"),
    (5.0, 0.0, 5.0, None, S.FINE, "within the limit", "solid round"),
    (0.02, 0.01, 0.0, None, S.FINE, "within the limit", "solid round"),
    (-0.02, 0.0, 0.0, None, S.LOW, "too weak", "solid point left"),
    (50.0, 5.0, None, None, S.UNASKED, "not asked for", "small ring"),
    (None, 0.0, 40.0, 90.0, S.UNKNOWN, "not known yet", "dotted round"),
    (0.06, 0.1, 0.10, 0.50, S.LIKELY_LOW, "likely too weak", "hollow point left"),
]


def _ends(value: float | None, spread: float) -> tuple[float | None, float | None]:
    return (None, None) if value is None else (value - spread, value + spread)


@pytest.mark.parametrize(
    ("value", "spread", "want_low", "want_high", "state", "word", "mark"), ROWS
)
def test_word_mark_and_spoken_name_agree(
    qtbot: QtBot,
    theme: Theme,
    value: float | None,
    spread: float,
    want_low: float | None,
    want_high: float | None,
    state: State,
    word: str,
    mark: str,
) -> None:
    vial = Vial(theme)
    qtbot.addWidget(vial)
    numbers = (value, *_ends(value, spread), want_low, want_high)
    one_sided = want_low is None or want_high is None
    said = words(judge(*numbers), "light", one_sided=one_sided)
    vial.show_reading(*numbers, name="Light", words=said, numbers="at level 4")
    assert vial.state is state
    assert said == word
    assert mark_kind(vial.state) == mark
    assert vial.accessibleName() == f"Light, {word}: at level 4"


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_bubble_lies_on_the_side_that_its_state_tells(row: tuple) -> None:
    value, spread, want_low, want_high, state, *_ = row
    shape = vial_shape(*READING_SIZE, value, *_ends(value, spread), want_low, want_high)
    if state in (S.UNKNOWN, S.UNASKED):
        assert shape.bubble is None
        return
    assert shape.bubble is not None
    left, right = shape.bubble
    crossed = any(left < line < right for line in shape.lines)
    assert crossed == (state in (S.BORDERLINE, S.LIKELY_LOW, S.LIKELY_HIGH)) or spread == 0
    if state is S.FINE:
        assert shape.wanted[0] <= left and right <= shape.wanted[1]
    if state is S.LOW:
        assert right <= shape.lines[0]
    if state is S.HIGH:
        assert left >= shape.lines[-1]


numbers = st.floats(-1e4, 1e4)


@given(
    value=numbers,
    spread=st.floats(0, 1e4),
    limits=st.tuples(numbers, numbers).map(sorted),
    size=st.sampled_from([READING_SIZE, LEVEL_SIZE, (64, 12)]),
    sides=st.sampled_from(["both", "lower", "upper"]),
)
def test_bubble_keeps_its_measures(
    value: float, spread: float, limits: list[float], size: tuple[int, int], sides: str
) -> None:
    width, height = size
    want_low = None if sides == "upper" else limits[0]
    want_high = None if sides == "lower" else limits[1]
    shape = vial_shape(width, height, value, value - spread, value + spread, want_low, want_high)
    assert shape.bubble is not None
    left, right = shape.bubble
    assert right - left >= shape.bubble_height - 1e-6
    assert left >= END_GAP - 1e-6
    assert right <= width - END_GAP + 1e-6


def test_lines_lie_at_thirty_and_seventy_hundredths() -> None:
    assert vial_shape(100, 12, 1, 1, 1, 0, 2).lines == (30, 70)
    assert vial_shape(100, 12, 1, 1, 1, None, 2).lines == (70,)
    assert vial_shape(100, 12, 1, 1, 1, 0.5, None).lines == (30,)


def test_bubble_is_as_long_as_the_reading_is_unsure() -> None:
    shape = vial_shape(100, 12, 6, 3, 12, 0, 20)
    assert shape.bubble == pytest.approx((36, 54))


def test_one_limit_has_nought_at_the_left_end() -> None:
    half = vial_shape(100, 12, 1150, 1050, 1250, None, 2300).bubble
    assert half is not None
    assert sum(half) / 2 == pytest.approx(35)


def test_the_place_rises_with_the_value() -> None:
    middles = []
    for value in range(-20, 220, 20):
        bubble = vial_shape(92, 12, value, value - 15, value + 15, 60, 120).bubble
        assert bubble is not None
        middles.append(sum(bubble) / 2)
    assert all(a <= b for a, b in pairwise(middles))


def _picture(palette: Palette, state: State, *numbers: float | None) -> QImage:
    image = QImage(92, 16, QImage.Format.Format_ARGB32)
    image.fill(QColor(palette.panel))
    painter = QPainter(image)
    paint_vial(painter, QRectF(0, 2, 92, 12), vial_shape(92, 12, *numbers), state, palette)
    painter.end()
    return image


def _colours(image: QImage) -> set[str]:
    return {
        image.pixelColor(x, y).name().upper()
        for x in range(image.width())
        for y in range(image.height())
    }


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_only_its_own_state_colour_is_in_a_vial(palette: Palette) -> None:
    states = {palette.fine, palette.edgey, palette.out}
    fine = _colours(_picture(palette, S.FINE, 90, 85, 95, 60, 120))
    out = _colours(_picture(palette, S.HIGH, 184, 170, 199, 60, 120))
    assert fine & states == {palette.fine}
    assert out & states == {palette.out}
    assert not _colours(_picture(palette, S.UNKNOWN, None, None, None, 60, 120)) & states


def test_lines_stand_two_px_proud() -> None:
    image = _picture(LIGHT, S.FINE, 90, 85, 95, 60, 120)
    ink = [x for x in range(92) if image.pixelColor(x, 0).lightness() < 120]
    assert {round(0.3 * 92), round(0.7 * 92)} <= set(ink) | {x + 1 for x in ink}


def test_every_state_has_a_mark_of_its_own_shape() -> None:
    kinds = [mark_kind(state) for state in State]
    assert len(set(kinds)) == len(kinds)
    pictures = []
    for state in State:
        image = QImage(14, 14, QImage.Format.Format_ARGB32)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        paint_mark(painter, QRectF(0, 0, 14, 14), state, LIGHT)
        painter.end()
        # The alpha channel alone: shapes differ without their colours.
        pictures.append(bytes(image.convertToFormat(QImage.Format.Format_Alpha8).constBits()))
    assert len(set(pictures)) == len(pictures)


def test_bubble_slides_and_arrives(qtbot: QtBot, theme: Theme) -> None:
    vial = Vial(theme)
    qtbot.addWidget(vial)
    vial.show()
    qtbot.waitExposed(vial)
    vial.show_reading(70, 65, 75, 60, 120)
    vial.show_reading(110, 105, 115, 60, 120)
    qtbot.waitUntil(lambda: vial._shown == vial.shape_now().bubble, timeout=2000)


def test_small_vial_has_its_own_size(qtbot: QtBot, theme: Theme) -> None:
    vial = Vial(theme, size=LEVEL_SIZE)
    qtbot.addWidget(vial)
    assert (vial.sizeHint().width(), vial.sizeHint().height()) == (56, 15)


def test_spoken_name_leaves_out_what_is_missing() -> None:
    assert spoken("Light", "too strong", "184") == "Light, too strong: 184"
    assert spoken("Light", "not known yet") == "Light, not known yet"
