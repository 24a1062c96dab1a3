"""What a lamp of one's own gives: each way to enter it, its spread as measured, its spectrum."""

from __future__ import annotations

import math
from dataclasses import replace as changed
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.air.flows import JETS
from core.errors import DesignError, FernwrightError
from core.light import Distribution, Scene, read_photometric_file, solve
from core.light.from_design import lamp_sources
from core.light.lamp_light import kind_of_light, photon_flux
from core.light.measured import (
    distribution_of,
    measured_from,
    own_spectrum_from,
    spectrum_of,
    symmetric,
    upward_share,
)
from core.light.output import LIGHTS
from core.light.reading import read
from core.light.spectrum import photons_per_kilolux
from core.light.spectrum_file import Spectrum, read_spectrum
from core.light.zone_meter import zone_meter
from core.model import (
    OWN,
    Design,
    FromFlux,
    FromLumens,
    FromReading,
    FromWatts,
    Lamp,
    Measured,
    OwnSpectrum,
    Place,
    PlantGroup,
    Plants,
    Room,
    Shelf,
    ShelfUnit,
    build,
    replace,
)
from core.model.measured import MOST_VALUES
from core.placement import Placement
from core.readings import Reader
from core.storage import dumps, loads
from core.study import study
from tests.photometry_kit import Ldt, Lm63, lambertian, uneven


def lamp(**fields: Any) -> Lamp:
    known: dict[str, Any] = {
        "id": "lamp", "name": "Lamp", "form": "spot", "width": 0.1, "depth": 0.1, "height": 0.1,
        "watts": 20.0, "place": Place(fixing="hung", x=1.0, y=1.0, z=0.5),
    }  # fmt: skip
    return Lamp(**{**known, **fields})


def design(*parts: Any) -> Design:
    group = PlantGroup(key="ferns", name="Ferns")
    return Design(room=Room.rectangle(4.0, 3.0, 2.4), groups=(group,), parts=parts)


LED = Spectrum(np.arange(400.0, 701.0, 5.0), np.linspace(1.0, 2.0, 61))


# --- each way to enter a lamp ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("output", "flux", "off"),
    [
        (FromWatts(efficacy=2.5), 50.0, 0.10),
        (FromFlux(ppf=70.0), 70.0, 0.05),
        # 14.3 µmol/s per klm for 4,000 K (CIE 015:2018, LED-B3); √(5 %² + 5 %²).
        (FromLumens(lumens=3000.0), 42.9, math.hypot(0.05, 0.05)),
        (FromLumens(lumens=3000.0, spectrum="daylight"), 54.06, math.hypot(0.05, 0.01)),
        # A Lambertian point: I0 = Φ/π, and E = I0/d².
        (FromReading(distance=0.5, ppfd=100.0), 100 * 0.25 * math.pi, 0.05),
        (FromReading(distance=0.5, lux=1e4, spectrum="daylight"), 180.2 * 0.25 * math.pi,
         math.hypot(0.05, 0.01)),
    ],
)  # fmt: skip
def test_every_way_to_enter_a_lamp_gives_its_flux_and_how_sure_that_is(output, flux, off) -> None:
    found = photon_flux(lamp(output=output, half_angle=60.0))
    assert found.value == pytest.approx(flux, rel=1e-6)
    assert found.uncertainty == pytest.approx(off)


def test_an_own_spectrum_turns_lumens_into_photons() -> None:
    own = own_spectrum_from(LED, "my lamp.csv")
    made = lamp(output=FromLumens(lumens=1000.0, spectrum=OWN), own_spectrum=own)
    expected = photons_per_kilolux(LED.wavelength, LED.power)
    assert photon_flux(made).value == pytest.approx(expected, rel=1e-4)
    assert "my lamp.csv" in photon_flux(made).assumption


def test_an_own_spectrum_that_is_missing_or_dark_is_named_and_never_raises() -> None:
    missing = lamp(output=FromLumens(lumens=1000.0, spectrum=OWN))
    dark = OwnSpectrum(file="ir.csv", wavelength="900 1000", power="10000 10000")
    unseen = replace(missing, own_spectrum=dark)
    for made in (missing, unseen):
        assert photon_flux(made).value == pytest.approx(LIGHTS["led-neutral"].per_kilolux)
        assert kind_of_light(made)[1]


def test_a_reading_below_a_lamp_that_shines_up_alone_counts_no_light_and_says_so() -> None:
    up = Measured(file="up.ies", c="0", gamma="90 180", table="10000 10000")
    made = lamp(output=FromReading(distance=0.5, ppfd=100.0), measured=up)
    assert photon_flux(made).value == 0.0
    assert "straight ahead" in photon_flux(made).assumption


# --- measured distributions --------------------------------------------------------------------


@pytest.mark.parametrize("c", [[0], [0, 45, 90], [0, 60, 120, 180], [0, 90, 180, 270, 360]])
def test_a_measured_table_is_kept_to_a_ten_thousandth(c: list[float]) -> None:
    gamma = [0, 20, 45, 90, 150]
    table = uneven(c, gamma)
    table[-1] = table[0] if c[-1] == 360 else table[-1]
    file = read_photometric_file(Lm63(c=c, gamma=gamma, table=table).text())
    kept = measured_from(file, "lamp.ies")
    again = distribution_of(kept)

    assert len(kept.c.split()) == len(c)
    scale = file.distribution.intensity(0, 0) / again.intensity(0, 0)
    read_back = again.intensity(np.array(c)[:, None], np.array(gamma)[None, :]) * scale
    assert read_back == pytest.approx(table, rel=2e-4)


def test_a_table_beyond_what_a_design_keeps_is_thinned_and_keeps_its_flux() -> None:
    gamma = np.linspace(0, 180, 361)
    c = np.linspace(0, 90, 181)
    table = (1 + np.cos(np.radians(gamma)))[None, :] * (2 + np.cos(np.radians(2 * c)))[:, None]
    file = read_photometric_file(Lm63(c=c, gamma=gamma, table=1000 * table).text())
    kept = measured_from(file, "lamp.ies")
    again = distribution_of(kept)

    assert len(kept.table.split()) <= MOST_VALUES
    assert len(kept.model_dump_json()) < 120_000
    ratio = again.flux / again.intensity(0, 0)
    assert ratio == pytest.approx(file.lumens / file.distribution.intensity(0, 0), rel=1e-3)


def test_a_single_plane_of_many_angles_is_thinned_too() -> None:
    gamma = np.linspace(0, 180, 3000)
    table = np.linspace(500, 1, gamma.size)[None, :]
    kept = measured_from(read_photometric_file(Lm63(gamma=gamma, table=table).text()), "a")
    assert len(kept.gamma.split()) == 181


angles = st.lists(st.floats(0, 180), min_size=2, max_size=6, unique=True).map(sorted)


@settings(max_examples=60, deadline=None)
@given(
    angles,
    st.sampled_from([[0], [0, 1e-5, 90], [0, 90, 180], [90, 180, 270], [0, 90, 180, 270]]),
    st.floats(1e-300, 1e9),
    st.sampled_from([1, 2, 3]),
    st.floats(1e-9, 1e9),
    st.floats(0, 1e9),
)
def test_any_file_that_is_read_can_be_kept_or_is_refused(
    gamma, c, value, kind, watts, side
) -> None:
    """A lamp of whatever a file says is saved and read again, or there is a sentence."""
    source = Lm63(
        kind=kind, gamma=gamma, c=c, table=np.full((len(c), len(gamma)), value), watts=watts,
        dimensions=(side, 0.3, 0.0),
    )  # fmt: skip
    try:
        kept = measured_from(read_photometric_file(source.text()), "a.ies")
    except FernwrightError as error:
        assert str(error).endswith(".")
        return
    made = design(lamp(output=FromFlux(ppf=10.0), measured=kept))
    assert loads(dumps(made)) == made
    assert distribution_of(kept).flux > 0


def test_length_lies_along_the_lamp_whichever_plane_the_file_measures_it_in() -> None:
    across = measured_from(read_photometric_file(Ldt(area=(1200, 60, 0, 0, 0, 0)).text()), "a.ldt")
    along = measured_from(read_photometric_file(Lm63(dimensions=(0.06, 1.2, 0)).text()), "a.ies")
    assert (across.turn, across.opening) == (1, pytest.approx((0.06, 1.2)))
    assert (along.turn, along.opening) == (0, pytest.approx((1.2, 0.06)))


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_turning_a_measured_lamp_turns_its_light_anticlockwise(turn: int) -> None:
    """C0 is twice as bright as the rest; after a turn it lies along +y, and so on."""
    table = "10000 10000 5000 5000 5000 5000 5000 5000"
    kept = Measured(file="a", c="0 90 180 270", gamma="0 90", table=table, turn=turn)  # type: ignore[arg-type]
    found = distribution_of(kept).intensity([0, 90, 180, 270], 60.0)
    expected = [5000.0] * 4
    expected[turn] = 10000.0
    assert found == pytest.approx(expected)


def test_a_measured_lamp_scales_its_table_to_its_own_flux() -> None:
    """A Lambertian table, as in check 8: Φ/(π d²) below a point, less what a 5° table cuts off."""
    gamma, table = lambertian(5.0)
    file = read_photometric_file(Lm63(gamma=gamma, table=table, dimensions=(0, 0, 0)).text())
    made = lamp(output=FromFlux(ppf=100.0), measured=measured_from(file, "a.ies"))
    (found,) = lamp_sources(Placement(design(made)))
    x, y, z = found.sources[0].centre
    light = solve(Scene((), found.sources), [[x, y, z - 0.5]], [0, 0, 1]).direct
    assert light == pytest.approx(100 / (math.pi * 0.999365 * 0.5**2), rel=2e-4)


def test_light_upwards_of_a_measured_lamp_goes_up() -> None:
    kept = Measured(file="a", c="0", gamma="0 90 180", table="10000 10000 10000")
    (found,) = lamp_sources(Placement(design(lamp(output=FromFlux(ppf=80.0), measured=kept))))
    down, up = found.sources
    assert (down.flux, up.flux) == pytest.approx((40.0, 40.0))
    assert (down.direction[2], up.direction[2]) == pytest.approx((-1.0, 1.0))
    assert upward_share(distribution_of(kept)) == pytest.approx(0.5)


shares = st.integers(0, 10_000)


@st.composite
def tables(draw: st.DrawFn) -> Measured:
    c = draw(st.sampled_from(["0", "0 90", "0 45 90", "0 90 180", "0 120 240", "0 90 180 270 360"]))
    gamma = draw(st.lists(st.integers(0, 180), min_size=2, max_size=6, unique=True).map(sorted))
    count = len(c.split()) * len(gamma)
    table = draw(st.lists(shares, min_size=count, max_size=count).filter(any))
    return Measured(
        file=draw(st.text(min_size=1, max_size=10)), c=c, gamma=" ".join(map(str, gamma)),
        table=" ".join(map(str, table)), turn=draw(st.sampled_from([0, 1, 2, 3])),
    )  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(tables())
def test_any_table_is_saved_read_again_and_shone_with(kept: Measured) -> None:
    made = design(lamp(output=FromFlux(ppf=10.0), measured=kept))
    again = loads(dumps(made))
    assert again == made
    (found,) = lamp_sources(Placement(again))
    assert sum(source.flux for source in found.sources) == pytest.approx(10.0)


@settings(max_examples=30, deadline=None)
@given(tables())
@example(Measured(file="0", c="0 90 180 270 360", gamma="0 1", table="0 0 0 0 0 0 0 0 0 1"))
def test_the_fewest_planes_say_the_same_as_all(kept: Measured) -> None:
    whole = distribution_of(kept)
    c, gamma, table = symmetric(*whole.planes)
    again = Distribution(c, gamma, table)
    angles = np.linspace(0, 359, 23)[:, None], np.linspace(0, 180, 19)[None, :]
    assert again.intensity(*angles) == pytest.approx(whole.intensity(*angles), abs=1e-6)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"c": "0 90 80"}, "must rise"),
        ({"c": "0 400"}, "must rise, to at most 360"),
        ({"gamma": "0"}, "two or more"),
        ({"gamma": "0 1e2"}, "plain numbers"),
        ({"gamma": "0 -5"}, "plain numbers"),
        ({"gamma": "٠ 90"}, "plain numbers"),
        ({"table": "1 2 3"}, "must be 2"),
        ({"table": "0 0"}, "must be 1 to 10000"),
        ({"table": "1 20000"}, "must be 1 to 10000"),
        ({"table": "1 1.5"}, "whole numbers"),
        ({"table": ""}, "whole numbers"),
        ({"table": "1 " * 70_000}, "120000"),
    ],
)
def test_a_table_that_is_none_gets_its_sentence(fields: dict[str, str], words: str) -> None:
    with pytest.raises(DesignError, match=words):
        build(Measured, "Lamp", {"file": "a", "c": "0", "gamma": "0 90", "table": "1 2", **fields})


@pytest.mark.parametrize(
    ("wavelength", "power", "words"),
    [("400", "1", "2 to 2000"), ("400 300", "1 1", "must rise"), ("400 500", "1", "must be 2")],
)
def test_a_spectrum_that_is_none_gets_its_sentence(wavelength, power, words) -> None:
    with pytest.raises(DesignError, match=words):
        build(OwnSpectrum, "Lamp", {"file": "a", "wavelength": wavelength, "power": power})


def test_a_long_spectrum_is_thinned_and_keeps_its_photons_per_kilolux() -> None:
    nm = np.linspace(200.0, 1200.0, 9001)
    power = np.exp(-(((nm - 450) / 12) ** 2)) + 2 * np.exp(-(((nm - 600) / 60) ** 2))
    long = read_spectrum("\n".join(f"{a:.4f},{b:.6f}" for a, b in zip(nm, power, strict=True)))
    kept = spectrum_of(own_spectrum_from(long, "long.csv"))
    assert kept.wavelength.size <= 2000
    assert photons_per_kilolux(kept.wavelength, kept.power) == pytest.approx(
        photons_per_kilolux(nm, power), rel=1e-3
    )


def test_names_of_files_are_kept_as_words_without_control_characters() -> None:
    file = read_photometric_file(Lm63().text())
    assert measured_from(file, "\x1b[31m../../a\u202e.ies").file == "[31m../../a.ies"
    assert len(measured_from(file, "a" * 500).file) == 80


# --- what a meter would read ---------------------------------------------------------------------


UNIT = ShelfUnit(
    id="unit", name="Unit", width=1.2, depth=0.5, height=1.3, place=Place(x=0.5),
    levels=(Shelf(z=0.2), Shelf(z=0.9)),
)  # fmt: skip


def lit_design(*outputs: Any, measured: Measured | None = None) -> Design:
    boards = [
        Lamp(
            id=f"board-{n}", name=f"Board {n}", form="board", width=0.3, depth=0.3, height=0.02,
            watts=30.0, output=output, measured=measured,
            place=Place(host="unit", fixing="under", level=2, x=0.1 + 0.5 * n, y=0.1, z=0.06),
        )
        for n, output in enumerate(outputs)
    ]  # fmt: skip
    zone = Plants(
        id="zone", name="Zone", species="ferns", width=0.3, depth=0.3, leaf_high=0.1,
        leaf_low=0.05, place=Place(host="unit", level=1, x=0.3, y=0.1),
    )  # fmt: skip
    return design(UNIT, *boards, zone)


def lit(*outputs: Any) -> Any:
    return read(study(lit_design(*outputs)))


def test_an_even_board_that_was_measured_is_the_same_board() -> None:
    """A Lambertian table by the degree against the closed form, reflections included."""
    gamma, table = lambertian(1.0)
    kept = measured_from(read_photometric_file(Lm63(gamma=gamma, table=10 * table).text()), "a")
    (even,) = lit(FromFlux(ppf=60.0)).zones
    (measured,) = read(study(lit_design(FromFlux(ppf=60.0), measured=kept))).zones
    assert measured.mean == pytest.approx(even.mean, rel=3e-3)
    assert measured.low == pytest.approx(even.low, rel=5e-3)


def test_a_meter_reads_each_lamps_light_by_its_own_kind() -> None:
    found = lit(FromFlux(ppf=60.0, spectrum="daylight"), FromFlux(ppf=30.0, spectrum="sodium"))
    (zone,) = found.zones
    meter = zone_meter(zone, found.survey.lamps)
    # D65: 18.02 µmol/(m² s) per klx (CIE data); sodium 82 lx per µmol/(m² s) (Thimijan, Heins).
    expected = 1000 / 18.02 * zone.shares[0] + 82 * zone.shares[1]
    assert zone.shares.min() > 1.0
    assert meter.lux == pytest.approx(expected, rel=1e-3)
    assert meter.phone[0] < meter.lux_meter[0] < meter.lux < meter.lux_meter[1] < meter.phone[1]
    assert [words.render() for words in meter.assumptions] == [
        "Lux for daylight",
        "Lux for high-pressure sodium",
    ]


def test_a_meter_under_a_lamp_of_no_known_light_says_what_was_taken() -> None:
    found = lit(FromWatts())
    (words,) = zone_meter(found.zones[0], found.survey.lamps).assumptions
    assert words.render().startswith("Lux for neutral white LED, 4,000 K, taken")


def test_another_kind_of_light_changes_what_a_meter_reads_at_once() -> None:
    reader = Reader(flows=JETS)
    first, second = (
        reader.update(lit_design(FromFlux(ppf=60.0, spectrum=kind))).light
        for kind in ("sun", "sodium")
    )
    before, after = (
        next(row.value for row in found.rows if row.name == "lux") for found in (first, second)
    )
    # 54 and 82 lx for each µmol/(m² s) (Thimijan and Heins 1983).
    assert after / before == pytest.approx(82 / 54, rel=1e-6)


def test_a_meter_in_the_dark_reads_nothing() -> None:
    found = lit(FromFlux(ppf=0.0))
    meter = zone_meter(found.zones[0], found.survey.lamps, minute=720)
    assert (meter.lux, meter.phone) == (0.0, (0.0, 0.0))


def test_sets_of_a_luminaire_are_read_as_asked() -> None:
    sets = ((1, "LED", 1000, "3000 K", "90", 10), (2, "LED", 3000, "4000 K", "80", 30))
    first, second = (
        read_photometric_file(changed(Ldt(), sets=sets).text(), lamp_set=number)
        for number in (1, 2)
    )
    assert second.lumens == pytest.approx(3 * first.lumens)
    assert measured_from(first, "a").table == measured_from(second, "a").table
