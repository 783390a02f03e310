"""Jobs that are done: named, logged, late, and followed to the end of a season."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
import yaml
from season_sites import bed, bought, site_text

from barrowful.cli.main import exit_code
from barrowful.jobs.entry import entry_of, job_named
from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.measures.problems import WrongUse
from barrowful.site.load import load

Make = Callable[..., Season]
DEMO = Path(__file__).parents[2] / "demo"
COVER = {"places": [bed(kind="row", cover={"depth": "5 cm"})], "ways": [bought("arborist chip")]}


def of(text: str, **asked: Any) -> Season:
    """Return the season of a site file."""
    return season(load(text.encode(), "site.yaml").site, **asked)


def logged(text: str, *entries: dict[str, str]) -> str:
    """Return a site file with more in its history."""
    plain = yaml.safe_load(text)
    plain["history"] = [*plain.get("history", ()), *entries]
    return yaml.safe_dump(plain, sort_keys=False)


def done_of(found: Season) -> dict[str, date]:
    """Return the jobs that are done, by name, with the day."""
    return {job.name: job.done for job in found.jobs if job.done is not None}


MULCH = "mulch, beds, cover, yard, 1"
RAISED = {"organic_matter": "2.3 %", "depth": "15 cm", "by": "2027-04-20"}


@pytest.mark.parametrize(
    "entry",
    [
        {"job": MULCH, "place": "beds"},
        {"job": "mulch, beds, cover, yard"},
        {"place": "beds", "way": "yard", "amount": "1.2 m3"},
        {"place": "beds", "material": "arborist chip", "depth": "6 cm"},
    ],
)
def test_what_is_logged_is_done(entry: dict[str, str]) -> None:
    """By name, with or without number, or as what was put on: the job is done, and so is all it waited for."""
    text = site_text(**COVER)
    found = of(logged(text, {"date": "2027-04-20", **entry}))
    assert done_of(found) == dict.fromkeys(
        (MULCH, "ask, yard, 1", "order, yard, 1", "delivery, yard, 1"), date(2027, 4, 20)
    )
    assert [job.name for job in found.jobs] == [job.name for job in found.jobs]
    assert {job.name for job in of(text).jobs} == {job.name for job in found.jobs}


@pytest.mark.parametrize(
    ("told", "dug_in"),
    [
        ({"dug": "true"}, True),
        ({"job": "spread", "dug": "true"}, True),
        ({}, False),
        ({"dug": "false"}, False),
        ({"job": "spread, beds, dress, yard, 1", "dug": "true"}, False),
    ],
)
def test_what_was_dug_in_on_the_day_is_dug_in(told: dict[str, str], dug_in: bool) -> None:
    """Stuff that its entry has as dug in waits for no digging; by its name spreading alone was done."""
    text = site_text(places=[bed(dress={"depth": "1 cm", "dug": "true"})])
    entry = {"date": "2027-04-20", "place": "beds", "way": "yard", "amount": "0.2 m3", **told}
    done = done_of(of(logged(text, entry), today=date(2027, 5, 1)))
    assert done["spread, beds, dress, yard, 1"] == date(2027, 4, 20)
    dug = date(2027, 4, 20) if dug_in else None
    assert done.get("dig in, beds, dress, yard, 1") == dug


def test_what_was_dug_in_in_part_is_not() -> None:
    """Of two barrows one was left on top: digging in is still to do."""
    text = site_text(places=[bed(dress={"depth": "1 cm", "dug": "true"})])
    half = {"date": "2027-04-20", "place": "beds", "way": "yard", "amount": "0.1 m3"}
    done = done_of(of(logged(text, {**half, "dug": "true"}, half)))
    assert "spread, beds, dress, yard, 1" in done
    assert "dig in, beds, dress, yard, 1" not in done


def test_a_feed_under_a_mulch_may_still_be_to_do() -> None:
    """A mulch waits for the feed it is to lie on; laid all the same, it does not make that done."""
    meal = {"name": "meal", "buy": {"material": "feather meal", "price": "2 EUR/kg"}}
    fed = bed(kind="tree", cover={"depth": "5 cm"}, feed={"nitrogen": "3 g/m2"})
    text = site_text(places=[fed], ways=[bought("arborist chip"), meal])
    [mulch] = (job for job in of(text).jobs if job.job == "mulch")
    assert [before.job for before in mulch.after] == ["delivery", "feed"]
    entry = {"date": "2027-04-20", "place": "beds", "way": "yard", "amount": "1.2 m3"}
    done = done_of(of(logged(text, entry)))
    assert {name.split(",")[0] for name in done} == {"ask", "order", "delivery", "mulch"}
    assert not any("meal" in name for name in done)


def test_other_work_stands_beside() -> None:
    """What was done and is no job of the season is listed as done, under the grower's own name."""
    found = of(logged(site_text(**COVER), {"date": "2027-05-02", "job": "hoe the paths", "hours": "2 h"}))
    assert done_of(found) == {"hoe the paths": date(2027, 5, 2)}


def test_numbers_go_on_from_the_seasons_before() -> None:
    """A job done before the start keeps its number, so that no name is given twice."""
    before = {"date": "2026-04-20", "job": "mulch, beds, cover, yard, 3", "place": "beds"}
    names = {job.name for job in of(logged(site_text(**COVER), before)).jobs}
    assert "mulch, beds, cover, yard, 4" in names
    assert not names & {MULCH, "mulch, beds, cover, yard, 3"}


def test_what_is_not_done_is_late() -> None:
    """Asked on a later day, jobs that are not in the history are done from then on, and late for their day."""
    late = of(site_text(**COVER), today=date(2027, 6, 1)).late
    assert {job.job for job in late} == {"ask", "order", "delivery", "mulch"}
    assert all(job.on >= date(2027, 6, 1) for job in late)
    done = logged(site_text(**COVER), {"date": "2027-04-20", "job": MULCH})
    assert of(done, today=date(2027, 6, 1)).late == []


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"places": [bed("plot", **{"raise": RAISED})]}, ""),
        ({"limits": {"by": "2027-04-20"}}, " (limits.by)"),
    ],
)
def test_a_need_that_misses_its_own_day_is_told_first(words: dict[str, Any], told: str) -> None:
    """It is named with both days, ahead of jobs that are late; met in time, or done, nothing is said."""
    text = site_text(**words)
    late = of(text, today=date(2027, 4, 18))
    [spread] = (job for job in late.jobs if job.job == "spread" and job.serves)
    kind = spread.need
    assert spread.on > date(2027, 4, 20)
    lines = [line for line in sentences(late) if line.startswith(("Too late", "Late"))]
    assert lines[0] == (
        f"Too late: {kind} {spread.place} is to be met by 2027-04-20{told}; it is ready on {late.ready_on}."
    )
    assert not any("Too late" in line for line in sentences(of(text, today=date(2027, 3, 8))))
    entry = {"date": "2027-04-25", "place": spread.place, "way": "yard", "amount": f"{spread.loose:.9g} m3"}
    assert not any("Too late" in line for line in sentences(of(logged(text, {**entry, "dug": "true"}))))


def test_hours_of_what_is_done_are_not_planned_again() -> None:
    """Work that is done takes no hours of the weeks to come."""
    text = site_text(**COVER, labour={"hours_per_week": "3 h"})
    left = of(logged(text, {"date": "2027-04-20", "job": MULCH}))
    assert sum(week.hours for week in left.weeks) == pytest.approx(
        sum(job.likely for job in left.jobs if job.done is None)
    )


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("mulch, bedz, cover, yard, 1", f'did you mean "{MULCH}"'),
        ("nothing of the kind", 'there is no job "nothing of the kind" to do'),
    ],
)
def test_a_name_that_is_not_there(name: str, told: str) -> None:
    """A name that no job has is refused, with the nearest where one is near."""
    with pytest.raises(WrongUse, match="to do") as refusal:
        job_named(of(site_text(**COVER)).jobs, name)
    assert told in str(refusal.value)


def test_what_is_done_is_not_done_again() -> None:
    """A job that is done is refused with the day it was done on."""
    found = of(logged(site_text(**COVER), {"date": "2027-04-20", "job": MULCH}))
    with pytest.raises(
        WrongUse, match="is done already, on 2027-04-20; to log it otherwise, change its line under history"
    ):
        job_named(found.jobs, MULCH)


def log(file: Path, *words: str) -> int:
    """Log something to a file."""
    return exit_code(["log", str(file), *words])


def test_done_writes_what_was_planned(tmp_path: Path) -> None:
    """--done writes the place, way and amount of the job; what is said otherwise goes before it."""
    file = tmp_path / "site.yaml"
    file.write_text(site_text(**COVER))
    assert log(file, "--done", "order, yard", "--date", "2027-03-02") == 0
    assert log(file, "--done", MULCH, "--date", "2027-04-20", "--amount", "14 m3", "--hours", "2 h") == 0
    assert log(file, "--done", MULCH, "--date", "2027-04-21") == 2
    order, mulch = yaml.safe_load(file.read_text())["history"]
    assert order == {"job": "order, yard, 1", "date": date(2027, 3, 2)}
    assert (mulch["place"], mulch["way"], mulch["amount"]) == ("beds", "yard", "14 m3")
    assert (mulch["dug"], mulch["hours"]) == (False, "2 h")


@pytest.mark.parametrize("first", [(), ("--cash", "10 EUR")])
def test_money_of_an_order_is_written_once(
    first: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It goes with the delivery, where nothing was said of it with the order, and log tells what it wrote."""
    file = tmp_path / "site.yaml"
    file.write_text(site_text(**COVER))
    assert log(file, "--done", "order, yard", "--date", "2027-03-02", *first) == 0
    told = capsys.readouterr().err
    assert "Written as planned" not in told
    assert ("What it costs is written with what comes of it" in told) == (not first)
    assert log(file, "--done", "delivery, yard", "--date", "2027-03-09", "--amount", "0.3 m3") == 0
    told = capsys.readouterr().err
    assert ("cash 50.00 EUR." in told) == (not first)
    assert "4 of 16 barrows came; 12 to go." in told
    assert log(file, "--done", "delivery, yard", "--date", "2027-03-12") == 0
    paid = [entry.get("cash") for entry in yaml.safe_load(file.read_text())["history"]]
    assert [cash for cash in paid if cash] == (["10 EUR"] if first else ["50.00 EUR"])


@pytest.mark.parametrize("words", [["--place", "paths"], ["--way", "crew"], ["--material", "straw"]])
def test_done_takes_nothing_that_is_of_another_job(words: list[str], tmp_path: Path) -> None:
    """A place, way or material other than the job's is refused, and the file stays as it was."""
    file = tmp_path / "site.yaml"
    text = site_text(places=[*COVER["places"], bed("paths")], ways=[*COVER["ways"], bought("straw", "crew")])
    file.write_text(text)
    assert log(file, "--done", MULCH, "--date", "2027-04-20", *words) == 2
    assert file.read_text() == text


def test_what_a_job_waited_for_was_done_by_the_first_that_needed_it() -> None:
    """A delivery that two jobs wait for is taken as done with the first of them; one that is logged keeps its day."""
    places = [bed(kind="row", cover={"depth": "5 cm"}), bed("paths", kind="row", cover={"depth": "5 cm"})]
    text = site_text(places=places, ways=COVER["ways"])
    first, second = MULCH, MULCH.replace("beds", "paths")
    entries = [{"date": "2027-04-28", "job": first}, {"date": "2027-04-20", "job": second}]
    for listed in (entries, entries[::-1]):
        assert done_of(of(logged(text, *listed)))["delivery, yard, 1"] == date(2027, 4, 20)
    kept = logged(text, *entries, {"date": "2027-04-10", "job": "delivery, yard, 1"})
    assert done_of(of(kept))["delivery, yard, 1"] == date(2027, 4, 10)


@pytest.mark.parametrize("demo", sorted(path.stem for path in DEMO.glob("*.yaml")))
def test_a_season_followed_to_its_end_leaves_nothing(demo: str, tmp_path: Path) -> None:
    """With every job logged by its name all is done, nothing is late, and the next season's file wants nothing anew.

    What it wants is what keeps needs met: a feed for its own season, and what the plan had for later.
    """
    text = (DEMO / f"{demo}.yaml").read_text(encoding="utf-8")
    site = load(text.encode(), "site.yaml").site
    year = site.start + timedelta(days=330)
    planned = season(site).jobs
    jobs = [job for job in planned if job.until <= year]
    entries = [{"date": str(job.until), **entry_of(job, site.currency)} for job in jobs if job.job != "wait"]
    plain = yaml.safe_load(text)
    plain["history"] = [*plain.get("history", ()), *entries]
    file, after = tmp_path / "site.yaml", tmp_path / "next.yaml"
    file.write_text(yaml.safe_dump(plain, sort_keys=False, allow_unicode=True), encoding="utf-8")
    followed = season(load(file.read_bytes(), file.name).site, today=year)
    assert {job.name for job in jobs} <= {
        *done_of(followed),
        *(job.name for job in jobs if job.job == "wait"),
    }
    assert [job.name for job in followed.late if job.until <= year] == []
    assert exit_code(["begin", "--from", str(file), "--start", str(year), "-o", str(after)]) == 0
    soon = [job for job in season(load(after.read_bytes(), after.name).site).jobs if job.place and job.loose]
    first = {job.need for job in soon if job.day <= year + timedelta(days=30)}
    assert first <= {"feed", *(job.need for job in planned if job.until > year)}


@pytest.mark.parametrize(
    "entry",
    [
        {"job": "spread, beds, dress, yard", "place": "beds"},
        {"place": "beds", "way": "yard", "amount": "0.1 m3"},
        {"place": "beds", "material": "cattle manure", "amount": "0.1 m3"},  # of which no job is
    ],
)
def test_lime_waits_for_manure_that_was_logged(entry: dict[str, str]) -> None:
    """Whichever was to go on first: what is not done yet waits four weeks after the other."""
    text = site_text(
        places=[bed(lime={"ph": "6.5"}, dress={"dose": "1 kg/m2"})],
        soil={"ph": "5.8", "clay": "25 %"},
        ways=[bought("ground limestone", "quarry", price="0.5 EUR/kg"), bought("horse manure", "yard")],
    )
    [before] = [job for job in of(text).jobs if job.job == "lime"]
    on = before.first + timedelta(days=3)
    found = of(logged(text, {"date": on.isoformat(), **entry}))
    [lime] = [job for job in found.jobs if job.job == "lime"]
    assert lime.first == on + timedelta(days=28)
    assert lime.by == before.by
    assert any("keep 28 days between them" in told for told in lime.told)


@pytest.mark.parametrize("terms", [{}, {"trip": "1 h", "box": "9 m3"}])
def test_a_delivery_that_is_done_says_what_came(terms: dict[str, str]) -> None:
    """The entry of a delivery, or of what is collected, has the way and how much, so that what is left is known."""
    text = site_text(**{**COVER, "ways": [bought("arborist chip", step="1 m3", **terms)]})
    word = "collect" if terms else "delivery"
    job = job_named(of(text).jobs, f"{word}, yard")
    assert job.loose is not None
    assert job.loose % 1 == 0
    entry = entry_of(job, "EUR")
    assert (entry["way"], entry["amount"]) == ("yard", f"{job.loose:g} m3")
    [came] = load(logged(text, {"date": "2027-04-20", **entry}).encode(), "x").site.history
    assert came.brought
    assert came.loose == job.loose
