"""Air on the sheet: strokes along the flow, still places, age, what is stale, key and probe."""

from __future__ import annotations

import time
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from core.air.fields import AirField
from core.air.flows import Arriving
from core.air.stage import Stage
from core.air.stages import StageProgress
from core.geometry import Rectangle
from core.model import Design, Fan, Plants, replace
from core.readings import Reader, Readings
from core.storage import load
from gui.air_age import ALPHAS, breaks_of, shade
from gui.air_strokes import FULL, LEAST, MOST, PITCH, plane_of, strokes_in, weight
from gui.air_words import stage_words, way_words, work_words
from gui.key_air import air_page
from gui.key_blocks import Beside, Facts, Note, Shades
from gui.main_window import MainWindow
from gui.overlay_air import DIMMED
from gui.probe_air import air_lines
from gui.theme import Theme
from tests.air_fields import Wind, even, field_of
from tests.designs import alcove
from tests.gui.driving import Mouse, build_sheet
from tests.gui.windows import build_window

DESIGN = alcove()
CENTRE = np.array(field_of(DESIGN, even(0.0, 0.0, 0.0)).air.box.centre)


def swirl(places: np.ndarray) -> np.ndarray:
    """Air that turns about an upright axis in the middle, a radian each second. [m/s]"""
    off = places - CENTRE
    return np.stack([-off[..., 1], off[..., 0], 0 * off[..., 2]], axis=-1)


def read(field: AirField | None, design: Design = DESIGN, *, quality: str = "final") -> Readings:
    arriving = Arriving()
    if field is not None:
        arriving.put(field)
    return Reader(flows=arriving).update(design, quality=quality)  # type: ignore[arg-type]


def fields(wind: Wind, stage: Stage = Stage.SETTLED, **more: float) -> Readings:
    return read(field_of(DESIGN, wind, stage, **more))


# --- strokes ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("speed", "width"), [(0.05, 1.0), (0.29, 1.0), (0.3, 1.5), (0.5, 2.4)])
def test_a_stroke_is_as_heavy_as_the_air_is_fast(speed, width):
    assert weight(speed) == width


def test_strokes_run_along_the_flow_and_grow_with_its_speed():
    scale = 150.0
    for speed in (0.1, 0.3, FULL, 2.0):
        plane = plane_of(field_of(DESIGN, even(0.0, speed, 0.0)), "plan", float(CENTRE[2]))
        found = strokes_in(plane, Rectangle(0, 0, 4, 4), scale)
        ways = (found.lines[:, -1] - found.lines[:, 0]) * scale
        free = np.linalg.norm(ways, axis=1).max()
        assert len(found.speeds) > 20
        assert found.speeds == pytest.approx(speed)
        assert np.abs(ways[:, 0]).max() == pytest.approx(0.0, abs=1e-6) and ways[:, 1].max() > 0
        assert free == pytest.approx(LEAST + (MOST - LEAST) * min(1.0, speed / FULL), rel=0.02)


def test_strokes_bend_with_a_swirl():
    plane = plane_of(field_of(DESIGN, swirl), "plan", float(CENTRE[2]))
    found = strokes_in(plane, Rectangle(0, 0, 4, 4), 150.0)
    radii = np.linalg.norm(found.lines - CENTRE[:2], axis=2)
    middle = radii[:, radii.shape[1] // 2]
    # Far from walls, where cells beyond them are not there to be interpolated.
    inner = (middle > 0.15) & (middle < 0.3)
    assert inner.any()
    assert np.abs(radii[inner] - middle[inner, None]).max() < 0.01


@pytest.mark.parametrize("scale", [80.0, 200.0, 400.0])
def test_strokes_are_as_dense_at_every_zoom(scale):
    field = field_of(DESIGN, even(0.2, 0.0, 0.0))
    low, high = np.array(field.air.box)
    plane = plane_of(field, "plan", float(high[2]) - 0.06)
    window = Rectangle(low[0] + 0.1, low[1] + 0.1, high[0] - 0.1, high[1] - 0.1)
    count = len(strokes_in(plane, window, scale).speeds)
    assert count * PITCH**2 == pytest.approx(window.area * scale**2, rel=0.25)


def test_strokes_keep_their_places_while_the_drawing_is_moved():
    plane = plane_of(field_of(DESIGN, swirl), "plan", float(CENTRE[2]))
    before = strokes_in(plane, Rectangle(0, 0, 4, 4), 150.0).lines
    after = strokes_in(plane, Rectangle(0.7, 0.9, 1.5, 2.1), 150.0).lines
    known = {tuple(line.ravel()) for line in before}
    assert len(after) and all(tuple(line.ravel()) in known for line in after)


def test_no_stroke_stands_in_a_solid_or_beyond_the_air():
    field = field_of(DESIGN, even(0.4, 0.0, 0.0))
    low, high = field.air.box
    plane = plane_of(field, "front", float(CENTRE[1]))
    found = strokes_in(plane, Rectangle(-5, -5, 9, 9), 150.0)
    middles = found.lines[:, found.lines.shape[1] // 2]
    points = np.stack([middles[:, 0], np.full(len(middles), CENTRE[1]), middles[:, 1]], axis=1)
    assert np.isfinite(field.velocity_at(points)).all()
    assert middles[:, 0].min() >= low[0] and middles[:, 0].max() <= high[0]


# --- the sheet --------------------------------------------------------------------------------


@pytest.fixture
def sheet(qtbot, theme):
    return build_sheet(qtbot, theme, DESIGN, "air")


def picture(sheet, view: str) -> QImage:
    """Paint a drawing's overlay alone."""
    item = sheet.overlays._items[view]
    image = QImage(sheet.viewport().size(), QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(0)
    painter = QPainter(image)
    item.paint(painter, None)
    painter.end()
    return image


def painted(image: QImage, colour: QColor) -> tuple[int, float]:
    """Return how many pixels have a colour's hue, and how strongly the middle one is drawn."""
    shape = (image.height(), image.width(), 4)
    data = np.frombuffer(image.constBits(), np.uint8).reshape(shape).astype(float)
    alpha = data[..., 3] / 255
    own = np.array([colour.blue(), colour.green(), colour.red()])
    with np.errstate(invalid="ignore", divide="ignore"):
        apart = np.abs(data[..., :3] / alpha[..., None] - own).max(axis=-1)
    like = (alpha > 0.1) & (apart < 30)
    return int(like.sum()), float(np.median(alpha[like])) if like.any() else 0.0


@pytest.mark.parametrize("view", ["plan", "front", "side"])
def test_strokes_are_drawn_in_every_drawing(sheet, theme, view):
    sheet.show_readings(fields(even(0.4, 0.4, 0.0)))
    count, _ = painted(picture(sheet, view), theme.colour("air"))
    assert count > 100


def test_a_flow_from_before_a_change_is_dimmed_with_the_jets_over_it(sheet, theme, monkeypatch):
    monkeypatch.setattr("gui.overlay_air.paint_jets", lambda painter, view, look: None)
    fan = next(iter(DESIGN.of(Fan)))
    turned = DESIGN.with_parts({fan.id: replace(fan, heading=fan.heading + 30)})
    flow = field_of(DESIGN, even(0.8, 0.0, 0.0))
    stale = read(flow, turned)
    assert stale.air.field is None and stale.air.stale is not None
    strengths = []
    for readings in (read(flow), stale):
        sheet.show_readings(readings)
        strengths.append(painted(picture(sheet, "front"), theme.colour("air"))[1])
    assert 0 < strengths[1] < 1.5 * DIMMED * strengths[0]


def test_still_places_are_hatched_and_moving_ones_are_not(sheet, theme):
    for wind, hatched in ((even(0.0, 0.03, 0.0), True), (even(0.0, 0.4, 0.0), False)):
        sheet.show_readings(fields(wind))
        stills = [gap for gap in sheet.overlays.readings.air.gaps if gap.kind == "still"]
        assert bool(stills) is hatched
        count, _ = painted(picture(sheet, "plan"), theme.colour("out"))
        assert (count > 200) is hatched


def test_elevations_are_cut_through_the_fan_that_is_selected_and_say_so(sheet):
    fan = next(iter(DESIGN.of(Fan)))
    assert sheet.furniture.title("front") == ("Front", "through Shelf unit A")
    sheet.view.select([fan.id])
    assert sheet.furniture.title("front") == ("Front", f"through {fan.name}")
    sheet.view.choose_subject("light")
    assert sheet.furniture.title("front") == ("Front", "")


# --- the age of the air -----------------------------------------------------------------------


def test_steps_of_age_lie_about_the_time_of_one_change_of_air():
    field = field_of(load("resources/demos/garage-bay.fern"), swirl, age=200.0)
    assert field.ages is not None
    breaks = breaks_of(field)
    assert len(breaks) == len(ALPHAS) - 1 and list(breaks) == sorted(set(breaks))
    assert breaks[0] < field.ages.least < breaks[-1]
    assert all(at % 5 == 0 for at in breaks)


def test_without_fresh_air_there_is_no_age_to_show():
    assert breaks_of(fields(swirl).air.field) == ()


def test_shades_of_age_grow_steadily_in_one_hue(theme):
    tints = [shade(theme, step) for step in range(len(ALPHAS))]
    assert len({tint.rgb() for tint in tints}) == 1
    assert sorted(ALPHAS) == list(ALPHAS) and len(set(ALPHAS)) == len(ALPHAS)


# --- words ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("velocity", "words"),
    [
        ((1, 0, 0), "to the right"),
        ((1, 1, 0), "to the back right"),
        ((0, 1, 0), "to the back"),
        ((-1, 0, 0), "to the left"),
        ((-1, -1, 0), "to the front left"),
        ((1, 0, 0.8), "to the right, rising"),
        ((0, -1, -0.8), "to the front, sinking"),
        ((0, 0, 1), "straight up"),
        ((0.1, 0, -1), "straight down"),
        ((0.001, 0, 0), ""),
    ],
)
def test_the_way_of_the_air_is_said_in_words(velocity, words):
    assert way_words(velocity) == words


def test_what_the_flow_is_doing_is_said_with_the_size_of_its_cells():
    assert work_words(StageProgress(Stage.PREVIEW, 0.2, 0.1), "metric") == (
        "Air on 10 cm cells: a first picture"
    )
    assert work_words(StageProgress(Stage.FINE, 0.2, 0.0508), "us") == ("Air on finer cells, 2 in")
    assert work_words(None, "metric") == "Trying what would mend the air"


def test_what_the_numbers_come_from_is_said_and_marked_until_nothing_finer_follows():
    assert stage_words(read(None).air, "metric").startswith("≈ From jets alone")
    moving = fields(swirl, Stage.MOVING).air
    assert stage_words(moving, "metric") == "≈ From the flow on 10 cm cells, not settled yet."
    first, fine = fields(swirl).air, fields(swirl, Stage.FINE).air
    assert first.coarse and not first.passing
    assert stage_words(first, "metric") == (
        "≈ From the flow on 10 cm cells, settled; finer ones follow."
    )
    assert not fine.coarse
    assert stage_words(fine, "metric") == "From the flow on 10 cm cells, settled."


# --- key, probe and window --------------------------------------------------------------------


@pytest.fixture
def window(qtbot, theme: Theme, tmp_path: Path) -> MainWindow:
    made = build_window(qtbot, theme, tmp_path, "stair-alcove")
    made.view.choose_subject("air")
    return made


def flowing(window: MainWindow, wind: Wind, stage: Stage = Stage.FINE) -> Readings:
    """Show readings of the window's design with its air moving so."""
    design = window.document.design
    found = read(field_of(design, wind, stage, age=240.0), design)
    window.asking._take(found)
    return found


def test_the_key_gives_the_levels_numbers_and_how_sure_they_are(window):
    found = flowing(window, even(0.3, 0.0, 0.0))
    page = air_page(window.view, found, None)
    beside, note = page.blocks[0], page.blocks[-1]
    assert isinstance(beside, Beside) and isinstance(note, Note)
    facts = {fact.name: fact.value for fact in beside.second.lines}
    assert {"mean", "slow tenth", "fast tenth", "still"} <= set(facts)
    assert facts["slow tenth"] == "0.30"
    assert "settled" in note.text and "± 30 %" in note.text
    preview = air_page(window.view, flowing(window, even(0.3, 0.0, 0.0), Stage.PREVIEW), None)
    assert all(fact.value.startswith("≈") for fact in preview.blocks[0].second.lines)


def test_every_band_of_air_has_its_own_name_and_every_marked_place_its_sign(window):
    legend = air_page(window.view, flowing(window, even(0.3, 0.0, 0.0)), None).blocks[0].first
    names = [sign.name for sign in legend.lines]
    assert [name.split(",")[0] for name in names] == [
        "still", "gentle", "gentle", "brisk", "too strong"
    ]  # fmt: skip
    assert len(set(names)) == 5 and "best" in names[2]
    assert [sign.patch for sign in legend.lines] == ["hatched", "", "", "", "framed"]


@pytest.mark.parametrize(("height", "told"), [(119, True), (200, False)])
def test_where_the_key_is_low_its_numbers_say_themselves_how_sure_they_are(
    window, monkeypatch, height, told
):
    beside = air_page(window.view, flowing(window, even(0.3, 0.0, 0.0)), None).blocks[0]
    painted: list[Facts] = []
    monkeypatch.setattr(Facts, "paint", lambda facts, *_: painted.append(facts) or 0.0)
    image = QImage(400, height, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    beside.paint(painter, QRectF(image.rect()), window.theme)
    painter.end()

    assert [any("±" in fact.value for fact in facts.lines) for facts in painted] == [told]


def test_the_age_of_the_air_is_chosen_below_the_key_and_by_the_menu(qtbot, theme, tmp_path):
    window = build_window(qtbot, theme, tmp_path, "garage-bay")
    window.view.choose_subject("air")
    flowing(window, even(0.3, 0.0, 0.0))
    plain = picture(window.sheet, "plan")
    window.air.choices.age.click()
    assert window.view.age and window.actions_.by_name["age of air"].isChecked()
    beside, *rest = window.key.page.blocks
    assert any(isinstance(block, Shades) for block in rest)
    assert isinstance(beside, Beside) and len(beside.below.lines) == 2
    assert picture(window.sheet, "plan") != plain
    window.actions_.by_name["age of air"].trigger()
    assert not window.view.age
    assert picture(window.sheet, "plan") == plain


def test_without_fresh_air_no_age_is_offered(window):
    flowing(window, even(0.3, 0.0, 0.0))
    assert not window.air.choices.age.isVisible()


def test_refine_is_off_while_nothing_finer_can_be_had(window):
    flowing(window, even(0.3, 0.0, 0.0))
    assert not window.actions_.by_name["refine air"].isEnabled()
    assert not window.air.choices.refine.isVisible()
    window._solver.can_refine = True
    flowing(window, even(0.3, 0.0, 0.0))
    assert window.actions_.by_name["refine air"].isEnabled()
    assert window.air.choices.refine.isVisible()
    assert window.air.choices.refine.text().startswith("Refine to 2.5 cm")


def test_the_probe_reads_the_speed_and_way_of_the_air(window):
    flowing(window, even(0.0, 0.0, 0.3))
    mouse = Mouse(window.sheet, "plan")
    box = window.sheet.placement.box(window.document.design.enclosure.id)
    mouse.at = window.sheet.camera.to_px("plan", box.hi[0] - 0.06, box.hi[1] - 0.06)
    mouse.move_px(0, 1, steps=1)
    assert window.sheet.probe.tip is not None
    assert window.sheet.probe.tip.lines[0] == "0.30 m/s"
    place = window.sheet.probe.place_under("plan", QPointF(mouse.at))
    assert window.sheet.probe.lines(place)[1:3] == ("±\u00a00.20 m/s", "straight up")
    for stage in (Stage.MOVING, Stage.SETTLED):
        flowing(window, even(0.0, 0.0, 0.3), stage)
        assert window.sheet.probe.lines(place)[0] == "≈ 0.30 m/s"


def test_without_plants_the_probe_is_no_surer_than_the_least_there_is():
    bare = replace(DESIGN, parts=tuple(one for one in DESIGN.parts if not isinstance(one, Plants)))
    field = field_of(bare, even(0.05, 0.0, 0.0), Stage.FINE)
    look = SimpleNamespace(readings=read(field, bare), system="metric")
    corner = tuple(at - 0.06 for at in field.air.box.hi)
    assert air_lines(look, corner)[:2] == ("0.05 m/s", "±\u00a00.10 m/s")


def test_the_status_line_tells_of_the_flow_until_all_is_final(window, qtbot):
    solver, status = window._solver, window.status
    flowing(window, even(0.3, 0.0, 0.0), Stage.MOVING)
    solver.air_progressed.emit(StageProgress(Stage.SETTLED, 0.5, 0.1))
    qtbot.waitUntil(status.bar.isVisible)
    assert status.words.text() == "Air on 10 cm cells: settling"
    assert status.bar.value() / status.bar.maximum() == pytest.approx(0.5)
    flowing(window, even(0.3, 0.0, 0.0))
    solver.air_rested.emit()
    assert status.words.text() == "All readings are final" and not status.bar.isVisible()


def test_stop_keeps_the_last_air_and_says_that_it_is_from_before(window, qtbot, monkeypatch):
    stopped: list[float] = []
    monkeypatch.setattr(window._solver, "stop_air", lambda: stopped.append(time.monotonic()))
    window.asking._take(read(None, window.document.design))
    qtbot.waitUntil(window.status.stop.isVisible)
    window.status.stop.click()
    assert len(stopped) == 1
    assert window.status.words.text() == "Air is from before the last change"
    assert not window.status.bar.isVisible()


def test_after_stop_a_flow_that_has_not_settled_is_not_called_final(window, qtbot):
    solver, status = window._solver, window.status
    flowing(window, even(0.3, 0.0, 0.0), Stage.PREVIEW)
    solver.air_progressed.emit(StageProgress(Stage.SETTLED, 0.5, 0.1))
    qtbot.waitUntil(status.stop.isVisible)
    status.stop.click()
    solver.air_rested.emit()
    assert status.words.text() == "Air has not settled" and not status.bar.isVisible()


def stop_as_the_solver_does(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the window's solver remember a stop until it is asked again."""
    solver = window._solver
    ask = solver.ask

    def stop() -> None:
        solver.air_stopped = True
        solver.air_rested.emit()

    def ask_again(*given: object, **more: object) -> None:
        solver.air_stopped = False
        ask(*given, **more)

    monkeypatch.setattr(solver, "stop_air", stop)
    monkeypatch.setattr(solver, "ask", ask_again)


def test_what_was_stopped_can_be_gone_on_with_from_the_status_line(window, qtbot, monkeypatch):
    solver, status = window._solver, window.status
    stop_as_the_solver_does(window, monkeypatch)
    assert not status.go_on.isVisible()
    window.asking._take(read(None, window.document.design))
    qtbot.waitUntil(status.stop.isVisible)
    status.stop.click()
    assert status.go_on.isVisible() and not status.stop.isVisible()

    asked = len(solver.asked)
    solver.silent = True
    status.go_on.click()
    assert solver.asked[asked:] == ["final"]
    assert not status.go_on.isVisible()
    qtbot.waitUntil(status.stop.isVisible)


def test_what_was_stopped_can_be_gone_on_with_from_the_key(window, qtbot, monkeypatch):
    solver, choices = window._solver, window.air.choices
    stop_as_the_solver_does(window, monkeypatch)
    flowing(window, even(0.3, 0.0, 0.0))
    assert not choices.go_on.isVisible()
    solver.air_progressed.emit(StageProgress(Stage.FINE, 0.5, 0.05))
    qtbot.waitUntil(window.status.stop.isVisible)
    window.status.stop.click()
    assert choices.go_on.isVisible() and choices.go_on.text() == "Go on"
    assert window.status.words.text() == "All readings are final"
    assert window.status.go_on.isVisible()

    asked = len(solver.asked)
    choices.go_on.click()
    assert solver.asked[asked:] == ["final"]
    assert not choices.go_on.isVisible() and not window.status.go_on.isVisible()
