"""Which row beats which, and which is chosen, by going through all rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from plan_sites import NEEDS, SOIL

from barrowful.answers.choices import cheapest, choices, choices_told
from barrowful.answers.met_by_others import met_by_others
from barrowful.answers.option import Option
from barrowful.answers.options import Answer, Choice, options
from barrowful.site.records import Site
from barrowful.soil.application import Application

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
FAR = date.max


@st.composite
def sellers(draw: st.DrawFn) -> list[tuple[str, int, int, int, int]]:
    """Draw sellers: stuff, price, delivery, lead in weeks, and how many beds they may serve."""
    one = st.tuples(
        st.sampled_from(["dark stuff", "chipped wood", "yellow stalks"]),
        st.integers(0, 6).map(lambda n: 10 * n),
        st.integers(0, 3).map(lambda n: 20 * n),
        st.integers(0, 60),
        st.sampled_from([2, 2, 2, 1]),
    )
    return draw(st.lists(one, min_size=1, max_size=6))


Drawn = tuple[list[tuple[str, int, int, int, int]], list[str], int]
DRAWN = st.tuples(
    sellers(), st.lists(st.sampled_from(list(NEEDS)), min_size=1, unique=True), st.sampled_from([0, 0, 7, 20])
)


@pytest.fixture(scope="session")
def drawn_site(site_of: SiteOf, bed: Describe, buy: Describe) -> Callable[[Drawn], Site]:
    """Give a function that returns a site of two beds and the sellers drawn."""

    def build(drawn: Drawn) -> Site:
        terms, kinds, hourly = drawn
        ways = [
            buy(
                name=f"way {n}",
                material=stuff,
                price=f"{price} EUR/m3",
                delivery=f"{lorry} EUR",
                lead=f"{weeks} weeks",
            )
            for n, (stuff, price, lorry, weeks, _) in enumerate(terms)
        ]
        needs = [{kind: NEEDS[kind][0]} for kind in kinds]
        both = [f"way {n}" for n, one in enumerate(terms) if one[-1] == 2]
        places = [bed(*needs, name="one"), bed(*needs, name="two", **({"ways": both} if both else {}))]
        return site_of(places, ways, labour={"hourly_value": f"{hourly} EUR/h"}, soil=SOIL)

    return build


def worth(row: Option) -> tuple[Decimal, float, date, float]:
    """Return what rows are compared on: cash, hours, day ready, nitrogen tied up in the first season."""
    tied_up = max(0.0, -(row.outcome.available_nitrogen or 0.0))
    return row.cash, row.hours.compared, row.decision.ready_on or FAR, round(tied_up, 9)


def bought(row: Option) -> Decimal:
    """Return what the orders cost that meet the need first."""
    return sum((placed.order.cash for placed in row.orders), Decimal(0))


def beats(one: Option, other: Option) -> bool:
    """Say whether one row costs no more of anything than another, and less of something."""
    return all(a <= b for a, b in zip(worth(one), worth(other), strict=True)) and worth(one) != worth(other)  # type: ignore[operator]


@draws(50)
@given(DRAWN)
def test_a_row_is_beaten_when_another_beats_it(drawn_site: Callable[[Drawn], Site], drawn: Drawn) -> None:
    """A row that meets the need says it is beaten if and only if another of the same places beats it."""
    rows = options(drawn_site(drawn)).options
    for row in rows:
        others = [
            other
            for other in rows
            if other.need == row.need
            and other.places == row.places
            and other.feasible
            and row.feasible
            and beats(other, row)
        ]
        assert bool(row.beaten_by) == bool(others)
        assert not row.beaten_by or row.beaten_by in {other.name for other in others}


@draws(30)
@given(DRAWN)
def test_no_row_is_beaten_by_one_that_it_beats(drawn_site: Callable[[Drawn], Site], drawn: Drawn) -> None:
    """Following who beats whom never comes round in a circle, and always ends at a row that nothing beats."""
    rows = options(drawn_site(drawn)).options
    by_name = {(row.need, row.name): row for row in rows}
    for row in rows:
        seen, at = {row.name}, row
        while at.beaten_by:
            at = by_name[(at.need, at.beaten_by)]
            assert at.name not in seen
            seen.add(at.name)


def chosen(answer: Answer, kind: str) -> dict[str, Choice]:
    """Return the choices for a kind of need by their question."""
    return {one.question: one for one in choices(answer) if one.need == kind}


@draws(50)
@given(DRAWN)
def test_the_three_choices_by_going_through_all_rows(
    drawn_site: Callable[[Drawn], Site], drawn: Drawn
) -> None:
    """Cheapest in time, fastest, least cash at any wait, of the rows that reach every place with the need."""
    site = drawn_site(drawn)
    answer, hourly = options(site), Decimal(drawn[2])
    for kind in drawn[1]:
        rows = [row for row in answer.options if row.need == kind and len(row.places) == 2]
        met = [row for row in rows if row.feasible]
        found = chosen(answer, kind)
        cost = {id(row): row.cash + hourly * Decimal(repr(row.hours.likely)) for row in rows}
        best = found["cheapest by your dates"].option
        assert (best is None) == (not met)
        if best is not None:
            assert best.feasible
            assert cost[id(best)] <= min(cost[id(row)] for row in met) + Decimal("0.0001")
        fast = found["fastest"].option
        assert (fast is None) == (not met)
        if fast is not None:
            assert worth(fast)[2] == min(worth(row)[2] for row in met)
            assert fast.cash == min(row.cash for row in met if worth(row)[2] == worth(fast)[2])
        waits = [row for row in rows if row.decision.ready_on is not None]
        if all(one[-1] == 2 for one in drawn[0]):
            least = found["least cash at any wait"].option
            assert (least is None) == (not waits)
            assert least is None or least.cash == min(row.cash for row in waits)


def test_a_way_that_serves_half_the_places_is_no_least_cash(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """A pile allowed on one bed of two does not answer what the least cash for the need is."""
    places = [
        bed({"dress": {"depth": "2 cm"}}, name="one"),
        bed({"dress": {"depth": "2 cm"}}, name="two", ways=["yard"]),
    ]
    ways = [buy(), buy(name="other", price="1 EUR/m3")]
    found = chosen(options(site_of(places, ways)), "dress")
    assert {one.option.name for one in found.values() if one.option} == {"yard"}


def test_a_living_cover_is_least_cash_when_it_is_cheapest(site_of: SiteOf, buy: Describe) -> None:
    """Comfrey that closes the ground round trees for nothing is the least cash at any wait."""
    trees = {
        "name": "plums",
        "kind": "tree",
        "shape": {"ring": {"radius": "70 cm"}},
        "count": 3,
        "needs": [{"cover": {"depth": "8 cm"}}],
    }
    ways = [
        buy(material="chipped wood"),
        {"name": "ring", "grow": {"plant": "comfrey", "around": "plums", "planted": "2027-04-01"}},
    ]
    found = chosen(options(site_of([trees], ways)), "cover")
    cheapest, least = found["cheapest by your dates"].option, found["least cash at any wait"].option
    assert cheapest is not None
    assert least is not None
    assert cheapest.name == "ring"
    assert least.cash <= cheapest.cash


def test_a_need_met_already_is_not_called_unmet(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Where the mulch lies deep enough, no sentence says that no way meets the need."""
    answer = options(
        site_of([bed({"cover": {"depth": "5 cm"}}, layer_now="9 cm")], [buy(material="chipped wood")])
    )
    assert answer.options[0].feasible
    assert not [one.sentence for one in choices(answer) if "no way meets it" in one.sentence]


def put_on(doses: Iterable[Application]) -> list[tuple[Any, ...]]:
    """Return doses as plain values."""
    return [
        (dose.place.name, dose.day, dose.material.name, dose.loose, dose.dug, dose.kind, dose.way, dose.share)
        for dose in doses
    ]


@draws(12)
@given(DRAWN, st.integers(0, 5), st.integers(1, 30))
def test_a_higher_price_never_lowers_cash(
    drawn_site: Callable[[Drawn], Site], drawn: Drawn, which: int, more: int
) -> None:
    """Raise one seller's price: no way's own row costs less, nor the cheapest where hours have no value.

    Several ways together are sized by their prices alone, without deliveries: a higher price may bring a
    pair to light that costs less, so rows of them are left out.
    """
    terms, kinds, _ = drawn
    dear = [
        (s, price + more if n == which % len(terms) else price, lorry, weeks, serves)
        for n, (s, price, lorry, weeks, serves) in enumerate(terms)
    ]
    before, after = options(drawn_site((terms, kinds, 0))), options(drawn_site((dear, kinds, 0)))
    alone = ([row for row in answer.options if len(row.supply.parts) == 1] for answer in (before, after))
    for one, other in zip(*alone, strict=True):
        assert one.cash <= other.cash
        assert put_on(one.decision.doses) == put_on(other.decision.doses)
    for kind in kinds:
        for question, one in chosen(before, kind).items():
            other = chosen(after, kind)[question]
            of_one_way = all(row.option and len(row.option.supply.parts) == 1 for row in (one, other))
            if question != "fastest" and of_one_way:
                assert one.option.cash <= other.option.cash


@draws(30)
@given(DRAWN, st.sampled_from(["5 years", "6 years", "9 years"]))
def test_a_longer_look_ahead_never_worsens(
    site_of: SiteOf, bed: Describe, buy: Describe, drawn: Drawn, horizon: str
) -> None:
    """Looking further ahead keeps every need met that was met, as soon and for no dearer first doses.

    What is put on within the shorter look ahead is the same, so that top-ups and later feeds only add cash.
    """
    terms, kinds, _ = drawn
    ways = [
        buy(name=f"way {n}", material=stuff, price=f"{price} EUR/m3", lead=f"{weeks} weeks")
        for n, (stuff, price, _, weeks, _) in enumerate(terms)
    ]
    places = [bed(*({kind: NEEDS[kind][0]} for kind in kinds))]
    short, long = (options(site_of(places, ways, horizon=years, soil=SOIL)) for years in ("4 years", horizon))
    alone = ([row for row in answer.options if len(row.supply.parts) == 1] for answer in (short, long))
    for one, other in zip(*alone, strict=True):
        assert other.feasible or not one.feasible
        if one.feasible:
            assert bought(other) <= bought(one)
            within = [
                [dose for dose in row.decision.every_dose if dose.day < short.site.end]
                for row in (one, other)
            ]
            assert put_on(within[0]) == put_on(within[1])
            assert other.cash >= one.cash
            assert (other.decision.ready_on or FAR) <= (one.decision.ready_on or FAR)


def test_another_way_never_makes_the_best_dearer(
    site_of: SiteOf, bed: Describe, buy: Describe, total: Callable[..., Any]
) -> None:
    """One more seller to choose from leaves the cheapest for each need as cheap or cheaper."""
    places = [bed({"dress": {"depth": "2 cm"}}, {"cover": {"depth": "5 cm"}})]
    ways = [
        buy(price="44 EUR/m3"),
        buy(name="other", price="30 EUR/m3", delivery="2 EUR"),
        buy(name="third", price="9 EUR/m3"),
    ]
    cash = [total(site_of(places, ways[:count], horizon="1 year")).cash for count in (1, 2, 3)]
    assert cash == sorted(cash, reverse=True)
    assert cash[0] > cash[1] > cash[2] > 0


def test_choices_in_words(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Each sentence names the way, its cash and the day, as its row has them."""
    place = bed({"dress": {"depth": "3 cm"}}, limits={"lift": ["yearly_depth"]})
    answer = options(site_of([place], [buy(lead="2 weeks")]))
    for one in choices(answer):
        assert one.option is not None
        assert all(word in one.sentence for word in ("yard", "12.00 EUR", "2027-03-15"))


@pytest.mark.parametrize(
    ("words", "more", "said"),
    [
        ({"by": "2028-03-01"}, {}, "ready 2030-03-01, too late."),
        ({}, {}, "ready 2030-03-01, not within a year of the first dose."),
        ({"by": "2031-03-01"}, {"limits": {"cash": "30 EUR"}}, "EUR over limits.cash."),
    ],
)
def test_the_least_cash_says_what_it_falls_short_of(
    site_of: SiteOf, bed: Describe, buy: Describe, words: dict[str, str], more: dict[str, Any], said: str
) -> None:
    """Late for a date, late without one, or over a limit: 6 % takes an inch in each of four years, a cubic metre."""
    need = {"raise": {"organic_matter": "6 %", "depth": "15 cm", **words}}
    answer = options(site_of([bed(need)], [buy()], **more))
    found = {choice.question: choice.sentence for choice in choices(answer)}
    assert found["least cash at any wait"].endswith(said)


def told_of(site: Site) -> list[str]:
    """Return the plain answers of a site in sentences."""
    answer = options(site)
    return choices_told(cheapest(answer), choices(answer))


def test_a_choice_of_one_row_says_so_where_several_are_followed(site_of: SiteOf, bed: Describe) -> None:
    """Cheap muck may be a quarter of a bed's fill and dear sand opens pots: each is filled by its own mix, for less."""
    fill = {"fill": {"volume": "1 m3"}}
    ways = [
        {"name": name, "buy": {"material": stuff, "price": f"{price} EUR/m3"}}
        for name, stuff, price in (
            *(("soil", "topsoil", 28), ("compost", "green compost", 36)),
            *(("sand", "sand", 32), ("muck", "mushroom compost", 22)),
        )
    ]
    both = site_of([bed(fill, name="beds"), bed(fill, name="tubs", kind="pot")], ways)
    [told] = told_of(both)
    assert " at any wait by one row for all places: " in told
    [told] = told_of(site_of([bed(fill)], ways))
    assert "by one row" not in told


def test_questions_of_one_answer_are_told_together(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Of one seller all three are one sentence; where the near one is dearer and soon, it is told apart."""
    places = [bed({"dress": {"depth": "2 cm"}})]
    near = buy(name="near", price="60 EUR/m3")
    alone, both = (site_of(places, ways) for ways in ([near], [near, buy(name="slow", lead="3 months")]))
    [told] = told_of(alone)
    assert told.startswith("dress, cheapest by your dates, fastest and least cash at any wait: near, ")
    first, second = told_of(both)
    assert first.startswith("dress, cheapest by your dates and least cash at any wait: slow, ")
    assert second.startswith("dress, fastest: near, ")


def test_over_a_limit_is_told_of_the_places_left_out_alone(site_of: SiteOf) -> None:
    """Chip for the pears, 40 m2 at 8 cm that settles by a fifth: 4 m3 at 80 EUR, 20 over 300. For all it is 9.25 m3, 440."""
    sizes = {"bed": (30, "6 cm"), "pears": (40, "8 cm"), "plums": (30, "8 cm")}
    site = site_of(
        [
            {
                "name": name,
                "kind": "bed" if name == "bed" else "row",
                "shape": {"area": f"{area} m2"},
                "needs": [{"cover": {"depth": deep}}],
            }
            for name, (area, deep) in sizes.items()
        ],
        [
            {"name": "chip", "buy": {"material": "arborist chip", "price": "80 EUR/m3"}},
            {"name": "pile", "have": {"material": "arborist chip", "amount": "6 m3"}},
        ],
        horizon="1 year",
        limits={"cash": "300 EUR"},
    )
    whole = cheapest(options(site))
    assert whole.places_left_out("cover") == ["pears"]
    because, _ = whole.why_left_out("cover", "pears")
    assert because == "chip would do, but 20.00 EUR over limits.cash beside the rest"


COMPOST = {"name": "compost", "buy": {"material": "green compost", "price": "40 EUR/m3"}}
CHIP = {"name": "chip", "buy": {"material": "arborist chip", "price": "20 EUR/m3"}}


@pytest.mark.parametrize("partial", [False, True])
def test_a_cover_is_the_dressing_too_where_its_stuff_suits(site_of: SiteOf, partial: bool) -> None:
    """A dressing of 4 cm of compost stops at an inch; the 5 cm that cover the row are as much of one."""
    needs = [{"dress": {"depth": "4 cm"}}, {"cover": {"depth": "5 cm"}}]
    row = {"name": "pears", "kind": "row", "shape": {"area": "40 m2"}, "needs": needs}
    whole = cheapest(options(site_of([row], [COMPOST], horizon="1 year")), partial)
    assert whole.met == ("dress", "cover")
    assert met_by_others(whole) == ([] if partial else ["dress, by what goes on for cover"])
    # no more lies there than the cover takes
    deep = sum(dose.depth(whole.together.answer.site, dose.day) for dose in whole.together.all_doses)
    assert deep == pytest.approx(0.05)


def test_a_cover_that_is_the_dressing_too_is_cheaper(site_of: SiteOf) -> None:
    """2.5 m3 of chip cover 40 m2 by 5 cm, 50 EUR; chip put on as a dressing first is topped up sooner."""
    needs = [{"dress": {"depth": "4 cm"}}, {"cover": {"depth": "5 cm"}}]
    row = {"name": "pears", "kind": "row", "shape": {"area": "40 m2"}, "needs": needs}
    whole = cheapest(options(site_of([row], [COMPOST, CHIP], horizon="1 year")))
    assert whole.met == ("dress", "cover")
    assert whole.bill.cash == 50


def test_chip_that_covers_a_bed_is_no_dressing(site_of: SiteOf) -> None:
    """Wood is not dressed where vegetables grow: that it covers the bed does not make it one."""
    needs = [{"dress": {"depth": "4 cm"}}, {"cover": {"depth": "5 cm"}}]
    bed = {"name": "bed", "kind": "bed", "shape": {"area": "40 m2"}, "needs": needs}
    whole = cheapest(options(site_of([bed], [CHIP], horizon="1 year")))
    assert whole.met == ("cover",)


@pytest.mark.parametrize(("by", "late"), [("2030-02-01", True), ("2028-02-01", False), ("", False)])
def test_a_raise_put_on_late_for_its_date_says_so(
    site_of: SiteOf, bed: Describe, buy: Describe, by: str, late: bool
) -> None:
    """The least for a late date stands idle for years: it is not the fastest there could be, and says so."""
    words = {"organic_matter": "2.4 %", "depth": "15 cm", "hold": "0 days", **({"by": by} if by else {})}
    site = site_of([bed({"raise": words})], [buy()], horizon="4 years")
    told = told_of(site)
    assert any('with a sooner "by:" it may be ready sooner' in sentence for sentence in told) == late
