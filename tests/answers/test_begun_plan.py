"""What was done since the start of what is planned is of that, and counts once in every answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.course import CourseRequest
from barrowful.answers.course import course as courses
from barrowful.answers.done import planned_again
from barrowful.answers.orders import decide, sheet
from barrowful.answers.sizes import sizes
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
COVER, DRESS, FEED = (
    {"cover": {"depth": "5 cm"}},
    {"dress": {"depth": "2 cm"}},
    {"feed": {"nitrogen": "8 g/m2"}},
)


def line(need: str, amount: str, day: str, way: str = "yard") -> dict[str, str]:
    """Return a line of the plan."""
    return {"place": "bed", "need": need, "way": way, "amount": amount, "date": day}


def done(amount: str, day: str, way: str = "yard", **more: Any) -> dict[str, Any]:
    """Return an entry of the history."""
    return {"place": "bed", "way": way, "amount": amount, "date": day, **more}


def lies(site: Site) -> list[tuple[float, float]]:
    """Return the mulch [m] and the nitrogen [kg] of each year of the one course."""
    [course] = courses(site, CourseRequest())[1]
    return [(point.mulch, point.nitrogen) for point in course.points]


@pytest.fixture
def covered(site_of: SiteOf, bed: Describe, buy: Describe) -> Callable[..., Site]:
    """Give a function that returns the site of a bed that is covered with chipped wood."""

    def build(**more: Any) -> Site:
        return site_of([bed(COVER)], [buy(material="chipped wood"), buy("other", "yellow stalks")], **more)

    return build


def test_what_was_done_of_a_line_is_laid_once(covered: Callable[..., Site]) -> None:
    """8 cm planned and put on are 8 cm, not 16: the course, what is ordered and the warnings are the same."""
    plan = [line("cover", "800 L", "2027-04-05")]
    asked, begun = covered(plan=plan), covered(plan=plan, history=[done("800 L", "2027-04-20")])
    assert lies(begun) == lies(asked)
    assert decide(asked).warnings == decide(begun).warnings == []
    assert sheet(begun).totals[-1].cash == sheet(asked).totals[-1].cash > 0


def test_more_than_a_line_says_lies_there_too(covered: Callable[..., Site]) -> None:
    """Of 900 L put on 500 L are the line's: 400 L lie there beside it. Of 510 L none does: that is as good."""
    plan = [line("cover", "500 L", "2027-04-05")]
    apart = covered(plan=plan, history=[done("400 L", "2027-04-20")])
    twice = covered(plan=plan, history=[done("500 L", "2027-04-19"), done("400 L", "2027-04-20")])
    once = covered(plan=plan, history=[done("900 L", "2027-04-20")])
    assert lies(once) == lies(twice)
    assert lies(once)[1][0] == pytest.approx(
        9 / 5 * lies(apart)[1][0], rel=0.01
    )  # 400 L alone are the line's
    assert lies(covered(plan=plan, history=[done("510 L", "2027-04-20")])) == lies(covered(plan=plan))


@pytest.mark.parametrize(
    "entry",
    [
        done("500 L", "2027-04-20", "other"),
        done("500 L", "2027-04-20", job="mulch, bed, dress, yard, 1"),
        done("500 L", "2027-03-02"),
    ],
)
def test_what_is_of_no_line_counts_beside_it(covered: Callable[..., Site], entry: dict[str, Any]) -> None:
    """Another way, a job for another need, or a day long before the line's is none of it: both lie there."""
    plan = [line("cover", "500 L", "2027-11-05")]
    assert lies(covered(plan=plan, history=[entry]))[1][0] > lies(covered(plan=plan))[1][0]


def test_stuff_without_its_way_is_of_the_line_that_brings_it(covered: Callable[..., Site]) -> None:
    """The line of a way that brings it, whichever is first by its day and lacks something."""
    plan = [line("cover", "500 L", "2027-04-05"), line("cover", "200 L", "2027-05-05")]
    entry = {"place": "bed", "material": "chipped wood", "amount": "700 L", "date": "2027-05-10"}
    assert lies(covered(plan=plan, history=[entry])) == lies(covered(plan=plan))


def test_a_feed_is_of_its_season(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """What feeds the second season is none of the line of the first, which was missed."""
    climate = {"annual_mean": "15 degC", "first_frost": "10-20"}
    meal = [buy(material="feather meal", price="1 EUR/kg")]
    plan = [line("feed", "1 kg", "2027-04-05")]
    asked, second = (
        site_of([bed(FEED)], meal, plan=plan, climate=climate, history=history)
        for history in ([], [done("1 kg", "2028-04-05")])
    )
    assert lies(second)[0][1] == lies(asked)[0][1] > 0
    assert lies(second)[1][1] > lies(asked)[1][1]


def test_a_line_without_an_amount_has_all_of_its_way(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """It is sized from the start, as a season has it, and what was put on since is of it."""
    places = [bed({"raise": {"organic_matter": "3 %", "depth": "20 cm", "by": "2029-03-01"}})]
    plan = [{"place": "bed", "need": "raise", "way": "yard"}]
    asked, begun = (
        site_of(places, [buy()], plan=plan, history=history)
        for history in ([], [done("100 L", "2027-04-20")])
    )
    assert lies(begun) == lies(asked)
    assert sheet(begun).totals[-1].cash == sheet(asked).totals[-1].cash > 0


def test_without_a_plan_a_cover_that_was_laid_is_followed_once(covered: Callable[..., Site]) -> None:
    """It is planned from the start once more, and lies there once; what sizes it is the same."""
    asked, begun = covered(), covered(history=[done("550 L", "2027-04-20")])
    assert lies(begun) == lies(asked)
    [row], [same] = sizes(begun), sizes(asked)
    assert row.loose == same.loose
    assert row.loose is not None
    assert row.loose > 0


def test_on_the_start_a_cover_lies_there(covered: Callable[..., Site]) -> None:
    """What covers the place on the first day is no part of what is planned: it lacks nothing then."""
    begun = covered(history=[done("700 L", "2027-03-01")])
    [row] = sizes(begun)
    assert row.loose == 0
    assert lies(begun)[0][0] == pytest.approx(0.056, rel=0.01)  # 70 mm as spread settle to 80 %


def test_it_is_told_whose_it_is(covered: Callable[..., Site]) -> None:
    """What is of lines, and what was put on besides, each to its last day."""
    plan = [line("cover", "500 L", "2027-04-05")]
    own, other = done("500 L", "2027-04-20"), done("100 L", "2027-05-20", "other")

    def told(*history: dict[str, Any]) -> str:
        return planned_again(covered(plan=plan, history=list(history)))[0]

    whole = "This follows your plan whole, from 2027-03-01; what your history has"
    assert told(own).startswith(
        f"{whole} done of its lines since, to 2027-04-20, is theirs and counts once: "
    )
    assert told(other).startswith(f"{whole} put on, to 2027-05-20, counts beside it: ")
    assert told(own, other).startswith(
        f"{whole} done of its lines since, to 2027-05-20, is theirs and counts once;"
        " what your history has put on besides, to 2027-05-20, counts beside it: "
    )


def test_what_was_put_on_stays_where_nothing_is_planned_for_it(covered: Callable[..., Site]) -> None:
    """A cover that there is no money for once more lies there all the same."""
    entry = done("500 L", "2027-04-20")
    begun = covered(history=[entry], limits={"cash": "0 EUR"})
    assert lies(begun)[1][0] > 0.02
