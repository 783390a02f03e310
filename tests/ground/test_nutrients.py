"""Nutrients: the ends of each rule's range, round numbers, and doses worked back."""

from __future__ import annotations

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.ground import nutrients

QUICK = draws(60)
SHARE = st.floats(0.0, 1.0)


def test_cover_crop_line_at_its_ends() -> None:
    """The published range runs from nothing at 1.5 % to half of the nitrogen at 3.5 %."""
    low, high = nutrients.COVER_CROP_RANGE
    assert (low, high) == (0.015, 0.035)
    assert nutrients.cover_crop_available(low) == 0.0
    assert nutrients.cover_crop_available(high) == pytest.approx(high / 2)


@QUICK
@given(st.floats(0.015, 0.06), st.floats(0.0, 0.015))
def test_cover_crop_line_is_straight(above: float, below: float) -> None:
    """Above 1.5 % each tenth of a percent brings 0.875 g a kilogram; below it brings nothing, never less."""
    rise = nutrients.cover_crop_available(above + 0.001) - nutrients.cover_crop_available(above)
    assert rise == pytest.approx(0.000875)
    assert nutrients.cover_crop_available(below) == 0.0
    assert nutrients.cover_crop_available(above) <= above


@QUICK
@given(SHARE)
def test_oxides_by_atomic_masses(share: float) -> None:
    """P is 61.948 parts in 141.943 of its oxide, K 78.196 in 94.195: the usual 0.436 and 0.830."""
    assert nutrients.phosphorus(share) == pytest.approx(share * 61.948 / 141.943, abs=1e-15)
    assert nutrients.potassium(share) == pytest.approx(share * 78.196 / 94.195, abs=1e-15)


def test_oxides_round_as_labels_do() -> None:
    """The factors round to those that extension services print, both ways."""
    assert round(nutrients.PHOSPHORUS_IN_PHOSPHATE, 3) == 0.436
    assert round(nutrients.POTASSIUM_IN_POTASH, 2) == 0.83
    assert round(1 / nutrients.PHOSPHORUS_IN_PHOSPHATE, 2) == 2.29
    assert round(1 / nutrients.POTASSIUM_IN_POTASH, 1) == 1.2


@QUICK
@given(st.floats(0.0, 10.0), st.floats(1.0, 1000.0))
def test_drawdown_balances(carbon: float, cn: float) -> None:
    """What is tied up and what the material holds make the microbes' one in 24; at 24 nothing is tied up."""
    tied = nutrients.drawdown(carbon, cn)
    assert tied + carbon / cn == pytest.approx(carbon / 24)
    assert nutrients.drawdown(carbon, 24.0) == 0.0
    assert (tied > 0) is (cn > 24) or tied == 0


@QUICK
@given(st.floats(0.0, 100.0), st.lists(st.floats(0.0, 0.3), max_size=5), st.integers(0, 12))
def test_a_dose_releases_its_shares(organic: float, shares: list[float], year: int) -> None:
    """Year by year a dose gives its shares and no more; the first year is year one, before it is nothing."""
    by_year = [nutrients.released(organic, shares, after) for after in range(1, len(shares) + 1)]
    assert sum(by_year) == pytest.approx(organic * sum(shares))
    assert nutrients.released(organic, shares, len(shares) + 1 + year) == 0.0
    assert nutrients.released(organic, shares, 0) == nutrients.released(organic, shares, -year) == 0.0


@QUICK
@given(st.floats(0.001, 1.0), st.floats(0.0001, 0.5))
def test_dose_turns_back(need: float, gives: float) -> None:
    """The dose brings the need, and a poorer material takes more of it."""
    dose = nutrients.dry_dose_for(need, gives)
    assert dose * gives == pytest.approx(need)
    assert nutrients.dry_dose_for(need, gives / 2) == pytest.approx(2 * dose)


@pytest.mark.parametrize("gives", [0.0, -0.28 * 0.001], ids=["none", "ties it up"])
def test_dose_of_what_gives_nothing(gives: float) -> None:
    """A material that gives none is refused and never asked for by the negative or endless ton."""
    with pytest.raises(ValueError, match="gives none"):
        nutrients.dry_dose_for(0.01, gives)


@QUICK
@given(st.floats(-50.0, 50.0))
def test_soil_test_follows_the_surplus(surplus: float) -> None:
    """A surplus raises the test and a deficit lowers it, 2.2417 g a square metre for one in a million."""
    assert nutrients.soil_test_rise(surplus) * 2.2417e6 == pytest.approx(surplus)
