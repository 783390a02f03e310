"""Amounts, soil, climate and growth: turning back, monotone, and what their curves must do."""

from __future__ import annotations

import math

import numpy
import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from barrowful import relations
from barrowful.ground import amount, climate, growth, soil
from barrowful.measures.quantities import quantity

QUICK = draws(60)
SIZE = st.floats(0.01, 100.0)
SHARE = st.floats(0.0, 0.95)
MORE = st.floats(1.001, 3.0)


@QUICK
@given(SIZE, SIZE, MORE, st.floats(0.1, 1.0), SHARE)
def test_more_never_needs_less(area: float, depth: float, more: float, in_place: float, spare: float) -> None:
    """A deeper or larger layer needs more; settling and allowance only add."""
    volume = amount.volume(area, depth)
    assert amount.volume(area * more, depth) > volume
    assert amount.volume(area, depth * more) > volume
    assert amount.volume(area, 2 * depth) == pytest.approx(2 * volume)
    assert amount.loose_for_settled(volume, in_place) >= volume
    assert amount.with_allowance(volume, spare) >= volume


@QUICK
@given(SIZE, SIZE, st.floats(0.1, 0.9))
def test_splitting_a_bed_changes_nothing(area: float, depth: float, part: float) -> None:
    """Two beds that make up one take what the one takes."""
    apart = amount.volume(area * part, depth) + amount.volume(area * (1 - part), depth)
    assert apart == pytest.approx(amount.volume(area, depth))


@QUICK
@given(SIZE, st.floats(0.1, 1.0))
def test_what_is_spread_settles_back(depth: float, in_place: float) -> None:
    """What was spread settles to the volume and the depth asked for."""
    loose = amount.loose_for_settled(amount.volume(2.0, depth), in_place)
    assert amount.settled_depth(amount.depth(loose, 2.0), in_place) == pytest.approx(depth)


@QUICK
@given(SIZE, st.floats(1.0, 3000.0), SHARE)
def test_mass_and_allowance_turn_back(loose: float, density: float, share: float) -> None:
    """Mass turns back into volume, dry into wet mass, a dose into mass, what is brought into what lies."""
    wet = amount.mass(loose, density)
    assert amount.loose_volume(wet, density) == pytest.approx(loose)
    assert amount.wet_mass(amount.dry_mass(wet, share), share) == pytest.approx(wet)
    assert amount.mass_on(loose, amount.dose(wet, loose)) == pytest.approx(wet)
    assert amount.without_allowance(amount.with_allowance(loose, share), share) == pytest.approx(loose)


@QUICK
@given(SIZE, SHARE)
def test_dry_mass_with_its_water_is_wet_mass(wet: float, moisture: float) -> None:
    """Dry mass and water make up the whole, and neither is more than that."""
    dry = amount.dry_mass(wet, moisture)
    assert dry + moisture * wet == pytest.approx(wet)
    assert 0 <= dry <= wet <= amount.wet_mass(wet, moisture)


@QUICK
@given(SHARE, st.floats(0.0, 0.1), st.floats(100.0, 500.0), st.floats(1.4, 2.5))
def test_organic_matter_turns_back(start: float, gain: float, mass: float, factor: float) -> None:
    """The carbon asked for raises organic matter by what was asked."""
    carbon = soil.carbon_for(gain, mass, factor)
    assert soil.organic_matter(start, carbon, mass, factor) == pytest.approx(start + gain)


@QUICK
@given(SIZE, st.floats(500.0, 2000.0), SHARE)
def test_stones_only_take_away(depth: float, density: float, stones: float) -> None:
    """A stony layer holds less fine soil, in proportion."""
    whole = soil.layer_mass(depth, density, 0.0)
    assert whole == pytest.approx(depth * density)
    assert soil.layer_mass(depth, density, stones) == pytest.approx(whole * (1 - stones))


@QUICK
@given(st.floats(0.0, 0.1), MORE)
def test_more_carbon_is_lighter_soil(carbon: float, more: float) -> None:
    """Soil with more carbon is lighter, and with none it weighs 1.66 t a cubic metre."""
    assert soil.bulk_density_from_carbon(carbon * more) <= soil.bulk_density_from_carbon(carbon)
    assert soil.bulk_density_from_carbon(0.0) == pytest.approx(1660.0)


@QUICK
@given(st.floats(5.01, 18.0), SHARE, SHARE, MORE)
def test_clay_and_lime_keep_humus(temperature: float, clay: float, lime: float, more: float) -> None:
    """Humus goes faster where it is warm, slower in clay and chalk, and not at all at 5 degC."""
    rate = soil.henin_dupuis_rate(temperature, clay, lime)
    assert rate > 0
    assert soil.henin_dupuis_rate(temperature + 1, clay, lime) > rate
    assert soil.henin_dupuis_rate(temperature, clay + 0.01, lime) < rate
    assert soil.henin_dupuis_rate(temperature, clay, lime + 0.01) < rate
    assert soil.henin_dupuis_rate(temperature, clay) >= rate
    assert soil.henin_dupuis_rate(5.0, clay * more, lime) == pytest.approx(0.0, abs=1e-12)


@QUICK
@given(st.floats(-40.0, 5.0), SHARE, SHARE)
def test_humus_is_not_made_by_cold(temperature: float, clay: float, lime: float) -> None:
    """Below 5 degC the rate stays at nothing."""
    assert soil.henin_dupuis_rate(temperature, clay, lime) == pytest.approx(0.0, abs=1e-15)
    assert soil.henin_dupuis_rate(temperature, clay, lime) >= 0.0


def test_lime_is_checked_at_the_door() -> None:
    """Lime is a share in any unit, and nothing else."""
    warm, clay = quantity(11.0, "degC"), quantity(15.0, "percent")
    limed = relations.henin_dupuis_rate(warm, clay, quantity(100.0, "g/kg")).magnitude
    assert limed == pytest.approx(soil.henin_dupuis_rate(11.0, 0.15, 0.1))
    with pytest.raises(ValueError, match=r"^henin_dupuis_rate: lime: kilogram is not a share$"):
        relations.henin_dupuis_rate(warm, clay, quantity(1.0, "kg"))
    with pytest.raises(TypeError, match=r"^henin_dupuis_rate: lime: a share as a quantity is expected"):
        relations.henin_dupuis_rate(warm, clay, 0.1)


@QUICK
@given(st.floats(-4.99, 39.0), st.floats(0.01, 5.0))
def test_warmth_only_speeds_up(temperature: float, more: float) -> None:
    """Decay is faster when warmer, and the scaled curve keeps the shape of the plain one."""
    plain, factor = climate.rothc_temperature(temperature), climate.temperature_factor(temperature)
    assert climate.temperature_factor(temperature + more) > factor > 0
    assert plain / factor == pytest.approx(climate.rothc_temperature(15.0))


@pytest.mark.parametrize("temperature", [-5.0, -5.01, -18.27, -40.0])
def test_frost_stops_decay(temperature: float) -> None:
    """At and below -5 degC nothing decays, the curve's own pole included."""
    assert climate.rothc_temperature(temperature) == 0.0
    assert climate.temperature_factor(temperature) == 0.0


def test_factors_are_one_where_they_should_be() -> None:
    """Each factor is one at 15 degC, where rain meets evaporation, and at 20 % clay."""
    assert climate.temperature_factor(15.0) == 1.0
    assert climate.moisture_factor(0.0) == pytest.approx(1.0)
    assert climate.clay_factor(0.2) == 1.0


@QUICK
@given(st.floats(-2000.0, 3000.0), st.floats(1.0, 500.0), SHARE, st.floats(0.001, 0.3))
def test_wetter_is_faster_and_clay_is_slower(
    balance: float, wetter: float, clay: float, stiffer: float
) -> None:
    """Moisture speeds decay up to 3 % above the mean; clay slows it."""
    factor = climate.moisture_factor(balance)
    assert 0 < factor <= climate.moisture_factor(balance + wetter) <= 1.03
    assert climate.clay_factor(clay + stiffer) < climate.clay_factor(clay)


@QUICK
@given(st.lists(st.floats(-10.0, 20.0), min_size=1, max_size=12))
def test_mean_factor_of_the_months(months: list[float]) -> None:
    """The mean over months lies between the slowest and the fastest and does not ask for their order."""
    factors = [climate.temperature_factor(month) for month in months]
    mean = climate.mean_temperature_factor(months)
    assert min(factors) - 1e-12 <= mean <= max(factors) + 1e-12
    assert climate.mean_temperature_factor(months[::-1]) == pytest.approx(mean)
    assert mean == pytest.approx(math.fsum(factors) / len(factors))


@pytest.mark.parametrize("swing", [2.0, 6.0, 10.0])
def test_seasons_decay_more_than_their_mean(swing: float) -> None:
    """A year that swings about 10 degC decays more than a year that stays there, as integration says."""
    months = [10.0 + swing * math.cos(2 * math.pi * (month + 0.5) / 12) for month in range(12)]
    year = quad(lambda t: climate.temperature_factor(10.0 + swing * math.cos(2 * math.pi * t)), 0, 1)[0]
    assert climate.mean_temperature_factor(months) == pytest.approx(year, rel=1e-4)
    assert year > climate.temperature_factor(10.0)


def test_many_soils_at_once() -> None:
    """Arrays of clay, balance and carbon give arrays of answers."""
    shares = numpy.array([0.0, 0.02, 0.2])
    balances = numpy.array([-600.0, 0.0, 200.0])
    assert climate.clay_factor(shares).tolist() == [climate.clay_factor(one) for one in shares.tolist()]
    assert soil.bulk_density_from_carbon(shares).tolist() == pytest.approx(
        [soil.bulk_density_from_carbon(one) for one in shares.tolist()]
    )
    for count in (0, 1, 7):
        warmth = numpy.array([-40.0, -18.27, -5.0, -4.9, 0.0, 10.0, 30.0])[-count:] if count else shares[:0]
        for factor in (climate.rothc_temperature, climate.temperature_factor):
            assert factor(warmth).tolist() == pytest.approx([factor(one) for one in warmth.tolist()])
        rates = soil.henin_dupuis_rate(warmth, 0.2)
        assert rates.tolist() == pytest.approx([soil.henin_dupuis_rate(one, 0.2) for one in warmth.tolist()])
    assert climate.moisture_factor(balances).tolist() == pytest.approx(
        [climate.moisture_factor(one) for one in balances.tolist()]
    )


@QUICK
@given(st.integers(1, 400), st.integers(1, 40))
def test_plants_stand_whole(count: int, tenths: int) -> None:
    """A row takes a plant to each whole spacing and never fewer than one; an area likewise in squares."""
    spacing = tenths / 10
    assert growth.plants_in_row(count * spacing, spacing) == count
    assert growth.plants_in_row((count - 0.01) * spacing, spacing) == max(1, count - 1)
    assert growth.plants_on_area(count * spacing**2, spacing) == count
    assert growth.plants_on_area((count - 0.01) * spacing**2, spacing) == count - 1


@QUICK
@given(SIZE, st.floats(0.0, 0.9), st.floats(0.05, 2.0))
def test_plants_close_the_ring(radius: float, part: float, shade: float) -> None:
    """So many plants shade the whole way round, and one fewer would not."""
    way = 2 * math.pi * (radius + radius * part) / 2
    count = growth.plants_round_tree(radius, radius * part, shade)
    assert count * shade >= way * (1 - 1e-9)
    assert count == 1 or (count - 1) * shade < way


@QUICK
@given(st.floats(0.0, 0.5), st.floats(0.0, 0.5), st.floats(0.0, 0.95))
def test_a_cover_crop_loses_by_the_calendar(late: float, early: float, loss: float) -> None:
    """In time it loses nothing; two delays lose one after the other; sooner than needed is no gain."""
    left = growth.cover_crop_left(late, early, loss)
    assert growth.cover_crop_left(0.0, 0.0, loss) == 1.0
    assert growth.cover_crop_left(-late, -early, loss) == 1.0
    assert left == pytest.approx(
        growth.cover_crop_left(late, 0.0, loss) * growth.cover_crop_left(0.0, early, loss)
    )
    assert growth.cover_crop_left(17.5 / 365.25, 1 / 12, 0.5) == pytest.approx(0.25)


@QUICK
@given(st.integers(0, 60), st.floats(0.0, 1.0), st.floats(0.0, 6.0), st.integers(0, 500))
def test_plants_only_multiply(start: int, strike: float, cuttings: float, room: int) -> None:
    """Plants are whole, never fewer than before, never more than there is room for; time goes by cycles."""
    seen = list(growth.generations(start, strike, cuttings, 0.5, room))
    assert [years for years, _ in seen] == [0.5 * index for index in range(len(seen))]
    alive = [plants for _, plants in seen]
    assert alive == sorted(set(alive))
    assert alive[0] == min(room, math.floor(start * strike + 1e-9))
    assert all(isinstance(plants, int) and 0 <= plants <= room for plants in alive)


def test_plants_that_do_not_strike_stop() -> None:
    """A stand that cannot grow by a whole plant ends and does not go round for ever."""
    assert list(growth.generations(5, 0.0, 3, 0.5, 40)) == [(0.0, 0)]
    assert list(growth.generations(1, 1.0, 0.5, 0.5, 40)) == [(0.0, 1)]
    assert list(growth.generations(4, 1.0, 1.0, 0.25, 10)) == [(0.0, 4), (0.25, 8), (0.5, 10)]


@QUICK
@given(st.floats(0.0, 10.0), st.floats(0.0, 3.0), st.floats(0.0, 10.0), st.floats(0.0, 5.0))
def test_a_stand_comes_up_to_full_yield(age: float, first: float, later: float, older: float) -> None:
    """Nothing before the first cut, all from full yield on, and never less with age in between."""
    full = max(first, later)
    share = growth.share_of_full_yield(age, first, full)
    assert 0 <= share <= growth.share_of_full_yield(age + older, first, full) <= 1
    assert growth.share_of_full_yield(full, first, full) == 1.0
    if age < first and age < full:
        assert share == 0.0


def test_half_way_to_full_yield() -> None:
    """The line is straight from the first cut to full yield."""
    assert growth.share_of_full_yield(1.5, 1.0, 3.0) == pytest.approx(0.25)
    assert growth.share_of_full_yield(1.0, 1.0, 3.0) == 0.0
    assert growth.share_of_full_yield(1.0, 1.0, 1.0) == 1.0
