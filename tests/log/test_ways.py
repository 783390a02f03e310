"""Entries of ways: sellers' units, stocks that are used or spoilt, heaps built and turned, hours of a job."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.done import done, overtaken, paid_twice, spent
from barrowful.cli.begin import begun
from barrowful.site.load import LoadedSite, load
from barrowful.site.records import Site
from barrowful.supplies.registry import supplies
from barrowful.supplies.supply import Supply
from barrowful.tables.done import DONE

Log = Callable[..., Any]
WAYS = """\
ways:
  - {name: lane chip, buy: {material: arborist chip, price: 60 EUR/load, load: 6 m3}}
  - {name: yard, buy: {material: green compost, price: 40 EUR/m3, truck: 8 m3}}
  - {name: bags, buy: {material: green compost, price: 6 EUR/bag, bag: 40 L}}
  - {name: sand, buy: {material: sand, price: 4 EUR/bag, bag: 25 kg}}
  - {name: plain, buy: {material: green compost, price: 30 EUR/m3}}
  - {name: leaves, have: {material: autumn leaves, amount: 1 m3}}
  - {name: yearly, have: {material: straw, amount: 900 L, per_year: true, comes: 09-01, left: 200 L}}
  - name: hot heap
    make: {bays: 1, bay: 1 m3, turn_every: 2 weeks, from: [{way: lane chip}, {material: coffee grounds, weekly: 60 kg}]}
"""
DAY = ("--date", "2027-04-12")
BEDS = (*DAY, "--place", "beds")


@pytest.mark.parametrize(
    ("way", "amount", "volume"),
    [
        ("lane chip", "0.5 load", 3.0),
        ("yard", "0.25 loads", 2.0),
        ("bags", "4 bag", 0.16),
        ("sand", "2 sacks", 0.05 * 1000 / 1600),
        ("sand", "2 bags", 0.05 * 1000 / 1600),
        ("plain", "18 barrow", 1.44),
        ("bags", "160 L", 0.16),
    ],
)
def test_units_of_a_way(log: Log, head: str, way: str, amount: str, volume: float) -> None:
    """A load is the way's load, or its truck; a bag its bag; a sack a bag by weight; own measures are as ever."""
    found = log(head + WAYS, *BEDS, "--way", way, "--amount", amount)
    assert found.code == 0, found.said
    [entry] = found.site.history
    assert entry.material == found.site.way(way).material
    density = entry.material["density"] if way == "sand" else 1600
    assert entry.loose == pytest.approx(volume * 1600 / density)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (
            ["--way", "lane chip", "--amount", "4 bag"],
            'comes by the load of 6 m3, and has no bag of a known size; write a volume or a mass, such as "2 m3",'
            ' "120 L" or "25 kg", or a measure of your own, such as a barrow',
        ),
        (
            ["--way", "bags", "--amount", "4 load"],
            "comes by the bag of 40 L, and has no load of a known size",
        ),
        (["--way", "bags", "--amount", "4 sack"], 'by the bag of 40 L: write "4 bag", or "160 L"'),
        (
            ["--way", "plain", "--amount", "4 load"],
            'no load of a known size; write a volume or a mass, such as "2 m3"',
        ),
        (["--way", "leaves", "--amount", "4 bags"], "no bag of a known size"),
        (
            ["--material", "straw", "--amount", "4 load"],
            'name the way it came by, whose load is known, with "way:"',
        ),
        (["--way", "lane chips", "--amount", "4 load"], 'did you mean "lane chip"'),
        (["--way", "lane chip", "--amount", "-4 load"], "load"),
        (["--way", "lane chip", "--amount", "400000 load"], "beyond reason"),
        (["--way", "lane chip", "--hours", "1 h"], "exactly one of amount and depth"),
        (
            ["--way", "lane chip", "--material", "straw", "--amount", "1 m3"],
            'brings arborist chip, not straw; leave "material"',
        ),
        (["--way", "hot heap", "--job", "built"], 'on no place; leave "place" out'),
        (["--way", "lane chip", "--amount", "1 m3", "--temperature", "50 degC"], "name the heap as the way"),
    ],
)
def test_what_a_way_has_not(log: Log, head: str, words: list[str], says: str) -> None:
    """What does not go with the way is refused with the right form, and the file stays as it was."""
    found = log(head + WAYS, *BEDS, *words)
    assert found.code in (1, 2)
    assert says in found.said or "less than" in found.said
    assert found.after == found.before
    assert found.beside == []


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--hours", "3 h"], "--place, --way or --job"),
        (["--way", "leaves"], "say what was done"),
        (["--way", "leaves", "--depth", "3 cm"], "name the place"),
        (["--way", "leaves", "--amount", "1 L", "--dug"], "name the place"),
        (["--job", "test", "--organic-matter", "2 %"], "name the place"),
        (["--way", "hot heap", "--job", "built", "--amount", "90 kg"], "the volume it was built to"),
        (["--way", "hot heap", "--job", "turned", "--amount", "90 L"], 'leave "amount" out'),
        (["--job", "x" * 201], "longer than 200"),
    ],
)
def test_what_no_place_has(log: Log, head: str, words: list[str], says: str) -> None:
    """Without a place nothing of its ground is told."""
    found = log(head + WAYS, *DAY, *words)
    assert found.code in (1, 2)
    assert says in found.said
    assert found.after == found.before


def test_a_measure_of_the_same_name(log: Log, head: str) -> None:
    """An own measure called load is used, but not for a way whose load is of another size."""
    text = (head + WAYS).replace("barrow: 80 L", "load: 2 m3")
    assert log(text, *BEDS, "--way", "plain", "--amount", "1 load").site.history[0].loose == pytest.approx(2)
    found = log(text, *BEDS, "--way", "lane chip", "--amount", "1 load")
    assert found.after == found.before
    assert '"6 m3"' in found.said


def test_a_measure_of_the_same_name_and_another_size_is_asked_about(head: str) -> None:
    """Where so many loads or bags of a way would be refused, check says so, with the line of the measure."""
    for measures, told in (
        ("barrow: 80 L", []),
        ("load: 2 m3", ["measures.load: lane chip comes by the load of 6 m3"]),
        ("load: 6 m3", ["measures.load: yard comes by the load of 8 m3"]),
        ("bag: 40 L", ["measures.bag: sand comes by the bag of 25 kg"]),
        ("bags: 40 L", ["measures.bags: sand comes by the bag of 25 kg"]),
        ("sack: 25 kg", []),
        ("heap: 2 m3", []),
        ("load: 20 cm", ["measures.load: lane chip comes by the load of 6 m3"]),
    ):
        text = (head + WAYS).replace("barrow: 80 L", measures)
        asked = [one for one in load(text.encode(), "x").warnings if one.code == "ambiguous-unit"]
        assert [one.message.partition(",")[0].partition(";")[0] for one in asked] == told
        assert all(one.line == 5 for one in asked)


@pytest.mark.parametrize(
    ("measures", "told"),
    [
        ("wheelbarrow: 6 ft3", "measures.wheelbarrow: barrows are told of 80 L each"),
        ("{wheelbarrow: 6 ft3, barrow: 90 L}", ""),
        ("big_barrow: 80 L", ""),
        ("bucket: 12 L", ""),
    ],
)
def test_a_measure_called_like_the_barrow_is_asked_about(head: str, measures: str, told: str) -> None:
    """Barrows of 80 L were told beside a wheelbarrow of 170 L without a word."""
    text = head.replace("{barrow: 80 L}", measures if measures.startswith("{") else f"{{{measures}}}")
    warnings = [one.message for one in load((text + WAYS).encode(), "x").warnings if one.code == "own-barrow"]
    assert [one.partition(",")[0] for one in warnings] == ([told] if told else [])


def test_a_line_of_the_file_is_told_where_it_stands() -> None:
    """In a file the amount is told with its line and column."""
    text = "site: A\ncurrency: EUR\nstart: 2027-03-01\nplaces: []\n" + WAYS
    text += "history:\n  - {date: 2027-01-01, way: lane chip, amount: 4 bag}\n"
    with pytest.raises(
        Exception, match=r"x:16:48: history\.1\.amount: .*lane chip comes by the load of 6 m3"
    ):
        load(text.encode(), "x")


def site_with(head: str, *entries: str) -> Site:
    """Return the site of the tests with entries in its history."""
    history = "".join(f"\n  - {{{entry}}}" for entry in entries) or " []"
    return load(f"{head}{WAYS}history:{history}\n".encode(), "x").site


def stuff_of(site: Site, way: str) -> Supply[Any]:
    """Return the supply of a way."""
    return supplies(site)[way]


def lots(site: Site, way: str) -> dict[date, float]:
    """Return what a way brings in two years, where it brings anything."""
    return {lot.day: round(lot.loose, 9) for lot in stuff_of(site, way).lots(date(2029, 2, 28)) if lot.loose}


def test_a_stock_used_or_spoilt(head: str) -> None:
    """What is put on, used or spoilt from the start on is there no more; what was before the start is out already."""
    before, since = (
        "date: 2027-02-01, way: leaves, amount: 300 L",
        "date: 2027-05-01, way: leaves, amount: 300 L",
    )
    assert lots(site_with(head, before), "leaves") == {date(2027, 3, 1): 1.0}
    assert lots(site_with(head, since), "leaves") == {date(2027, 3, 1): 0.7}
    on_beds = "date: 2027-05-01, place: beds, way: leaves, amount: 300 L"
    assert lots(site_with(head, since, on_beds), "leaves") == {date(2027, 3, 1): 0.4}
    too_much = site_with(head, since, since.replace("300 L", "9 m3"))
    assert lots(too_much, "leaves") == {}
    assert overtaken(supplies(too_much).values()) == [
        "leaves: the history takes 8.3 m3 more of it than there was"
    ]
    assert overtaken(supplies(site_with(head, since)).values()) == []


def test_a_stock_of_every_year(head: str) -> None:
    """It comes on its day, beside what is left; what is used is of the earliest that had come by then."""
    used = "date: 2027-10-01, way: yearly, amount: 500 L"
    assert lots(site_with(head), "yearly") == {
        date(2027, 3, 1): 0.2,
        date(2027, 9, 1): 0.9,
        date(2028, 9, 1): 0.9,
    }
    assert lots(site_with(head, used), "yearly") == {date(2027, 9, 1): 0.6, date(2028, 9, 1): 0.9}


def test_the_next_season_has_what_is_left(head: str) -> None:
    """Stocks are what is left of them, and what comes each year is not brought again by a start that moves."""
    entries = ("date: 2027-10-01, way: yearly, amount: 500 L", "date: 2027-05-01, way: leaves, amount: 300 L")
    text = head + WAYS.replace("comes: 09-01, ", "") + "".join(f"\n- {{{entry}}}" for entry in entries)
    text = text.replace("\n- {", "\nhistory:\n- {", 1)
    old = load(text.encode(), "x").site
    new = load(begun(text.encode(), "x", "2027-11-01")[0], "x").site
    assert sum(lots(old, "yearly").values()) == pytest.approx(0.2 + 2 * 0.9 - 0.5)
    assert lots(new, "yearly") == {date(2027, 11, 1): 0.6, date(2028, 3, 1): 0.9}
    assert lots(new, "leaves") == {date(2027, 11, 1): 0.7}


def test_all_used_up(head: str) -> None:
    """A stock of which nothing is left stays as a way that brings nothing."""
    text = head + WAYS + "history: [{date: 2027-05-01, way: leaves, amount: 1 m3}]\n"
    new = load(begun(text.encode(), "x", "2028-03-01")[0], "x").site
    assert lots(new, "leaves") == {}


BUILT = "date: 2026-12-01, way: hot heap, job: built"


def test_a_heap_that_was_built(head: str) -> None:
    """Its batch stands in the bay and is there on the day it is ready, in this season and the next, until it is used."""
    site = site_with(head, BUILT)
    heap: Any = stuff_of(site, "hot heap")
    [batch] = heap.recorded
    ready, yields = batch.ready[1], batch.volume[1]
    assert (batch.built, batch.recipe.volume) == (date(2026, 12, 1), pytest.approx(1.0))
    assert 25 <= batch.recipe.cn <= 35
    assert ready > site.start
    assert lots(site, "hot heap")[ready] == pytest.approx(yields)
    assert all(other.built >= ready for other in heap.batches)
    assert heap.cost({ready: yields}).hours.likely == 0
    used = site_with(head, BUILT, f"date: {ready}, place: beds, way: hot heap, amount: 100 L")
    assert lots(used, "hot heap")[ready] == pytest.approx(yields - 0.1)
    text = head + WAYS + f"history: [{{{BUILT}, amount: 800 L}}]\n"
    later: Any = stuff_of(load(begun(text.encode(), "x", "2028-03-01")[0], "x").site, "hot heap")
    assert later.there(date(2028, 3, 1))[0].loose == pytest.approx(0.8 * yields, rel=0.02)


def test_a_heap_that_was_turned(head: str) -> None:
    """Temperatures and turnings of the history stand in the log of the heap."""
    heat = [f"date: 2027-05-0{day}, way: hot heap, temperature: 58 degC" for day in (2, 3, 4)]
    turned = "date: 2027-05-03, way: hot heap, job: turned, hours: 30 min"
    way: Any = site_with(head, *heat, turned).way("hot heap")
    assert [reading.temperature for reading in way.readings] == [58.0, 58.0, 58.0]
    assert way.turned_on == (date(2027, 5, 3),)


def test_money_that_stands_twice_is_told(head: str) -> None:
    """The same sum with an order and with its delivery may be one payment; another sum, or another order, is not."""
    order = 'date: 2027-03-01, job: "order, yard, 1", cash: 40 EUR'
    for job, cash, told in (
        ("delivery, yard, 1", 40, 1),
        ("collect, yard, 1", 40, 1),
        ("delivery, yard, 2", 40, 0),
        ("delivery, yard, 1", 5, 0),
    ):
        twice = paid_twice(site_with(head, order, f'date: 2027-03-09, job: "{job}", cash: {cash} EUR'))
        assert len(twice) == told
        assert all("40.00 EUR stands with" in sentence for sentence in twice)


def test_the_foot_of_what_was_done_adds_what_is_alike() -> None:
    """What came, what was spread of it and a heap made of it are no sum: hours and money are."""
    assert DONE.summed == ("hours", "cash")


def test_hours_of_any_job(log: Log, head: str) -> None:
    """Hours and money of a job without a place or a material stand in what was done, under the job's name."""
    found = log(head + WAYS, *DAY, "--job", "lane chip: collect 1", "--hours", "2 h", "--cash", "5 EUR")
    [line] = done(found.site)
    assert (line.job, line.place, line.way, line.material, line.hours) == (
        "lane chip: collect 1",
        None,
        None,
        None,
        2.0,
    )
    assert "2.0 h in 1 entry and 5.00 EUR in 1 entry" in spent(found.site)[0]


BY_NAME = 'date: 2027-04-19, way: hot heap, job: "build, hot heap, 1"'
PLAIN = "date: 2027-04-19, way: hot heap, job: built"


def twice(loaded: LoadedSite) -> list[str]:
    """Return the warnings of heaps that are told of twice."""
    return [one.message for one in loaded.warnings if one.code == "built-twice"]


@pytest.mark.parametrize("amounts", [("", ""), (", amount: 0.6 m3", ""), ("", ", amount: 0.6 m3")])
@pytest.mark.parametrize("turned", [False, True])
def test_a_heap_that_is_told_of_twice_is_one(head: str, amounts: tuple[str, str], turned: bool) -> None:
    """The season's name and "built" of one day are one heap, of the amount that either tells, with a warning."""
    entries = [f"{{{BY_NAME}{amounts[0]}}}", f"{{{PLAIN}{amounts[1]}}}"]
    listed = ", ".join(entries[::-1] if turned else entries)
    loaded = load(f"{head}{WAYS}history: [{listed}]\n".encode(), "site.yaml")
    [warning] = twice(loaded)
    assert "taken as one heap" in warning
    heap: Any = stuff_of(loaded.site, "hot heap")
    [batch] = heap.recorded
    assert batch.recipe.volume == pytest.approx(0.6 if any(amounts) else 1.0)


def test_two_heaps_of_a_day_are_two(head: str) -> None:
    """Two bays may be filled on a day: nothing says that these are one."""
    loaded = load(f"{head}{WAYS}history: [{{{PLAIN}}}, {{{PLAIN}}}]\n".encode(), "site.yaml")
    heap: Any = stuff_of(loaded.site, "hot heap")
    assert (len(heap.recorded), twice(loaded)) == (2, [])


def test_a_heap_is_not_logged_twice(log: Log, head: str) -> None:
    """What a heap told of by the season's name is told of once more is refused; of another day it is another."""
    text = f"{head}{WAYS}history:\n  - {{{BY_NAME}}}\n"
    refused = log(text, "--date", "2027-04-19", "--way", "hot heap", "--job", "built")
    assert refused.code == 2
    assert "told to be built on 2027-04-19 twice" in refused.said
    assert log(text, "--date", "2027-04-20", "--way", "hot heap", "--job", "built").code == 0


def test_a_day_long_after_all_others_is_doubted(log: Log, head: str) -> None:
    """A year that is likely mistyped is warned of as it is logged; what follows within a year is not."""
    found = log(head + WAYS, "--date", "2099-01-01", "--job", "hoe", "--hours", "1 h")
    assert found.code == 0
    assert "warning: history.1.date: 2099-01-01 is more than a year after 2027-03-01" in found.said
    assert "more than a year" not in log(None, *DAY, "--job", "hoe", "--hours", "1 h").said
    assert "more than a year" not in log(None, "--date", "2028-04-11", "--job", "hoe", "--hours", "1 h").said


def test_so_much_of_nothing_is_refused(log: Log, head: str) -> None:
    """Six barrows of what nobody names were 0.48 m3 of nothing in the ledger; a file with it has a problem."""
    refused = log(head + WAYS, *BEDS, "--amount", "6 barrow")
    assert refused.code == 2
    assert "say of what so much was put on: --way or --material" in refused.said
    entry = "history: [{date: 2027-04-12, place: beds, depth: 3 cm}]\n"
    assert (
        'history.1: say of what so much was put on: give "way" or "material"'
        in log(head + WAYS + entry, *DAY, "--job", "hoe", "--hours", "1 h").said
    )


@pytest.mark.parametrize(
    ("job", "told"),
    [("soil test, beds, raise, 1", True), ("soil test, beds, lime, 1", False), ("hoe", False)],
)
def test_a_test_without_its_result_is_asked_for_it(log: Log, head: str, job: str, told: bool) -> None:
    """A test of organic matter tells nothing without what it found; the result of no other has a key."""
    asked = "nothing says what the test found: give --organic-matter"
    assert (asked in log(head + WAYS, *BEDS, "--job", job).said) == told
    assert asked not in log(None, *BEDS, "--job", job, "--organic-matter", "2.4 %").said


@pytest.mark.parametrize(("bags", "told"), [("3 bag", "80 L more of it than came"), ("5 bag", ""), ("", "")])
def test_more_than_came_is_asked_about(log: Log, head: str, bags: str, told: str) -> None:
    """200 L used of 120 L that came are 80 L too much; where nothing tells what came, nothing is asked."""
    came = f"history: [{{date: 2027-04-01, way: bags, job: delivery, amount: {bags}}}]\n" if bags else ""
    found = log(head + WAYS + came, *BEDS, "--way", "bags", "--amount", "200 L")
    assert found.code == 0, found.said
    assert (f"bags: the history uses {told}" in found.said) == bool(told)
    assert ("more of it" in found.said) == bool(told)


@pytest.mark.parametrize(("amount", "asked"), [("5 m3", True), ("1.05 m3", False), ("300 L", False)])
def test_a_heap_of_more_than_its_bay_is_asked_about(log: Log, head: str, amount: str, asked: bool) -> None:
    """5 m3 in a bay of 1 m3 were logged without a word; a little heaped up is as it goes."""
    found = log(head + WAYS, *DAY, "--way", "hot heap", "--job", "built", "--amount", amount)
    assert found.code == 0, found.said
    assert ("5 m3 was built on 2027-04-12 in a bay of 1 m3; is the amount right?" in found.said) == asked
    assert ("in a bay" in found.said) == asked


MULCHED = "mulch, trees, cover, crew, 1"


@pytest.mark.parametrize("words", [("--way", "hot heap"), ("--place", "elsewhere")])
def test_a_name_and_another_way_are_refused(log: Log, head: str, words: tuple[str, str]) -> None:
    """The season would tick the job it names, and the history have it of another."""
    refused = log(head + WAYS, *DAY, "--job", MULCHED, "--amount", "1 m3", *words)
    assert refused.code == 2
    assert f'is not of the {words[0][2:]} "{words[1]}"' in refused.said


def test_a_job_that_puts_stuff_on_asks_how_much(log: Log, head: str) -> None:
    """Named by itself it is done for the season and never happened for the next."""
    assert "nothing says how much was put on" in log(head + WAYS, *DAY, "--job", MULCHED).said
    assert "nothing says" not in log(None, *DAY, "--job", MULCHED, "--amount", "1 m3").said
    assert "nothing says" not in log(None, *DAY, "--job", "delivery, crew, 1").said
    assert "nothing says" not in log(None, *DAY, "--job", "dig in, beds, raise, yard, 1").said


@pytest.mark.parametrize(("amount", "told"), [("0.9 m3", ""), ("1.5 m3", "0.5 m3 more of it than there was")])
def test_more_than_there_was_is_asked_about_at_once(log: Log, head: str, amount: str, told: str) -> None:
    """500 m3 of a stock of one were logged without a word, and only the next season's file spoke of them."""
    found = log(head + WAYS, *BEDS, "--way", "leaves", "--amount", amount)
    assert found.code == 0
    assert ("warning: leaves: the history takes" in found.said) == bool(told)
    assert told in found.said
