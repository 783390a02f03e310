"""Hours: the barrow's trip by hand arithmetic, the published range, and what holds for all work."""

from __future__ import annotations

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.catalogue.rates import rates
from barrowful.costs.labour import Hours, carrying, spreading, wheeling, work

QUICK = draws(40)
LOOSE, PUSH, BARROW = st.floats(0, 500), st.floats(0, 5000), st.floats(0.02, 0.4)
ENDS = ("low", "likely", "high")
BY_AMOUNT = ("rake_out", "dig_in", "heap_build", "heap_turn", "cut", "plant", "sow")


@pytest.mark.parametrize("push", [0, 5, 10, 20, 40, 60, 80, 100, 150, 300])
def test_the_trip_by_hand(push: float) -> None:
    """An 85 L barrow filled in 3 min, tipped in half a minute, walked at 60 m/min, raked out at 20 min/m3."""
    trip = 3 + 0.5 + 2 * push / 60
    assert spreading(1.0, push, 0.085).likely == pytest.approx((trip / 0.085 + 20) / 60)
    assert wheeling(1.0, push, 0.085).likely == pytest.approx(trip / 0.085 / 60)


@pytest.mark.parametrize(
    ("push", "load_and_haul", "with_raking"),
    [
        (10, 0.75, 1.1),
        (20, 0.82, 1.15),
        (40, 0.95, 1.3),
        (60, 1.1, 1.4),
        (80, 1.2, 1.5),
        (100, 1.3, 1.7),
        (150, 1.7, 2.0),
    ],
)
def test_the_printed_rows_of_the_trip_model(push: float, load_and_haul: float, with_raking: float) -> None:
    """The rounded rows of the trip model, hours for each m3, to the twentieth they were rounded to."""
    assert wheeling(1.0, push, 0.085).likely == pytest.approx(load_and_haul, abs=0.051)
    assert spreading(1.0, push, 0.085).likely == pytest.approx(with_raking, abs=0.051)


@pytest.mark.parametrize("push", [5, 10, 20, 30, 40, 60, 80, 100])
@pytest.mark.parametrize("barrow", [0.065, 0.08, 0.085, 0.1])
def test_inside_the_published_range(push: float, barrow: float) -> None:
    """Practised people report 0.65 to 3 h/m3 for filling, a push and spreading; ours lies inside."""
    assert 0.65 <= spreading(1.0, push, barrow).likely <= 3.0


def test_the_ratio_of_short_to_long_pushes() -> None:
    """Haulage norms recalled from memory give some 1.7 times the work at 90 m as at 10 m."""
    assert wheeling(1.0, 90, 0.085).likely / wheeling(1.0, 10, 0.085).likely == pytest.approx(1.7, abs=0.1)


def in_order(hours: Hours) -> None:
    """Hold low, likely and high in order and none below nothing."""
    assert 0 <= hours.low <= hours.likely <= hours.high


@QUICK
@given(LOOSE, PUSH, BARROW, st.sampled_from(BY_AMOUNT))
def test_low_likely_high(loose: float, push: float, barrow: float, name: str) -> None:
    """Every kind of work has its low, likely and high hours in that order."""
    for hours in (wheeling(loose, push, barrow), spreading(loose, push, barrow), carrying(loose, push)):
        in_order(hours)
    in_order(work(name, loose))


@QUICK
@given(LOOSE, PUSH, PUSH, BARROW)
def test_a_longer_push_is_never_quicker(loose: float, push: float, further: float, barrow: float) -> None:
    """Pushing further takes as long or longer, at the low, likely and high end."""
    for one, other in (
        (wheeling(loose, push, barrow), wheeling(loose, push + further, barrow)),
        (spreading(loose, push, barrow), spreading(loose, push + further, barrow)),
        (carrying(loose, push), carrying(loose, push + further)),
    ):
        assert all(getattr(one, end) <= getattr(other, end) * (1 + 1e-12) for end in ENDS)


@QUICK
@given(st.floats(0.001, 100), st.floats(0.001, 100), st.floats(0, 500), BARROW, st.sampled_from(BY_AMOUNT))
def test_linear_in_the_amount(one: float, other: float, push: float, barrow: float, name: str) -> None:
    """Two heaps moved apart take as long as both together, and k times as much takes k times as long."""
    for reckon in (
        lambda much: spreading(much, push, barrow),
        lambda much: wheeling(much, push, barrow),
        lambda much: carrying(much, push),
        lambda much: work(name, much),
    ):
        apart, together, thrice = reckon(one) + reckon(other), reckon(one + other), reckon(one).times(3)
        for end in ENDS:
            assert getattr(apart, end) == pytest.approx(getattr(together, end), rel=1e-9)
            assert getattr(thrice, end) == pytest.approx(getattr(reckon(3 * one), end), rel=1e-9)


@QUICK
@given(st.floats(0.01, 100), PUSH, BARROW, st.floats(1, 3))
def test_a_larger_barrow_is_never_slower(loose: float, push: float, barrow: float, times: float) -> None:
    """Fewer trips with a larger barrow take no longer."""
    small, large = spreading(loose, push, barrow), spreading(loose, push, barrow * times)
    assert all(getattr(large, end) <= getattr(small, end) * (1 + 1e-12) for end in ENDS)


def test_leaf_goes_by_the_barrow() -> None:
    """35 kg of fresh leaf are two barrows of 17.5 kg: 40 m out and back at 60 m/min, half a minute to tip."""
    assert carrying(35.0, 40.0).likely == pytest.approx(2 * (80 / 60 + 0.5) / 60)


def test_hours_for_work_at_the_catalogue_s_rates() -> None:
    """Rates are multiplied by the amount in their own unit."""
    assert work("heap_turn", 2.0).likely == pytest.approx(1.2)
    assert work("rake_out", 3.0).likely == pytest.approx(1.0)
    assert work("dig_in", 30.0).likely == pytest.approx(1.0)
    assert work("plant", 66.0).likely == pytest.approx(66 * rates()["plant"].likely)


@pytest.mark.parametrize(
    ("name", "amount", "least", "most"), [("plant", 66, 0.6, 1.45), ("sow", 100, 0.4, 7)]
)
def test_published_planting_and_sowing(name: str, amount: float, least: float, most: float) -> None:
    """US Army Corps, appendix B, tables: 46 to 105 cuttings an hour; 0.4 to 7 h to sow 100 m2 broadcast."""
    found = work(name, amount)
    assert least * (1 - 1e-9) <= found.low <= found.high <= most * (1 + 1e-9)
