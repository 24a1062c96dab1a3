"""What is read off a canopy, a lamp's photon flux, and photons from spectra."""

from __future__ import annotations

import math

import numpy as np
import pytest

from core.errors import InputError
from core.light import (
    Lamp,
    Scene,
    beam_exponent,
    canopy_light,
    cell_grid,
    cosine_power,
    dli,
    photons_per_joule,
    photons_per_kilolux,
    share_in_range,
    solve,
)
from core.light.output import (
    LIGHTS,
    flux_from_lumens,
    flux_from_ppf,
    flux_from_reading,
    flux_from_watts,
)


def test_grid_has_no_cell_wider_than_its_pitch() -> None:
    grid = cell_grid(1.0, 2.0, 0.52, 0.1)
    assert (grid.columns, grid.rows) == (11, 2)
    assert grid.x[0] == pytest.approx(1 + 0.52 / 22)
    assert (grid.y[0], grid.y[-1]) == pytest.approx((2.025, 2.075))
    assert grid.points(0.3).shape == (22, 3)
    assert (grid.as_map(grid.y)[1] > grid.as_map(grid.y)[0]).all()


def test_grid_of_an_exact_multiple_is_not_one_cell_too_many() -> None:
    assert cell_grid(0, 0, 0.45, 1.2).columns == 9
    assert cell_grid(0, 0, 0.45, 1.2).rows == 24


def test_canopy_in_four_numbers() -> None:
    light = canopy_light([[100, 200], [300, 400]])
    assert (light.minimum, light.mean, light.maximum) == (100, 250, 400)
    assert light.uniformity == pytest.approx(0.4)
    assert canopy_light([0, 0]).uniformity == 0
    assert share_in_range([100, 200, 300, 400], 200, 300) == 0.5


def test_every_way_in_states_its_uncertainty() -> None:
    watts = flux_from_watts(40, 2.5)
    assert (watts.value, watts.uncertainty) == (100, 0.10)
    assert "2.5" in watts.assumption
    assert flux_from_watts(40, 2.5, assumed=False).assumption == ""
    assert flux_from_ppf(80).uncertainty == 0.05
    lumens = flux_from_lumens(2000, LIGHTS["led-neutral"])
    assert lumens.value == pytest.approx(28.6)
    assert lumens.uncertainty == pytest.approx(math.hypot(0.05, 0.05))
    assert "neutral white" in lumens.assumption


@pytest.mark.parametrize(
    "lamp",
    [
        Lamp((1, 2, 3), (0.4, 0.3), 88),
        Lamp((1, 2, 3), (1.2, 0), 88),
        Lamp((1, 2, 3), (0, 0), 88, distribution=cosine_power(beam_exponent(20))),
    ],
)
def test_reading_before_the_middle_gives_back_the_flux(lamp: Lamp) -> None:
    below = (1, 2, 3 - 0.3)
    reading = solve(Scene((), (lamp,)), [below], [(0, 0, 1)]).direct[0]
    found = flux_from_reading(lamp, 0.3, ppfd=reading, meter=0.02)
    assert found.value == pytest.approx(88, rel=1e-5)
    assert found.uncertainty == 0.02


def test_reading_in_lux_needs_its_light() -> None:
    lamp = Lamp((0, 0, 0), (0, 0), 1)
    found = flux_from_reading(lamp, 1.0, lux=1000, light=LIGHTS["led-cool"])
    assert found.value == pytest.approx(14.2 * math.pi)
    assert found.uncertainty == pytest.approx(math.hypot(0.05, 0.05))
    with pytest.raises(InputError, match="choose the lamp's light or enter PPFD"):
        flux_from_reading(lamp, 1.0, lux=1000)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: cell_grid(0, 0, 0, 1), "Zone: width = 0 m must be above zero"),
        (lambda: cell_grid(0, 0, 1, 1, -1), "Zone: pitch = -1 m must be above zero"),
        (lambda: canopy_light([]), "Zone: cells of light = 0"),
        (lambda: canopy_light([1, math.nan]), "Zone: cells of light = 2"),
        (lambda: share_in_range([1], 5, 3), "must not lie below the low end, 5"),
        (lambda: flux_from_watts(-1, 2), "Lamp: power = -1 W must not be negative"),
        (lambda: flux_from_watts(1, 0), "Lamp: efficacy = 0 µmol/J must be above zero"),
        (lambda: flux_from_lumens(-1, LIGHTS["sun"]), "Lamp: luminous flux = -1 lm"),
        (lambda: flux_from_reading(Lamp((0, 0, 0), (0, 0), 1), 0, ppfd=3), "Lamp: distance = 0 m"),
        (lambda: flux_from_reading(Lamp((0, 0, 0), (0, 0), 1), 1), "enter either PPFD or lux"),
        (lambda: dli(300, 25), "Daily light: hours = 25 h must lie between 0 and 24"),
        (lambda: dli([-1, 2], 12), "Daily light: PPFD = -1.0"),
        (lambda: photons_per_joule([], []), "Spectrum: values = 0"),
        (lambda: photons_per_joule([500, 400], [1, 1]), "nm must rise"),
        (lambda: photons_per_joule([500, 600], [1, -1]), "lowest value = -1.0"),
        (lambda: photons_per_joule([500, 600], [0, 0]), "Spectrum: energy = 0"),
        (lambda: photons_per_kilolux([900, 950], [1, 1]), "light that can be seen = 0"),
    ],
)
def test_bad_input_is_told_in_the_house_form(make: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        make()  # type: ignore[operator]
    assert said in str(caught.value)


def test_spectrum_scale_does_not_matter() -> None:
    nm = np.arange(380.0, 781.0, 10.0)
    energy = 1.0 + np.sin(nm / 40)
    assert photons_per_kilolux(nm, 7 * energy) == pytest.approx(photons_per_kilolux(nm, energy))


def test_energy_outside_the_band_lowers_photons_per_joule() -> None:
    inside = photons_per_joule([399.999, 400, 700, 700.001], [0, 1, 1, 0])
    wider = photons_per_joule([399.999, 400, 800, 800.001], [0, 1, 1, 0])
    assert wider == pytest.approx(inside * 300 / 400, rel=1e-4)
