"""Materials against published instances and tables; the source stands beside each value."""

from __future__ import annotations

import random

import pytest

from core.materials import cut_list, sag, strip_count
from core.materials.sheets import seams
from core.materials.stock import FRAME_STOCK

INCH = 0.0254


def test_the_cutting_stock_example_of_chvatal():
    # Chvátal, Linear Programming, 1983, cutting-stock example, as in the GAMS model library
    plan = cut_list({45: 97, 36: 610, 31: 395, 14: 211}, 100)
    assert plan.bars == 453
    assert plan.relaxation == pytest.approx(452.25, abs=1e-6)
    assert plan.lower_bound == 453
    assert plan.proven


def test_the_paper_machine_with_thirteen_widths():
    # The worked example that encyclopedias give for cutting stock: 73 rolls of 5.6 m, from memory
    widths = {
        1.38: 22, 1.52: 25, 1.56: 12, 1.71: 14, 1.82: 18, 1.88: 18, 1.93: 20,
        2.00: 10, 2.05: 12, 2.10: 14, 2.14: 16, 2.15: 18, 2.20: 20,
    }  # fmt: skip
    plan = cut_list(widths, 5.6)
    assert (plan.bars, plan.proven) == (73, True)
    # The same source tells a trim loss of 0.401 %
    used = sum(length * count for length, count in widths.items())
    assert 1 - used / (73 * 5.6) == pytest.approx(0.00401, abs=5e-6)


@pytest.mark.parametrize(("width", "roll", "overlap", "strips"), [(8.4, 3.0, 0.1, 3),
                                                                  (8.4, 1.2, 0.05, 8)])  # fmt: skip
def test_strips_of_a_cover(width: float, roll: float, overlap: float, strips: int):
    # ⌈(W - o)/(w - o)⌉
    assert strip_count(width, roll, overlap) == strips
    assert len(seams(width, roll, overlap)[0]) + 1 == strips


@pytest.mark.parametrize(
    ("stock", "outside", "wall", "moment"),
    # Tables of pipe to schedule 40 (dimensions of ASTM D1785 and ASME B36.10), in⁴, from memory
    [("pipe-three-quarter-in", 1.050, 0.113, 0.0370), ("pipe-1-in", 1.315, 0.133, 0.0873)],
)
def test_the_second_moment_of_a_pipe(stock: str, outside: float, wall: float, moment: float):
    bars = FRAME_STOCK[stock]
    assert bars.wall == pytest.approx(wall * INCH)
    assert bars.second_moment(outside * INCH) / INCH**4 == pytest.approx(moment, abs=1e-4)


def test_the_sag_of_a_bar_by_summing_its_curvature():
    # Euler-Bernoulli: the deflection is M/(E I) integrated twice (virtual work, m = x/2), M = w x
    # (l - x)/2; here by the midpoint rule
    load, span, stiffness, moment, steps = 12.0, 1.9, 3.0e9, 8.4e-9, 20_000
    places = [(i + 0.5) * span / steps for i in range(steps // 2)]
    work = sum(load * x * (span - x) / 2 * x / 2 for x in places) * span / steps
    assert sag(load, span, stiffness, moment) == pytest.approx(
        2 * work / (stiffness * moment), rel=1e-6
    )


def by_cp_sat(pieces: dict[int, int], stock: int, kerf: int) -> int:
    """Return the fewest bars as OR-tools' CP-SAT finds and proves them."""
    cp_model = pytest.importorskip("ortools.sat.python.cp_model")
    model = cp_model.CpModel()
    bars = range(sum(pieces.values()))
    used = [model.new_bool_var(f"bar {b}") for b in bars]
    for b in bars[1:]:
        model.add_implication(used[b], used[b - 1])
    loads = [[] for _ in bars]
    for length, count in pieces.items():
        cut = [model.new_int_var(0, count, f"{length} on {b}") for b in bars]
        model.add(sum(cut) == count)
        for b in bars:
            loads[b].append((length + kerf) * cut[b])
    for b in bars:
        model.add(sum(loads[b]) <= (stock + kerf) * used[b])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 20
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(50))
def test_cp_sat_finds_no_plan_with_fewer_bars(seed: int):
    pytest.importorskip("ortools")
    draw = random.Random(seed)
    stock = draw.choice([2000, 2400, 3000, 3048, 6000])
    kerf = draw.choice([0, 2, 3])
    lengths = draw.sample(range(stock // 8, int(stock * 0.7)), draw.randint(2, 6))
    pieces = {length: draw.randint(1, 4) for length in lengths}
    plan = cut_list({mm / 1000: n for mm, n in pieces.items()}, stock / 1000, kerf / 1000)
    assert plan.proven
    assert plan.bars == by_cp_sat(pieces, stock, kerf)
