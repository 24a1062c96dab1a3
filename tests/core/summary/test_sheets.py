"""Drawings on the page: to scale as measured on the rendered page, on every paper, tagged."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from core.drawing.build_dimensions import chain_edges
from core.drawing.paper import Clip, Shape, Text
from core.drawing.pictorial import Solid, in_order, pictorial
from core.errors import InputError
from core.geometry import Box
from core.summary.blocks import Picture
from core.summary.describe import describe
from core.summary.pdf import pdf_bytes
from core.summary.sheet import PAPERS, Wishes
from core.summary.tables import look_of
from core.units import show
from tests.summary_kit import NAMES, quickly

DPI = 200
STAMP = "24 November 2026"
poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs poppler to render")


def told(demo: str, **wishes: Any) -> Any:
    found = quickly(demo)
    return describe(found.design, found, STAMP, wishes=Wishes(**wishes))


def texts(picture: Picture) -> list[str]:
    return [one.text for one in flat(picture.items) if isinstance(one, Text)]


def flat(items: Any) -> Iterator[Any]:
    for item in items:
        if isinstance(item, Clip):
            yield from flat(item.items)
        else:
            yield item


def rendered(data: bytes, page: int, folder: Path) -> np.ndarray[Any, Any]:
    """Return a page as poppler draws it: rows of grey values."""
    file = folder / "page.pdf"
    file.write_bytes(data)
    command = ["pdftoppm", "-r", str(DPI), "-gray", "-f", str(page), "-l", str(page), str(file)]
    image = subprocess.run(command, capture_output=True, check=True).stdout
    head, size, _, body = image.split(b"\n", 3)
    assert head == b"P5"
    wide, high = (int(number) for number in size.split())
    return np.frombuffer(body, np.uint8).reshape(high, wide)


def dark_runs(image: np.ndarray[Any, Any]) -> Iterator[int]:
    """Yield the length of the longest run of dark pixels of every row. [px]"""
    for row in image < 100:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
        yield int((edges[1::2] - edges[::2]).max(initial=0))


@poppler
@pytest.mark.parametrize(
    ("demo", "paper", "scale"), [("stair-alcove", "a4", 25), ("starter", "letter", 20)]
)
def test_the_front_measures_what_the_scale_says_on_the_rendered_page(demo, paper, scale, tmp_path):
    summary = told(demo, paper=paper, scale=scale)
    image = rendered(pdf_bytes(summary), 2, tmp_path)
    box = look_of(quickly(demo)).placement.box(quickly(demo).design.enclosure.id)
    expected = 1000 * box.size[0] / scale / 25.4 * DPI
    found = [run for run in dark_runs(image) if abs(run - expected) < 0.05 * expected]

    assert found, "the enclosure's front is a line on the page"
    assert min(abs(edge - expected) for edge in found) / expected < 0.01


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_a_page_is_as_large_as_the_paper_asked_for(paper):
    found = PdfReader(BytesIO(pdf_bytes(told("starter", paper=paper)))).pages[0].mediabox

    assert float(found.width) * 25.4 / 72 == pytest.approx(PAPERS[paper].width, abs=0.1)
    assert float(found.height) * 25.4 / 72 == pytest.approx(PAPERS[paper].height, abs=0.1)


def test_the_scale_asked_for_is_drawn_and_larger_paper_draws_larger():
    drawn = [
        told("stair-alcove", **one).drawings[""] for one in ({"scale": 50}, {}, {"paper": "a3"})
    ]

    assert drawn[0].scale == 50
    assert drawn[0].scale > drawn[1].scale > drawn[2].scale
    for picture in drawn:
        assert any(text.endswith(f"1:{picture.scale}") for text in texts(picture))


def test_a_scale_that_does_not_fit_says_what_does():
    with pytest.raises(InputError, match=r"scale = 1:5 is too large for A4; choose 1:\d+ or more"):
        told("stair-alcove", scale=5)


@pytest.mark.parametrize("demo", NAMES)
def test_no_drawing_is_larger_than_its_page(demo):
    for paper in PAPERS:
        summary = told(demo, paper=paper)
        width, height = summary.paper.room
        for name, picture in summary.drawings.items():
            assert picture.width <= width + 1e-6, name
            assert picture.height <= height, name


def test_widths_below_the_plan_add_up_to_the_enclosure():
    look = look_of(quickly("basement-nook"))
    edges = chain_edges(look.placement)
    whole = look.placement.box(look.design.enclosure.id)

    assert (edges[0], edges[-1]) == (whole.lo[0], whole.hi[0])
    assert sum(b - a for a, b in pairwise(edges)) == pytest.approx(whole.size[0])


def test_the_height_of_every_level_stands_beside_the_side():
    look = look_of(quickly("stair-alcove"))
    words = texts(told("stair-alcove").drawings[""])
    heights = [one.z for one in look.placement.levels if "unit" in one.host]

    assert len(heights) == 4
    for height in heights:
        assert show(height, "length") in words


@pytest.mark.parametrize("demo", NAMES)
def test_the_picture_fills_its_frame_and_stays_in_it(demo):
    items, high = pictorial(look_of(quickly(demo)).placement, 180.0, 150.0)
    points = [point for one in items if isinstance(one, Shape) for point in one.points]

    assert high <= 150.0 + 1e-9
    assert all(-1e-6 <= x <= 180.0 + 1e-6 and -1e-6 <= y <= high + 1e-6 for x, y in points)
    across = max(x for x, _ in points) - min(x for x, _ in points)
    assert across == pytest.approx(180.0) or high == pytest.approx(150.0)


spans = st.tuples(st.integers(0, 6), st.integers(1, 3))


@given(st.lists(spans, min_size=6, max_size=6), st.integers(0, 2), st.integers(0, 3))
def test_of_two_boxes_the_one_nearer_to_the_eye_is_drawn_last(six, axis, gap):
    """Moved apart along one axis and overlapping on the others, one can only hide the other."""
    lows, sizes = [start for start, _ in six], [size for _, size in six]
    lo = [tuple(lows[:3]), tuple(lows[:3])]
    hi = [
        tuple(a + b for a, b in zip(lo[k], sizes[3 * k : 3 * k + 3], strict=True)) for k in (0, 1)
    ]
    away = sizes[axis] + gap
    far = tuple(x + away * (k == axis) for k, x in enumerate(lo[1]))
    end = tuple(x + away * (k == axis) for k, x in enumerate(hi[1]))
    here, there = Box(lo[0], hi[0]), Box(far, end)  # type: ignore[arg-type]
    # The eye is at the right, before and above: high x, low y, high z.
    last = here if axis == 1 else there

    for order in ((here, there), (there, here)):
        assert in_order([Solid(box, "#FFFFFF") for box in order])[-1].box == last


def test_the_tree_of_tags_leads_to_every_piece_of_every_page():
    reader = PdfReader(BytesIO(pdf_bytes(told("starter"))))
    root = reader.trailer["/Root"]
    tree = root["/StructTreeRoot"]
    kinds: list[str] = []
    numbers: dict[Any, list[int]] = {}

    def walk(element: Any) -> None:
        element = element.get_object()
        kinds.append(element["/S"])
        kid = element["/K"]
        if isinstance(kid, int):
            numbers.setdefault(element.raw_get("/Pg").idnum, []).append(kid)
            return
        for one in kid:
            assert one.get_object()["/P"].get_object() == element
            walk(one)

    walk(tree["/K"])
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert kinds[:2] == ["/Document", "/H1"]
    assert {"/H2", "/P", "/Table", "/TR", "/TH", "/TD", "/Figure"} <= set(kinds)
    for page in reader.pages:
        stream = page.get_contents().get_data().decode("latin-1")
        marked = stream.count("BDC")
        assert sorted(numbers[page.indirect_reference.idnum]) == list(range(marked))
        assert stream.count("EMC") == marked + stream.count("BMC")


def test_every_drawing_is_told_in_words_and_the_outline_names_every_section():
    summary = told("starter")
    reader = PdfReader(BytesIO(pdf_bytes(summary)))
    figures = [
        one["/Alt"]
        for number in range(1, len(reader.xref[0]) + 1)
        if isinstance(one := reader.get_object(number), dict) and one.get("/S") == "/Figure"
    ]

    for picture in summary.drawings.values():
        assert picture.title in figures
    assert [one.title for one in reader.outline] == [one.title for one in summary.sections]
