"""The exchange between patches and to points: compiled and plain alike, and right past an edge."""

from __future__ import annotations

import numpy as np
import pytest

from core.light import Lamp, Scene, Surface, bounce, cell_grid, exchange, obstacles, solve
from core.light.patches import Patches, cut
from core.light.sides import clustered, facing, sides_of

X, Y, Z, O = (2.0, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, 2.1), (0.0, 0.0, 0.0)  # noqa: E741
ROOM = [(O, X, Y), (Z, Y, X), (O, Y, Z), (X, Z, Y), (O, Z, X), (Y, X, Z)]


def furnished(*more: Surface) -> Scene:
    """A room with a wire shelf, a tray and a tilted board."""
    shelf = Surface((0.3, 0.4, 0.8), (1.2, 0, 0), (0, 0.6, 0), 0.2, 0.5)
    tray = Surface((0.5, 0.5, 0.95), (0.7, 0, 0), (0, 0.4, 0), 0.6)
    tilted = Surface((0.4, 1.4, 0.5), (0.9, 0, 0.3), (0, 0.4, 0), 0.4)
    walls = [Surface(*side, 0.7) for side in ROOM]
    return Scene((*walls, shelf, tray, tilted, *more), (Lamp((1, 1, 2), (0.3, 0.3), 100),))


def taken_apart(scene: Scene, patch: float) -> tuple[Patches, obstacles.Obstacles]:
    return cut(scene, patch), obstacles.of_surfaces(scene.surfaces)


def test_compiled_factors_equal_their_plain_twin() -> None:
    """Rays that graze an edge may fall to either side of it in single precision: few do."""
    patches, hindering = taken_apart(furnished(), 0.35)
    plain = exchange.between_patches(patches, hindering, compiled=False)
    fast = exchange.between_patches(patches, hindering, compiled=True)

    off = np.abs(fast - plain) > 1e-5 * plain.max()
    assert off.mean() < 2e-4
    assert np.abs(fast.sum(axis=1) - plain.sum(axis=1)).mean() < 1e-3
    assert plain.max() > 0.1


def test_compiled_light_at_points_equals_its_plain_twin() -> None:
    patches, hindering = taken_apart(furnished(), 0.35)
    points = cell_grid(0.05, 0.05, 1.9, 1.9, 0.3).points(0.9)
    slant = np.tile(np.array([[0.0, 0.6, 0.8]]), (len(points), 1))

    plain = exchange.from_points(points, slant, patches, hindering, compiled=False)
    fast = exchange.from_points(points, slant, patches, hindering, compiled=True)

    off = np.abs(fast - plain) > 1e-5 * plain.max()
    assert fast.shape == (len(points), patches.count)
    assert off.mean() < 2e-4
    assert np.abs(fast.sum(axis=1) - plain.sum(axis=1)).mean() < 1e-3


@pytest.mark.parametrize("missing", [None, 0, 3])
def test_compiled_and_plain_agree_on_what_is_shut(missing: int | None) -> None:
    scene = furnished()
    surfaces = [s for number, s in enumerate(scene.surfaces) if number != missing]
    patches, hindering = taken_apart(Scene(tuple(surfaces), scene.lamps), 0.5)
    plain = exchange.closed(patches, hindering, compiled=False)
    fast = exchange.closed(patches, hindering, compiled=True)

    assert (plain == fast).all()
    assert plain.all() == (missing is None)


def test_points_add_up_like_patches() -> None:
    """A point in the middle of a patch sees what the patch sees, within the method's error."""
    scene = furnished()
    patches, hindering = taken_apart(scene, 0.25)
    seen = exchange.from_points(patches.centre, patches.normal, patches, hindering).sum(axis=1)
    rows = exchange.between_patches(patches, hindering).sum(axis=1)
    assert seen.mean() == pytest.approx(rows.mean(), rel=0.01)


@pytest.mark.parametrize("compiled", [False, True])
@pytest.mark.parametrize("patch", [0.4, 0.25])
def test_edge_on_the_middles_of_patches(compiled: bool, patch: float) -> None:
    """Plates 2 × 2 m, 2.1 m apart, an opaque sheet over half the way: F = 0.0936223, half of
    0.187245 by symmetry (Howell, C-11). At 0.4 m the sheet's edge lies on patch middles."""
    floor, ceiling = Surface(O, X, Y, 0.5), Surface(Z, Y, X, 0.5)
    sheet = Surface((-4, -4, 1.05), (10, 0, 0), (0, 5, 0))
    patches = cut(Scene((floor, ceiling), (Lamp((1, 1, 1), (0, 0), 1),)), patch)
    hindering = obstacles.of_surfaces([floor, ceiling, sheet])
    factors = exchange.between_patches(patches, hindering, compiled=compiled)
    here, there = patches.side(0), patches.side(1)
    share = patches.area[here] @ factors[here, there].sum(axis=1) / 4.0
    assert share == pytest.approx(0.0936223, rel=0.015)


def test_sides_have_their_corners_back() -> None:
    scene = furnished()
    patches = cut(scene, 0.3)
    sides = sides_of(patches)
    u, v = (sides.corners[:, corner] - sides.corners[:, 0] for corner in (1, 3))
    areas = np.linalg.norm(np.cross(u, v), axis=1)
    whole = [patches.area[patches.side(number)].sum() for number in range(patches.sides)]
    assert areas == pytest.approx(whole)
    assert not facing(sides).diagonal().any()


def test_clusters_hold_every_point_once() -> None:
    points = np.random.default_rng(3).uniform(-1, 3, (500, 3))
    groups = clustered(points)
    assert sorted(groups.order) == list(range(500))
    for number in range(groups.low.shape[0]):
        mine = points[groups.order[groups.start[number] : groups.start[number + 1]]]
        assert (mine >= groups.low[number]).all() and (mine <= groups.high[number]).all()
        assert (np.ptp(mine, axis=0) <= 0.6).all()


def test_order_of_points_does_not_matter() -> None:
    scene = furnished()
    points = cell_grid(0.1, 0.1, 1.8, 1.8, 0.3).points(1.2)
    there = solve(scene, points, (0, 0, 1.0), patch=0.5)
    back = solve(scene, points[::-1], (0, 0, 1.0), patch=0.5)
    np.testing.assert_allclose(back.direct[::-1], there.direct, rtol=1e-3)
    np.testing.assert_allclose(back.reflected[::-1].mean(), there.reflected.mean(), rtol=1e-2)
    assert there.per_lamp.shape == (1, len(points))


def test_no_points_no_light() -> None:
    assert solve(furnished(), np.empty((0, 3)), np.empty((0, 3)), patch=0.5).total.shape == (0,)


def test_points_much_closer_than_patches_share_a_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sharing is for the coarse solve; it moves the whole light by less than a hundredth."""
    scene, points = furnished(), cell_grid(0.1, 0.1, 1.8, 1.8, 0.03).points(1.2)
    shared = solve(scene, points, (0, 0, 1.0), patch=0.3)
    monkeypatch.setattr(bounce, "_READINGS_PER_PATCH", 1e6)
    each = solve(scene, points, (0, 0, 1.0), patch=0.3)

    assert len(np.unique(shared.reflected)) < 0.3 * len(points)
    off = shared.total - each.total
    assert np.sqrt((off * off).mean()) < 0.01 * each.total.mean()
    assert shared.reflected.mean() == pytest.approx(each.reflected.mean(), rel=2e-3)
