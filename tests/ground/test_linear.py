"""The small solvers against scipy's on programmes of every kind."""

from __future__ import annotations

from collections.abc import Callable

import numpy
import pytest
from draws import draws
from hypothesis import event, example, given
from hypothesis import strategies as st
from scipy.optimize import linprog

from barrowful.ground.linear import AtLeast, Corner, Growing, NoAnswer, maximise

SMALL = st.integers(-5, 5)
SOLVED, INFEASIBLE, UNBOUNDED = "solved", "nothing meets all the limits", "the gain has no bound"


@st.composite
def programmes(draw: st.DrawFn) -> tuple[list[int], list[list[int]], list[int]]:
    """Draw a gain, rows and limits in small whole numbers."""
    width, height = draw(st.integers(1, 4)), draw(st.integers(1, 5))
    rows = draw(st.lists(st.lists(SMALL, min_size=width, max_size=width), min_size=height, max_size=height))
    gain = draw(st.lists(SMALL, min_size=width, max_size=width))
    return gain, rows, draw(st.lists(st.integers(-6, 12), min_size=height, max_size=height))


def reference(gain: list[int], rows: list[list[int]], limits: list[int]) -> tuple[str, float]:
    """Ask scipy whether any point fits, and if one does, for the best; no best means no bound."""
    if linprog([0] * len(gain), rows, limits, method="highs").status != 0:
        return INFEASIBLE, 0.0
    answer = linprog([-one for one in gain], rows, limits, method="highs")
    return (SOLVED, -answer.fun) if answer.status == 0 else (UNBOUNDED, 0.0)


@draws(250)
@given(programmes())
def test_agrees_with_scipy(programme: tuple[list[int], list[list[int]], list[int]]) -> None:
    """Both find the same gain, or the same lack of an answer; our point keeps every limit."""
    gain, rows, limits = programme
    status, best = reference(gain, rows, limits)
    event(status)
    if status != SOLVED:
        with pytest.raises(NoAnswer, match=status):
            maximise(gain, rows, limits)
        return
    answer = numpy.array(maximise(gain, rows, limits))
    assert (answer >= -1e-9).all()
    assert (numpy.array(rows) @ answer <= numpy.array(limits) + 1e-7).all()
    assert float(numpy.array(gain) @ answer) == pytest.approx(best, abs=1e-7)


@draws(60)
@given(
    st.lists(st.tuples(st.floats(0.5, 200.0), st.floats(0.01, 5.0)), min_size=1, max_size=8),
    st.floats(0.1, 50.0),
)
def test_cheapest_cover_is_the_cheapest_material(offers: list[tuple[float, float]], need: float) -> None:
    """With one need and no caps the cheapest way is the material that costs least for what it gives."""
    prices = [-price for price, _ in offers]
    answer = maximise(prices, [[-gives for _, gives in offers]], [-need])
    cost = -sum(price * amount for price, amount in zip(prices, answer, strict=True))
    assert cost == pytest.approx(need * min(price / gives for price, gives in offers), rel=1e-9)


@draws(60)
@given(programmes(), st.randoms(use_true_random=False))
def test_order_of_rows_does_not_matter(
    programme: tuple[list[int], list[list[int]], list[int]], chance: object
) -> None:
    """Shuffled limits give the same gain or the same refusal."""
    gain, rows, limits = programme
    order = list(range(len(rows)))
    chance.shuffle(order)
    outcomes = []
    for some_rows, some_limits in (
        (rows, limits),
        ([rows[index] for index in order], [limits[index] for index in order]),
    ):
        try:
            answer = maximise(gain, some_rows, some_limits)
            outcomes.append(round(sum(g * x for g, x in zip(gain, answer, strict=True)), 6) + 0.0)
        except NoAnswer as refusal:
            outcomes.append(str(refusal))
    assert outcomes[0] == outcomes[1]


@pytest.mark.parametrize(
    ("gain", "rows", "limits", "expected"),
    [
        ([3, 2], [[1, 1], [1, 0]], [4, 3], [3, 1]),
        ([-1, -1], [[-1, 0], [0, -1]], [-2, -3], [2, 3]),
        ([0, 0], [[1, 1]], [1], [0, 0]),
        ([1, 0], [[1, 1], [-1, -1]], [2, -2], [2, 0]),
        ([1, 1], [[1, 1], [-1, -1], [1, 1], [-1, -1]], [2, -2, 2, -2], None),
        ([0.75, -150, 0.02, -6], [[0.25, -60, -0.04, 9], [0.5, -90, -0.02, 3], [0, 0, 1, 0]], [0, 0, 1],
         [0.04, 0, 1, 0]),
    ],
    ids=["plain", "needs only", "no gain", "an equality", "a row twice", "a programme that can cycle"],
)  # fmt: skip
def test_known_corners(gain: list, rows: list, limits: list, expected: list | None) -> None:
    """Corners worked out by hand; where a whole edge is best the gain alone is fixed."""
    answer = maximise(gain, rows, limits)
    if expected is None:
        assert sum(answer) == pytest.approx(2.0)
    else:
        assert answer == pytest.approx(expected)


def test_programme_without_limits() -> None:
    """With no limits a gain has no bound, and a loss is best left at nothing."""
    with pytest.raises(NoAnswer, match="the gain has no bound"):
        maximise([1], [], [])
    with pytest.raises(NoAnswer, match="the gain has no bound"):
        maximise([-1, 2], [], [])
    assert maximise([-1], [], []) == [0.0]
    assert maximise([0, -2], [], []) == [0.0, 0.0]
    assert maximise([], [], []) == []


@pytest.mark.parametrize(
    ("rows", "limits"),
    [([[1]], [-1]), ([[1, 1], [-1, -1]], [1, -2]), ([[0, 0]], [-1])],
    ids=["less than nothing", "less than it needs", "an empty row"],
)
def test_nothing_meets_all_limits(rows: list[list[int]], limits: list[int]) -> None:
    """A programme that no point fits is refused."""
    with pytest.raises(NoAnswer, match="nothing meets all the limits"):
        maximise([1] * len(rows[0]), rows, limits)


@st.composite
def covering(draw: st.DrawFn) -> tuple[list[int], list[float], list[list[int]], list[int]]:
    """Draw costs, the most of each unknown, rows and what they must come to, in small whole numbers."""
    width, height = draw(st.integers(1, 6)), draw(st.integers(1, 8))
    rows = draw(st.lists(st.lists(SMALL, min_size=width, max_size=width), min_size=height, max_size=height))
    cost = draw(st.lists(st.integers(0, 5), min_size=width, max_size=width))
    most = draw(st.lists(st.sampled_from([0.0, 1.0, 2.5, float("inf")]), min_size=width, max_size=width))
    return cost, most, rows, draw(st.lists(st.integers(-6, 12), min_size=height, max_size=height))


def short_of(rows: list[list[int]], at_least: list[int], answer: list[float]) -> AtLeast | None:
    """Return the row an answer is furthest short of, or None."""
    short = [
        limit - sum(each * value for each, value in zip(row, answer, strict=True))
        for row, limit in zip(rows, at_least, strict=True)
    ]
    worst = short.index(max(short))
    return (rows[worst], at_least[worst]) if short[worst] > 1e-9 else None


@draws(400)
@given(covering())
@example(
    (
        [0, 1, 0, 0, 0, 0],
        [1.0, 2.5, 2.5, 0.0, 2.5, 0.0],
        [[0, 0, 0, 0, 0, 0], [0, 1, -3, 0, 1, 0], [1, 0, 2, 0, 3, 0]],
        [0, 5, 6],
    )
)  # two at their most are just enough, but for what rounding leaves
def test_the_least_agrees_with_scipy(
    programme: tuple[list[int], list[float], list[list[int]], list[int]],
) -> None:
    """Both find the same cost, or none; our point keeps to every row and to the most of each."""
    cost, most, rows, at_least = programme
    bounds = [(0, None if each == float("inf") else each) for each in most]
    reference = linprog(cost, -numpy.array(rows), -numpy.array(at_least), bounds=bounds, method="highs")
    event(str(reference.status))
    if reference.status != 0:
        with pytest.raises(NoAnswer):
            Corner(cost, most).walked(lambda answer: short_of(rows, at_least, answer))
        return
    answer = Corner(cost, most).walked(lambda answer: short_of(rows, at_least, answer))
    assert all(0 <= each <= limit for each, limit in zip(answer, most, strict=True))
    assert (numpy.array(rows) @ answer >= numpy.array(at_least) - 1e-7).all()
    assert float(numpy.array(cost) @ answer) == pytest.approx(reference.fun, abs=1e-7)


@draws(300)
@given(covering(), st.lists(st.integers(0, 3), min_size=8, max_size=8), st.integers(-3, 3))
def test_a_corner_is_walked_on_from(
    programme: tuple[list[int], list[float], list[list[int]], list[int]], grows: list[int], more: int
) -> None:
    """Where rows ask for more, or for less, the walk from where they asked before ends as one from nothing."""
    cost, most, rows, at_least = programme
    corner = Corner(cost, most)

    def broken(units: int) -> Callable[[list[float]], Growing | None]:
        asked = [each + units * grow for each, grow in zip(at_least, grows, strict=False)]

        def worst(answer: list[float]) -> Growing | None:
            short = [limit - float(numpy.dot(row, answer)) for row, limit in zip(rows, asked, strict=True)]
            number = short.index(max(short))
            return (rows[number], asked[number], grows[number]) if short[number] > 1e-9 else None

        return worst

    try:
        corner.walked(broken(0))
    except NoAnswer:
        return
    try:
        fresh = Corner(cost, most).walked(broken(more))
    except NoAnswer:
        with pytest.raises(NoAnswer):
            corner.asked(more, most).walked(broken(more))
        return
    event("met")
    on = corner.asked(more, most).walked(broken(more))
    assert float(numpy.dot(cost, on)) == pytest.approx(float(numpy.dot(cost, fresh)), abs=1e-7)
    assert broken(more)(on) is None


@draws(300)
@given(covering(), st.sets(st.integers(0, 5)))
def test_a_corner_is_walked_on_from_without_some(
    programme: tuple[list[int], list[float], list[list[int]], list[int]], barred: set[int]
) -> None:
    """Where some unknowns may be nothing only, the walk on ends as one from nothing without them."""
    cost, most, rows, at_least = programme
    barred &= set(range(len(cost)))
    corner = Corner(cost, most)
    try:
        corner.walked(lambda answer: short_of(rows, at_least, answer))
    except NoAnswer:
        return
    for unknown in barred:
        corner.bar(unknown)
    left = Corner(cost, [0.0 if number in barred else each for number, each in enumerate(most)])
    try:
        least = left.walked(lambda answer: short_of(rows, at_least, answer))
    except NoAnswer:
        with pytest.raises(NoAnswer):
            corner.walked(lambda answer: short_of(rows, at_least, answer))
        return
    answer = corner.walked(lambda answer: short_of(rows, at_least, answer))
    assert all(answer[unknown] == 0 for unknown in barred)
    assert (numpy.array(rows) @ answer >= numpy.array(at_least) - 1e-7).all()
    assert float(numpy.dot(cost, answer)) == pytest.approx(float(numpy.dot(cost, least)), abs=1e-7)
