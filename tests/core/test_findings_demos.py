"""Each finding of each demo reads well in both systems, and its remedy mends or betters it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import resources
from core.air.flows import JETS
from core.finding import Finding, mended
from core.findings import RULES
from core.model import Design
from core.readings import Readings, read
from core.states import RANK
from core.storage import load

DEMOS = sorted(Path(resources.__file__).parent.glob("demos/*.fern"))
SEASONS = [
    pytest.param(path, season.id, id=f"{path.stem}-{season.id}")
    for path in DEMOS
    for season in load(path).seasons
]


def test_there_are_demos_with_findings_and_more_than_fifteen_rules():
    assert len(DEMOS) >= 5
    assert len(RULES) >= 15


def matching(found: Readings, finding: Finding) -> list[Finding]:
    return [f for f in found.findings if (f.rule, f.place) == (finding.rule, finding.place)]


def told(finding: Finding, system: str) -> list[str]:
    mend = finding.remedy.words.render(system) if finding.remedy else "Mend it"
    return [finding.title.render(system), finding.detail.render(system), mend]


@pytest.mark.parametrize(("path", "season"), SEASONS)
def test_every_remedy_of_a_demo_mends_or_betters_its_finding_and_is_undone_by_the_old_design(
    path, season
):
    design = load(path)
    before = read(design, season=season, flows=JETS)
    for finding in before.findings:
        if finding.remedy is None:
            continue
        done = mended(design, finding)
        assert done != design
        assert isinstance(done, Design)
        now = matching(read(done, season=season, flows=JETS), finding)
        ranks = [RANK[other.state] for other in now]
        assert not ranks or min(ranks) > RANK[finding.state], told(finding, design.units)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize(("path", "season"), SEASONS)
def test_findings_of_a_demo_are_whole_sentences_in_both_systems(path, season, system):
    for finding in read(load(path), season=season, flows=JETS).findings:
        for text in told(finding, system):
            assert text[0].isupper() or text[0].isdigit(), text
            assert not re.search(r"[{}]|\bnan\b|\binf\b|None|\s{2}|\.\.", text), text
        assert "!" not in "".join(told(finding, system))
        title, detail, mend = told(finding, system)
        assert detail.endswith("."), detail
        assert not title.endswith(".") and not mend.endswith("."), title


@pytest.mark.parametrize(("path", "season"), SEASONS)
def test_no_two_findings_of_a_demo_say_the_same_and_the_worst_come_first(path, season):
    found = read(load(path), season=season, flows=JETS).findings
    titles = [finding.title.render() for finding in found]
    assert len(set(titles)) == len(titles)
    ranks = [RANK[finding.state] for finding in found]
    assert ranks == sorted(ranks)
    known = {"", *load(path).by_id}
    assert {finding.place for finding in found} <= known


def test_the_basement_nooks_tank_can_overfill_its_liner():
    (path,) = (demo for demo in DEMOS if demo.stem == "basement-nook")
    rules = [finding.rule for finding in read(load(path), flows=JETS).findings]
    assert "feed-overfills-liner" in rules
