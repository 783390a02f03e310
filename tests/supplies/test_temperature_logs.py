"""A heap's temperature log against the published rules, day by day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.site.records import Site
from barrowful.site.ways import Make
from barrowful.supplies.heap.hygiene import Verdict, judge

SiteOf = Callable[..., Site]
FIRST = date(2027, 5, 1)
Log = list[tuple[int, float, bool]]
Judged = Callable[..., list[Verdict]]


@pytest.fixture(scope="session")
def judged(site_of: SiteOf) -> Judged:
    """Give a function that returns each rule's verdict on a log of days, temperatures and turnings."""

    def judge_it(log: Log, bay: str = "1 m3", cn: float | None = 30.0) -> list[Verdict]:
        readings = [
            {"date": f"{FIRST + timedelta(day)}", "temperature": f"{heat} degC", "turned": turned}
            for day, heat, turned in log
        ]
        words: dict[str, Any] = {
            "bay": bay,
            "from": [{"material": "straw", "volume": "1 m3"}],
            "readings": readings,
        }
        way = site_of([], [{"name": "heap", "make": words}]).ways[0]
        assert isinstance(way, Make)
        return judge(way, cn)

    return judge_it


def windrow(found: list[Verdict]) -> Verdict:
    """Return the verdict on the windrow rule: 55 degC for 15 days with five turnings."""
    return next(one for one in found if one.rule.days == 15 and one.rule.most_cn == float("inf"))


def organic(found: list[Verdict]) -> Verdict:
    """Return the verdict on the US organic rule, which asks for a starting C:N of 25 to 40 too."""
    return next(one for one in found if one.rule.most_cn == 40)


def by_temperature(found: list[Verdict], days: int) -> Verdict:
    """Return the verdict on the rule of so many days in a row."""
    return next(one for one in found if one.rule.in_a_row and one.rule.days == days)


def daily(days: int, heat: float = 60.0, turnings: int = 5, first: int = 0) -> Log:
    """Return a reading each day, turned every third day until it has been turned so often."""
    return [(first + day, heat, day % 3 == 0 and day // 3 < turnings) for day in range(days)]


def test_the_windrow_rule_is_met(judged: Judged) -> None:
    """Fifteen days at 55 degC with five turnings meet it, at exactly 55 degC too."""
    for heat in (55.0, 58.0, 65.0):
        found = windrow(judged(daily(15, heat)))
        assert (found.met, found.days, found.turns, found.why_not) == (True, 15, 5, "")


@pytest.mark.parametrize(
    ("log", "why"),
    [
        (daily(14), "14 of 15 days"),
        (daily(15, 54.9), "0 of 15 days"),
        (daily(15, turnings=4), "4 of 5 turnings"),
        ([], ""),
        (daily(10), "10 of 15 days"),
    ],
)
def test_a_day_a_degree_or_a_turning_short(judged: Judged, log: Log, why: str) -> None:
    """One day, a tenth of a degree or one turning less does not meet it, and the verdict says which."""
    found = judged(log)
    if not log:
        assert found == []
    else:
        assert not windrow(found).met
        assert why in windrow(found).why_not


def test_turnings_count_while_it_is_hot(judged: Judged) -> None:
    """Five turnings before and after the hot days are none of those the rule asks for."""
    cool = [(day, 30.0, True) for day in range(5)]
    found = windrow(
        judged(cool + daily(15, turnings=2, first=5) + [(20 + day, 30.0, True) for day in range(5)])
    )
    assert (found.met, found.turns) == (False, 2)


def test_days_of_two_spells_add_up_where_the_rule_lets_them(judged: Judged) -> None:
    """Eight hot days, two cool ones and seven hot ones are fifteen days, but not fourteen in a row."""
    log = [*daily(8, turnings=3), (8, 40.0, False), (9, 40.0, False), *daily(7, turnings=2, first=10)]
    found = judged(log)
    assert (windrow(found).met, windrow(found).days) == (True, 15)
    assert not by_temperature(found, 14).met


def test_days_nobody_looked_do_not_count(judged: Judged) -> None:
    """A reading at each end of a fortnight is two days of heat, not fifteen."""
    found = judged([(0, 60.0, True), (14, 60.0, True)])
    assert windrow(found).days == 2
    assert not by_temperature(found, 14).met


def test_a_reading_every_other_day_is_enough(judged: Judged) -> None:
    """Readings every second day follow the heat; every third day they do not."""
    second = judged([(day, 60.0, day % 4 == 0) for day in range(0, 17, 2)])
    assert (windrow(second).met, windrow(second).days) == (True, 17)
    assert by_temperature(second, 14).met
    third = judged([(day, 60.0, True) for day in range(0, 30, 3)])
    assert windrow(third).days == 10
    assert not by_temperature(third, 14).met


def test_a_cool_reading_ends_a_spell(judged: Judged) -> None:
    """One cool day between two hot ones breaks a run, even where the hot ones lie two days apart."""
    log = [*daily(7), (7, 20.0, False), *daily(7, first=8)]
    assert by_temperature(judged(log), 14).days == 7


@pytest.mark.parametrize(
    ("bay", "met"), [("0.5 m3", False), ("0.7 m3", False), ("0.75 m3", True), ("1 m3", True)]
)
def test_a_small_heap_is_not_credited(judged: Judged, bay: str, met: bool) -> None:
    """Below 0.75 m3 no rule is met, whatever the readings say."""
    found = judged(daily(20), bay=bay)
    assert windrow(found).met is met
    assert met or not any(one.met for one in found)
    assert met or "0.75 m3" in windrow(found).why_not


@pytest.mark.parametrize(
    ("cn", "met"), [(24.0, False), (25.0, True), (40.0, True), (41.0, False), (None, True)]
)
def test_the_organic_rule_looks_at_the_starting_mix(judged: Judged, cn: float | None, met: bool) -> None:
    """A starting C:N outside 25 to 40 fails the US organic rule (7 CFR 205.203) and no other."""
    found = judged(daily(15), cn=cn)
    assert organic(found).met is met
    assert windrow(found).met


def test_five_days_at_40_with_some_hours_over_55(judged: Judged) -> None:
    """Five days in a row at 40 degC with a peak over 55 degC are met by a log that shows both."""
    for peak, met in ((55.0, False), (55.5, True), (62.0, True)):
        log = [(0, 41.0, False), (1, 45.0, False), (2, peak, False), (3, 50.0, False), (4, 40.0, False)]
        assert by_temperature(judged(log), 5).met is met
    assert not by_temperature(judged([(day, 60.0, False) for day in range(4)]), 5).met


def test_the_hours_over_55_belong_to_the_five_days(judged: Judged) -> None:
    """Five days at 41 degC and, a fortnight after it cooled, a day at 60 degC do not make one spell."""
    log = [(day, 41.0, False) for day in range(5)] + [(5, 20.0, False), (19, 60.0, False)]
    assert not by_temperature(judged(log), 5).met


def test_the_order_of_the_readings_is_nothing_to_it(judged: Judged) -> None:
    """A log written down backwards has the same verdicts."""
    log = [*daily(9), (9, 30.0, False), *daily(8, first=10)]
    there, back = judged(log), judged(log[::-1])
    assert [(one.met, one.days, one.turns) for one in there] == [
        (one.met, one.days, one.turns) for one in back
    ]


LOGS = st.dictionaries(
    st.integers(0, 40), st.tuples(st.integers(35, 65), st.booleans()), min_size=1, max_size=30
)


@draws(60)
@given(LOGS)
def test_days_counted_one_by_one(judged: Judged, drawn: dict[int, tuple[int, bool]]) -> None:
    """A day is hot when it was read so, or lies between two hot readings two days apart and was not read."""

    def hot(day: int, heat: int) -> bool:
        if day in drawn:
            return drawn[day][0] >= heat
        sides = [drawn.get(day - 1), drawn.get(day + 1)]
        return all(one is not None and one[0] >= heat for one in sides)

    log = [(day, float(heat), turned) for day, (heat, turned) in sorted(drawn.items())]
    for one in judged(log):
        heat = round(one.rule.temperature)
        days = [day for day in range(-1, 42) if hot(day, heat)]
        longest, run = 0, 0
        for day in range(-1, 43):
            run = run + 1 if day in days else 0
            longest = max(longest, run)
        assert one.days == (longest if one.rule.in_a_row else len(days))
        assert one.turns == sum(1 for day, (_, turned) in drawn.items() if turned and day in days)
        if one.rule.peak is None:
            assert one.met == (one.days >= one.rule.days and one.turns >= one.rule.turns)
