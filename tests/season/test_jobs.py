"""The jobs of a season: what they are of, what they wait for, and that nothing is left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from season_sites import NORTH, Plain, bed, bought, site_text

from barrowful.answers.cautions import cautions_for
from barrowful.catalogue.cautions import cautions
from barrowful.catalogue.plants import plant_names
from barrowful.jobs.job import Job
from barrowful.jobs.season import Season
from barrowful.jobs.season import season as reckon
from barrowful.jobs.season_told import headline, sentences
from barrowful.needs.registry import NEEDS
from barrowful.site.load import load

Make = Callable[..., Season]
WORDS = {
    *(
        "ask",
        "order",
        "delivery",
        "collect",
        "test",
        "build",
        "temperature",
        "turn",
        "screen",
        "empty",
        "soil test",
    ),
    *("sow", "end", "wait", "plant", "strike", "cut", "dig in"),
    *(word for need in NEEDS.values() for word in need.jobs),
}


def named(season: Season, word: str) -> list[Job]:
    """Return the jobs of a word."""
    return [job for job in season.jobs if job.job == word]


def test_a_season_takes_the_hours_of_what_it_follows(demo: Season) -> None:
    """The hours of all jobs are those of the bill, low, likely and high: none is lost or counted twice."""
    bill = demo.selection.whole.bill.hours
    for end in ("low", "likely", "high"):
        hours = sum(getattr(job.hours, end) for job in demo.jobs if job.hours)
        assert hours == pytest.approx(getattr(bill, end), rel=1e-9)
    assert sum(week.hours for week in demo.weeks) == pytest.approx(bill.likely, rel=1e-9)


def test_what_is_put_on_is_what_is_followed(demo: Season) -> None:
    """Each dose of what is followed is put on by one job, on its place, for its need, of its way."""
    wanted: Counter[tuple[str, str, str, date]] = Counter()
    for dose in demo.selection.whole.together.all_doses:
        wanted[dose.place.name, dose.kind, dose.way, dose.day] += round(dose.loose, 9)
    put_on = {
        (job.place, job.need, job.way, job.day): job.loose
        for job in demo.jobs
        if job.place and job.loose is not None
    }
    assert put_on == pytest.approx(dict(wanted))


def test_what_is_ordered_is_ordered_and_comes(demo: Season) -> None:
    """Each order of the bill is asked about, placed by its last day, and comes; the money is that of the bill."""
    orders = demo.selection.whole.bill.orders
    for word in ("ask", "order"):
        assert Counter(job.way for job in named(demo, word)) == Counter(placed.way.name for placed in orders)
    assert sum(job.cash for job in named(demo, "order") if job.cash is not None) == sum(
        placed.order.cash for placed in orders
    )
    came = [*named(demo, "delivery"), *named(demo, "collect")]
    assert sorted(job.loose for job in came) == pytest.approx(
        sorted(placed.order.volume for placed in orders)
    )


def test_names_are_of_their_own_and_words_are_known(demo: Season) -> None:
    """No two jobs share a name, and every word of a job is one of the list."""
    assert max(Counter(job.name for job in demo.jobs).values()) == 1
    assert {job.job for job in demo.jobs} <= WORDS
    assert {job for caution in cautions() for job in caution.jobs} <= WORDS


def test_nothing_is_done_outside_its_window_or_before_what_it_waits_for(demo: Season) -> None:
    """Jobs lie in their windows and after what they wait for; on the demos all can be done in time."""
    for job in demo.jobs:
        assert job.first <= job.on <= job.until <= job.last, job.name
        assert job.by <= job.last
        for before in job.after:
            begun = before.on if job.paced else before.until
            assert job.on >= begun + timedelta(days=before.lag + job.gap) or before.goes_on, job.name
    assert not demo.late


def test_every_caution_of_what_is_followed_belongs_to_a_job(demo: Season) -> None:
    """What calls for a caution has a job that bears it, and a job bears only cautions that are called for."""
    called = {each.caution.key for each in cautions_for(demo.selection.answer, demo.selection.chosen)}
    borne = {key for job in demo.jobs for key in job.cautions}
    assert called <= borne
    gravity = {caution.key: number for number, caution in enumerate(cautions())}
    for job in demo.jobs:
        assert list(job.cautions) == sorted(job.cautions, key=gravity.__getitem__)


def test_compost_is_ordered_once_a_sample_is_tested(made: Make) -> None:
    """A sample of bought compost is asked for and tested for weedkiller for four weeks; then it is ordered."""
    season = made()
    [asked], [test], [spread] = named(season, "ask"), named(season, "test"), named(season, "spread")
    [order], [delivery] = named(season, "order"), named(season, "delivery")
    assert asked in test.after
    assert test in order.after
    assert test in spread.after
    assert (asked.on, test.on) == (date(2027, 3, 1), date(2027, 3, 1))
    assert order.on - test.on == timedelta(days=28)
    assert spread.on == delivery.on == order.on + timedelta(weeks=1)
    assert "weedkiller-compost" in test.cautions
    assert test.what == "of a sample from the seller"
    assert not season.late


def test_a_pile_that_lies_there_is_tested_once(made: Make) -> None:
    """What is left of compost is one pile, whatever days it goes on."""
    days = {"early": "2027-03-10", "late": "2027-04-20"}
    left = made(
        places=[bed(name, dress={"depth": "1 cm"}) for name in days],
        ways=[bought(left="2 m3")],
        plan=[{"place": name, "need": "dress", "way": "yard", "date": day} for name, day in days.items()],
    )
    puts = [job for job in left.jobs if job.place and job.loose]
    assert len({job.day for job in puts}) > 1
    assert not named(left, "order")
    [test] = named(left, "test")
    assert all(test in job.after for job in puts)


def test_what_cannot_wait_for_a_sample_comes_untested(made: Make) -> None:
    """With two days for the delivery after the result it is ordered at once, and told to lie until then."""
    season = made(limits={"by": "2027-03-31"})
    [order], [test], [spread] = named(season, "order"), named(season, "test"), named(season, "spread")
    assert order.on == test.on == date(2027, 3, 1)
    assert any("no time to test a sample first" in told for told in order.told)
    assert spread.on == date(2027, 3, 29)
    site = load(site_text().encode(), "x").site
    for today, waits in ((date(2027, 3, 8), True), (date(2027, 3, 20), False)):
        [order] = (job for job in reckon(site, today=today).jobs if job.job == "order")
        assert (order.on > today) == waits


def test_what_one_seller_brings_together_waits_together(made: Make) -> None:
    """Topsoil that comes with the compost is ordered with it, and the sand of another seller when it may be."""
    of_one = {"delivery": "40 EUR", "truck": "8 m3", "seller": "the depot"}
    season = made(
        places=[bed("frames", fill={"depth": "20 cm"}), bed("plot", dress={"depth": "1 cm"})],
        ways=[bought("topsoil", "soil", **of_one), bought("green compost", **of_one), bought("sand", "pit")],
    )
    orders = {job.way: job.on for job in named(season, "order")}
    brought = {job.way: job.on for job in named(season, "delivery")}
    assert orders["soil"] == orders["yard"] == date(2027, 3, 29)
    assert brought["soil"] == brought["yard"]
    assert orders.get("pit", season.selection.answer.site.start) == date(2027, 3, 1)


def test_chip_is_not_tested(made: Make) -> None:
    """Stuff without a caution that asks for a test is put on as it comes."""
    season = made(places=[bed(kind="row", cover={"depth": "5 cm"})], ways=[bought("arborist chip")])
    assert not named(season, "test")
    assert named(season, "mulch")[0].on == date(2027, 4, 6)  # two weeks before the last frost


def test_no_time_for_a_test_is_said(made: Make) -> None:
    """Where the last day comes before the test is done, there is none, and the grower is told."""
    season = made(limits={"by": "2027-03-20"})
    [spread] = named(season, "spread")
    assert not named(season, "test")
    assert spread.on <= date(2027, 3, 20)
    assert any("no time for a test" in told for told in spread.told)


def test_two_ways_that_feed_a_place_do_not_wait_for_each_other(made: Make) -> None:
    """Compost is fed once its test is done; hoof is rich in nitrogen, waits for spring, and comes then."""
    season = made(
        start="2026-12-20",
        places=[bed(feed={"for": "cabbage", "potassium": "2 g/m2"})],
        ways=[
            bought(name="compost"),
            {
                "name": "hoof",
                "buy": {"material": "hoof and horn", "price": "28 EUR/bag", "bag": "20 kg", "lead": "3 days"},
            },
        ],
    )
    compost, hoof = named(season, "feed")[:2]
    assert (compost.way, hoof.way) == ("compost", "hoof")
    assert {before.way for before in compost.after} == {"compost"}
    assert {before.way for before in hoof.after} == {"hoof"}
    assert compost.first < hoof.first
    [came] = (before for before in hoof.after if before.job == "delivery")
    assert came.first == hoof.first


@pytest.mark.parametrize(
    ("words", "history", "tested"),
    [
        ({"made_ground": True}, [], True),
        ({}, [], False),
        (
            {"made_ground": True},
            [{"date": "2026-10-01", "job": "soil test, 1", "note": "lead 40 ppm"}],
            False,
        ),
    ],
)
def test_made_ground_is_tested_for_lead_first(
    made: Make, words: dict[str, Any], history: list[dict[str, Any]], tested: bool
) -> None:
    """It is the first job of all, before anything goes on, once: not where the history has such a test."""
    found = made(history=history, **words)
    tests = [job for job in named(found, "soil test") if job.amount == "lead"]
    assert len(tests) == tested
    if tested:
        [test] = tests
        assert found.jobs[0] is test
        assert test.last <= min(job.first for job in named(found, "spread"))
        assert test.cautions[0] == "lead-test"
        assert headline(found.jobs).startswith("First, on 2027-03-01: soil test for lead")
        keys = [one.caution.key for one in cautions_for(found.selection.answer)]
        assert keys.index("lead-test") < min(keys.index("lead-habits"), keys.index("lead-figure"))


def test_what_is_dug_in_is_spread_first(made: Make) -> None:
    """Digging in is a job of its own after spreading; what lies on top has none."""
    dug = made(places=[bed(dress={"depth": "1 cm", "dug": True})])
    [spread], [dig] = named(dug, "spread"), named(dug, "dig in")
    assert spread in dig.after
    assert not named(made(), "dig in")


def test_a_cover_is_topped_up(made: Make) -> None:
    """The first layer is a mulch, what keeps it up a top-up, each with its own order."""
    season = made(
        horizon="4 years",
        places=[bed(kind="row", cover={"depth": "5 cm"})],
        ways=[bought("arborist chip")],
    )
    assert len(named(season, "mulch")) == 1
    assert named(season, "top up")
    assert [job.number for job in named(season, "top up")] == list(range(1, len(named(season, "top up")) + 1))


@pytest.mark.parametrize(
    ("start", "dug", "waits"),
    [("2027-02-12", False, True), ("2027-02-24", True, True), ("2026-11-20", False, False)],
)
def test_a_feed_goes_under_the_mulch(made: Make, start: str, dug: bool, waits: bool) -> None:
    """A mulch waits for the feed of a few weeks later, and its chip with it; not from autumn to spring."""
    feed_need = {"nitrogen": "6 g/m2", "dug": dug}
    season = made(
        start=start,
        places=[bed(kind="bed" if dug else "tree", cover={"depth": "8 cm"}, feed=feed_need)],
        ways=[
            bought("arborist chip", name="chip"),
            {"name": "meal", "buy": {"material": "feather meal", "price": "40 EUR/bag", "bag": "20 kg"}},
        ],
    )
    [mulch], [feed, *_] = named(season, "mulch"), named(season, "feed")
    chip = next(job for job in named(season, "delivery") if job.way == "chip")
    work = next(job for job in named(season, "dig in") if feed in job.after) if dug else feed
    assert (work in mulch.after) == waits
    assert (work.until <= mulch.on) == waits
    assert not waits or feed.last <= mulch.last
    assert (feed.on <= chip.on) == waits


def test_a_mulch_waits_longer_for_manure_that_is_tested(made: Make) -> None:
    """Manure that its test keeps back for days after a mulch was to be laid does not go on top of it."""
    muck = {"name": "muck", "have": {"material": "horse manure", "amount": "2 m3", "comes": "03-20"}}
    season = made(
        start="2027-02-12",
        places=[bed(kind="tree", cover={"depth": "4 cm"}, feed={"nitrogen": "1 g/m2"})],
        ways=[bought("arborist chip", name="chip"), muck],
    )
    [mulch], [feed, *_] = named(season, "mulch"), named(season, "feed")
    assert feed.way == "muck"
    assert feed in mulch.after
    assert feed.on <= mulch.on
    assert mulch.slips == 0


def test_tubs_are_filled_before_they_are_fed(made: Make) -> None:
    """What is tested before it fills a tub keeps back what feeds the tub."""
    season = made(
        start="2027-03-15",
        places=[bed(kind="pot", fill={"depth": "35 cm"}, feed={"nitrogen": "20 g/m2"})],
        ways=[
            bought("topsoil", name="soil"),
            bought("sand", name="sand"),
            bought("green compost", name="compost"),
            {"name": "meal", "buy": {"material": "feather meal", "price": "40 EUR/bag", "bag": "20 kg"}},
        ],
    )
    filled, [feed, *_] = named(season, "fill"), named(season, "feed")
    assert len(filled) == 3
    assert all(job in feed.after for job in filled)
    assert feed.on >= max(job.until for job in filled)


@pytest.mark.parametrize("last_frost", ["03-20", "04-10", "04-26", "05-20"])
def test_a_later_spring_is_not_fed_sooner(made: Make, last_frost: str) -> None:
    """What is rich in nitrogen waits for six weeks before the last frost, however late that is."""
    season = made(
        start="2027-01-10",
        climate={"annual_mean": "10 degC", "last_frost": last_frost, "first_frost": "10-20"},
        places=[bed(feed={"nitrogen": "6 g/m2"})],
        ways=[{"name": "meal", "buy": {"material": "feather meal", "price": "40 EUR/bag", "bag": "20 kg"}}],
    )
    feed = named(season, "feed")[0]
    month, day = map(int, last_frost.split("-"))
    assert feed.on >= date(2027, month, day) - timedelta(weeks=6)
    assert feed.slips == 0


def test_raw_manure_with_no_day_ahead_of_the_harvest_is_not_done(made: Make) -> None:
    """A plan of one's own has it on asparagus: it was moved to five weeks before the first cut."""
    season = made(
        start="2027-02-15",
        horizon="2 years",
        climate={"annual_mean": "10 degC", "last_frost": "05-01", "first_frost": "10-25"},
        places=[bed(feed={"nitrogen": "6 g/m2"}) | {"harvest_from": "04-25"}],
        ways=[{"name": "dung", "have": {"material": "horse manure", "amount": "2 m3"}}],
        plan=[{"place": "beds", "need": "feed", "way": "dung", "amount": "100 L", "date": "2027-10-26"}],
    )
    assert not named(season, "feed")
    [told] = [told for told in sentences(season) if told.startswith('Not done: "feed, ')]
    assert "no day of the year is far enough ahead of it" in told


def test_raw_manure_that_misses_its_season_is_not_done(made: Make) -> None:
    """Where wet ground and the harvest leave no day for it, a feed is no job, and what comes for it neither."""
    season = made(
        start="2026-10-20",
        climate={
            "monthly_mean": NORTH,
            "last_frost": "04-20",
            "first_frost": "10-25",
            "rain_months": [10, 11, 12, 1, 2, 3],
        },
        soil={"organic_matter": "3 %", "bulk_density": "1.3 g/cm3", "clay": "35 %"},
        places=[
            bed(feed={"nitrogen": "6 g/m2"}) | {"eaten_raw": True, "harvest_from": "07-20"},
        ],
        ways=[bought("pelleted poultry manure", name="muck", price="1 EUR/kg")],
    )
    assert not named(season, "feed")
    assert not named(season, "delivery")
    assert any(told.startswith('Not done: "feed, ') for told in sentences(season))
    assert not season.late


@pytest.mark.parametrize("hours", ["1 h", "3 h", "100 h"])
@pytest.mark.parametrize(
    ("dressed", "waits"), [("2027-04-10", True), ("2027-05-20", True), ("2027-09-01", False)]
)
def test_a_cover_waits_for_what_is_dug_in_about_then(
    made: Make, dressed: str, hours: str, *, waits: bool
) -> None:
    """A mulch of April is laid once all is dug in that goes on within two months, also where that is due later."""
    lines = [("cover", "chip", "2027-04-08", "3 m3"), ("dress", "yard", dressed, "0.2 m3")]
    season = made(
        labour={"hours_per_week": hours},
        places=[bed(kind="row", count=2, cover={"depth": "5 cm"}, dress={"depth": "5 mm", "dug": True})],
        ways=[bought(), bought("arborist chip", "chip")],
        plan=[
            {"place": "beds", "need": need, "way": way, "date": day, "amount": amount}
            for need, way, day, amount in lines
        ],
    )
    [mulch], [dig] = named(season, "mulch"), named(season, "dig in")
    assert (dig in mulch.after) == waits
    assert (mulch.on >= dig.until) == waits


def test_what_is_collected_is_no_delivery(made: Make) -> None:
    """Own rounds are collecting, with their hours; what is brought is a delivery."""
    season = made(ways=[bought(box="0.5 m3", trip="45 min")])
    [collect] = named(season, "collect")
    assert collect.hours is not None
    assert collect.hours.likely > 0.75 * 0.4
    assert not named(season, "delivery")


def test_a_late_order_is_told(made: Make) -> None:
    """What cannot come by the day it is wanted is late by the days of its lead."""
    plan = [{"place": "beds", "need": "dress", "way": "yard", "date": "2027-03-02", "amount": "0.2 m3"}]
    season = made(plan=plan)
    assert any(job.job == "delivery" for job in season.late)
    assert any(told.startswith('Late: "delivery, ') for told in sentences(season))


def test_a_heap_is_built_read_turned_and_screened(made: Make) -> None:
    """A hot heap is built of its stuff, its heat read, turned every so often, and screened."""
    heap = {
        "name": "heap",
        "make": {
            "bays": 1,
            "bay": "1 m3",
            "turn_every": "2 weeks",
            "from": [
                {"material": "arborist chip", "weekly": "100 L"},
                {"material": "grass clippings", "weekly": "100 L"},
                {"material": "horse manure", "weekly": "100 L"},
            ],
        },
    }
    season = made(ways=[heap], horizon="3 years")
    build = named(season, "build")[0]
    assert "arborist chip" in build.what
    turns = [job for job in named(season, "turn") if build.on <= job.day]
    assert turns[0].day - build.day == timedelta(days=14)
    assert named(season, "temperature")[0].goes_on
    screen = named(season, "screen")[0]
    assert screen.on >= turns[0].until
    assert named(season, "spread")[0].on >= screen.until


def test_a_cover_crop_is_sown_ended_and_waited_for(made: Make) -> None:
    """Sowing, ending and the wait before planting are jobs; ended it is put on."""
    assert "rye" in plant_names()
    crop = {
        "name": "winter rye",
        "grow": {"plant": "rye", "area": "20 m2", "planted": "2027-09-10", "ended": "2028-04-20"},
    }
    season = made(ways=[crop], places=[bed(dress={"dose": "0.2 kg/m2"})])
    [sow], [end], [wait] = (named(season, word) for word in ("sow", "end", "wait"))
    assert sow.on == date(2027, 9, 10)
    assert end.on == wait.on == date(2028, 4, 20)
    assert wait.until - wait.on >= timedelta(days=14)
    [spread] = named(season, "spread")
    assert end in spread.after


@pytest.mark.parametrize(
    ("mulched", "history", "told"),
    [
        ("2027-03-01", [], True),
        ("2027-12-01", [], False),
        (
            "",
            [{"date": "2026-10-01", "place": "beds", "material": "arborist chip", "amount": "0.5 m3"}],
            True,
        ),
        ("", [], False),
    ],
)
def test_mulch_that_lies_there_is_raked_aside_before_digging(
    made: Make, mulched: str, history: list[dict[str, Any]], told: bool
) -> None:
    """The job says how deep chip lies that was laid before it, and that its hours are not counted."""
    needs: dict[str, Any] = {
        "raise": {"organic_matter": "2.4 %", "depth": "15 cm"},
        "cover": {"depth": "5 cm"},
    }
    ways = [
        {"name": "yard", "buy": {"material": "green compost", "price": "30 EUR/m3"}},
        {"name": "chip", "buy": {"material": "arborist chip", "price": "20 EUR/m3"}},
    ]
    plan = [{"place": "beds", "need": "raise", "way": "yard", "amount": "100 L", "date": "2027-10-26"}]
    if mulched:
        plan.append({"place": "beds", "need": "cover", "way": "chip", "amount": "500 L", "date": mulched})
    season = made(places=[bed(**needs)], ways=ways, plan=plan, history=history)
    [dig] = named(season, "dig in")
    assert any("of mulch lies here: rake it aside" in words for words in dig.told) == told


def test_lines_and_ways_of_one_need_have_one_soil_test(made: Make) -> None:
    """What three lines of a plan dig into a bed is tested once, when the last of it tells."""
    words = {"organic_matter": "2.4 %", "depth": "15 cm", "by": "2028-03-01", "hold": "0 days"}
    ways = [{"name": name, "buy": {"material": "green compost", "price": "30 EUR/m3"}} for name in "ab"]
    lines = [
        {"place": "beds", "need": "raise", "way": way, "amount": "50 L", "date": day}
        for way, day in (("a", "2027-04-01"), ("a", "2027-10-26"), ("b", "2027-10-28"))
    ]
    [test] = named(made(places=[bed(**{"raise": words})], ways=ways, plan=lines), "soil test")
    assert test.first >= date(2028, 3, 1)
    assert len({job.way for job in test.after}) == 2


def test_a_soil_test_comes_before_what_is_old_and_after_what_was_wanted(made: Make) -> None:
    """A raise is tested three months after the last of it at the soonest; an old test is done anew before."""
    raised = bed(
        **{"raise": {"organic_matter": "2.4 %", "depth": "15 cm", "by": "2028-03-01", "hold": "0 days"}}
    )
    fresh = made(places=[raised])
    [after] = named(fresh, "soil test")
    last = max(job.day for job in fresh.jobs if job.place and job.loose)
    assert after.first >= date(2028, 3, 1)
    assert (after.first - last).days >= 91
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "25 %", "tested": "2020-01-10"}
    before, _ = named(made(places=[raised], soil=soil), "soil test")
    assert before.first == date(2027, 3, 1)
    assert not named(made(), "soil test")


@pytest.mark.parametrize("changed", [{}, {"labour": {"hours_per_week": "2 h"}}])
def test_a_year_later_all_is_a_year_later(made: Make, changed: dict[str, Any]) -> None:
    """Moving the start by a year moves every window by a year; no leap day lies between."""
    now, then = made(**changed), made(start="2029-03-01", **changed)
    assert [job.name for job in now.jobs] == [job.name for job in then.jobs]
    for job, later in zip(now.jobs, then.jobs, strict=True):
        assert (later.first - job.first).days == (later.last - job.last).days == 731


def test_lime_and_manure_are_kept_apart(made: Make) -> None:
    """On one place the second of lime and manure waits four weeks; compost does not; what is written so is told."""
    limed = bed(lime={"ph": "6.5"}, dress={"dose": "1 kg/m2"})
    soil = {"ph": "5.8", "clay": "25 %"}
    lime = bought("ground limestone", "quarry", price="0.5 EUR/kg")
    for stuff, apart in (("horse manure", 28), ("green compost", 0)):
        season = made(places=[limed], soil=soil, ways=[lime, bought(stuff, "yard")])
        first, second = sorted([*named(season, "lime"), *named(season, "spread")], key=lambda job: job.on)
        if apart:
            assert (second.on - first.until).days >= apart
        else:
            assert "nitrogen together" not in " ".join(second.told)
    plan = [
        {"place": "beds", "need": need, "way": way, "date": f"2027-03-{day}"}
        for need, way, day in (("lime", "quarry", 15), ("dress", "yard", 16))
    ]
    hurried = made(
        places=[limed],
        soil=soil,
        ways=[lime, bought("horse manure", "yard")],
        limits={"by": "2027-03-20"},
        plan=plan,
    )
    assert any("keep 28 days between them" in " ".join(job.told) for job in hurried.jobs)


@pytest.mark.parametrize("hours", ["2 h", "40 h"])
def test_what_is_mixed_goes_in_on_the_same_days(made: Make, hours: str) -> None:
    """Also where it takes weeks: all of the compost in one and all of the topsoil in the next were layers."""
    season = made(
        places=[bed("frames", fill={"depth": "20 cm"}, feed={"nitrogen": "20 g/m2"})],
        ways=[
            bought(),
            bought("topsoil", "merchant"),
            {"name": "meal", "buy": {"material": "feather meal", "price": "40 EUR/bag", "bag": "20 kg"}},
        ],
        labour={"hours_per_week": hours},
    )
    filled, [feed, *_] = named(season, "fill"), named(season, "feed")
    assert len(filled) > 1
    [(on, until)] = {(job.on, job.until) for job in filled}
    assert (until - on > timedelta(weeks=1)) == (hours == "2 h")
    assert feed.on >= until


def test_what_fills_a_place_together_is_mixed(made: Make) -> None:
    """Each of three fills says to mix all of them; what fills a place alone says nothing of it."""
    ways = [bought(), bought("topsoil", "merchant"), bought("sand", "pit")]
    filled = named(made(places=[bed(kind="pot", fill={"depth": "35 cm"})], ways=ways), "fill")
    assert {job.what for job in filled} == {"Mix merchant, pit and yard as they go in, not in layers."}
    mix = {"depth": "20 cm", "mix": {"soil": "100 %"}}
    alone = named(made(places=[bed("frames", fill=mix)], ways=ways[1:2]), "fill")
    assert [job.what for job in alone] == [""]


MANURE, COMFREY = (
    bought("horse manure", "stable"),
    {"plant": "comfrey", "area": "60 m2", "planted": "2024-04-10"},
)


@pytest.mark.parametrize(
    ("way", "wanted", "by"),
    [(MANURE, "2.4 %", "2027-12-01"), ({"name": "stand", "grow": COMFREY}, "2.2 %", "2028-03-01")],
    ids=["manure", "comfrey"],
)
def test_doses_past_the_horizon_are_done_with_all_that_they_ask(
    made: Make, way: Plain, wanted: str, by: str
) -> None:
    """What a raise is held with after the horizon is on the bill, and in the season: cut, fetched and dug in."""
    held = {"organic_matter": wanted, "depth": "10 cm", "by": by, "hold": "3 years"}
    beds = {**bed(**{"raise": held}), "shape": {"area": "10 m2"}}
    found = made(
        places=[{**beds, "harvest_from": "05-20"} if way is MANURE else beds],
        ways=[way],
        horizon="18 months",
        soil={"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %"},
        climate={"annual_mean": "11 degC", "last_frost": "04-20", "first_frost": "10-25"},
    )
    end, bill = found.selection.answer.site.end, found.selection.whole.bill.hours
    assert any(job.on > end for job in found.jobs if job.stuff is not None)
    assert not found.dropped
    assert sum(job.likely for job in found.jobs) == pytest.approx(bill.likely, rel=1e-9)


def test_one_bed_is_dug_once_for_two_needs_of_a_day(made: Make) -> None:
    """A dressing and a raise of one day are dug in together, in the hours of one: as lines of a plan are."""
    needs = {"dress": {"depth": "1 cm", "dug": True}, "raise": {"organic_matter": "2.5 %", "depth": "15 cm"}}
    about = {"places": [bed(**needs)], "ways": [bought()]}
    found = made(**about)
    plan = [{"place": "beds", "need": need, "way": "yard"} for need in needs]
    written = made(**about, plan=plan).selection.whole.bill.hours
    assert found.selection.whole.bill.hours.likely == pytest.approx(written.likely)
    digs = [job for job in found.jobs if job.job == "dig in"]
    assert len(digs) == len(needs)
    assert len([job for job in digs if job.hours]) == 1
    assert sum(job.likely for job in found.jobs) == pytest.approx(written.likely, rel=1e-9)
