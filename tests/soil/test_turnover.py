"""What doses become: against a solver of the differential equations, and what must hold of any model."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy
import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from barrowful.catalogue.materials import Material, material, names
from barrowful.catalogue.rates import rates
from barrowful.ground.climate import temperature_factor
from barrowful.site.records import Climate, Soil
from barrowful.soil.pools import CarbonPool
from barrowful.soil.turnover import Range, Turnover, turnover, turnovers_of

QUICK = draws(60)
SLOW = draws(15)
YEAR = 365.25


def known(name: str) -> Material:
    """Return a material of the catalogue."""
    stuff = material(name)
    assert stuff is not None
    return stuff


#: Materials that decay; sand and topsoil do not.
NAMES = [name for name in names() if not known(name).lacks("decay", "humus")]


def tidy(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw numbers of three decimals, none of them too small for a step of the solver."""
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda thousandths: thousandths / 1000)


TURNOVERS = st.builds(
    turnover,
    fresh=tidy(0.051, 6.0).map(lambda rate: rate + 0.0005),
    humus=tidy(0.05, 0.5),
    slow=tidy(0.001, 0.049),
    share=tidy(0.0, 1.0),
    slow_share=tidy(0.0, 1.0),
    counts_fresh=st.booleans(),
)
CLIMATES = st.builds(
    Climate,
    temperatures=st.lists(tidy(-4.0, 30.0), min_size=12, max_size=12).map(tuple),
    assumed=st.just(False),
    balance=st.none() | tidy(-700.0, 500.0),
)
SOILS = st.builds(Soil, clay=st.none() | tidy(0.0, 0.6))
PROGRAMMES = st.lists(st.tuples(st.integers(0, 4000), tidy(0.01, 5.0)), min_size=1, max_size=5)


def stepped(turns: Turnover, doses: list[tuple[int, float]], end: int) -> list[float]:
    """Follow fresh carbon, active and slow humus and what went to the air through the equations."""

    def change(_: float, stocks: numpy.ndarray) -> list[float]:
        fresh, active, slow, _air = stocks
        goes, humified = turns.fresh * fresh, turns.share * turns.fresh * fresh
        return [
            -goes,
            (1 - turns.slow_share) * humified - turns.humus * active,
            turns.slow_share * humified - turns.slow * slow,
            goes - humified + turns.humus * active + turns.slow * slow,
        ]

    stocks, now = [0.0] * 4, 0
    for day, carbon in [*sorted(doses), (end, 0.0)]:
        if day > now:
            span = (0.0, (day - now) / YEAR)
            answer = solve_ivp(change, span, stocks, method="DOP853", rtol=1e-9, atol=1e-12)
            stocks, now = [float(stock[-1]) for stock in answer.y], day
        stocks[0] += carbon
    return stocks


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("days", [0, 30, 120, 365, 2000, 20000])
def test_humus_keeps_its_order_too(name: str, days: int) -> None:
    """Where fresh carbon goes fastest in the low course it makes most humus at first: low is still the least."""
    home = Climate(temperatures=(12.0,) * 12, assumed=False)
    pool = CarbonPool(turnovers_of(known(name), home, Soil(), True), True, 0)
    pool.add(1.0)
    pool.carry(days)
    for low, likely, high in (pool.humus, pool.whole, pool.counted):
        assert low <= likely + 1e-12
        assert likely <= high + 1e-12


@SLOW
@given(TURNOVERS, PROGRAMMES)
def test_programmes_are_what_the_equations_give(turns: Turnover, doses: list[tuple[int, float]]) -> None:
    """Doses on any days, each in closed form, sum to what a solver finds; with what is gone they are all."""
    end = 5000
    fresh, active, slow, air = stepped(turns, doses, end)
    ages = [(carbon, (end - day) / YEAR) for day, carbon in doses]
    assert sum(carbon * turns.left(age) for carbon, age in ages) == pytest.approx(fresh, rel=1e-5, abs=1e-7)
    formed = sum(carbon * turns.formed(age) for carbon, age in ages)
    assert formed == pytest.approx(active + slow, rel=1e-5, abs=1e-7)
    assert fresh + active + slow + air == pytest.approx(sum(carbon for _, carbon in doses), rel=1e-6)


@SLOW
@given(TURNOVERS, PROGRAMMES)
def test_a_pool_carried_is_the_sum_of_its_doses(turns: Turnover, doses: list[tuple[int, float]]) -> None:
    """A pool carried from day to day holds what the doses, each by itself, have become."""
    pool = CarbonPool(Range(turns, turns, turns), True, 0)
    for day, carbon in sorted(doses):
        pool.carry(day)
        pool.add(carbon)
    pool.carry(5000)
    ages = [(carbon, (5000 - day) / YEAR) for day, carbon in doses]
    counted = sum(carbon * turns.counted(age) for carbon, age in ages)
    assert pool.counted == pytest.approx((counted,) * 3, rel=1e-9, abs=1e-9)
    assert pool.whole == pytest.approx(
        (sum(carbon * (turns.left(age) + turns.formed(age)) for carbon, age in ages),) * 3,
        rel=1e-9,
        abs=1e-9,
    )


MILD = Climate(temperatures=(10.0,) * 12, assumed=False)


@QUICK
@given(TURNOVERS, tidy(0.0, 150.0), tidy(0.001, 20.0))
def test_carbon_only_goes(turns: Turnover, years: float, later: float) -> None:
    """Fresh and humus together are never more than was put on, and never grow; neither is below nothing."""
    now, then = (turns.left(at) + turns.formed(at) for at in (years, years + later))
    assert 0 <= then <= now + 1e-9
    assert now <= 1 + 1e-9
    assert turns.formed(years) >= -1e-9
    assert turns.left(years + later) < turns.left(years) or turns.left(years) < 1e-300


@QUICK
@given(TURNOVERS, tidy(0.01, 2.0))
def test_what_counts_has_one_best_day(turns: Turnover, step: float) -> None:
    """What a dose counts for rises to one day and falls ever after; searches for doses lean on that."""
    counted = [turns.counted(step * number) for number in range(200)]
    best = counted.index(max(counted))
    assert all(before <= after + 1e-12 for before, after in pairwise(counted[: best + 1]))
    assert all(before + 1e-12 >= after for before, after in pairwise(counted[best:]))
    if best < 199:
        assert step * (best - 1) <= turns.peak_days / YEAR + 1e-9
        assert turns.peak_days / YEAR <= step * (best + 1) + 1 / YEAR


@QUICK
@given(TURNOVERS, tidy(0.01, 150.0))
def test_more_humus_of_more_humified_or_slower(turns: Turnover, years: float) -> None:
    """A better coefficient, a larger slow share or slower humus never leave less."""
    base = turns.formed(years)
    wider = min(1.0, turns.share + 0.05), min(1.0, turns.slow_share + 0.05)

    def with_(**changes: float) -> float:
        figures = {
            "fresh": turns.fresh,
            "humus": turns.humus,
            "slow": turns.slow,
            "share": turns.share,
            "slow_share": turns.slow_share,
        }
        return turnover(**{**figures, **changes}, counts_fresh=False).formed(years)

    assert with_(share=wider[0]) >= base - 1e-12
    assert with_(slow_share=wider[1]) >= base - 1e-9
    assert with_(humus=turns.humus * 0.9) >= base - 1e-9
    assert with_(slow=turns.slow * 0.9) >= base - 1e-9


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("dug", [True, False])
@draws(15)
@given(climate=CLIMATES, soil=SOILS, years=tidy(0.0, 200.0))
def test_a_range_holds_the_likely_value(
    name: str, dug: bool, climate: Climate, soil: Soil, years: float
) -> None:
    """At every lag, in every climate and soil, low is no more than likely, and likely no more than high."""
    range_ = turnovers_of(known(name), climate, soil, dug)
    for low, likely, high in (
        [turns.formed(years) for turns in range_] if not range_.likely.counts_fresh else [0.0, 0.0, 0.0],
        [turns.left(years) + turns.formed(years) for turns in range_],
        [turns.counted(years) for turns in range_],
    ):
        assert low - 1e-9 <= likely <= high + 1e-9


@SLOW
@given(TURNOVERS, PROGRAMMES)
def test_the_order_of_doses_is_nothing(turns: Turnover, doses: list[tuple[int, float]]) -> None:
    """Doses add up: twice as much makes twice as much, and two programmes make what each makes."""

    def made(some: list[tuple[int, float]]) -> float:
        return sum(carbon * turns.counted((5000 - day) / YEAR) for day, carbon in some)

    assert made(doses[::-1]) == pytest.approx(made(doses), rel=1e-12, abs=1e-15)
    assert made([(day, 2 * carbon) for day, carbon in doses]) == pytest.approx(2 * made(doses), rel=1e-12)
    assert made(doses[:1]) + made(doses[1:]) == pytest.approx(made(doses), rel=1e-12, abs=1e-15)


@QUICK
@given(TURNOVERS, tidy(0.05, 3.0))
def test_doses_for_ever_are_the_sum_of_their_ages(turns: Turnover, age: float) -> None:
    """What counts of yearly doses without a beginning is what the dose of every age has become."""
    ages = numpy.arange(age, 60_000 + age)
    humus = numpy.zeros_like(ages)
    for part, lost in ((1 - turns.slow_share, turns.humus), (turns.slow_share, turns.slow)):
        factor = part * turns.share * turns.fresh / (turns.fresh - lost)
        humus += factor * (numpy.exp(-lost * ages) - numpy.exp(-turns.fresh * ages))
    fresh = numpy.exp(-turns.fresh * ages) if turns.counts_fresh else 0.0
    assert turns.counted_forever(age) == pytest.approx(float((humus + fresh).sum()), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "factor"),
    [
        ("straw", 0.25),
        ("hay", 0.25),
        ("arborist chip", 1.0),
        ("sawdust", 1.0),
        ("autumn leaves", 0.65),
        ("grass clippings", 0.65),
        ("green compost", 0.65),
        ("farmyard manure", 0.65),
        ("cardboard", 0.65),
    ],
)
def test_what_lies_on_top_goes_slower(name: str, factor: float) -> None:
    """Straw on top goes at a quarter of the rate, other soft stuff at 65 %, wood as fast as dug in."""
    on_top, dug = (turnovers_of(known(name), MILD, Soil(), manner).likely.fresh for manner in (False, True))
    assert on_top == pytest.approx(factor * dug)


def test_compost_dug_in_by_hand() -> None:
    """Green compost at 15 degC after 5 years: 0.0183 fresh, 0.1748 active and 0.1163 slow humus.

    Fresh goes at 0.8 a year: exp(-4) = 0.0183. Of what goes half is humus, three quarters of it active:
    0.375 x 0.8 / 0.6 x (exp(-1) - exp(-4)) = 0.1748; and an eighth slow: 0.125 x 0.8 / 0.786 x
    (exp(-0.07) - exp(-4)) = 0.1163.
    """
    at_home = Climate(temperatures=(15.0,) * 12, assumed=False)
    turns = turnovers_of(known("green compost"), at_home, Soil(), True).likely
    active = 0.375 * 0.8 / 0.6 * (math.exp(-1) - math.exp(-4))
    slow = 0.125 * 0.8 / 0.786 * (math.exp(-0.07) - math.exp(-4))
    assert turns.left(5.0) == pytest.approx(0.0183, abs=5e-5)
    assert (active, slow) == pytest.approx((0.1748, 0.1163), abs=5e-5)
    assert turns.formed(5.0) == pytest.approx(active + slow, rel=1e-9)


def test_clay_slows_humus_and_not_what_is_fresh() -> None:
    """40 % clay slows both parts of humus to exp(-2.519 x 0.2) = 0.6042, and the fresh rate not at all."""
    loam, clay = (turnovers_of(known("straw"), MILD, Soil(clay=share), True).likely for share in (0.2, 0.4))
    assert clay.humus / loam.humus == pytest.approx(0.6042, abs=5e-5)
    assert clay.slow / loam.slow == pytest.approx(0.6042, abs=5e-5)
    assert clay.fresh == loam.fresh


def test_ten_degrees_by_hand() -> None:
    """At 10 degC all year RothC's curve has 0.5789 of the rates at 15 degC, for every part."""
    turns = turnovers_of(known("straw"), MILD, Soil(), True).likely
    warmth = 47.91 / (1 + math.exp(106.06 / 28.27)) / (47.91 / (1 + math.exp(106.06 / 33.27)))
    assert warmth == pytest.approx(0.5789, abs=5e-5)
    assert temperature_factor(10.0) == pytest.approx(warmth)
    assert (turns.fresh, turns.humus, turns.slow) == pytest.approx((2 * warmth, 0.2 * warmth, 0.014 * warmth))


def test_the_fresh_rate_moves_only_where_fresh_counts() -> None:
    """Dug-in compost has the fast end of its decay in the low course; chip, and compost on top, the likely."""
    decays = known("green compost").figures["decay"]
    factor = temperature_factor(10.0)
    dug = turnovers_of(known("green compost"), MILD, Soil(), True)
    assert [turns.fresh / factor for turns in dug] == pytest.approx([decays.high, decays.likely, decays.low])
    for range_ in (
        turnovers_of(known("green compost"), MILD, Soil(), False),
        turnovers_of(known("arborist chip"), MILD, Soil(), True),
    ):
        assert len({turns.fresh for turns in range_}) == 1


def test_slow_humus_is_slower_than_active_at_every_end() -> None:
    """Else a larger slow share would not mean more humus, and the ranges would not keep their order."""
    assert rates()["slow_humus_rate"].high < rates()["humus_rate"].low
