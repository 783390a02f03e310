"""Lime for a rise of pH: in proportion to everything, nothing for a fall."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrowful.ground.lime import lime_for

RISE, FACTOR, DEPTH, STONES = st.floats(0, 7), st.floats(0.1, 2), st.floats(0.01, 1), st.floats(0, 0.95)


@given(RISE, FACTOR, DEPTH, STONES)
def test_lime_goes_in_proportion(rise: float, factor: float, depth: float, stones: float) -> None:
    """Twice the rise, the factor or the depth takes twice the lime, and half the fine soil half of it."""
    whole = lime_for(rise, factor, depth, stones)
    assert lime_for(2 * rise, factor, depth, stones) == pytest.approx(2 * whole)
    assert lime_for(rise, 2 * factor, depth, stones) == pytest.approx(2 * whole)
    assert lime_for(rise, factor, 2 * depth, stones) == pytest.approx(2 * whole)
    assert lime_for(rise, factor, depth, 0.5 + stones / 2) == pytest.approx(whole / 2)


@given(RISE, RISE, FACTOR, DEPTH, STONES)
def test_two_steps_take_what_one_takes(
    one: float, other: float, factor: float, depth: float, stones: float
) -> None:
    """Raised in two steps, ground takes the same lime."""
    steps = lime_for(one, factor, depth, stones) + lime_for(other, factor, depth, stones)
    assert lime_for(one + other, factor, depth, stones) == pytest.approx(steps)


@given(RISE, FACTOR, DEPTH, STONES)
def test_a_fall_takes_none(rise: float, factor: float, depth: float, stones: float) -> None:
    """Nothing is taken back."""
    assert lime_for(-rise, factor, depth, stones) == 0
