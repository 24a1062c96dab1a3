"""Runs the engines on a design and keeps what is still valid from the last run.

Each engine says which inputs it looked at; when they are equal to last time's, its readings stay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from core.air.flows import Flows, Solving
from core.air.reading import AirReadings
from core.air.reading import inputs as air_inputs
from core.air.reading import read as read_air
from core.climate.reading import ClimateReadings
from core.climate.reading import inputs as climate_inputs
from core.climate.reading import read as read_climate
from core.cost.reading import CostReadings
from core.cost.reading import inputs as cost_inputs
from core.cost.reading import read as read_cost
from core.finding import Finding, in_order
from core.findings import find
from core.fit.reading import FitReadings
from core.fit.reading import inputs as fit_inputs
from core.fit.reading import read as read_fit
from core.light import warm_up as warm_light
from core.light.reading import LightReadings
from core.light.reading import inputs as light_inputs
from core.light.reading import read as read_light
from core.materials.reading import MaterialsReadings
from core.materials.reading import inputs as materials_inputs
from core.materials.reading import read as read_materials
from core.model import Design
from core.power.reading import PowerReadings
from core.power.reading import inputs as power_inputs
from core.power.reading import read as read_power
from core.reading import SUBJECTS, Reading, SubjectReadings
from core.study import Quality, Study, study
from core.water.reading import WaterReadings
from core.water.reading import inputs as water_inputs
from core.water.reading import read as read_water
from core.weight.reading import WeightReadings
from core.weight.reading import inputs as weight_inputs
from core.weight.reading import read as read_weight

__all__ = ["Reader", "Reading", "Readings", "read"]


@dataclass(frozen=True)
class Engine:
    """One subject's engine.

    ``inputs`` returns everything the engine looks at, comparable with ``==``; ``after`` names the
    subjects whose readings it uses; ``graded`` engines answer differently while something is
    dragged. ``patient`` ones keep their final answer then, as long as only the readings that they
    use have changed.
    """

    subject: str
    inputs: Callable[[Study], Any]
    read: Callable[[Study], SubjectReadings]
    after: tuple[str, ...] = ()
    graded: bool = False
    patient: bool = False


@dataclass(frozen=True, eq=False)
class Kept:
    """What an engine found last, its inputs, and the earlier subjects' readings it used."""

    inputs: Any
    used: tuple[SubjectReadings, ...]
    found: SubjectReadings

    def holds(self, inputs: Any, used: tuple[SubjectReadings, ...]) -> bool:
        """Tell whether inputs are equal and earlier subjects' readings the very same.

        Readings that only pass by, such as of a flow that still moves, change nothing yet.
        """
        same = all(old is new or new.passing for old, new in zip(self.used, used, strict=True))
        return same and bool(self.inputs == inputs)


ENGINES = (
    Engine("light", light_inputs, read_light, graded=True),
    Engine("air", air_inputs, read_air, graded=True),
    Engine(
        "climate",
        climate_inputs,
        read_climate,
        after=("light", "air"),
        graded=True,
        patient=True,
    ),
    Engine("power", power_inputs, read_power, after=("climate",)),
    Engine("water", water_inputs, read_water, after=("climate",)),
    Engine("weight", weight_inputs, read_weight),
    Engine("fit", fit_inputs, read_fit),
    Engine("materials", materials_inputs, read_materials, graded=True, patient=True),
    Engine("cost", cost_inputs, read_cost, after=("power", "water", "materials")),
)


@dataclass(frozen=True)
class Readings:
    """All that the engines say about a design.

    Attributes
    ----------
    design : Design
        What was read.
    season : str
        Id of the season it was read in.
    quality : str
        ``"coarse"`` or ``"final"``.
    light, air, power, water, climate, weight, fit, cost, materials
        The readings by subject.
    findings : tuple of Finding
        Worst first. In coarse readings those of the last final ones.
    """

    design: Design
    season: str
    quality: Quality
    light: LightReadings
    air: AirReadings
    power: PowerReadings
    water: WaterReadings
    climate: ClimateReadings
    weight: WeightReadings
    fit: FitReadings
    cost: CostReadings
    materials: MaterialsReadings
    findings: tuple[Finding, ...] = ()

    def subject(self, name: str) -> SubjectReadings:
        """Return one subject's readings by its name in `core.reading.SUBJECTS`."""
        found: SubjectReadings = getattr(self, name)
        return found

    def rows(self) -> tuple[Reading, ...]:
        """Return every reading of every subject, in the subjects' order."""
        return tuple(row for name in SUBJECTS for row in self.subject(name).rows)

    def to_json(self) -> dict[str, Any]:
        """Return everything as plain data in SI, sentences in the design's units."""
        system = self.design.units
        headlines = {name: self.subject(name).headline for name in SUBJECTS}
        return {
            "design": self.design.name,
            "variant": self.design.variant_name,
            "season": self.season,
            "quality": self.quality,
            "headlines": {
                name: item.to_json(system) if item else None for name, item in headlines.items()
            },
            "readings": [row.to_json(system) for row in self.rows()],
            "findings": [item.to_json(system) for item in self.findings],
        }


class Reader:
    """Runs the engines and remembers, so that an edit costs only what it touches.

    Not safe for use from two threads at once; give each its own.

    Parameters
    ----------
    flows : Flows, optional
        Where the flow of air comes from; by default it is computed when a final reading needs it,
        and so are kernels compiled, of which a window sees to both in the background.
    """

    def __init__(self, flows: Flows | None = None) -> None:
        self._alone = flows is None
        self._flows = Solving() if flows is None else flows
        self._kept: dict[str, dict[str, Kept]] = {"coarse": {}, "final": {}}
        self._findings: tuple[Finding, ...] | None = None

    def update(
        self,
        design: Design,
        changed: Iterable[str] | None = None,
        quality: Quality = "final",
        *,
        season: str | None = None,
    ) -> Readings:
        """Return the readings of a design.

        Parameters
        ----------
        design : Design
        changed : iterable of str, optional
            Ids that changed since the last call. Only a hint: what is still valid is found by
            comparing each engine's inputs.
        quality : {"coarse", "final"}
            Coarse while something is dragged.
        season : str, optional
            Season id; by default the design's first.

        Returns
        -------
        Readings
        """
        if self._alone and quality == "final":
            warm_light()
        look = replace(study(design, season=season, quality=quality), flows=self._flows)
        done: dict[str, SubjectReadings] = {}
        for engine in ENGINES:
            # `done` grows as the engines run; each gets it as it stands.
            done[engine.subject] = self._run(engine, replace_done(look, done))
        look = replace_done(look, done)
        return Readings(
            design=design,
            season=look.season.id,
            quality=quality,
            findings=self._find(look),
            **done,  # type: ignore[arg-type]
        )

    def _find(self, look: Study) -> tuple[Finding, ...]:
        """Return the findings; while something is dragged those of the last final reading stay.

        Rules try their remedies before they offer them, which is too slow for a drag, and for each
        picture of a flow that still moves.
        """
        air, last = look.done["air"], self._findings
        if last is not None and (look.quality == "coarse" or _is_picture(air)):
            return last
        found = find(look)
        if air.passing and last is not None:
            found = in_order((*_but_air(found), *_kept(last, look.design)))
        self._findings = found
        return found

    def _run(self, engine: Engine, look: Study) -> SubjectReadings:
        kept = self._kept[look.quality if engine.graded else "final"]
        last = kept.get(engine.subject)
        inputs = engine.inputs(look)
        used = tuple(look.done[subject] for subject in engine.after)
        if engine.patient and look.quality == "coarse":
            final = self._kept["final"].get(engine.subject)
            if final is not None and final.inputs == inputs:
                return final.found
        if last is not None and last.holds(inputs, used):
            return last.found
        found = engine.read(look if last is None else _after(look, engine.subject, last.found))
        kept[engine.subject] = Kept(inputs, used, found)
        return found


def _is_picture(air: SubjectReadings) -> bool:
    """Tell whether air is read from a flow that still moves."""
    return air.passing and isinstance(air, AirReadings) and air.field is not None


def _but_air(findings: tuple[Finding, ...]) -> Iterator[Finding]:
    return (finding for finding in findings if finding.subject != "air")


def _kept(findings: tuple[Finding, ...], design: Design) -> Iterator[Finding]:
    """Iterate over findings on air that stay until its new flow is there.

    Their remedies do not: these were made for the design as it was.
    """
    for finding in findings:
        if finding.subject == "air" and (not finding.place or finding.place in design.by_id):
            yield replace(finding, remedy=None)


def replace_done(look: Study, done: dict[str, SubjectReadings]) -> Study:
    """Return the study with the readings found so far, its resolved places kept."""
    return _with(look, done=dict(done))


def _after(look: Study, subject: str, last: SubjectReadings) -> Study:
    """Return the study with a subject's last readings, of which its engine may keep parts."""
    return _with(look, before={subject: last})


def _with(look: Study, **fields: Any) -> Study:
    new = replace(look, **fields)
    new.__dict__["placement"] = look.placement
    return new


def read(
    design: Design,
    *,
    quality: Quality = "final",
    season: str | None = None,
    flows: Flows | None = None,
) -> Readings:
    """Return the readings of a design, computed afresh; ``flows`` as for `Reader`."""
    return Reader(flows).update(design, quality=quality, season=season)
