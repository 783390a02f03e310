"""Decay against a general solver of differential equations, and against sums done the long way."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy
import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from barrowful.ground import decay
from barrowful.soil.fading import fresh_fading, humus_fading

QUICK = draws(60)
SLOW = draws(15)


def tidy(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw numbers of three decimals, none of them too small for a step of the solver."""
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda thousandths: thousandths / 1000)


RATE = tidy(0.02, 6.0)
SHARE = tidy(0.0, 1.0)
YEARS = tidy(0.0, 30.0)
PULSES = st.lists(st.tuples(tidy(0.0, 10.0), tidy(0.01, 5.0)), min_size=1, max_size=4)


def solve(start: list[float], a: float, b: float, h: float, years: float) -> list[float]:
    """Follow fresh carbon, humus and carbon lost to the air by stepping through the equations."""

    def change(_: float, stocks: numpy.ndarray) -> list[float]:
        fresh, humus, _air = stocks
        return [-a * fresh, h * a * fresh - b * humus, (1 - h) * a * fresh + b * humus]

    if years == 0:
        return start
    answer = solve_ivp(change, (0, years), start, method="DOP853", rtol=1e-9, atol=1e-12)
    return [float(stock[-1]) for stock in answer.y]


@SLOW
@given(PULSES, RATE, RATE, SHARE)
def test_dated_pulses_add_up(pulses: list[tuple[float, float]], a: float, b: float, h: float) -> None:
    """Additions on any dates, each in closed form, sum to what the equations give step by step."""
    end, stocks, now = 12.0, [0.0, 0.0, 0.0], 0.0
    for day, carbon in sorted(pulses):
        stocks, now = solve(stocks, a, b, h, day - now), day
        stocks[0] += carbon
    stocks = solve(stocks, a, b, h, end - now)
    fresh = sum(carbon * decay.fresh_left(end - day, a) for day, carbon in pulses)
    humus = sum(carbon * decay.humus_formed(end - day, a, b, h) for day, carbon in pulses)
    assert fresh == pytest.approx(stocks[0], rel=1e-5, abs=1e-8)
    assert humus == pytest.approx(stocks[1], rel=1e-5, abs=1e-8)
    assert sum(carbon for _, carbon in pulses) == pytest.approx(sum(stocks), rel=1e-6)


@QUICK
@given(YEARS, RATE, RATE, SHARE)
def test_carbon_is_neither_made_nor_lost(years: float, a: float, b: float, h: float) -> None:
    """Fresh, humus and what has gone to the air make one, and none of them leaves nought to one."""
    fresh, humus = decay.fresh_left(years, a), decay.humus_formed(years, a, b, h)
    gone = (1 - h) * (1 - fresh) + b * humus_years(years, a, b, h)
    assert fresh + humus + gone == pytest.approx(1.0, abs=1e-7)
    for stock in (fresh, humus, 1 - fresh - humus):
        assert -1e-9 <= stock <= 1 + 1e-9


def humus_years(years: float, a: float, b: float, h: float) -> float:
    """Integrate the humus of one addition over time, by Gauss-Legendre on pieces."""
    nodes, weights = numpy.polynomial.legendre.leggauss(24)
    pieces = numpy.linspace(0.0, years, 25)
    total = 0.0
    for low, high in pairwise(pieces):
        middle, half = (low + high) / 2, (high - low) / 2
        total += sum(
            weight * half * decay.humus_formed(float(middle + half * node), a, b, h)
            for node, weight in zip(nodes, weights, strict=True)
        )
    return float(total)


@QUICK
@given(tidy(0.01, 30.0), RATE, RATE, tidy(0.01, 1.0))
def test_fresh_only_falls(years: float, a: float, b: float, h: float) -> None:
    """Later there is less fresh carbon; a faster rate leaves less; a better coefficient leaves more humus."""
    assert decay.fresh_left(years, a) < decay.fresh_left(years * 0.9, a)
    assert decay.fresh_left(years, a * 1.1) < decay.fresh_left(years, a)
    assert decay.humus_formed(years, a, b, h) > decay.humus_formed(years, a, b, h * 0.9)
    assert decay.humus_formed(years, a, b * 1.1, h) < decay.humus_formed(years, a, b, h)


@QUICK
@given(tidy(0.0, 20.0), RATE, SHARE)
def test_equal_rates_are_no_special_case(years: float, rate: float, h: float) -> None:
    """Where both rates meet the answer is the limit of the answers round about."""
    near = [decay.humus_formed(years, rate * (1 + shift), rate, h) for shift in (-1e-5, 1e-5)]
    assert decay.humus_formed(years, rate, rate, h) == pytest.approx(sum(near) / 2, rel=1e-6, abs=1e-12)
    assert decay.humus_formed(years, rate, rate, h) == pytest.approx(
        h * rate * years * math.exp(-rate * years), rel=1e-9, abs=1e-15
    )


@QUICK
@given(tidy(0.0, 60.0), RATE, RATE, SHARE)
def test_a_fading_is_the_relation_in_parts(years: float, a: float, b: float, h: float) -> None:
    """The sum of exponentials that the program follows is the published relation, equal rates too."""
    assert fresh_fading(a).at(years) == decay.fresh_left(years, a)
    for other in (b, a):
        formed = decay.humus_formed(years, a, other, h)
        assert humus_fading(a, other, h).at(years) == pytest.approx(formed, rel=1e-6, abs=1e-7)


@QUICK
@given(tidy(0.001, 0.999), RATE)
def test_years_to_lose_turns_back(left: float, a: float) -> None:
    """After the years that it takes to lose a share, that share is left."""
    assert decay.fresh_left(decay.years_to_lose(left, a), a) == pytest.approx(left, rel=1e-12)


ROTTING = st.lists(st.tuples(tidy(0.1, 50.0), tidy(0.01, 6.0)), min_size=1, max_size=5)


@QUICK
@given(tidy(0.01, 0.99), ROTTING)
def test_years_to_lose_of_several_turn_back(left: float, pairs: list[tuple[float, float]]) -> None:
    """After those years that share is left of all together; scipy finds the same; one alone is the closed form."""
    stuffs = [decay.Rotting(carbon, rate) for carbon, rate in pairs]
    years = decay.years_to_lose_of_several(left, stuffs)

    def over(after: float) -> float:
        held = math.fsum(carbon * decay.fresh_left(after, rate) for carbon, rate in pairs)
        return held - left * math.fsum(carbon for carbon, _ in pairs)

    assert over(years) == pytest.approx(0.0, abs=1e-9 * sum(carbon for carbon, _ in pairs))
    assert years == pytest.approx(brentq(over, 0.0, 1000.0, xtol=1e-12), rel=1e-8)
    alone = decay.years_to_lose_of_several(left, stuffs[:1])
    assert alone == pytest.approx(decay.years_to_lose(left, pairs[0][1]), rel=1e-9)
    assert decay.years_to_lose_of_several(left, stuffs[::-1]) == pytest.approx(years, rel=1e-9)


@QUICK
@given(tidy(0.0, 3.0), tidy(0.1, 6.0), tidy(0.1, 6.0), SHARE)
def test_additions_for_ever_are_the_sum_of_their_ages(age: float, a: float, b: float, h: float) -> None:
    """Yearly additions without a beginning are the pulses of every age, summed until none is left."""
    ages = [age + year for year in range(400)]
    fresh = math.fsum(decay.fresh_left(one, a) for one in ages)
    assert decay.fresh_of_ages(age, a) == pytest.approx(fresh, rel=1e-9)
    for other in (b, a):
        humus = math.fsum(decay.humus_formed(one, a, other, h) for one in ages)
        assert humus_fading(a, other, h).of_ages(age) == pytest.approx(humus, rel=1e-5, abs=1e-9)


@QUICK
@given(tidy(0.1, 6.0), tidy(0.1, 6.0), SHARE)
def test_over_the_year_what_comes_is_what_goes(a: float, b: float, h: float) -> None:
    """Averaged over the year, endless yearly doses stand where the equations level off: 1 / a and h / b."""
    nodes, weights = numpy.polynomial.legendre.leggauss(24)
    ages = [float(node + 1) / 2 for node in nodes]
    fresh = sum(w / 2 * decay.fresh_of_ages(age, a) for w, age in zip(weights, ages, strict=True))
    humus = sum(w / 2 * humus_fading(a, b, h).of_ages(age) for w, age in zip(weights, ages, strict=True))
    assert fresh == pytest.approx(1 / a, rel=1e-9)
    assert humus == pytest.approx(h / b, rel=1e-5, abs=1e-9)


def test_nothing_changes_in_frozen_ground() -> None:
    """Where nothing decays, all that was added is still there and none of it is humus."""
    assert decay.fresh_left(9.0, 0.0) == 1.0
    assert decay.humus_formed(9.0, 0.0, 0.0, 0.4) == 0.0
    assert decay.years_to_lose(0.5, 0.0) == math.inf
    assert decay.years_to_lose_of_several(0.5, [decay.Rotting(1.0, 0.0)]) == math.inf
    assert decay.years_to_lose_of_several(0.5, [decay.Rotting(1.0, 0.0), decay.Rotting(1.0, 3.0)]) == math.inf
    assert decay.years_to_lose_of_several(0.5, [decay.Rotting(1.0, 1e-300)]) == math.inf
    assert decay.fresh_of_ages(1.0, 0.0) == math.inf
    assert humus_fading(0.0, 0.0, 0.4).of_ages(1.0) == 0.0


@QUICK
@given(tidy(0.2, 10.0), tidy(0.01, 1.0))
def test_top_up_turns_back(half: float, keep: float) -> None:
    """When it is time to top up, the layer has fallen to the share that was to be kept."""
    years = decay.years_to_top_up(half, keep)
    assert years >= 0
    assert decay.depth_left(half, years) == pytest.approx(keep, rel=1e-12)


def test_a_layer_need_not_be_kept() -> None:
    """A layer of which nothing need stay is never topped up."""
    assert decay.years_to_top_up(2.0, 0.0) == math.inf


def test_many_times_at_once() -> None:
    """An array of times gives an array of answers, each the answer for one time."""
    years = numpy.linspace(0.0, 10.0, 7)
    fresh = decay.fresh_left(years, 0.4)
    humus = decay.humus_formed(years, 0.4, 0.13, 0.4)
    alike = decay.humus_formed(years, 0.4, 0.4, 0.4)
    depth = decay.depth_left(2.0, years)
    for index, one in enumerate(years.tolist()):
        assert fresh[index] == pytest.approx(decay.fresh_left(one, 0.4))
        assert humus[index] == pytest.approx(decay.humus_formed(one, 0.4, 0.13, 0.4))
        assert alike[index] == pytest.approx(decay.humus_formed(one, 0.4, 0.4, 0.4))
        assert depth[index] == pytest.approx(decay.depth_left(2.0, one))
