"""Jobs of which the history tells a part: begun, with what is left; and which job a part is of."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
import yaml
from season_sites import bed, bought, site_text

from barrowful.cli.begin import begun
from barrowful.cli.main import exit_code
from barrowful.jobs.entry import entry_of, job_named
from barrowful.jobs.job import Job, steps_of
from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.measures.problems import SiteProblems
from barrowful.site.load import load

CHIP = "mulch, beds, cover, yard, 1"
#: Chip enough for a layer of 5 cm on 20 m2, at 80 L a barrow.
COVER = {
    "measures": {"barrow": "80 L"},
    "horizon": "4 years",
    "places": [bed(kind="row", cover={"depth": "5 cm"})],
    "ways": [bought("arborist chip")],
}
HEAP = {
    "places": [bed(dress={"depth": "1 cm"})],
    "ways": [
        {
            "name": "heap",
            "make": {
                "bays": 2,
                "bay": "1 m3",
                "turn_every": "3 weeks",
                "from": [
                    {"material": "straw", "weekly": "60 L"},
                    {"material": "grass clippings", "weekly": "80 L"},
                ],
            },
        }
    ],
}


def of(text: str, *entries: dict[str, str], today: date | None = None) -> Season:
    """Return the season of a site file with a history."""
    plain = yaml.safe_load(text)
    plain["history"] = [*plain.get("history", ()), *entries]
    return season(load(yaml.safe_dump(plain, sort_keys=False).encode(), "site.yaml").site, today=today)


def chip(day: str, amount: str, **more: str) -> dict[str, str]:
    """Return an entry of chip put on the beds."""
    return {"date": day, "place": "beds", "way": "yard", "amount": amount, **more}


def the(found: Season, name: str) -> Job:
    """Return the job of a name."""
    [job] = (job for job in found.jobs if job.name == name)
    return job


def done_of(found: Season) -> set[str]:
    """Return the names of the jobs that are done."""
    return {job.name for job in found.jobs if job.done is not None}


BOUGHT = {"ask, yard, 1", "order, yard, 1", "delivery, yard, 1"}


@pytest.mark.parametrize("said", [{}, {"job": CHIP}, {"job": "mulched as far as the hedge"}])
def test_a_part_is_begun_and_the_rest_is_to_do(said: dict[str, str]) -> None:
    """What was bought came; of the job itself what is left is to do, in the hours that takes."""
    whole = the(of(site_text(**COVER)), CHIP)
    assert whole.loose is not None
    found = of(site_text(**COVER), chip("2027-04-20", "8 barrow", **said), today=date(2027, 4, 22))
    begun = the(found, CHIP)
    assert done_of(found) == BOUGHT
    assert begun.left == pytest.approx(whole.loose - 8 * 0.08)
    assert begun.likely == pytest.approx(whole.likely * begun.left / whole.loose)
    assert (begun.on, begun.after) == (date(2027, 4, 22), [])
    assert begun.told[0] == "8 of 16 barrows put on; 8 to go."


@pytest.mark.parametrize("said", [{}, {"job": CHIP}])
def test_parts_come_to_the_whole(said: dict[str, str]) -> None:
    """A later part is of the same job, which is done with it; nothing of a later year is."""
    found = of(site_text(**COVER), chip("2027-04-20", "8 barrow"), chip("2027-04-27", "8 barrow", **said))
    assert done_of(found) == {CHIP, *BOUGHT}
    assert (the(found, CHIP).done, the(found, "delivery, yard, 1").done) == (
        date(2027, 4, 27),
        date(2027, 4, 20),
    )
    assert any(job.job == "top up" for job in found.jobs)


def test_more_than_the_whole_is_of_no_later_year() -> None:
    """What goes on a week after all of it was on is no top-up of years on."""
    found = of(site_text(**COVER), chip("2027-04-20", "16 barrow"), chip("2027-04-27", "8 barrow"))
    assert done_of(found) == {CHIP, *BOUGHT}


def test_nine_tenths_are_all_of_it_and_told() -> None:
    """As good as all is all, but not without a word; of several places with for how many it is."""
    places = [bed(kind="row", count=6, cover={"depth": "5 cm"})]
    found = of(site_text(**{**COVER, "places": places}), chip("2027-04-20", "86 barrow"))
    job = the(found, CHIP)
    assert job.done == date(2027, 4, 20)
    assert job.told[0] == "86 of 94 barrows put on, as much as for 5.5 of 6; that is taken as all of it."


def test_more_than_all_of_it_is_told() -> None:
    """30 barrows of 16 are 14 too many: that is asked about; 17 are the 16, counted by eye."""
    found = of(site_text(**COVER), chip("2027-04-20", "30 barrow"))
    told = "30 barrows put on, 14 more than the 16 of this job: look whether that is right."
    assert the(found, CHIP).told[0] == told
    assert the(of(site_text(**COVER), chip("2027-04-20", "17 barrow")), CHIP).told == ()


def test_a_meal_is_told_by_weight() -> None:
    """What is weighed is no count of barrows."""
    meal = {"name": "meal", "buy": {"material": "feather meal", "price": "2 EUR/kg"}}
    text = site_text(places=[bed(feed={"nitrogen": "3 g/m2"})], ways=[meal])
    found = of(text, {"date": "2027-04-20", "place": "beds", "way": "meal", "amount": "200 g"})
    [fed] = (job for job in found.jobs if job.begun)
    assert fed.told[0].startswith("0.2 kg of ")
    assert fed.told[0].endswith(" kg to go.")


def test_a_feed_of_the_next_season_is_not_the_rest_of_the_last() -> None:
    """A feed that was given in part is not made whole by that of the season after."""
    meal = {"name": "meal", "buy": {"material": "feather meal", "price": "2 EUR/kg"}}
    text = site_text(places=[bed(feed={"nitrogen": "3 g/m2"})], ways=[meal])
    first, second = sorted((job for job in of(text).jobs if job.job == "feed"), key=lambda job: job.day)
    entries = (
        {"date": str(first.day), "place": "beds", "way": "meal", "amount": "200 g"},
        {"date": str(second.day), "place": "beds", "way": "meal", "amount": f"{second.loose:.9g} m3"},
    )
    found = of(text, *entries)
    assert the(found, first.name).begun
    assert the(found, second.name).done == second.day


def test_a_part_of_a_spreading_builds_and_turns_no_heap() -> None:
    """Of a heap's compost a part may be of another heap: what is not logged of this one is to do."""
    [spread] = [job for job in of(site_text(**HEAP)).jobs if job.job == "spread"][:1]
    entry = {"date": str(spread.day), "place": "beds", "way": "heap", "amount": "1 L"}
    found = of(site_text(**HEAP), entry)
    assert done_of(found) == set()
    assert the(found, spread.name).begun


def test_a_delivery_that_is_short_stays_to_come() -> None:
    """The rest is to come, and what came may go on; that there is more to put on than came is told."""
    come = {"date": "2027-04-10", "job": "delivery, yard, 1", "amount": "8 barrow"}
    found = of(site_text(**COVER), come)
    assert done_of(found) == BOUGHT - {"delivery, yard, 1"}
    assert the(found, "delivery, yard, 1").told[0] == "8 of 16 barrows came; 8 to go."
    assert the(found, CHIP).on >= the(found, "delivery, yard, 1").on
    told = "8 of 16 barrows came and may go on; 8 wait for the rest of the delivery."
    assert the(found, CHIP).told[0] == told
    some = of(site_text(**COVER), come, chip("2027-04-12", "6 barrow"))
    told = "2 of 10 barrows came and may go on; 8 wait for the rest of the delivery."
    assert the(some, CHIP).told[1] == told
    assert the(some, CHIP).on >= the(some, "delivery, yard, 1").on
    served = of(site_text(**COVER), come, chip("2027-04-20", "16 barrow"))
    assert done_of(served) == {CHIP, *BOUGHT}
    assert the(served, "delivery, yard, 1").told[0] == "8 of 16 barrows came; that is taken as all of it."


def test_what_came_short_goes_to_the_first_that_it_does_for() -> None:
    """Of three places the one that what came does for is done in its days; the others wait for the rest."""
    places = [{**bed(kind="row", cover={"depth": "5 cm"}), "name": f"row {number}"} for number in (1, 2, 3)]
    come = {"date": "2027-04-10", "job": "delivery", "way": "yard", "amount": "17 barrow"}
    found = of(site_text(**{**COVER, "places": places}), come, today=date(2027, 4, 11))
    first, *others = (the(found, f"mulch, row {number}, cover, yard, 1") for number in (1, 2, 3))
    rest = the(found, "delivery, yard, 1")
    assert first.on < rest.on
    assert first.after == []
    assert all(job.on >= rest.on for job in others)
    assert others[1].told == ("It waits for the rest of the delivery.", *others[1].told[1:])
    put = {"date": "2027-04-12", "place": "row 2", "way": "yard", "amount": "16 barrow"}
    found = of(site_text(**{**COVER, "places": places}), come, put, today=date(2027, 4, 13))
    rest = the(found, "delivery, yard, 1")
    assert the(found, "mulch, row 2, cover, yard, 1").done is not None
    assert all(the(found, f"mulch, row {number}, cover, yard, 1").on >= rest.on for number in (1, 3))


@pytest.mark.parametrize("nothing", ["0 m3", "0 barrow", "0 kg"])
def test_a_delivery_of_which_no_more_comes(nothing: str) -> None:
    """It is done; what came of it goes on, and what nothing is left for is not done, as is said."""
    places = [{**bed(kind="row", cover={"depth": "5 cm"}), "name": f"row {number}"} for number in (1, 2, 3)]
    text = site_text(**{**COVER, "places": places})
    come = {"date": "2027-04-10", "job": "delivery", "way": "yard", "amount": "24 barrow"}
    ends = {"date": "2027-04-16", "job": "delivery", "way": "yard", "amount": nothing}
    found = of(text, come, ends, today=date(2027, 4, 17))
    came = the(found, "delivery, yard, 1")
    assert came.done == date(2027, 4, 16)
    assert came.told[0] == "24 of 47 barrows came; no more comes."
    assert came.left == pytest.approx(24 * 0.08)
    first, second = (the(found, f"mulch, row {number}, cover, yard, 1") for number in (1, 2))
    assert max(first.on, second.on) < date(2027, 5, 10)
    assert second.told[0] == "8 of 16 barrows came, and no more comes: put on what there is."
    assert "mulch, row 3, cover, yard, 1" in {job.name for job in found.dropped}
    assert "no more of yard comes" in " ".join(sentences(found))
    put = {"date": "2027-04-18", "place": "row 2", "way": "yard", "amount": "8 barrow"}
    found = of(text, come, ends, {**put, "place": "row 1", "amount": "16 barrow"}, put)
    assert the(found, "mulch, row 2, cover, yard, 1").done == date(2027, 4, 18)


def test_an_order_of_which_nothing_came() -> None:
    """What waits for it is not done; a stock or a place is not told to have got nothing."""
    none = {"date": "2027-04-16", "job": "delivery, yard, 1", "way": "yard", "amount": "0 m3"}
    found = of(site_text(**COVER), none)
    came = the(found, "delivery, yard, 1")
    assert (came.done, came.left) == (date(2027, 4, 16), 0.0)
    assert came.told[0] == "0 of 16 barrows came; no more comes."
    assert CHIP in {job.name for job in found.dropped}
    for wrong in ({"place": "beds"}, {"job": "spoilt"}):
        with pytest.raises(SiteProblems, match="0 is of a delivery of which no more comes"):
            of(site_text(**COVER), {**none, **wrong})


def test_that_no_more_comes_is_logged(tmp_path: Any) -> None:
    """Log writes it without what the order costs, and the next season does not ask how much came."""
    file = tmp_path / "site.yaml"
    file.write_text(site_text(**COVER))
    named = ["log", str(file), "--done", "delivery, yard, 1", "--date"]
    assert exit_code([*named, "2027-04-10", "--amount", "8 barrow", "--cash", "5 EUR"]) == 0
    assert exit_code([*named, "2027-04-12", "--amount", "0 m3"]) == 0
    site = load(file.read_bytes(), "site.yaml").site
    assert [(entry.ends, entry.cash is None) for entry in site.history] == [(False, False), (True, True)]
    assert "left: " in begun(file.read_bytes(), "x", "2028-03-01")[0].decode()


def test_a_test_is_not_done_by_using_the_stuff() -> None:
    """What was put on untested has no test any more; one that is logged is done, and none is ticked of itself."""
    text = site_text(places=[bed(dress={"depth": "1 cm"})], ways=[bought("manure compost")])
    [spread] = (job for job in of(text).jobs if job.job == "spread")
    assert "test, yard, 1" in {job.name for job in of(text).jobs}
    used = {"date": str(spread.day), "place": "beds", "way": "yard", "amount": f"{spread.loose} m3"}
    assert "test, yard, 1" not in {job.name for job in of(text, used).jobs}
    tested = {"date": "2027-03-02", "job": "test, yard, 1"}
    assert the(of(text, tested, used), "test, yard, 1").done == date(2027, 3, 2)


def test_the_watch_of_a_heap_ends_with_it() -> None:
    """Once a heap is emptied nobody takes its temperature; readings that were taken stand as done."""
    text = site_text(**HEAP)
    built = {"date": "2027-05-10", "job": "build, heap, 1", "way": "heap"}
    emptied = {"date": "2027-09-12", "job": "empty, heap, 1"}
    today = date(2027, 9, 20)
    assert the(of(text, built, today=date(2027, 6, 1)), "temperature, heap, 1").done is None
    watched = {job.name for job in of(text, built, emptied, today=today).jobs}
    assert "temperature, heap, 1" not in watched
    read = {"date": "2027-05-20", "job": "temperature, heap, 1", "way": "heap", "temperature": "58 degC"}
    found = of(text, built, read, emptied, today=today)
    assert the(found, "temperature, heap, 1").done == date(2027, 5, 20)


def test_a_feed_lapses_with_its_season() -> None:
    """A feed of a season that is over is not late for ever: it is not done, nor the rest of one that was begun."""
    meal = {"name": "meal", "buy": {"material": "feather meal", "price": "2 EUR/kg"}}
    text = site_text(places=[bed(feed={"nitrogen": "3 g/m2"})], ways=[meal])
    first = min((job for job in of(text).jobs if job.job == "feed"), key=lambda job: job.day)
    over = first.day + timedelta(days=400)
    assert not of(text, today=first.day + timedelta(days=20)).dropped
    found = of(text, today=over)
    assert first.name in {job.name for job in found.dropped}
    assert "the season that it was for is over" in " ".join(sentences(found))
    part = {"date": str(first.day), "place": "beds", "way": "meal", "amount": "200 g"}
    assert the(of(text, part, today=over), first.name).done == first.day


def test_bags_that_came_are_written_as_bags(tmp_path: Any) -> None:
    """A delivery of bags is logged by the bag, which is just as much; what is not of whole ones by its volume."""
    bags = {"name": "yard", "buy": {"material": "arborist chip", "price": "4 EUR/bag", "bag": "70 L"}}
    text = site_text(**{**COVER, "ways": [bags]})
    job = job_named(of(text).jobs, "delivery, yard, 1")
    amount = entry_of(job, "EUR")["amount"]
    assert amount == "18 bag"
    came = {"date": "2027-04-10", "job": job.name, "way": "yard", "amount": amount}
    found = the(of(text, came), job.name)
    assert found.share_done == pytest.approx(1)
    assert entry_of(job_named(of(site_text(**COVER)).jobs, "delivery, yard, 1"), "EUR")["amount"].endswith(
        " m3"
    )


def test_the_rest_is_what_done_writes(tmp_path: Any) -> None:
    """--done of a job that is begun writes what was left of it."""
    found = of(site_text(**COVER), chip("2027-04-20", "8 barrow"))
    left = the(found, CHIP).left
    assert entry_of(job_named(found.jobs, CHIP), "EUR")["amount"] == f"{left:.9g} m3"
    file = tmp_path / "site.yaml"
    file.write_text(site_text(**COVER))
    for words in (["--amount", "8 barrow"], []):
        assert exit_code(["log", str(file), "--done", CHIP, "--date", "2027-04-20", *words]) == 0
    assert exit_code(["log", str(file), "--done", CHIP, "--date", "2027-04-20"]) == 2


def test_what_was_taken_as_done_may_be_told_of() -> None:
    """A delivery that nothing tells of is logged late, with what it cost, and keeps its own day."""
    whole = chip("2027-04-20", "16 barrow")
    job = job_named(of(site_text(**COVER), whole).jobs, "delivery, yard")
    entry = {"date": "2027-04-10", **entry_of(job, "EUR")}
    assert the(of(site_text(**COVER), whole, entry), job.name).done == date(2027, 4, 10)


def test_hours_on_a_place_put_nothing_on_it() -> None:
    """Work that tells of a way and a place and no amount is beside the jobs that put it on."""
    entry = {
        "date": "2027-04-20",
        "job": "weed ahead of the chip",
        "place": "beds",
        "way": "yard",
        "hours": "2 h",
    }
    assert done_of(of(site_text(**COVER), entry)) == {"weed ahead of the chip"}


def test_work_long_before_is_of_no_job() -> None:
    """A name without a number is of no job whose days are a year on."""
    found = of(site_text(**COVER))
    top = next(job for job in found.jobs if job.job == "top up")
    early = {"date": "2027-05-01", "job": top.base, "place": "beds"}
    assert the(of(site_text(**COVER), early), top.name).done is None
    near = {**early, "date": str(top.first - timedelta(days=20))}
    assert the(of(site_text(**COVER), near), top.name).done is not None


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("build, heap, 1", {"job": "built", "way": "heap"}),
        ("build, heap, 1", {"job": "Build: a full bay", "way": "heap"}),
        ("turn, heap, 1", {"job": "turned", "way": "heap", "temperature": "58 degC"}),
    ],
)
def test_a_heap_is_one_heap_by_its_own_words(name: str, said: dict[str, str]) -> None:
    """What the log says of a heap is the season's job, and no row beside it; its turns count from there."""
    text = site_text(**HEAP)
    planned = the(of(text), name)
    day = planned.day + timedelta(days=3)
    found = of(text, {"date": str(day), **said})
    assert the(found, name).done == day
    assert {job.name for job in found.jobs} == {job.name for job in of(text).jobs}
    assert the(found, "turn, heap, 2").on >= day + timedelta(days=21)


@pytest.mark.parametrize("word", ["delivery", "Delivery: came at noon", "collect", "order", "ask"])
def test_a_word_and_a_way_are_the_seasons_job(word: str) -> None:
    """What is logged by hand of a delivery or an order is that of the way, and no second row."""
    entry = {"date": "2027-04-01", "job": word, "way": "yard", "note": "three weeks late"}
    name = f"{word if word in {'order', 'ask'} else 'delivery'}, yard, 1"
    found = of(site_text(**COVER), entry)
    assert the(found, name).done == date(2027, 4, 1)
    assert len(found.jobs) == len(of(site_text(**COVER)).jobs)


def test_a_reading_does_not_end_the_watch_of_a_heap() -> None:
    """What goes on for weeks is not done with one reading."""
    watch = next(job for job in of(site_text(**HEAP)).jobs if job.goes_on)
    entry = {"date": str(watch.day), "job": "temperature", "way": "heap", "temperature": "60 degC"}
    assert the(of(site_text(**HEAP), entry), watch.name).done is None


@pytest.mark.parametrize("job", ["mulch", CHIP])
def test_hours_beside_a_part_are_of_that(job: str) -> None:
    """An entry without an amount does not make a job whole of which a part is told."""
    found = of(
        site_text(**COVER),
        chip("2027-04-20", "0.4 m3"),
        {"date": "2027-04-21", "place": "beds", "way": "yard", "job": job, "hours": "2 h"},
    )
    assert the(found, CHIP).begun
    assert the(of(site_text(**COVER), {"date": "2027-04-21", "job": CHIP}), CHIP).done == date(2027, 4, 21)


@pytest.mark.parametrize(("left", "amount", "came"), [("1 m3", "0.9 m3", False), ("0.5 m3", "0.9 m3", True)])
def test_what_was_left_before_was_not_ordered(left: str, amount: str, came: bool) -> None:
    """Of 1 m3 that lay there 0.9 are put on: the order is still to be placed; of half as much it has come."""
    [way] = COVER["ways"]
    site = {**COVER, "ways": [{**way, "buy": {**way["buy"], "left": left}}]}
    found = of(site_text(**site), chip("2027-04-20", amount))
    assert (the(found, "order, yard, 1").done is not None) == came


def test_a_heap_told_by_its_name_alone_is_a_heap() -> None:
    """The name of the season's job says which heap was built, as that of a delivery says what came."""
    plain = {
        **yaml.safe_load(site_text(**HEAP)),
        "history": [{"date": "2027-04-20", "job": "build, heap, 1"}],
    }
    [entry] = load(yaml.safe_dump(plain, sort_keys=False).encode(), "site.yaml").site.history
    assert (entry.way, entry.built) == ("heap", True)


@pytest.mark.parametrize(("share", "short"), [(0.3, True), (None, False), (0.95, False)])
def test_a_heap_that_is_half_built_is_told(share: float | None, *, short: bool) -> None:
    """Where much of it is lacking that is said, with both amounts, and that its later steps are of that much."""
    text = site_text(**HEAP)
    build = the(of(text), "build, heap, 1")
    assert build.loose is not None
    amount = {} if share is None else {"amount": f"{share * build.loose:.3f} m3"}
    found = of(text, {"date": str(build.day), "way": "heap", "job": "built", **amount})
    told = [line for line in sentences(found) if "of that much" in line]
    assert bool(told) == short
    if short:
        both = f"{0.3 * build.loose:.2g} m3 was built on {build.day}, not {build.loose:.2g} m3"
        assert told[0].startswith(f"heap: {both}")


def test_a_heap_that_was_built_has_its_jobs_though_no_need_follows_it() -> None:
    """It is read, turned and emptied as one that is followed; a log of its turns ticks them."""
    row = {**bed(kind="row", cover={"depth": "5 cm"}), "ways": ["yard"]}
    text = site_text(places=[row], ways=[bought("arborist chip"), *HEAP["ways"]])
    assert "heap" not in {job.way for job in of(text).jobs}
    built = {"date": "2027-06-06", "way": "heap", "job": "built"}
    turned = {"date": "2027-06-28", "way": "heap", "job": "turned"}
    found = of(text, built, turned, today=date(2027, 7, 1))
    of_heap = [job for job in found.jobs if job.way == "heap"]
    assert {"build", "temperature", "turn"} <= {job.job for job in of_heap}
    turns = [job for job in of_heap if job.job == "turn"]
    assert [turns[0].done, turns[1].done] == [date(2027, 6, 28), None]
    assert turns[1].on >= date(2027, 7, 18)
    assert of_heap[-1].job in {"screen", "empty"}
    assert the(found, "delivery, yard, 1").done is None


def test_later_steps_of_a_heap_that_is_built_smaller_are_of_that_much() -> None:
    """What is turned, emptied and told of a heap goes by the share of it that was built, and so do the hours.

    Four fifths of a cubic metre are large enough to be turned as the whole is.
    """
    text = site_text(**HEAP)
    whole = of(text)
    build = the(whole, "build, heap, 1")
    assert build.loose is not None
    amount = f"{0.8 * build.loose:.6f} m3"
    smaller = of(text, {"date": str(build.day), "way": "heap", "job": "built", "amount": amount})
    steps = steps_of(build, whole.jobs)
    assert {"turn"} < {step.job for step in steps}
    for before in steps:
        after = the(smaller, before.name)
        assert (after.loose or 0.0) == pytest.approx(0.8 * (before.loose or 0.0), rel=1e-4)
        likely = [job.hours.likely if job.hours else 0.0 for job in (before, after)]
        assert likely[1] == pytest.approx(0.8 * likely[0], rel=1e-4)
    [put] = [job for job in smaller.jobs if job.way == "heap" and job.stuff is not None][:1]
    assert put.loose == pytest.approx(0.2)  # a centimetre on 20 m2, and the heap brings enough of it


DUG = {"places": [bed(dress={"depth": "1 cm", "dug": True})], "measures": {"barrow": "80 L"}}
SPREAD, DIG = "spread, beds, dress, yard, 1", "dig in, beds, dress, yard, 1"


def test_what_is_spread_after_the_digging_is_dug_in_too() -> None:
    """Of 200 L half are spread and dug in: the other half is to be spread, and dug in in half the hours."""
    half = {"date": "2027-04-14", "job": SPREAD, "place": "beds", "way": "yard", "amount": "100 L"}
    dug = {"date": "2027-04-14", "job": DIG, "place": "beds"}
    whole = the(of(site_text(**DUG)), DIG)
    found = of(site_text(**DUG), half, dug, today=date(2027, 4, 16))
    spread, dig = the(found, SPREAD), the(found, DIG)
    assert (spread.begun, dig.begun, dig.after) == (True, True, [spread])
    assert dig.likely == pytest.approx(whole.likely / 2, rel=0.06)  # the allowance is spread beside
    assert dig.on >= spread.until
    assert "What was spread by 2027-04-14 is dug in" in dig.told[-1]
    rest = {**half, "date": "2027-04-20"}
    assert the(of(site_text(**DUG), half, dug, rest), DIG).done is None
    assert the(of(site_text(**DUG), half, dug, rest, {**dug, "date": "2027-04-21"}), DIG).done == date(
        2027, 4, 21
    )
    assert the(of(site_text(**DUG), half, rest, {**dug, "date": "2027-04-21"}), DIG).done == date(2027, 4, 21)
