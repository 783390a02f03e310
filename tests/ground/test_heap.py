"""Mixing heaps: conservation, bounds, and masses that are asked for and then checked by mixing."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from draws import draws
from hypothesis import assume, event, given
from hypothesis import strategies as st
from scipy.optimize import linprog

from barrowful.ground import heap
from barrowful.ground.heap import Part

QUICK = draws(80)
PERCENT = st.integers(5, 95).map(lambda one: one / 100)


@st.composite
def parts(draw: st.DrawFn) -> Part:
    """Draw a material in whole percents and tenths of a percent of nitrogen."""
    return Part(
        mass=draw(st.integers(1, 5000)) / 10,
        moisture=draw(PERCENT),
        carbon=draw(st.integers(20, 55)) / 100,
        nitrogen=draw(st.integers(1, 60)) / 1000,
    )


MIXES = st.lists(parts(), min_size=1, max_size=6)


def scaled(part: Part, mass: float) -> Part:
    """Take another mass of the same material."""
    return Part(mass, part.moisture, part.carbon, part.nitrogen)


def merged(one: Part, other: Part) -> Part:
    """Make one material of two by adding up water, dry matter, carbon and nitrogen."""
    mass, dry = one.mass + other.mass, one.dry + other.dry
    return Part(
        mass,
        1 - dry / mass,
        (one.dry * one.carbon + other.dry * other.carbon) / dry,
        (one.dry * one.nitrogen + other.dry * other.nitrogen) / dry,
    )


def ratio(part: Part) -> float:
    """Give the C:N of one material."""
    return part.carbon / part.nitrogen


@QUICK
@given(MIXES)
def test_a_blend_lies_between_its_parts(mix: list[Part]) -> None:
    """Neither moisture nor C:N of a mix leaves the range of its parts."""
    moistures, ratios = [part.moisture for part in mix], [ratio(part) for part in mix]
    assert min(moistures) * (1 - 1e-12) <= heap.blend_moisture(mix) <= max(moistures) * (1 + 1e-12)
    assert min(ratios) * (1 - 1e-12) <= heap.blend_cn(mix) <= max(ratios) * (1 + 1e-12)


@QUICK
@given(MIXES)
def test_a_blend_keeps_water_carbon_and_nitrogen(mix: list[Part]) -> None:
    """What is in the mix is what was in its parts, summed in exact fractions."""
    exact = [
        tuple(Fraction(str(number)) for number in (part.mass, part.moisture, part.carbon, part.nitrogen))
        for part in mix
    ]
    mass = sum(q for q, _, _, _ in exact)
    carbon = sum(q * (1 - m) * c for q, m, c, _ in exact)
    nitrogen = sum(q * (1 - m) * n for q, m, _, n in exact)
    assert heap.blend_moisture(mix) == pytest.approx(float(sum(q * m for q, m, _, _ in exact) / mass))
    assert heap.blend_cn(mix) == pytest.approx(float(carbon / nitrogen))
    assert sum(part.dry for part in mix) == pytest.approx(float(sum(q * (1 - m) for q, m, _, _ in exact)))


@QUICK
@given(MIXES, st.randoms(use_true_random=False), st.floats(0.001, 1000.0))
def test_order_and_scale_do_not_matter(mix: list[Part], chance: object, times: float) -> None:
    """A mix turned about, or made many times larger, is the same mix."""
    other = [scaled(part, part.mass * times) for part in mix]
    chance.shuffle(other)
    assert heap.blend_moisture(other) == pytest.approx(heap.blend_moisture(mix), rel=1e-12)
    assert heap.blend_cn(other) == pytest.approx(heap.blend_cn(mix), rel=1e-12)


@QUICK
@given(parts(), parts(), MIXES)
def test_merging_two_parts_first_changes_nothing(one: Part, other: Part, mix: list[Part]) -> None:
    """It does not matter whether two materials meet in a bucket or in the heap."""
    apart, together = [one, other, *mix], [merged(one, other), *mix]
    assert heap.blend_moisture(together) == pytest.approx(heap.blend_moisture(apart), rel=1e-9)
    assert heap.blend_cn(together) == pytest.approx(heap.blend_cn(apart), rel=1e-9)


@QUICK
@given(parts(), st.integers(1, 9))
def test_equal_parts_blend_to_themselves(part: Part, count: int) -> None:
    """Heaps of one material have its moisture and its C:N."""
    assert heap.blend_moisture([part] * count) == pytest.approx(part.moisture, rel=1e-12)
    assert heap.blend_cn([part] * count) == pytest.approx(ratio(part), rel=1e-12)


@QUICK
@given(MIXES, st.floats(0.1, 1000.0))
def test_water_changes_moisture_only(mix: list[Part], litres: float) -> None:
    """Water makes a mix wetter and leaves C:N as it was."""
    wetter = [*mix, Part(litres, 1.0, 0.0, 0.0)]
    assert heap.blend_moisture(wetter) > heap.blend_moisture(mix)
    assert heap.blend_cn(wetter) == pytest.approx(heap.blend_cn(mix), rel=1e-12)


@QUICK
@given(MIXES, PERCENT)
def test_water_to_add_reaches_the_moisture(mix: list[Part], target: float) -> None:
    """The mix with the water added, or taken away when it is negative, has the moisture asked for."""
    water = heap.water_to_add(mix, target)
    now = heap.blend_moisture(mix)
    assert (water > 0) is (target > now) or math.isclose(target, now)
    assert heap.blend_moisture([*mix, Part(water, 1.0, 0.0, 0.0)]) == pytest.approx(target, rel=1e-9)


@QUICK
@given(parts(), parts(), st.integers(8, 120))
def test_second_for_cn_turns_back(first: Part, second: Part, target: int) -> None:
    """Mixing the mass that was asked for hits the C:N; a refusal means that no mass on a grid does."""
    low, high = sorted((ratio(first), ratio(second)))
    assume(all(abs(target - one) > 1e-6 for one in (low, high)))
    if low < target < high:
        mass = heap.second_for_cn(first, second, target)
        assert mass > 0
        assert heap.blend_cn([first, scaled(second, mass)]) == pytest.approx(target, rel=1e-9)
        return
    with pytest.raises(heap.Unreachable, match="cannot be reached"):
        heap.second_for_cn(first, second, target)
    reached = [heap.blend_cn([first, scaled(second, 10.0**power)]) for power in range(-4, 8)]
    assert all(one < target for one in reached) or all(one > target for one in reached)


@QUICK
@given(parts(), parts(), PERCENT)
def test_second_for_moisture_turns_back(first: Part, second: Part, target: float) -> None:
    """Mixing the mass that was asked for hits the moisture; a refusal means that no mass on a grid does."""
    low, high = sorted((first.moisture, second.moisture))
    assume(target not in (low, high))
    if low < target < high:
        mass = heap.second_for_moisture(first, second, target)
        assert mass > 0
        assert heap.blend_moisture([first, scaled(second, mass)]) == pytest.approx(target, rel=1e-9)
        return
    with pytest.raises(heap.Unreachable, match="cannot be reached"):
        heap.second_for_moisture(first, second, target)
    reached = [heap.blend_moisture([first, scaled(second, 10.0**power)]) for power in range(-4, 8)]
    assert all(one < target for one in reached) or all(one > target for one in reached)


@QUICK
@given(parts(), PERCENT)
def test_nothing_is_needed_when_the_first_is_there_already(first: Part, other: float) -> None:
    """A first material at the target takes none of the second."""
    assert heap.second_for_moisture(first, Part(0.0, other, 0.4, 0.01), first.moisture) == 0.0


def test_a_second_material_at_the_target_is_no_help() -> None:
    """A second material with the very C:N or moisture aimed at never gets the first there."""
    first, second = Part(10.0, 0.5, 0.5, 1 / 32), Part(0.0, 0.6, 0.5, 1 / 64)
    with pytest.raises(heap.Unreachable, match=r"a C:N of 32 cannot be reached: .* reach 16 to 32"):
        heap.second_for_cn(first, second, 32.0)
    with pytest.raises(heap.Unreachable, match=r"60% moisture cannot be reached: .* reach 0\.5 to 0\.6"):
        heap.second_for_moisture(first, second, 0.60)


@QUICK
@given(parts(), st.integers(20, 120))
def test_second_without_nitrogen_raises_the_ratio(first: Part, target: int) -> None:
    """A material with carbon and no nitrogen reaches any C:N above the first, and none below."""
    second = Part(0.0, 0.2, 0.45, 0.0)
    assume(abs(target - ratio(first)) > 1e-6)
    if target > ratio(first):
        mass = heap.second_for_cn(first, second, target)
        assert heap.blend_cn([first, scaled(second, mass)]) == pytest.approx(target, rel=1e-9)
    else:
        with pytest.raises(heap.Unreachable, match=r"reach .* to inf"):
            heap.second_for_cn(first, second, target)


@draws(250)
@given(parts(), parts(), parts(), st.integers(15, 60), st.integers(40, 70))
def test_three_for_both_turns_back(first: Part, second: Part, third: Part, cn: int, percent: int) -> None:
    """Mixing the masses asked for hits both targets; a refusal means that no masses do."""
    moisture = percent / 100
    possible = reachable(first, second, third, cn, moisture)
    event(f"reachable: {possible}")
    if not possible:
        with pytest.raises(heap.Unreachable):
            heap.three_for_both(first, second, third, cn, moisture)
        assert not hit_on_a_grid(first, second, third, cn, moisture)
        return
    masses = heap.three_for_both(first, second, third, cn, moisture)
    assert min(masses) >= 0
    mix = [first, *(scaled(part, mass) for part, mass in zip((second, third), masses, strict=True))]
    assert heap.blend_cn(mix) == pytest.approx(cn, rel=1e-6)
    assert heap.blend_moisture(mix) == pytest.approx(moisture, rel=1e-6)


def reachable(first: Part, second: Part, third: Part, cn: int, moisture: float) -> bool:
    """Ask a general solver for masses of nought or more; alike materials are left out."""
    water = [part.moisture - moisture for part in (first, second, third)]
    excess = [(1 - part.moisture) * (part.carbon - cn * part.nitrogen) for part in (first, second, third)]
    assume(abs(water[1] * excess[2] - water[2] * excess[1]) > 1e-9)
    answer = linprog(
        [1.0, 1.0],
        A_eq=[water[1:], excess[1:]],
        b_eq=[-first.mass * water[0], -first.mass * excess[0]],
        method="highs",
    )
    return answer.status == 0


def hit_on_a_grid(first: Part, second: Part, third: Part, cn: int, moisture: float) -> bool:
    """Try 400 pairs of masses for one that hits both targets."""
    steps = [first.mass * 10.0 ** (power / 4 - 2) for power in range(20)]
    for q2 in steps:
        for q3 in steps:
            mix = [first, scaled(second, q2), scaled(third, q3)]
            if abs(heap.blend_moisture(mix) - moisture) < 1e-9 and abs(heap.blend_cn(mix) - cn) < 1e-9:
                return True
    return False


def test_a_second_at_the_target_is_refused() -> None:
    """A material at the target but for rounding moves nothing, and no heap of it is large enough."""
    first, second = Part(10, 0.7, 0.4, 0.05), Part(0, 0.3, 0.33, 0.33 / 19)
    with pytest.raises(heap.Unreachable, match="cannot be reached"):
        heap.second_for_cn(first, second, 19)
    with pytest.raises(heap.Unreachable, match="cannot be reached"):
        heap.second_for_moisture(first, Part(0, 0.1 + 0.2, 0.4, 0.01), 0.3)


@pytest.mark.parametrize("target", range(8, 60))
def test_a_first_at_the_target_needs_nothing(target: int) -> None:
    """A material already there but for rounding needs no second, whatever that is."""
    first = Part(10, 0.7, 0.33, 0.33 / target)
    for second in (Part(0, 0.3, 0.45, 0.005), Part(0, 0.6, 0.4, 0.06), first):
        assert heap.second_for_cn(first, second, target) == 0.0
    assert heap.second_for_moisture(Part(10, 0.1 + 0.2, 0.4, 0.02), first, 0.3) == 0.0


def test_two_materials_that_do_the_same_are_refused() -> None:
    """Two kinds of the same straw cannot move moisture and C:N apart."""
    manure, straw = Part(50, 0.60, 0.40, 0.02), Part(0, 0.20, 0.40, 0.005)
    with pytest.raises(heap.Unreachable, match="choose another"):
        heap.three_for_both(manure, straw, straw, 30.0, 0.60)
    at_target = Part(0, 0.60, 0.375, 0.0125)
    with pytest.raises(heap.Unreachable, match="choose another"):
        heap.three_for_both(manure, at_target, at_target, 30.0, 0.60)


def test_a_mix_without_nitrogen_has_no_ratio() -> None:
    """Water alone, or wood taken to hold no nitrogen, has no C:N."""
    with pytest.raises(heap.Unreachable, match="no nitrogen"):
        heap.blend_cn([Part(10, 1.0, 0.0, 0.0), Part(5, 0.4, 0.5, 0.0)])


@pytest.mark.parametrize(
    ("cn", "low", "high"),
    [
        (10, 0.40, 0.60),
        (20, 0.25, 0.40),
        (25, 0.15, 0.30),
        (30, 0.05, 0.20),
        (40, 0.0, 0.10),
        (90, 0.0, 0.10),
    ],
)
def test_nitrogen_lost_by_band(cn: float, low: float, high: float) -> None:
    """Each band of starting C:N has its losses; a band begins at its own lower end."""
    assert heap.nitrogen_lost(cn) == pytest.approx((low, (low + high) / 2, high))


@QUICK
@given(st.floats(3.0, 200.0), st.floats(0.0, 50.0))
def test_more_carbon_never_loses_more_nitrogen(cn: float, more: float) -> None:
    """A higher starting C:N never loses more, and low, likely and high stay in order."""
    one, other = heap.nitrogen_lost(cn), heap.nitrogen_lost(cn + more)
    assert list(one) == sorted(one)
    assert all(later <= sooner for sooner, later in zip(one, other, strict=True))
