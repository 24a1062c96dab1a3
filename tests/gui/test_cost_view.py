"""Cost as a person meets it: prices typed, bars and sums that follow, tags on the sheet."""

from __future__ import annotations

from dataclasses import replace as with_fields
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.air.flows import JETS
from core.catalogue import load_catalogue
from core.materials.wares import bar
from core.model import Design, StockPrice, Tray, replace
from core.placement import Placement
from core.readings import Reader, Readings
from core.storage import load
from gui import overlay_cost
from gui.document import Document
from gui.fields import LineField
from gui.key_blocks import Bar, Bars, Facts, Note
from gui.key_page import KeyPage
from gui.key_pages import page_for
from gui.overlay_cost import tags
from gui.part_form import PartForm
from gui.theme import Theme
from gui.view import View

FOLDER = Path(__file__).parents[2] / "resources" / "demos"


@pytest.fixture(scope="module")
def starter() -> Design:
    return load(FOLDER / "starter.fern")


def quick(design: Design) -> Readings:
    """Return readings whose air is jets alone: cost does not ask for more."""
    return Reader(flows=JETS).update(design, quality="coarse")


def page(design: Design) -> KeyPage:
    view = View()
    view.choose_subject("cost")
    return page_for(view, quick(design), None)


def bars(shown: KeyPage) -> tuple[Bar, ...]:
    (block,) = [block for block in shown.blocks if isinstance(block, Bars)]
    return block.lines


def notes(shown: KeyPage) -> str:
    return " ".join(block.text for block in shown.blocks if isinstance(block, Note))


def give(qtbot: QtBot, made: PartForm, key: str, text: str) -> None:
    field = made.fields[key]
    assert isinstance(field, LineField)
    field.editor.setFocus()
    field.editor.selectAll()
    qtbot.keyClick(field.editor, Qt.Key.Key_Delete)
    qtbot.keyClicks(field.editor, text)
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)


@pytest.fixture
def form(qtbot: QtBot, theme: Theme, starter: Design) -> PartForm:
    made = PartForm(theme, Document(starter), View(), load_catalogue())
    qtbot.addWidget(made)
    made.resize(344, 500)
    made.show()
    QApplication.processEvents()
    return made


def test_a_price_that_is_typed_is_one_step_and_is_counted(qtbot: QtBot, form: PartForm) -> None:
    """The starter's frame takes seven pipes of 2 m: one at hand, six at 3.20."""
    doc = form._document
    assert doc.design.enclosure is not None
    key = bar(doc.design.enclosure, 2.0).key
    give(qtbot, form, f"stock.{key}.price", "3.20")
    give(qtbot, form, f"stock.{key}.owned", "1")
    assert doc.design.prices.of(key) == StockPrice(key=key, price=3.2, owned=1.0)
    assert doc.undo_stack.count() == 2
    (build, ready, _) = bars(page(doc.design))
    assert build.value == "19.20 €"
    assert ready.value == "not entered"
    give(qtbot, form, "prices.ready_made", "240")
    assert bars(page(doc.design))[1].value == "240.00 €"
    give(qtbot, form, f"stock.{key}.price", "")
    give(qtbot, form, f"stock.{key}.owned", "0")
    assert doc.design.prices.stock == ()


def test_a_price_by_length_is_for_a_foot_where_feet_are_used(
    qtbot: QtBot, theme: Theme, starter: Design
) -> None:
    made = PartForm(theme, Document(starter.having(units="us")), View(), load_catalogue())
    qtbot.addWidget(made)
    made.show()
    QApplication.processEvents()
    give(qtbot, made, "stock.zip.price", "3.048")
    stored = made._document.design.prices.of("zip").price
    assert stored == pytest.approx(10.0)
    assert made.fields["stock.zip.price"].editor.text() == "3.048"  # type: ignore[attr-defined]


def test_a_price_that_is_no_number_stays_with_its_reason(qtbot: QtBot, form: PartForm) -> None:
    give(qtbot, form, "prices.ready_made", "-4")
    assert form._document.design.prices.ready_made is None
    assert form._document.undo_stack.count() == 0


def test_the_key_has_three_bars_to_one_scale(qtbot: QtBot, starter: Design) -> None:
    trays = {
        tray.id: replace(tray, price=30.0) for tray in starter.of(Tray)
    }  # fmt: skip
    design = starter.with_parts(trays)
    design = design.having(prices=replace(design.prices, ready_made=3000.0))
    readings = quick(design)
    build, ready, year = bars(page(design))
    assert (build.name, ready.name) == ("Build", "Ready-made")
    assert ready.share == 1.0
    assert build.share == pytest.approx(30.0 * len(trays) / 3000.0)
    assert year.share == pytest.approx(readings.cost.per_year / 3000.0)
    assert "No price for" in notes(page(design))


def test_the_key_says_how_building_stands_beside_buying(qtbot: QtBot, starter: Design) -> None:
    readings = quick(starter.having(prices=replace(starter.prices, ready_made=300.0)))
    cost = with_fields(readings.cost, build=120.0, build_unpriced=0)
    known = with_fields(readings, cost=cost, materials=with_fields(readings.materials, unpriced=0))
    view = View()
    view.choose_subject("cost")
    assert "Building takes 180.00 € less" in notes(page_for(view, known, None))


def test_without_any_price_the_key_says_so_and_names_what_runs(
    qtbot: QtBot, starter: Design
) -> None:
    bare = starter.with_parts({p.id: replace(p, price=None) for p in starter.parts})
    shown = page(bare)
    assert bars(shown)[0].value == "no prices yet"
    assert "Nothing on the shopping list has a price yet" in notes(shown)
    facts = [fact for block in shown.blocks if isinstance(block, Facts) for fact in block.lines]
    assert {fact.unit for fact in facts} == {"a day"}


class Tags:
    """What an overlay is painted with, and the tags it writes."""

    def __init__(self, design: Design) -> None:
        self.readings = quick(design)
        self.placement = Placement(design)
        self.shown = frozenset(part.id for part in design.parts)


def test_parts_are_tagged_with_price_and_running_the_dearest_first(
    qtbot: QtBot, starter: Design
) -> None:
    tray = next(starter.of(Tray))
    design = starter.with_parts({tray.id: replace(tray, price=900.0)})
    look = Tags(design)
    said = list(tags(look))  # type: ignore[arg-type]
    assert said[0] == (tray.id, "900.00 €")
    dearest = look.readings.cost.by_device[0]
    told = dict(said)
    assert told[dearest.id].endswith(" € a day")
    owned = Tags(design.with_parts({tray.id: replace(tray, price=900.0, owned=True)}))
    assert tray.id not in dict(tags(owned))  # type: ignore[arg-type]


def test_no_tag_covers_another(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, starter: Design
) -> None:
    written: list[QRectF] = []

    def wide(look: object, at: QPointF, text: str) -> QRectF:
        return QRectF(at.x() - 30, at.y() - 8, 60, 16)

    def keep(painter: QPainter, look: object, at: QPointF, text: str, role: str) -> None:
        written.append(wide(look, at, text))

    class Camera:
        def box(self, view: str, box: object) -> QRectF:
            lo, hi = box.lo, box.hi  # type: ignore[attr-defined]
            return QRectF(100 * lo[0], 300 - 100 * hi[2], 100 * (hi[0] - lo[0]),
                          100 * (hi[2] - lo[2]))  # fmt: skip

    look = Tags(starter.with_parts({t.id: replace(t, price=20.0) for t in starter.of(Tray)}))
    look.camera = Camera()  # type: ignore[attr-defined]
    monkeypatch.setattr(overlay_cost, "tag_rect", wide)
    monkeypatch.setattr(overlay_cost, "kept_inside", lambda look, view, at, text: at)
    monkeypatch.setattr(overlay_cost, "words", keep)
    image = QImage(10, 10, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    overlay_cost.paint_costs(painter, "front", look)  # type: ignore[arg-type]
    painter.end()
    assert len(written) > 1
    for n, rect in enumerate(written):
        assert not any(rect.intersects(other) for other in written[:n])
