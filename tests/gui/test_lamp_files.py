"""A lamp's light from a file: dropped on it, dropped on its form, or chosen; and what is asked."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import numpy as np
import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from core.geometry import turned_size
from core.light import Distribution
from core.light.lamp_light import kind_of_light, photon_flux
from core.model import OWN, FromFlux, FromLumens, FromWatts, Lamp, Measured, Place
from core.storage import dumps, loads
from gui.fields import ChoiceEdit, Field, LineField
from gui.lamp_choices import FROM_FILE
from gui.lamp_file_dialog import LampFileDialog
from gui.lamp_taken import sized
from gui.link import Link
from gui.main_window import MainWindow
from gui.photometry_plot import PolarPlot, ring_step
from gui.theme import Theme
from tests.gui.driving import Mouse
from tests.gui.windows import build_window
from tests.photometry_kit import Ldt, Lm63

LAMP = "board"
COPY = Qt.DropAction.CopyAction
LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    made = build_window(qtbot, theme, tmp_path)
    # Nothing here is about readings, so none are worked out after the first.
    made._solver.silent = True  # type: ignore[attr-defined]
    return made


def photometric(folder: Path, name: str = "board.ies", **changes: object) -> Path:
    gamma = [0, 30, 60, 90, 180]
    table = np.array([[800, 700, 400, 0, 0], [800, 600, 200, 0, 0.0]])
    fields: dict[str, object] = {"gamma": gamma, "c": [0, 90], "table": table, **changes}
    path = folder / name
    path.write_text(Lm63(**fields).text())  # type: ignore[arg-type]
    return path


def lamp_of(window: MainWindow, lamp_id: str = LAMP) -> Lamp:
    lamp = window.document.committed.by_id[lamp_id]
    assert isinstance(lamp, Lamp)
    return lamp


def dialog_of(window: MainWindow) -> LampFileDialog:
    found = [dialog for dialog in window.findChildren(LampFileDialog) if dialog.isVisible()]
    assert len(found) == 1, window.errors.text
    return found[0]


def drop(target: QWidget, at: QPointF, path: Path, *paths: Path) -> bool:
    """Drag files to a place and let them go there; return whether they were wanted."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(one)) for one in (path, *paths)])
    data.setText(str(path))
    enter = QDragEnterEvent(at.toPoint(), COPY, data, LEFT, NONE)
    QApplication.sendEvent(target, enter)
    if enter.isAccepted():
        QApplication.sendEvent(target, QDragMoveEvent(at.toPoint(), COPY, data, LEFT, NONE))
        QApplication.sendEvent(target, QDropEvent(at, COPY, data, LEFT, NONE))
    QApplication.processEvents()
    return enter.isAccepted()


def drop_on_sheet(window: MainWindow, place: tuple[float, float], path: Path) -> bool:
    at = window.sheet.camera.to_px("front", *place)
    return drop(window.sheet.viewport(), at, path)


def choose(field: Field, key: object) -> None:
    assert isinstance(field, ChoiceEdit)
    index = field._keys.index(key)
    field.editor.setCurrentIndex(index)
    field.editor.activated.emit(index)
    QApplication.processEvents()


def give(field: Field, text: str) -> None:
    assert isinstance(field, LineField)
    field.editor.setFocus()
    field.editor.selectAll()
    QTest.keyClicks(field.editor, text)
    QTest.keyClick(field.editor, Qt.Key.Key_Return)


def follow(window: MainWindow, words: str) -> None:
    links = {link.text(): link for link in window.form.findChildren(Link)}
    QTest.mouseClick(links[words], LEFT)
    QApplication.processEvents()


def use(dialog: LampFileDialog) -> None:
    QTest.mouseClick(dialog.use, LEFT)
    QApplication.processEvents()


def test_a_file_dropped_on_a_lamp_asks_for_its_photons_and_becomes_one_step(
    window: MainWindow, tmp_path: Path
) -> None:
    before = window.document.committed
    over = Mouse(window.sheet, "front").over(LAMP)
    assert drop_on_sheet(window, over, photometric(tmp_path))

    dialog = dialog_of(window)
    assert window.view.selection == (LAMP,)
    assert not dialog.use.isEnabled()
    assert "choose" in dialog.flux.text()
    choose(dialog.basis, "lumens")
    assert not dialog.use.isEnabled()
    assert dialog.flux.text().startswith("Choose its kind of light")
    choose(dialog.light, "daylight")
    # Check 11: D65 has 18.02 µmol/(m² s) per klx.
    expected = dialog.file.lumens * 18.02e-3
    assert f"{expected:.3g} µmol/s" in dialog.flux.text()
    use(dialog)

    lamp = lamp_of(window)
    assert isinstance(lamp.measured, Measured) and lamp.measured.file == "board.ies"
    assert isinstance(lamp.output, FromLumens) and lamp.output.spectrum == "daylight"
    assert photon_flux(lamp).value == pytest.approx(expected)
    assert window.document.undo_stack.undoText() == "Light of Board from ‘board.ies’"
    window.document.undo_stack.undo()
    assert window.document.committed == before


def test_the_design_keeps_the_light_when_the_file_is_gone(
    window: MainWindow, tmp_path: Path
) -> None:
    path = photometric(tmp_path)
    drop_on_sheet(window, Mouse(window.sheet, "front").over(LAMP), path)
    dialog = dialog_of(window)
    choose(dialog.basis, "ppf")
    assert not dialog.use.isEnabled()
    give(dialog.ppf, "95")
    use(dialog)
    path.unlink()

    again = loads(dumps(window.document.committed))
    assert again == window.document.committed
    assert "/" not in lamp_of(window).measured.file  # type: ignore[union-attr]
    assert lamp_of(window).output == FromFlux(ppf=95.0)


def test_a_file_dropped_beside_every_lamp_changes_nothing_and_says_why(
    window: MainWindow, tmp_path: Path
) -> None:
    said: list[str] = []
    window.sheet.said.connect(said.append)
    box = window.sheet.placement.box(LAMP)
    drop_on_sheet(window, (box.centre[0], box.hi[2] + 0.5), photometric(tmp_path))
    assert said[-1] == "No lamp lies there; drop the file on a lamp"
    assert not window.findChildren(LampFileDialog)


def test_a_lamp_under_a_dragged_file_is_lit_up(window: MainWindow, tmp_path: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photometric(tmp_path)))])
    at = window.sheet.camera.to_px("front", *Mouse(window.sheet, "front").over(LAMP))
    port = window.sheet.viewport()
    QApplication.sendEvent(port, QDragEnterEvent(at.toPoint(), COPY, data, LEFT, NONE))
    QApplication.sendEvent(port, QDragMoveEvent(at.toPoint(), COPY, data, LEFT, NONE))
    assert window.view.hover == LAMP


def test_a_bad_file_is_told_of_in_the_bar_with_its_line(window: MainWindow, tmp_path: Path) -> None:
    path = photometric(tmp_path, multiplier=0)
    drop_on_sheet(window, Mouse(window.sheet, "front").over(LAMP), path)
    assert window.errors.text.startswith("‘board.ies’, line ")
    assert "multiplier = 0 must be above zero" in window.errors.text
    assert not window.findChildren(LampFileDialog)

    drop_on_sheet(window, Mouse(window.sheet, "front").over(LAMP), tmp_path / "none.ies")
    assert window.errors.text.startswith("There is no file")


def test_a_file_dropped_on_a_field_of_the_lamps_form_goes_to_the_form(
    window: MainWindow, tmp_path: Path
) -> None:
    window.view.select((LAMP,))
    QApplication.processEvents()
    path = photometric(tmp_path)
    line = window.form.fields["name"].editor
    assert drop(line, QPointF(5, 5), path)
    assert line.text() == "Board"
    QTest.mouseClick(dialog_of(window).leave, LEFT)
    assert lamp_of(window).measured is None

    window.view.select(("tray",) if "tray" in window.document.design.by_id else ())
    QApplication.processEvents()
    assert not drop(window.form.viewport(), QPointF(20, 20), path)


def test_the_form_asks_for_a_file_shows_it_and_leaves_it_out_again(
    window: MainWindow, tmp_path: Path
) -> None:
    window.view.select((LAMP,))
    QApplication.processEvents()
    window.files.questions.path = photometric(tmp_path)  # type: ignore[attr-defined]
    follow(window, "From a photometric file…")
    dialog = dialog_of(window)
    choose(dialog.basis, "keep")
    use(dialog)

    assert isinstance(lamp_of(window).output, FromWatts)
    (plot,) = window.form.findChildren(PolarPlot)
    assert plot.shown is not None
    assert plot.accessibleName().startswith("How it spreads: highest ")
    notes = [note.text() for note, _ in window.form._notes]
    assert "As measured in ‘board.ies’." in notes
    assert any("± 10\u2009%" in note for note in notes)
    choose(window.form.fields["measured.turn"], 1)
    assert lamp_of(window).measured.turn == 1  # type: ignore[union-attr]
    follow(window, "Leave the file’s light out again")
    assert lamp_of(window).measured is None
    assert not window.form.findChildren(PolarPlot)


def test_the_file_offers_its_size_and_its_watts(window: MainWindow, tmp_path: Path) -> None:
    path = photometric(tmp_path, dimensions=(0.06, 1.2, 0), watts=33)
    window.lamp_files.take_distribution(path, (LAMP,))
    dialog = dialog_of(window)
    assert dialog.use_size.editor.text() == "Use its size, 1.20 m × 60 mm"
    choose(dialog.basis, "keep")
    QTest.mouseClick(dialog.use_watts.editor, LEFT, pos=QPoint(8, 10))
    use(dialog)
    lamp = lamp_of(window)
    assert (lamp.watts, lamp.width) == (33.0, 0.5)
    window.view.select((LAMP,))
    QApplication.processEvents()
    middle = window.sheet.placement.box(LAMP).centre
    follow(window, "The file says 1.20 m × 60 mm; use it")
    assert (lamp_of(window).width, lamp_of(window).depth) == pytest.approx((1.2, 0.06))
    assert window.sheet.placement.box(LAMP).centre == pytest.approx(middle)


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_a_lamp_of_another_size_keeps_its_middle(turn: Literal[0, 1, 2, 3]) -> None:
    lamp = Lamp(
        id="lamp", name="Lamp", form="board", place=Place(x=0.5, y=0.4, z=1.0, turn=turn),
        width=0.5, depth=0.3, height=0.05, watts=20.0,
    )  # fmt: skip
    other = sized(lamp, (0.2, 0.1))

    def middle(one: Lamp) -> tuple[float, float]:
        width, depth = turned_size(one.width, one.depth, turn)
        return one.place.x + width / 2, one.place.y + depth / 2

    assert (other.width, other.depth) == (0.2, 0.1)
    assert middle(other) == pytest.approx(middle(lamp))


def test_a_power_beyond_any_lamps_is_not_offered(window: MainWindow, tmp_path: Path) -> None:
    window.lamp_files.take_distribution(photometric(tmp_path, watts=1e6), ())
    dialog = dialog_of(window)
    choose(dialog.basis, "ppf")
    give(dialog.ppf, "50")
    assert not dialog.use_watts.isVisible()
    use(dialog)
    assert lamp_of(window, window.view.selection[0]).output == FromFlux(ppf=50.0)


def test_watts_that_are_used_change_what_the_light_comes_to(
    window: MainWindow, tmp_path: Path
) -> None:
    window.lamp_files.take_distribution(photometric(tmp_path, watts=100), (LAMP,))
    dialog = dialog_of(window)
    choose(dialog.basis, "keep")
    QTest.mouseClick(dialog.use_watts.editor, LEFT, pos=QPoint(8, 10))
    assert dialog.flux.text().startswith("Comes to 230 µmol/s")  # 2.3 µmol/J


def test_several_lamps_take_one_file_over_in_one_step(window: MainWindow, tmp_path: Path) -> None:
    window.document.undo_stack.setClean()
    window.files.open_example("stair-alcove")
    ids = tuple(lamp.id for lamp in window.document.committed.of(Lamp))[:3]
    window.view.select(ids)
    QApplication.processEvents()
    assert drop(window.form.viewport(), QPointF(20, 20), photometric(tmp_path))
    dialog = dialog_of(window)
    choose(dialog.basis, "ppf")
    give(dialog.ppf, "60")
    use(dialog)
    tables = {id(lamp_of(window, one).measured) for one in ids}
    assert len(tables) == 1 and all(lamp_of(window, one).measured for one in ids)
    window.document.undo_stack.undo()
    assert not window.document.modified


def test_a_luminaire_with_several_lamp_sets_asks_which(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "strip.ldt"
    sets = ((1, "LED", 1000, "3000 K", "90", 10), (2, "LED", 3000, "4000 K", "80", 30))
    path.write_text(Ldt(sets=sets).text())
    window.lamp_files.take_distribution(path, (LAMP,))
    dialog = dialog_of(window)
    one = dialog.file.lumens
    choose(dialog.sets, 2)
    assert dialog.file.lumens == pytest.approx(3 * one)
    assert dialog.file.watts == 30
    assert dialog.measured.turn == 1


def test_a_new_lamp_comes_from_a_file_by_the_menu(window: MainWindow, tmp_path: Path) -> None:
    known = set(window.document.committed.by_id)
    path = photometric(tmp_path, dimensions=(0.05, 0.3, 0), watts=12)
    window.files.questions.path = path  # type: ignore[attr-defined]
    window.actions_.by_name["add lamp file"].trigger()
    dialog = dialog_of(window)
    choose(dialog.basis, "lumens")
    choose(dialog.light, "led-warm")
    use(dialog)

    (added,) = set(window.document.committed.by_id) - known
    lamp = lamp_of(window, added)
    assert (lamp.form, lamp.watts, lamp.width) == ("board", 12.0, 0.3)
    assert lamp.measured is not None and lamp.catalogue is None
    assert window.view.selection == (added,)
    window.document.undo_stack.undo()
    assert set(window.document.committed.by_id) == known


def test_a_spectrum_of_two_columns_is_a_kind_of_light(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text("nm,power\n400,1\n555,2\n700,1\n")
    window.view.select((LAMP,))
    QApplication.processEvents()
    window.files.questions.path = path  # type: ignore[attr-defined]
    choose(window.form.fields["output.spectrum"], FROM_FILE)

    lamp = lamp_of(window)
    assert lamp.output.spectrum == OWN
    assert kind_of_light(lamp)[0].name == "mine.csv"
    field = window.form.fields["output.spectrum"]
    assert isinstance(field, ChoiceEdit) and field.editor.currentText() == "as in ‘mine.csv’"
    assert window.document.undo_stack.undoText() == "Spectrum of Board"


def test_a_spectrum_that_cannot_be_used_leaves_the_lamp_as_it_was(
    window: MainWindow, tmp_path: Path
) -> None:
    before = window.document.committed
    bad, dark = tmp_path / "bad.csv", tmp_path / "dark.csv"
    bad.write_text("400,1\n390,2\n")
    dark.write_text("900,1\n1000,2\n")
    over = Mouse(window.sheet, "front").over(LAMP)
    for path, words in ((bad, "‘bad.csv’, line 2: wavelength"), (dark, "light that can be seen")):
        drop_on_sheet(window, over, path)
        assert words in window.errors.text
    assert window.document.committed == before


def test_a_files_lumens_may_go_with_a_spectrum_of_ones_own(
    window: MainWindow, tmp_path: Path
) -> None:
    spectrum = tmp_path / "mine.csv"
    spectrum.write_text("400,1\n555,2\n700,1\n")
    window.lamp_files.take_distribution(photometric(tmp_path), (LAMP,))
    dialog = dialog_of(window)
    choose(dialog.basis, "lumens")
    window.files.questions.path = spectrum  # type: ignore[attr-defined]
    choose(dialog.light, FROM_FILE)
    assert dialog.light.value == OWN
    use(dialog)
    assert lamp_of(window).own_spectrum.file == "mine.csv"  # type: ignore[union-attr]
    assert lamp_of(window).output.spectrum == OWN


def test_light_that_goes_up_is_told_with_its_share(window: MainWindow, tmp_path: Path) -> None:
    path = photometric(tmp_path, c=[0], gamma=[0, 90, 180], table=np.full((1, 3), 100.0))
    window.lamp_files.take_distribution(path, (LAMP,))
    assert "50\u2009% of its light goes up" in dialog_of(window).notes.text()


@pytest.mark.parametrize(
    ("highest", "step"), [(1.0, 0.2), (1070, 250), (99, 20), (0.04, 0.01), (5, 1), (2.5, 0.5)]
)
def test_rings_are_round_and_at_most_five(highest: float, step: float) -> None:
    assert ring_step(highest) == pytest.approx(step)


def test_the_plot_grows_only_for_light_that_goes_up(qtbot: QtBot, theme: Theme) -> None:
    plot = PolarPlot(theme)
    qtbot.addWidget(plot)
    plot.show_distribution(Distribution([0], [0, 90], [[1, 0]]), "cd")
    half = plot.sizeHint().height()
    plot.show_distribution(Distribution([0], [0, 180], [[1, 1]]), "cd")
    assert plot.sizeHint().height() > half + 50
    plot.resize(plot.sizeHint())
    plot.show()
    plot.grab()


def test_nothing_of_the_window_is_cut_off_when_text_is_large(
    qtbot: QtBot, theme: Theme, tmp_path: Path
) -> None:
    theme.set_text_scale(1.6)
    window = build_window(qtbot, theme, tmp_path)
    window.use_units("us")
    window.lamp_files.take_distribution(photometric(tmp_path, dimensions=(0.06, 1.2, 0)), ())
    dialog = dialog_of(window)
    page = dialog.basis.parentWidget()
    view = page.parentWidget()
    theme.set_text_scale(1.0)
    assert page.width() <= view.width()
