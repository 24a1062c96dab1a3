"""The summary says the same in every form, byte for byte the same for the same design and stamp."""

from __future__ import annotations

import csv
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from core.air.reading import AirReadings
from core.climate.results import ClimateReadings
from core.cost.reading import CostReadings
from core.errors import FileError
from core.finding import Finding, Remedy
from core.fit.reading import FitReadings
from core.light.reading import LightReadings
from core.materials.reading import MaterialsReadings, parts_list
from core.model import (
    Circuit,
    Design,
    Lamp,
    Outlet,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Room,
    Shelf,
    ShelfUnit,
    Tray,
)
from core.phrases import Amount, phrase
from core.power.reading import PowerReadings
from core.power.tree import PlugTree
from core.reading import SUBJECTS, Method, Reading, SubjectReadings, reading, worst
from core.readings import read
from core.states import State
from core.storage import load
from core.summary import describe, write_summary
from core.summary.blocks import VialCell
from core.summary.html import html_text
from core.summary.pdf import pdf_bytes
from core.summary.pictures import shown_level
from core.summary.rows import reading_table, span, wanted
from core.summary.svg import rounded
from core.summary.tables import look_of
from core.summary.typesetting import bound
from core.summary.values import guarded
from core.summary.vial_items import mark_items, vial_items
from core.water.reading import WaterReadings
from core.weight.reading import WeightReadings

STAMP = "24 November 2026"
METHOD = Method("Counted by hand", "Handbook of counting", "± 1", ("Thumbs are left out",))
NASTY = "Nook <script>alert('x')</script> & “fern” Папоротник"


def small(name: str = "Nook", units: str = "metric", variant: str = "A") -> Design:
    """Return a rack with two levels of ferns and two boards on a timer-less circuit."""
    room = Room(
        name="Room",
        outline=((0.0, 0.0), (2.5, 0.0), (2.5, 2.0), (0.0, 2.0)),
        circuits=(Circuit(id="hall", name="Hall circuit", breaker=16.0),),
        fixtures=(Outlet(id="outlet", name="Outlet", wall=3, offset=1.0, circuit="hall"),),
    )
    unit = ShelfUnit(
        id="unit", name="Shelf unit", place=Place(x=0.5, y=1.2), width=1.0, depth=0.5, height=1.6,
        levels=(Shelf(z=0.2), Shelf(z=0.8), Shelf(z=1.4)),
    )  # fmt: skip
    parts: list[Any] = [unit]
    for level in (1, 2):
        parts += [
            Tray(
                id=f"tray-{level}", name=f"Tray {level}", width=0.8, depth=0.4, height=0.06,
                place=Place(host="unit", level=level, x=0.05, y=0.05),
            ),
            Plants(
                id=f"ferns-{level}", name=f"Ferns {level}", species="ferns", width=0.7, depth=0.3,
                place=Place(host=f"tray-{level}", x=0.05, y=0.05),
            ),
            Lamp(
                id=f"board-{level}", name=f"Board {level}", form="board", watts=30.0, price=40.0,
                width=0.6, depth=0.3, height=0.03, plug=Plug(into="outlet"),
                place=Place(host="unit", fixing="under", level=level + 1, x=0.1, y=0.1, z=0.03),
            ),
        ]  # fmt: skip
    group = PlantGroup(key="ferns", name="Ferns", habit="fronds")
    return Design(
        name=name, units=units, room=room, groups=(group,), parts=tuple(parts),
        variant_name=variant,
    )  # fmt: skip


def row(subject: str, name: str, place: str, value: float, kind: str, **more: Any) -> Reading:
    line = phrase("{v} at {place}", v=Amount(value, kind), place=place)
    taken = (phrase("The {place} is level", place=place),)
    return reading(
        subject, name, place, phrase(place), value, kind, line, METHOD, assumptions=taken, **more
    )


def nothing_found(design: Design) -> dict[str, SubjectReadings]:
    """Return readings without a row of the subjects that `by_hand` says nothing of."""
    power = PowerReadings(tree=PlugTree(design))
    others = (WaterReadings(), ClimateReadings(), FitReadings(), CostReadings())
    return {made.subject: made for made in (power, *others)}


def by_hand(design: Design) -> dict[str, SubjectReadings]:
    light = (
        row("light", "ppfd", "ferns-1", 184.0, "photon_flux_density", spread=(169.0, 199.0),
            want=(60.0, 120.0)),
        row("light", "ppfd", "ferns-2", 71.0, "photon_flux_density", spread=(65.0, 77.0),
            want=(40.0, 90.0)),
    )  # fmt: skip
    air = (row("air", "speed", "ferns-1", 0.06, "speed", spread=(0.0, 0.16), want=(0.1, 1.0)),)
    weight = (row("weight", "load", "unit", 31.0, "mass", want=(None, 60.0)),)
    found = {
        "light": LightReadings(rows=light, headline=worst(light)),
        "air": AirReadings(rows=air, headline=worst(air)),
        "weight": WeightReadings(rows=weight, headline=worst(weight)),
        "materials": MaterialsReadings(items=parts_list(design), total=80.0, unpriced=3),
    }
    return {**nothing_found(design), **found}


@dataclass(frozen=True)
class HandMade:
    """Readings as the engines would hand them over, made by hand."""

    design: Design
    season: str = "winter"
    quality: str = "final"
    findings: tuple[Finding, ...] = ()
    found: Mapping[str, SubjectReadings] = field(default_factory=dict)

    def __getattr__(self, name: str) -> SubjectReadings:
        if name in self.found:
            return self.found[name]
        raise AttributeError(name)

    def subject(self, name: str) -> SubjectReadings:
        return self.found[name]

    def rows(self) -> tuple[Reading, ...]:
        return tuple(item for name in SUBJECTS for item in self.found[name].rows)


FINDINGS = (
    Finding(
        "bright", "light", State.HIGH, "ferns-1", phrase("Level 1 gets too much light"),
        phrase("{v} where ferns want 60–120", v=Amount(184.0, "photon_flux_density")),
        remedy=Remedy(phrase("Dim Board 1 to {v}", v=Amount(0.41, "fraction")), {}),
    ),
    Finding(
        "loop", "power", State.CAUTION, "", phrase("The lead hangs above the tray"),
        phrase("A licensed electrician decides on fixed wiring"),
    ),
)  # fmt: skip


def readings_of(design: Design, findings: tuple[Finding, ...] = FINDINGS) -> Any:
    return HandMade(design, found=by_hand(design), findings=findings)


def pdf_of(design: Design, findings: tuple[Finding, ...] = FINDINGS) -> bytes:
    return pdf_bytes(describe(design, readings_of(design, findings), STAMP))


def html_of(design: Design) -> str:
    return html_text(describe(design, readings_of(design), STAMP))


def words_of(data: bytes) -> str:
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages)
    return " ".join(text.split())


VOID = {"meta", "link", "img", "br", "hr", "input"}


class Checker(HTMLParser):
    """Follows a page's tags, keeps its words, and notes what does not nest or reaches outside."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.wrong: list[str] = []
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


def checked(page: str) -> Checker:
    checker = Checker()
    checker.feed(page)
    checker.close()
    return checker


def test_the_pdf_has_pages_an_embedded_typeface_and_its_words():
    data = pdf_of(small("Nook Папоротник"))
    reader = PdfReader(BytesIO(data))
    fonts = [
        font.get_object()
        for page in reader.pages
        for font in page["/Resources"]["/Font"].get_object().values()
    ]
    used = [font for font in fonts if "FernwrightSans" in font["/BaseFont"]]

    assert len(reader.pages) >= 2
    assert used
    assert all("/FontFile2" in font["/FontDescriptor"].get_object() for font in used)
    text = words_of(data)
    for words in (
        "Nook Папоротник", "Variant A, Winter day.", STAMP, "184 µmol/(m² s)", "too strong",
        "likely still", "Dim Board 1 to 41 %", "Page 1 of", "A plan, not a permit", "30 W",
        "Handbook of counting", "Thumbs are left out.",
    ):  # fmt: skip
        assert words.replace("\N{THIN SPACE}", " ") in text, words


def test_the_pdf_names_itself_and_its_language():
    reader = PdfReader(BytesIO(pdf_of(small("Alcove"))))

    assert reader.metadata is not None
    assert reader.metadata.title == "Alcove"
    assert reader.trailer["/Root"]["/Lang"] == "en"


@pytest.mark.parametrize(("units", "width", "height"), [("metric", 595, 842), ("us", 612, 792)])
def test_the_paper_is_a4_or_letter_by_the_units(units, width, height):
    box = PdfReader(BytesIO(pdf_of(small(units=units)))).pages[0].mediabox

    assert (round(box.width), round(box.height)) == (width, height)


def test_every_page_is_numbered_out_of_all():
    reader = PdfReader(BytesIO(pdf_of(small())))
    count = len(reader.pages)

    for number, page in enumerate(reader.pages, start=1):
        assert f"Page {number} of {count}" in page.extract_text()


def test_the_same_input_gives_the_same_bytes(tmp_path):
    design = small(NASTY)
    first = write_summary(design, readings_of(design), tmp_path / "a", stamp=STAMP)
    again = write_summary(design, readings_of(design), tmp_path / "b", stamp=STAMP)

    assert [path.name for path in first] == [path.name for path in again]
    assert [p.read_bytes() for p in first] == [p.read_bytes() for p in again]


def test_the_page_nests_has_a_language_headings_and_table_heads():
    page = checked(html_of(small()))

    assert page.wrong == [] and page.open == []
    assert ("lang", "en") in page.attributes
    assert page.tags.count("h1") == 1
    assert {"h2", "table", "thead", "th", "main", "svg"} <= set(page.tags)
    assert ("scope", "col") in page.attributes


def test_the_page_fetches_and_runs_nothing():
    page = checked(html_of(small(NASTY)))

    assert not {"script", "link", "img", "iframe", "object", "embed"} & set(page.tags)
    names = {name for name, _ in page.attributes}
    assert not {"src", "href", "srcset", "data", "style"} & names
    assert not {name for name in names if name.startswith("on")}
    assert "@import" not in html_of(small()) and "url(" not in html_of(small()).replace("url(#", "")


def test_what_the_user_wrote_is_escaped_wherever_it_stands():
    page = html_of(small(NASTY, variant="<b>B</b>"))

    assert "<script" not in page and "<b>B</b>" not in page
    assert NASTY in checked(page).text
    assert NASTY in words_of(pdf_of(small(NASTY)))


def test_pdf_and_page_give_the_same_numbers():
    design = small()
    told = describe(design, readings_of(design), STAMP)
    page, paper = checked(html_text(told)).text, words_of(pdf_bytes(told))

    for item in readings_of(design).rows():
        own = span(item.low, item.high, item.kind, "metric").replace("\N{THIN SPACE}", " ")
        own = own.removesuffix(" µmol/(m² s)")  # light's unit stands in its table's head
        assert own in paper
        assert own in page.replace("\N{THIN SPACE}", " ")


DEMOS = sorted((Path(__file__).resolve().parents[2] / "resources" / "demos").glob("*.fern"))


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_every_example_is_written_whole_in_every_form(demo, tmp_path):
    design = load(demo)
    readings = read(design)
    files = write_summary(design, readings, tmp_path, stamp=STAMP)
    by_ending = {path.suffix: path for path in files if path.stem == files[0].stem}
    page = checked(by_ending[".html"].read_text("utf-8"))
    paper, screen = words_of(by_ending[".pdf"].read_bytes()), page.text

    assert page.wrong == [] and page.open == []
    told = describe(design, readings, STAMP)
    for section in told.sections:
        assert section.title in screen
        assert section.bare or section.title in paper
    assert ET.parse(by_ending[".svg"]).getroot().tag.endswith("svg")
    headlines = [readings.subject(name).headline for name in SUBJECTS]
    for item in (*headlines, *readings.findings):
        for words in _words_in(item, design.units):
            assert words in paper
            assert words in screen
    assert "\N{REPLACEMENT CHARACTER}" not in paper


def _words_in(item: Reading | Finding | None, system: str) -> list[str]:
    if item is None:
        return []
    said = (item.title, item.detail) if isinstance(item, Finding) else (item.line,)
    return [" ".join(words.render(system).split()) for words in said]


def test_every_svg_on_its_own_is_well_formed_and_in_millimetres(tmp_path):
    design = small(NASTY)
    path, *_ = write_summary(design, readings_of(design), tmp_path / "sheet.svg", stamp=STAMP)
    root = ET.parse(path).getroot()
    width, height = (root.attrib[name].removesuffix("mm") for name in ("width", "height"))

    assert root.attrib["viewBox"] == f"0 0 {width} {height}"
    assert NASTY in (root.findtext("{http://www.w3.org/2000/svg}title") or "")


def test_drawings_are_to_scale(tmp_path):
    """The rack is 1.0 m wide; its front's posts stand that far apart at the scale named."""
    design = small()
    picture = describe(design, readings_of(design), STAMP).drawings[""]
    bar = [t.text for t in texts_of(picture.items) if "scale" in t.text]

    assert len(bar) == 1
    scale = int(bar[0].rpartition(":")[2])
    ends = [t for t in texts_of(picture.items) if t.text == "1.00 m"]
    assert ends, "the rack's width is measured"
    lengths = [round(w, 3) for w in level_lines(picture.items)]
    assert round(1000 / scale, 3) in lengths


def texts_of(items: Any) -> Iterator[Any]:
    for item in items:
        if hasattr(item, "items"):
            yield from texts_of(item.items)
        elif hasattr(item, "text"):
            yield item


def level_lines(items: Any) -> Iterator[float]:
    for item in items:
        points = getattr(item, "points", ())
        if len(points) == 2 and points[0][1] == pytest.approx(points[1][1]):
            yield abs(points[1][0] - points[0][0])


def test_findings_and_cautions_stand_apart_and_none_left_says_so():
    told = describe(small(), readings_of(small(), ()), STAMP)
    titles = [section.title for section in told.sections]
    both = [s.title for s in describe(small(), readings_of(small()), STAMP).sections]

    assert "Cautions" not in titles
    assert "Cautions" in both
    assert "Nothing to mend." in words_of(pdf_bytes(told))


def test_a_long_list_goes_over_pages_with_its_heads_repeated():
    design = small()
    found = by_hand(design)
    many = tuple(
        row("weight", "load", f"shelf {k}", 10.0 + k, "mass", want=(None, 5.0)) for k in range(120)
    )
    found["weight"] = WeightReadings(rows=many, headline=many[0])
    told = describe(design, HandMade(design, found=found), STAMP)  # type: ignore[arg-type]
    pages = [page.extract_text() for page in PdfReader(BytesIO(pdf_bytes(told))).pages]

    assert all(f"shelf {k}" in " ".join(pages) for k in range(120))
    assert sum("Between" in page for page in pages) >= 3


def test_values_are_in_the_units_of_the_design(tmp_path):
    design = small(units="us")
    files = write_summary(design, readings_of(design), tmp_path / "values.csv", stamp=STAMP)
    rows = list(csv.reader(StringIO(files[0].read_text("utf-8-sig"))))
    (weight,) = [line for line in rows if line[0] == "Weight"]

    assert [path.name for path in files[:2]] == ["values.csv", "values-parts.csv"]
    assert float(weight[3]) == pytest.approx(31.0 / 0.45359237, rel=1e-5)
    assert weight[8] == "lb"
    parts = list(csv.reader(StringIO(files[1].read_text("utf-8-sig"))))
    assert next(line[:3] for line in parts if line[0].startswith("Board")) == ["Board", "2", "0"]


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\t=1"])
def test_no_word_is_taken_for_a_formula(text):
    assert guarded(text) == f"'{text}"
    assert guarded(-1.5) == -1.5


def test_an_unknown_ending_says_which_are_known(tmp_path):
    with pytest.raises(FileError, match=r"ending = ‘\.doc’ must be one of \.pdf, \.html"):
        write_summary(small(), readings_of(small()), tmp_path / "plan.doc", stamp=STAMP)


def test_a_folder_that_is_a_file_is_refused_and_left_alone(tmp_path):
    (tmp_path / "plan").write_text("mine")

    with pytest.raises(FileError, match="cannot be made"):
        write_summary(small(), readings_of(small()), tmp_path / "plan", stamp=STAMP)
    assert (tmp_path / "plan").read_text() == "mine"


def test_a_missing_folder_is_told_in_one_sentence(tmp_path):
    with pytest.raises(FileError, match="The summary was not written: there is no folder"):
        write_summary(small(), readings_of(small()), tmp_path / "no" / "plan.pdf", stamp=STAMP)


def test_a_name_no_file_system_takes_is_made_safe(tmp_path):
    design = small("../a/b: *?")
    files = write_summary(design, readings_of(design), tmp_path, stamp=STAMP)

    assert {path.parent for path in files} == {Path(tmp_path)}
    assert files[0].name == "a-b.pdf"


@pytest.mark.parametrize(
    ("low", "high", "kind", "expected"),
    [
        (60.0, 120.0, "photon_flux_density", "60–120 µmol/(m² s)"),
        (0.1, 1.0, "speed", "0.10–1.00 m/s"),
        (0.005, 2.0, "length", "5 mm–2.00 m"),
        (3.0, 3.0, "count", "3"),
        (None, 3.0, "mass", "–"),
    ],
)
def test_a_range_names_its_unit_once(low, high, kind, expected):
    assert span(low, high, kind, "metric").replace("\N{THIN SPACE}", " ") == expected


def test_what_is_wanted_is_said_in_words():
    item = row("weight", "load", "unit", 31.0, "mass", want=(None, 60.0))

    assert wanted(item, "metric").replace("\N{THIN SPACE}", " ") == "at most 60 kg"


def test_a_number_stays_with_its_unit():
    assert bound("want 16 °C to 60 µmol/(m² s)").split(" ") == [
        "want", "16\N{NO-BREAK SPACE}°C", "to",
        "60\N{NO-BREAK SPACE}µmol/(m²\N{NO-BREAK SPACE}s)",
    ]  # fmt: skip


@pytest.mark.parametrize("state", list(State))
def test_every_state_has_a_mark_and_the_unknown_vial_no_bubble(state):
    assert mark_items(state)
    cell = VialCell(5.0, 4.0, 6.0, 3.0, 7.0, State.FINE, "")
    unknown = VialCell(None, None, None, 3.0, 7.0, State.UNKNOWN, "")

    assert len(vial_items(unknown)) == 1
    assert len(vial_items(cell)) == 5


@given(
    points=st.lists(
        st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=3, max_size=8, unique=True
    ),
    radius=st.floats(0.1, 5),
    closed=st.booleans(),
)
def test_rounding_keeps_a_line_within_its_own_corners(points, radius, closed):
    moves = rounded(tuple(points), radius, closed)
    places = [place for _, *some in moves for place in some]
    xs, ys = zip(*points, strict=True)

    assert moves[0][0] == "M"
    for x, y in places:
        assert min(xs) - 1e-9 <= x <= max(xs) + 1e-9
        assert min(ys) - 1e-9 <= y <= max(ys) + 1e-9


def test_many_readings_that_nothing_is_asked_of_stand_in_one_row():
    free = tuple(row("light", "dli", f"p{n}", float(n), "daily_light") for n in range(1, 6))
    told = reading_table(free, "metric").rows

    assert len(told) == 1
    assert str(told[0][0]).startswith("5 alike. Least: ")
    assert len(reading_table(free[:3], "metric").rows) == 3


def test_many_readings_as_wanted_stand_by_the_one_nearest_its_limit():
    fine = tuple(
        row("fit", "reach", f"p{n}", 0.1 * n, "length", want=(None, 0.6)) for n in (2, 5, 3, 4)
    )
    far = row("fit", "reach", "p9", 0.9, "length", want=(None, 0.6))
    told = reading_table((*fine, far), "metric").rows

    assert [str(cells[0])[:7] for cells in told] == ["4 alike", "0.90 m "]
    assert "0.50 m at p5" in str(told[0][0]).replace("\N{THIN SPACE}", " ")


def test_readings_that_nobody_knows_yet_are_named_in_one_row():
    unknown = tuple(
        replace(row("air", "speed", f"p{n}", 1.0, "speed"), value=None, low=None, high=None,
                state=State.UNKNOWN)
        for n in (1, 2)
    )  # fmt: skip
    told = reading_table(unknown, "metric").rows

    assert [cells[0] for cells in told] == ["P1; P2"]


def test_the_plan_is_cut_at_a_level_of_a_shelf_unit_where_plants_stand_on_one():
    nook = load(next(path for path in DEMOS if path.stem == "basement-nook"))
    found = read(nook)
    bay = next(row for row in found.light.rows if row.where.render() == "Bay, level 2")
    only_bay = replace(found, light=replace(found.light, headline=bay))
    level = shown_level(only_bay, look_of(found))
    assert level == ("unit-c", 1)
