"""Every window of the catalogue: a site where it moves or narrows a job, and one where it stays silent."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any, NamedTuple

import pytest
from season_sites import COLD, NORTH, Plain, bed, bought

from barrowful.catalogue.figures import sources
from barrowful.catalogue.windows import windows, windows_of
from barrowful.jobs.job import Job
from barrowful.jobs.season import Season
from barrowful.jobs.season_told import sentences
from barrowful.jobs.year import CONDITIONS
from barrowful.needs.kind import NeedKind
from barrowful.needs.registry import NEEDS

Make = Callable[..., Season]
TEMPERATE = {"monthly_mean": NORTH, "last_frost": "04-20", "first_frost": "10-25"}
FROZEN = {**TEMPERATE, "monthly_mean": COLD}
WARM = {"monthly_mean": ["24 degC"] * 6 + ["25 degC"] * 6}
RAINS = {**WARM, "rain_months": [3, 4, 5, 10, 11]}
WET = {**TEMPERATE, "rain_months": [11, 12, 1, 2]}
SAND = {"organic_matter": "2 %", "clay": "6 %"}
DRESS: Plain = {"depth": "1 cm"}
LITTER = bought("poultry litter")
CHIP = bought("arborist chip")


class Case(NamedTuple):
    """A site, a job of it, and the window that is expected: from the plan's own day where no first is named."""

    changed: Plain
    job: str
    first: str
    last: str = ""
    told: str = ""


def hedge(plant: str, planted: str) -> Plain:
    """Return a hedge that is planted on a day."""
    return {"name": "hedge", "grow": {"plant": plant, "row": "40 m", "planted": planted}}


def dressed(climate: Plain, start: str, **more: Any) -> Plain:
    """Return a bed that is dressed from a day on."""
    return {"climate": climate, "start": start, **more}


COVERED = {"places": [bed(kind="row", cover={"depth": "5 cm"})], "ways": [CHIP]}
LIMED = {
    "places": [bed(lime={"ph": "6.5"})],
    "soil": {"ph": "5.8", "clay": "25 %"},
    "ways": [bought("ground limestone", price="0.5 EUR/kg")],
}
FED = {"places": [bed(feed={"nitrogen": "5 g/m2"})], "ways": [bought("feather meal", price="2 EUR/kg")]}
OUT, HARDY = (
    {**FED, "places": [bed(feed={"for": crop, "nitrogen": "5 g/m2"})]} for crop in ("courgette", "leek")
)
FARM = {
    "limits": {"farm": True, "lift": ["suits"]},
    "places": [bed(dress={"dose": "0.3 kg/m2"})],
    "ways": [LITTER],
}
CUT = {"places": [bed(kind="row", dress={"dose": "0.05 kg/m2"})], "horizon": "3 years"}
CLAY = {
    "soil": {"organic_matter": "2 %", "clay": "45 %"},
    "places": [bed(dress={"depth": "1 cm", "dug": True})],
}
HARVEST = {**bed(dress={"dose": "0.3 kg/m2", "dug": True}), "harvest_from": "07-01"}

#: Window -> a site where it holds, and one where it does not.
CASES: dict[str, tuple[Case, Case]] = {
    "frozen": (
        Case(dressed(FROZEN, "2027-01-10"), "spread", "2027-04-01", told="The ground is frozen"),
        Case(dressed(TEMPERATE, "2027-01-10"), "spread", "2027-01-17", "2027-02-28"),
    ),
    "wet": (
        Case(dressed(WET, "2027-01-05"), "spread", "2027-03-01", told="The ground is too wet"),
        Case(dressed(WET, "2027-01-05", soil=SAND), "spread", "2027-01-12"),
    ),
    "closed": (
        Case(dressed(TEMPERATE, "2027-10-05", **FARM), "spread", "2028-03-09", told="Farms in England"),
        Case(
            dressed(TEMPERATE, "2027-10-05", **{**FARM, "limits": {"lift": ["suits"]}}),
            "spread",
            "2027-10-12",
        ),
    ),
    "closed-sandy": (
        Case(
            dressed(TEMPERATE, "2027-08-05", **FARM, soil=SAND),
            "spread",
            "2028-03-09",
            told="Farms in England",
        ),
        Case(dressed(TEMPERATE, "2027-08-05", **FARM), "spread", "2027-08-12"),
    ),
    "nesting": (
        Case(
            {**CUT, "ways": [hedge("tithonia", "2025-05-01")], "limits": {"farm": True}},
            "cut",
            "2027-09-01",
            told="Hedges are not cut",
        ),
        Case({**CUT, "ways": [hedge("tithonia", "2025-05-01")]}, "cut", ""),
    ),
    "after-nesting": (
        Case(
            {**CUT, "ways": [hedge("tithonia", "2025-05-01")]},
            "cut",
            "",
            told="Hedges are best cut after",
        ),
        Case({**CUT, "ways": [hedge("tithonia", "2025-05-01")], "climate": WARM}, "cut", ""),
    ),
    "mulch": (
        Case(dressed(TEMPERATE, "2027-03-01", **COVERED), "mulch", "2027-04-06", "2027-05-18"),
        Case(dressed(WARM, "2027-03-01", **COVERED), "mulch", "2027-03-08", "2027-04-19"),
    ),
    "mulch-rains": (
        Case(dressed(RAINS, "2027-04-01", **COVERED), "mulch", "2027-04-20", "2027-06-01"),
        Case(dressed(WARM, "2027-04-01", **COVERED), "mulch", "2027-04-08", "2027-05-20"),
    ),
    "tender": (
        Case(dressed(TEMPERATE, "2027-02-01", **OUT), "feed", "2027-04-20", "2027-06-01"),
        Case(dressed(TEMPERATE, "2027-02-01", **HARDY), "feed", "2027-03-09", "2027-04-20"),
    ),
    "rich": (
        Case(dressed(TEMPERATE, "2027-02-01", **FED), "feed", "2027-03-09", "2027-04-20"),
        Case(dressed(WARM, "2027-02-01", **FED), "feed", "2027-02-08", "2027-03-22"),
    ),
    "lime": (
        Case(dressed(TEMPERATE, "2027-03-01", **LIMED), "lime", "2027-03-08", "2027-03-23"),
        Case(dressed(WARM, "2027-03-01", **LIMED), "lime", "2027-03-08", "2027-04-19"),
    ),
    "hardwood": (
        Case(
            {**CUT, "horizon": "8 years", "ways": [hedge("willow", "2027-06-01")]},
            "plant",
            "2027-06-01",
            told="Hardwood cuttings",
        ),
        Case(
            {**CUT, "horizon": "8 years", "ways": [hedge("willow", "2027-11-20")]},
            "plant",
            "2027-11-20",
            "2027-12-04",
        ),
    ),
    "heavy-rains": (
        Case(dressed(RAINS, "2027-04-01", **CLAY), "spread", "2027-04-08", told="Heavy clay is best worked"),
        Case(dressed(RAINS, "2027-06-10", **CLAY), "spread", "2027-06-17", "2027-07-29"),
    ),
    "plant-rains": (
        Case(
            {**CUT, "climate": RAINS, "ways": [hedge("tithonia", "2027-06-15")]},
            "plant",
            "2027-06-15",
            told="Cuttings are best planted",
        ),
        Case(
            {**CUT, "climate": RAINS, "ways": [hedge("tithonia", "2027-03-05")]},
            "plant",
            "2027-03-05",
            "2027-03-19",
        ),
    ),
}


def job_of(season: Season, word: str) -> Job:
    """Return the first job of a word."""
    return min((job for job in season.jobs if job.job == word), key=lambda job: job.day)


def check(case: Case, season: Season) -> str:
    """Hold the window of a case's job to what is expected, and return what is told of it."""
    job = job_of(season, case.job)
    assert job.first == (date.fromisoformat(case.first) if case.first else job.day)
    if case.last:
        assert job.last == date.fromisoformat(case.last)
    return " ".join(job.told)


@pytest.mark.parametrize("key", CASES)
def test_a_window_holds(key: str, made: Make) -> None:
    """Where its condition holds, a bar moves the job and a best time narrows it, or is told."""
    case, _ = CASES[key]
    assert case.told in check(case, made(**case.changed))


@pytest.mark.parametrize("key", CASES)
def test_a_window_stays_silent(key: str, made: Make) -> None:
    """Where its condition does not hold, the job may be done from the plan's day on."""
    _, case = CASES[key]
    text = next(window.text for window in windows() if window.key == key)
    assert text[1:] not in check(case, made(**case.changed))


@pytest.mark.parametrize(
    ("stuff", "is_rich"),
    [
        ("grass clippings", True),
        ("comfrey", True),
        ("horse manure", True),
        ("blood meal", True),
        ("green compost", False),
        ("manure compost", False),
        ("wood ash", False),
        ("sulphate of potash", False),
    ],
)
def test_what_is_rich_in_nitrogen(stuff: str, is_rich: bool, made: Make) -> None:
    """Green leaf, manure and meals are not fed ahead of winter; a salt without nitrogen may be."""
    nutrient = "potassium" if stuff in {"wood ash", "sulphate of potash"} else "nitrogen"
    season = made(
        start="2027-02-01",
        climate=TEMPERATE,
        places=[bed(feed={nutrient: "2 g/m2"})],
        ways=[bought(stuff, price="2 EUR/kg")],
        limits={"lift": ["suits", "surplus_phosphorus"]},
    )
    assert job_of(season, "feed").first == (date(2027, 3, 9) if is_rich else date(2027, 2, 8))


@pytest.mark.parametrize(
    ("more", "first"),
    [
        ({}, date(2027, 4, 20)),
        ({"picked": "07-10"}, date(2027, 4, 20)),
        ({"picked": "04-10"}, date(2027, 3, 9)),
        ({"climate": {"monthly_mean": NORTH}}, None),
        ({"stuff": "green compost"}, date(2027, 2, 8)),
        ({"stuff": "pelleted poultry manure"}, date(2027, 3, 9)),
        ({"limits": {"by": "2027-04-10"}}, date(2027, 3, 9)),
    ],
)
def test_a_tender_crop_is_fed_when_it_is_planted_out(
    more: dict[str, Any], first: date | None, made: Make
) -> None:
    """Not under glass, of compost or raw manure, past a limit of the grower's, or by frosts nobody stated."""
    place = bed(feed={"for": "courgette", "nitrogen": "2 g/m2"})
    stuff = more.get("stuff", "feather meal")
    season = made(
        start="2027-02-01",
        climate=more.get("climate", TEMPERATE),
        places=[{**place, **({"harvest_from": more["picked"]} if "picked" in more else {})}],
        ways=[bought(stuff, price="2 EUR/kg")],
        limits=more.get("limits", {"lift": ["surplus_phosphorus"]}),
    )
    fed = job_of(season, "feed")
    told = any("tender crop" in words for words in fed.told)
    assert fed.first == first or (first is None and fed.first < date(2027, 4, 1))
    assert told is ("by" in more.get("limits", {}))


def test_a_tender_crop_of_the_south(made: Make) -> None:
    """The courgettes picked from January on are fed from the last frost of October on."""
    climate = {"monthly_mean": NORTH[6:] + NORTH[:6], "last_frost": "10-20", "first_frost": "04-25"}
    place = {**bed(feed={"for": "courgette", "nitrogen": "2 g/m2"}), "harvest_from": "01-10"}
    season = made(
        start="2027-08-01",
        climate=climate,
        hemisphere="south",
        places=[place],
        ways=[bought("feather meal", price="2 EUR/kg")],
    )
    assert job_of(season, "feed").first == date(2027, 10, 20)


def test_every_window_is_tried_and_has_a_source() -> None:
    """No window of the catalogue is without its two sites, a condition that is known, and a source."""
    assert {window.key for window in windows()} == set(CASES)
    for window in windows():
        assert window.condition in CONDITIONS
        assert window.source in sources()
        assert window.grade in {"read", "derived", "judgement", "from memory", "second-hand"}
    assert {window.condition for window in windows()} == set(CONDITIONS)


@pytest.mark.parametrize("kind", NEEDS.values(), ids=lambda kind: kind.kind)
def test_nothing_is_put_on_frozen_ground(kind: NeedKind[Any]) -> None:
    """Whatever a kind of need calls putting its stuff on, frozen ground bars it."""
    for word in kind.jobs:
        assert "frozen" in {window.key for window in windows_of((word,)) if window.bars}


def test_a_window_that_opens_late_may_be_used_as_long(made: Make) -> None:
    """Chip may come in March and is best laid from late April: six weeks from there, and no day of them is late."""
    climate: Plain = {"annual_mean": "9.8 degC", "last_frost": "05-05", "first_frost": "10-15"}
    rings = [bed(kind="tree", count=9, cover={"depth": "8 cm"})]
    season = made(
        start="2027-03-08", climate=climate, places=rings, ways=[CHIP], labour={"hours_per_week": "8 h"}
    )
    job = job_of(season, "mulch")
    assert (job.first, job.by) == (date(2027, 4, 21), date(2027, 6, 2))
    assert job.until > date(2027, 4, 26)
    assert not season.late


@pytest.mark.parametrize(
    ("climate", "clay", "start", "said"),
    [
        ({"rain_less_evaporation": "120 mm"}, "42 %", "2027-01-10", True),
        ({"rain_less_evaporation": "120 mm", "rain_months": [11, 12, 1]}, "42 %", "2027-01-10", False),
        ({"rain_less_evaporation": "-50 mm"}, "42 %", "2027-01-10", False),
        ({}, "42 %", "2027-01-10", False),
        ({"rain_less_evaporation": "120 mm"}, "8 %", "2027-01-10", False),
        ({"rain_less_evaporation": "120 mm"}, "42 %", "2027-06-10", False),
    ],
)
def test_that_wet_ground_was_not_looked_at_is_said(
    made: Make, climate: Plain, clay: str, start: str, *, said: bool
) -> None:
    """On clay, in a cold month, where more rain falls than dries off and its months are not told, it is."""
    season = made(start=start, climate={**TEMPERATE, **climate}, soil={"organic_matter": "2 %", "clay": clay})
    told = [line for line in sentences(season) if line.startswith("Wet ground was not looked at")]
    assert bool(told) == said
    assert all("rain_months" in line for line in told)


def test_raw_manure_waits_for_the_harvest(made: Make) -> None:
    """A plan that has raw manure too near the harvest is put off until the crop is gone."""
    line = {"place": "beds", "need": "dress", "way": "yard", "date": "2027-05-01", "amount": "5 kg"}
    season = made(places=[HARVEST], ways=[bought("horse manure", price="0.1 EUR/kg")], plan=[line])
    spread = job_of(season, "spread")
    assert spread.first == date(2027, 10, 26)
    assert any("raw manure" in told.casefold() for told in spread.told)


def test_the_south_mirrors_the_north(made: Make) -> None:
    """Half a year on in the south all windows are those of the north, but for the lengths of months."""
    for case in (CASES["mulch"][0], CASES["closed"][0], CASES["lime"][0]):
        north = made(**case.changed)
        start = date.fromisoformat(case.changed["start"])
        half = date(start.year + (start.month > 6), (start.month + 5) % 12 + 1, start.day)
        climate = {"monthly_mean": NORTH[6:] + NORTH[:6], "last_frost": "10-20", "first_frost": "04-25"}
        south = made(**{**case.changed, "start": str(half), "climate": climate, "hemisphere": "south"})
        for here, there in zip(north.jobs, south.jobs, strict=True):
            assert here.name == there.name
            assert abs((there.first - here.first).days - (half - start).days) <= 3
