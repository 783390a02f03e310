"""The questions that the data files put to the package: one small function a kind of question.

Inputs arrive as quantities, plain numbers, or lists and tables of them, named as in the data files.
Every function returns a table of named answers: quantities, plain numbers, or true and false.
"""

from __future__ import annotations

import math
from typing import Any

import numpy
from scipy.optimize import minimize_scalar

from barrowful import relations
from barrowful.ground.heap import Part, Unreachable
from barrowful.measures.quantities import quantity, si

Answers = dict[str, Any]
ONE_SQUARE_METRE = quantity(1.0, "m2")
#: A steady inflow is taken as so many small doses a year; more change no printed digit.
DOSES_A_YEAR = 400


# Volumes


def converted(amount: Any) -> Answers:
    """The same amount, to be read in other units."""
    return {"amount": amount}


def layer(area: Any, depth: Any) -> Answers:
    """A layer on a known area."""
    return {"volume": relations.volume(area, depth)}


def rectangle_layer(length: Any, width: Any, depth: Any, count: int = 1) -> Answers:
    """A layer on a rectangle, or several alike."""
    ground = relations.rectangle(length, width) * count
    return {"area": ground, "volume": relations.volume(ground, depth)}


def outline_layer(corners: list[list[Any]], depth: Any) -> Answers:
    """A layer inside an outline given by its corners."""
    ground = relations.polygon(corners)
    return {"area": ground, "volume": relations.volume(ground, depth)}


def disc_layer(across: Any, depth: Any) -> Answers:
    """A layer on a round bed measured across."""
    ground = relations.ellipse(across, across)
    return {"area": ground, "volume": relations.volume(ground, depth)}


def ring_layer(radius: Any, collar: Any, depth: Any) -> Answers:
    """A layer on a ring with a bare collar."""
    ground = relations.ring(radius, collar)
    return {"area": ground, "volume": relations.volume(ground, depth)}


def coverage(volume: Any, depth: Any) -> Answers:
    """The ground that a volume covers at a depth."""
    return {"area": volume / relations.volume(ONE_SQUARE_METRE, depth) * ONE_SQUARE_METRE}


def coverages(volume: Any, depths: dict[str, Any]) -> Answers:
    """The ground that a volume covers at several depths."""
    return {name: coverage(volume, depth)["area"] for name, depth in depths.items()}


def bags(length: Any, width: Any, depth: Any, bag: Any) -> Answers:
    """How many bags a rectangular layer takes, not rounded."""
    volume = rectangle_layer(length, width, depth)["volume"]
    return {"volume": volume, "bags": volume / bag}


def fills(length: Any, width: Any, height: Any, volume: Any) -> Answers:
    """How often a volume fills a box."""
    box = rectangle_layer(length, width, height)["volume"]
    return {"box": box, "fills": volume / box}


def rate(depth: Any, density: Any) -> Answers:
    """One depth as volumes and masses on the usual areas."""
    plot, acre = quantity(1000.0, "ft2"), quantity(1.0, "acre")
    on_plot, on_acre = relations.volume(plot, depth), relations.volume(acre, depth)
    return {
        "depth": depth,
        "plot_volume": on_plot,
        "acre_volume": on_acre,
        "plot_mass": relations.mass(on_plot, density),
        "acre_mass": relations.mass(on_acre, density),
        "square_metre_mass": relations.mass(relations.volume(ONE_SQUARE_METRE, depth), density),
        "covered_by_cubic_metre": coverage(quantity(1.0, "m3"), depth)["area"],
    }


def round_bale(across: Any, length: Any, mass: Any) -> Answers:
    """The density of a round bale."""
    return {"density": mass / disc_layer(across, length)["volume"]}


def square_bale(length: Any, width: Any, height: Any, mass: Any) -> Answers:
    """The density of a square bale."""
    return {"density": mass / rectangle_layer(length, width, height)["volume"]}


def loaded(volume: Any, density: Any) -> Answers:
    """What a volume weighs."""
    return {"mass": relations.mass(volume, density)}


def settled(depth: Any, loose: Any, compacted: Any) -> Answers:
    """The loose depth that settles to a depth, from the two densities of one material."""
    return {"spread": _spread(depth, loose / compacted)}


def swollen(depth: Any, solid_share: Any) -> Answers:
    """The loose depth that a depth of solid wood gives, from the solid share of the loose volume."""
    return {"loose": _spread(depth, solid_share)}


def _spread(depth: Any, in_place: Any) -> Any:
    """The depth to spread for a depth, by way of the volume on a square metre."""
    loose = relations.loose_for_settled(relations.volume(ONE_SQUARE_METRE, depth), in_place)
    return relations.depth(loose, ONE_SQUARE_METRE)


def weighed(wet: Any, dry: Any) -> Answers:
    """Moisture on both bases from a weight before and after drying."""
    moisture = _moisture(dry, wet - dry)
    one = quantity(1.0, "kg")
    return {
        "wet_basis": moisture,
        "dry_basis": (relations.wet_mass(one, moisture) - one) / one,
        "dry": relations.dry_mass(wet, moisture),
    }


def wet_basis(dry_basis: Any) -> Answers:
    """Moisture per wet mass from moisture per dry mass."""
    one = quantity(1.0, "kg")
    return {"wet_basis": _moisture(one, dry_basis * one)}


def _moisture(dry: Any, water: Any) -> Any:
    """Moisture of dry matter and water put together, as of any mix."""
    none, all_of_it = quantity(0.0, "1"), quantity(1.0, "1")
    parts = [relations.part(dry, none, none, none), relations.part(water, all_of_it, none, none)]
    return relations.blend_moisture(parts)


def dried(wet: Any, moisture: Any) -> Answers:
    """Dry mass, and the water that goes with it."""
    dry = relations.dry_mass(wet, moisture)
    return {"dry": dry, "water": wet - dry}


# Decay


def icbm(
    fresh: Any, humus: Any, inflow: Any, years: Any, k1: Any, k2: Any, h: Any, climate: float
) -> Answers:
    """Humus after some years of a steady inflow, rates multiplied by the plot's climate."""
    old = icbm_fallow(fresh, humus, years, k1, k2, h, climate)["humus"]
    ages, step = _spread_over(years)
    formed = relations.humus_formed(ages, k1 * climate, k2 * climate, h)
    return {"humus": old + inflow * (formed.sum() * step)}


def _spread_over(years: Any) -> tuple[Any, float]:
    """The ages of small doses spread evenly over some years, and the years between two of them."""
    end = si(years, "time")
    step = end / math.ceil(end * DOSES_A_YEAR)
    return quantity(numpy.arange(step / 2, end, step), "year"), step


def icbm_fallow(fresh: Any, humus: Any, years: Any, k1: Any, k2: Any, h: Any, climate: float) -> Answers:
    """Both stocks after some years with nothing added."""
    a, b = k1 * climate, k2 * climate
    left = fresh * relations.fresh_left(years, a)
    old = humus * relations.fresh_left(years, b) + fresh * relations.humus_formed(years, a, b, h)
    return {"fresh": left, "humus": old, "total": left + old}


def _steady(a: Any, b: Any, h: Any) -> Any:
    """Humus for each yearly inflow of one, spread over the year, when it has gone on for ever."""
    ages, step = _spread_over(quantity(1.0, "year"))
    return sum(_humus_of_ages(age, a, b, h) * step for age in ages)


def _humus_of_ages(age: Any, a: Any, b: Any, h: Any) -> Any:
    """Humus of yearly additions of one made for ever, the last of them so long ago."""
    return h * a / (a - b) * (relations.fresh_of_ages(age, b) - relations.fresh_of_ages(age, a))


def levels_off(inflow: Any, kept: Any, loss: Any, soil_mass: Any) -> Answers:
    """Where organic matter levels off as a share of soil, when a share of the inflow is kept."""
    stock = inflow * _steady(quantity(5.0, "1/year"), loss, kept)
    share = relations.organic_matter(quantity(0.0, "1"), stock, soil_mass, quantity(1.0, "1"))
    return {"organic_matter": share}


def rothc(temperatures: dict[str, Any]) -> Answers:
    """RothC's temperature factor at several temperatures."""
    return {name: relations.rothc_temperature(one) for name, one in temperatures.items()}


def warmth(temperatures: dict[str, Any]) -> Answers:
    """The temperature factor, 1 at 15 degC, at several temperatures."""
    return {name: relations.temperature_factor(one) for name, one in temperatures.items()}


def amg_warmth(temperatures: dict[str, Any]) -> Answers:
    """AMG's temperature factor at several temperatures."""
    return {name: relations.amg_temperature_factor(one) for name, one in temperatures.items()}


def wetness(balances: dict[str, Any]) -> Answers:
    """The moisture factor at several water balances."""
    return {name: relations.moisture_factor(one) for name, one in balances.items()}


def clayey(clays: dict[str, Any]) -> Answers:
    """The clay factor at several clay contents."""
    return {name: relations.clay_factor(one) for name, one in clays.items()}


def _rates(temperature: Any, k1: Any, kh: Any) -> tuple[Any, Any]:
    factor = relations.temperature_factor(temperature)
    return k1 * factor, kh * factor


def pulse(temperature: Any, years: Any, k1: Any, kh: Any, h: Any) -> Answers:
    """What is left of one addition of 1, fresh and as humus."""
    a, b = _rates(temperature, k1, kh)
    fresh, humus = relations.fresh_left(years, a), relations.humus_formed(years, a, b, h)
    return {"fresh": fresh, "humus": humus, "kept": fresh + humus}


def peak(temperature: Any, k1: Any, kh: Any, h: Any) -> Answers:
    """When the humus of one addition is greatest, and how much it is then."""
    a, b = _rates(temperature, k1, kh)

    def formed(years: float) -> Any:
        return relations.humus_formed(quantity(years, "year"), a, b, h)

    best = minimize_scalar(
        lambda years: -formed(years).magnitude, bounds=(0.0, 50.0), options={"xatol": 1e-6}
    )
    return {"when": quantity(best.x, "year"), "humus": formed(best.x)}


def mulch(
    temperature: Any, years: Any, carbon: Any, soil_mass: Any, k1: dict[str, Any], humus: dict[str, Any]
) -> Answers:
    """What is left of one mulch, its humus, and the organic matter that makes if mixed into a soil layer."""
    nothing, double = quantity(0.0, "1"), quantity(2.0, "1")
    likely = k1["likely"]
    formed = {
        name: carbon * pulse(temperature, years, likely, one["kh"], one["h"])["humus"]
        for name, one in humus.items()
    }
    return {
        "fresh": {
            name: relations.fresh_left(years, _rates(temperature, one, one)[0]) for name, one in k1.items()
        },
        "humus": formed,
        "matter": {
            name: relations.organic_matter(nothing, one, soil_mass, double) for name, one in formed.items()
        },
    }


def dug_in(
    temperature: Any, years: Any, carbon: Any, soil_mass: Any, k1: Any, humus: dict[str, Any]
) -> Answers:
    """Organic matter gained from one addition dug in, fresh and humus together."""
    nothing, double = quantity(0.0, "1"), quantity(2.0, "1")
    gained = {}
    for name, one in humus.items():
        kept = carbon * pulse(temperature, years, k1, one["kh"], one["h"])["kept"]
        gained[name] = relations.organic_matter(nothing, kept, soil_mass, double)
    return {"gain": gained}


def yearly(temperature: Any, count: float, kh: Any, additions: list[dict[str, Any]]) -> Answers:
    """Stocks at the end of a year of equal yearly additions, each material with its own k1 and h."""
    fresh, humus = quantity(0.0, "kg/m2"), quantity(0.0, "kg/m2")
    for one in additions:
        a, b = _rates(temperature, one["k1"], kh)
        fresh_share, humus_share = _after_yearly(count, a, b, one["h"])
        fresh, humus = fresh + one["carbon"] * fresh_share, humus + one["carbon"] * humus_share
    return {"fresh": fresh, "humus": humus, "total": fresh + humus}


def _after_yearly(count: float, a: Any, b: Any, h: Any) -> tuple[Any, Any]:
    """What is left of equal doses 1, 2 and up to so many years old, or of endless ones."""
    if count == math.inf:
        last = quantity(1.0, "year")
        return relations.fresh_of_ages(last, a), _humus_of_ages(last, a, b, h)
    ages = quantity(numpy.arange(1.0, count + 1), "year")
    return relations.fresh_left(ages, a).sum(), relations.humus_formed(ages, a, b, h).sum()


def programme(temperature: Any, count: float, cases: dict[str, dict[str, Any]]) -> Answers:
    """Carbon gained by the end of a year of yearly additions, in several cases."""
    return {
        "total": {
            name: yearly(temperature, count, one["kh"], one["additions"])["total"]
            for name, one in cases.items()
        }
    }


def steady_limit(temperature: Any, kh: Any, additions: list[dict[str, Any]]) -> Answers:
    """Humus where a steady stream of several materials levels off, and the years to half of it."""
    humus, b = quantity(0.0, "kg/m2"), quantity(0.0, "1/year")
    for one in additions:
        a, b = _rates(temperature, one["k1"], kh)
        humus = humus + one["carbon"] * _steady(a, b, one["h"])
    return {"humus": humus, "half_time": relations.years_to_lose(quantity(0.5, "1"), b)}


def first_year(
    temperature: Any, start: Any, target: Any, soil_mass: Any, carbon: Any, k1: Any, kh: Any, h: Any
) -> Answers:
    """The first year in which yearly additions reach an organic matter, and where they level off."""
    double = quantity(2.0, "1")

    def stock(count: float) -> Any:
        return yearly(temperature, count, kh, [{"carbon": carbon, "k1": k1, "h": h}])["total"]

    def matter(count: float) -> Any:
        return relations.organic_matter(start, stock(count), soil_mass, double)

    answers: Answers = {
        "needed": relations.carbon_for(target - start, soil_mass, double),
        "limit": stock(math.inf),
        "limit_matter": matter(math.inf),
        "reached": bool(matter(math.inf) >= target),
    }
    if answers["reached"]:
        year = next(count for count in range(1, 200) if matter(count) >= target)
        answers |= {"year": year, "stock": stock(year), "stock_before": stock(year - 1)}
    return answers


def mulch_life(temperature: Any, k1: dict[str, Any]) -> Answers:
    """The years until half and four fifths of the fresh carbon are gone, at several rates."""
    rates = {name: _rates(temperature, rate, rate)[0] for name, rate in k1.items()}
    half, fifth = quantity(0.5, "1"), quantity(0.2, "1")
    return {
        "half_gone": {name: relations.years_to_lose(half, rate) for name, rate in rates.items()},
        "most_gone": {name: relations.years_to_lose(fifth, rate) for name, rate in rates.items()},
    }


def soil_layer(depth: Any, density: Any, stones: Any) -> Answers:
    """The dry mass of a layer of soil."""
    return {"mass": relations.layer_mass(depth, density, stones)}


def matter_for(gain: Any, soil_mass: Any, matter_per_carbon: float) -> Answers:
    """What raises organic matter by a share."""
    return {"dose": relations.carbon_for(gain, soil_mass, quantity(matter_per_carbon, "1"))}


def bulk_density_from_carbon(carbon: Any) -> Answers:
    """Bulk density from organic carbon."""
    return {"density": relations.bulk_density_from_carbon(carbon)}


def humus_loss(temperature: Any, clay: Any, lime: Any) -> Answers:
    """The yearly loss of humus after Henin and Dupuis."""
    return {"rate": relations.henin_dupuis_rate(temperature, clay, lime)}


# Heaps


def _part(table: dict[str, Any]) -> Part:
    """A part of a mix; carbon may be given as a C:N, for tables that print that instead."""
    nitrogen = table.get("nitrogen", quantity(0.0, "1"))
    return relations.part(
        mass=table.get("mass", quantity(0.0, "kg")),
        moisture=table["moisture"],
        carbon=table.get("carbon", nitrogen * table.get("cn", 0.0)),
        nitrogen=nitrogen,
    )


def blend(parts: list[dict[str, Any]]) -> Answers:
    """Moisture and C:N of a mix."""
    mix = [_part(table) for table in parts]
    return {"moisture": relations.blend_moisture(mix), "cn": relations.blend_cn(mix)}


def second_for_cn(first: dict[str, Any], second: dict[str, Any], cn: float) -> Answers:
    """How much of a second material brings a first to a C:N, and the moisture that follows."""
    try:
        mass = relations.second_for_cn(_part(first), _part(second), quantity(cn, "1"))
    except Unreachable:
        return {"reachable": False}
    mix = [_part(first), _part(second | {"mass": mass})]
    return {"reachable": True, "second": mass, "moisture": relations.blend_moisture(mix)}


def second_for_moisture(first: dict[str, Any], second: dict[str, Any], moisture: Any) -> Answers:
    """How much of a second material brings a first to a moisture."""
    return {"second": relations.second_for_moisture(_part(first), _part(second), moisture)}


def three_for_both(
    first: dict[str, Any], second: dict[str, Any], third: dict[str, Any], cn: float, moisture: Any
) -> Answers:
    """How much of two materials brings a first to a C:N and a moisture together."""
    parts = (_part(first), _part(second), _part(third))
    masses = relations.three_for_both(*parts, quantity(cn, "1"), moisture)
    return {"second": masses[0], "third": masses[1]}


def water_to_add(parts: list[dict[str, Any]], moisture: Any) -> Answers:
    """The water that brings a mix to a moisture."""
    return {"water": relations.water_to_add([_part(table) for table in parts], moisture)}


# Nutrients


def dose(need: Any, content: Any, moisture: Any, available: Any) -> Answers:
    """The wet dose that brings so much of a nutrient."""
    dry = relations.dry_dose_for(need, content * available)
    return {"dose": relations.wet_mass(dry * ONE_SQUARE_METRE, moisture) / ONE_SQUARE_METRE}


def dose_by_cover_crop(need: Any, content: Any, moisture: Any) -> Answers:
    """The wet dose of a cover crop that brings so much nitrogen in the season."""
    share = relations.cover_crop_available(content)
    return {"share": share, **dose(need, share, moisture, quantity(1.0, "1"))}


def dose_by_kept(temperature: Any, years: Any, need: Any, content: Any, k1: Any, kh: Any, h: Any) -> Answers:
    """The dose of which so much carbon is still there after some years."""
    kept = pulse(temperature, years, k1, kh, h)["kept"]
    return {"dose": relations.dry_dose_for(need, content * kept)}


def quadrat(dried: Any, frames: Any) -> Answers:
    """Dry matter on the ground from sampled frames."""
    return {"dose": relations.dose(dried, frames)}


def cover_crop(contents: dict[str, Any]) -> Answers:
    """Nitrogen available in the season at several nitrogen contents."""
    return {name: relations.cover_crop_available(one) for name, one in contents.items()}


def held(wet: Any, moisture: Any, nitrogen: Any, phosphorus: Any, potassium: Any) -> Answers:
    """Nitrogen, phosphate and potash in so much wet stuff, from shares of elements in its dry mass."""
    dry, whole = relations.dry_mass(wet, moisture), quantity(1.0, "1")
    return {
        "nitrogen": dry * nitrogen,
        "phosphate": dry * phosphorus / relations.phosphorus(whole),
        "potash": dry * potassium / relations.potassium(whole),
    }


def bought_beside(dose: Any, content: Any, available: Any, need: Any) -> Answers:
    """Nitrogen that a manure brings, what counts of it, and what is still to be bought for a need."""
    total = dose * content
    counts = total * available
    bought = relations.nitrogen_to_apply(need, counts, quantity(1.0, "1"))
    return {"total": total, "available": counts, "bought": bought}


def _lime(factor: Any, rise: float, depth: Any, stones: Any, value: Any) -> Any:
    """Lime as delivered, for what it neutralises."""
    return relations.dry_dose_for(relations.lime_for(quantity(rise, "1"), factor, depth, stones), value)


def lime_by_ph(
    factor: Any, target: float, depth: Any, stones: Any, value: Any, present: dict[str, float]
) -> Answers:
    """Lime to a target from several pH."""
    return {name: _lime(factor, target - ph, depth, stones, value) for name, ph in present.items()}


def lime_on_bed(factor: Any, present: float, target: float, area: Any) -> Answers:
    """Lime by the hectare, and on a bed."""
    dose = _lime(factor, target - present, quantity(20, "cm"), quantity(0.0, "1"), quantity(0.5, "1"))
    return {"dose": dose, "bed": relations.mass_on(area, dose)}


def lime_by_buffer(acidity: Any, present: float, target: float, neutral: float) -> Answers:
    """Lime by a buffer test, which is the same line with the acidity for each pH to neutral as its factor."""
    factor = acidity / (neutral - present)
    nothing, half = quantity(0.0, "1"), quantity(0.5, "1")
    return {"dose": _lime(factor, target - present, quantity(20, "cm"), nothing, half)}


def lime_scaled(factor: Any, present: float, target: float) -> Answers:
    """Lime as the table has it, then with stones, then in less depth too, then of a weaker lime too."""
    rise, half = target - present, quantity(0.5, "1")
    whole, some = quantity(0.0, "1"), quantity(0.2, "1")
    deep, shallow = quantity(20, "cm"), quantity(15, "cm")
    return {
        "whole": _lime(factor, rise, deep, whole, half),
        "stones": _lime(factor, rise, deep, some, half),
        "shallow": _lime(factor, rise, shallow, some, half),
        "weak": _lime(factor, rise, shallow, some, quantity(0.3, "1")),
    }


def price_of_neutralising(**limes: list[Any]) -> Answers:
    """Pence for a unit, a hundredth of a tonne of what neutralises, from the price of a tonne."""
    unit = quantity(10.0, "kg/m2")
    return {
        name: 100 * price * relations.dry_dose_for(unit, value).to("t/m2").magnitude
        for name, (price, value) in limes.items()
    }


def crop_balance(uptake: Any, mineralised: Any, mineral: Any, roots: Any, recovery: Any) -> Answers:
    """Nitrogen to apply, from mineral nitrogen to 90 cm taken by the depth of the roots."""
    supply = mineralised + mineral * (roots / quantity(90.0, "cm"))
    return {"apply": relations.nitrogen_to_apply(uptake, supply, recovery)}


def mineralised(depth: Any, density: Any, carbon: Any, nitrogen: Any, year: Any) -> Answers:
    """Carbon and nitrogen in a layer of soil, and the nitrogen that becomes mineral in a year."""
    organic = relations.layer_mass(depth, density, quantity(0.0, "1")) * carbon
    return {"carbon": organic, "nitrogen": organic * nitrogen, "mineral": organic * nitrogen * year}


def oxides(phosphate: Any, potash: Any) -> Answers:
    """Phosphorus and potassium from their oxides."""
    return {
        "phosphorus": relations.phosphorus(phosphate),
        "potassium": relations.potassium(potash),
    }


def drawdown(carbon: Any, cn: float) -> Answers:
    """Nitrogen tied up by carbon that decomposes."""
    return {"nitrogen": relations.drawdown(carbon, quantity(cn, "1"))}


def decay_series(organic: Any, shares: list[Any], year: int) -> Answers:
    """Nitrogen released in a year of a yearly dressing: by the dose of that year and those before it."""
    doses = (relations.released(organic, shares, age) for age in range(1, year + 1))
    return {"nitrogen": sum(doses, quantity(0.0, "kg"))}


def soil_test(surplus: Any) -> Answers:
    """The rise of a soil test."""
    return {"rise": relations.soil_test_rise(surplus)}
