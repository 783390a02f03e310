"""Second opinions: what two published models make of the same doses, and ours with another warmth curve."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import coefficients, rate
from barrowful.ground import climate as weather
from barrowful.ground import decay
from barrowful.ground.soil import henin_dupuis_rate
from barrowful.measures.dates import years_between
from barrowful.site.records import Climate, Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import followed


def _coefficient(model: str, stuff: Material) -> float:
    return coefficients()[f"{model}_{stuff.sort.other_models}"].likely


def icbm_carbon(site: Site, applications: list[Application], day: date) -> float:
    """Return carbon [kg/m2] left of applications by ICBM as published, young and old together.

    Its own yearly rates k1 and k2 are both times the warmth of this site over that of the model's home.
    """
    fresh, humus, home_mean = (coefficients()[f"icbm_{name}"].likely for name in ("fresh", "humus", "home"))
    home = weather.temperature_factor(home_mean)
    warmth = weather.mean_temperature_factor(site.climate.temperatures) / home
    total = 0.0
    for dose in applications:
        years = years_between(dose.day, day)
        if years >= 0:
            fast, slow = fresh * warmth, humus * warmth
            left = decay.fresh_left(years, fast)
            old = decay.humus_formed(years, fast, slow, _coefficient("icbm", dose.material))
            total += dose.carbon * (left + old)
    return total


def henin_carbon(site: Site, place: Place, applications: list[Application], day: date) -> float:
    """Return carbon [kg/m2] left of applications by the Henin-Dupuis balance: K1 x, lost at K2 a year."""
    mean = sum(site.climate.temperatures) / len(site.climate.temperatures)
    clay = coefficients()["henin_clay"].likely if place.soil.clay is None else place.soil.clay
    valid = coefficients()["henin_temperature"]
    lost = henin_dupuis_rate(min(valid.high, max(valid.low, mean)), clay)
    total = 0.0
    for dose in applications:
        years = years_between(dose.day, day)
        if years >= 0:
            kept = decay.fresh_left(years, lost)
            total += dose.carbon * _coefficient("isohumic", dose.material) * kept
    return total


def is_tried(climate: Climate) -> bool:
    """Say whether the yearly mean is no warmer than what the soil model was held against."""
    return sum(climate.temperatures) / len(climate.temperatures) <= judgement("tried_warmth")


def carbon_by_amg_warmth(site: Site, applications: list[Application], day: date) -> float:
    """Return what counts [kg/m2] by our model with AMG's warmth curve in place of RothC's."""
    months = site.climate.temperatures
    faster = weather.mean_amg_temperature_factor(months) / weather.mean_temperature_factor(months)
    total = 0.0
    for dose in applications:
        ours = dose.response(site).turnovers.likely
        theirs = replace(ours, fresh=ours.fresh * faster, humus=ours.humus * faster, slow=ours.slow * faster)
        total += dose.carbon * theirs.counted(years_between(dose.day, day))
    return total


def other_models(
    site: Site, place: Place, applications: list[Application], day: date, mass: float, start: float
) -> dict[str, float]:
    """Return soil organic matter [share] by each model, from the doses dug in."""
    dug = followed(dose for dose in applications if dose.dug)
    share = rate("matter_per_carbon") / mass
    carbon = {
        "ICBM as published": icbm_carbon(site, dug, day),
        "Henin-Dupuis": henin_carbon(site, place, dug, day),
    }
    if not is_tried(site.climate):
        carbon["barrowful with AMG's warmth curve"] = carbon_by_amg_warmth(site, dug, day)
    return {model: start + share * there for model, there in carbon.items()}
