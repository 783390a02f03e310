"""Second opinions: what two published models make of the same doses, beside ours."""

from __future__ import annotations

from datetime import date

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import coefficients, rate
from barrowful.ground import climate as weather
from barrowful.ground import decay
from barrowful.ground.soil import henin_dupuis_rate, organic_matter
from barrowful.measures.dates import years_between
from barrowful.site.records import Place, Site
from barrowful.soil.history import Application

#: ICBM's own rates a year, at its home site; warmth is taken relative to that site's mean [degC].
ICBM_FRESH, ICBM_HUMUS, ICBM_HOME = 0.8, 0.00605, 6.0
_SORTS = {"compost": "compost", "manure": "manure", "wood": "wood"}


def _coefficient(model: str, stuff: Material) -> float:
    return coefficients()[f"{model}_{_SORTS.get(stuff.class_, 'plant')}"].likely


def icbm_carbon(site: Site, place: Place, applications: list[Application], day: date) -> float:
    """Return carbon [kg/m2] left of applications by ICBM as published, young and old together.

    k1 0.8 and k2 0.00605 a year (Andren & Katterer 1997), both times the warmth of this site over
    that of the model's home at about 6 degC (from memory).
    """
    home = weather.temperature_factor(ICBM_HOME)
    warmth = weather.mean_temperature_factor(site.climate.temperatures) / home
    total = 0.0
    for put in applications:
        years = years_between(put.day, day)
        if years >= 0:
            fast, slow = ICBM_FRESH * warmth, ICBM_HUMUS * warmth
            left = decay.fresh_left(years, fast)
            old = decay.humus_formed(years, fast, slow, _coefficient("icbm", put.material))
            total += put.carbon(place.total_area) * (left + old)
    return total


def henin_carbon(site: Site, place: Place, applications: list[Application], day: date) -> float:
    """Return carbon [kg/m2] left of applications by the Henin-Dupuis balance: K1 x, lost at K2 a year."""
    mean = sum(site.climate.temperatures) / len(site.climate.temperatures)
    clay = 0.2 if place.soil.clay is None else place.soil.clay
    lost = henin_dupuis_rate(min(18.0, max(5.0, mean)), clay)
    total = 0.0
    for put in applications:
        years = years_between(put.day, day)
        if years >= 0:
            kept = decay.fresh_left(years, lost)
            total += put.carbon(place.total_area) * _coefficient("isohumic", put.material) * kept
    return total


def other_models(
    site: Site, place: Place, applications: list[Application], day: date, mass: float, start: float
) -> dict[str, float]:
    """Return soil organic matter [share] by each model, from the doses dug in."""
    dug = [put for put in applications if put.dug]
    carbon = {
        "ICBM as published": icbm_carbon(site, place, dug, day),
        "Henin-Dupuis": henin_carbon(site, place, dug, day),
    }
    return {
        name: organic_matter(start, stock, mass, rate("matter_per_carbon")) for name, stock in carbon.items()
    }
