"""What doses leave: organic matter a year on, humus at the end, nutrients, and the mulch's life."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import field

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.measures.fixed import fixed
from barrowful.needs.cover import Covering, CoverLife
from barrowful.site.records import Site
from barrowful.soil.application import Application
from barrowful.soil.nitrogen import Available
from barrowful.soil.response import Response
from barrowful.soil.turnover import carbon_in


@fixed
class Outcome:
    """What doses of one material leave; None where a figure for it is not known."""

    matter_after_year: float | None = None  #: kg of organic matter, a year after each dose
    humus_at_end: float | None = None  #: kg of organic matter, at the horizon's end
    nitrogen: float | None = None  #: kg
    available_nitrogen: float | None = None  #: kg in the first season
    phosphorus: float | None = None  #: kg
    potassium: float | None = None  #: kg
    cover: CoverLife = field(default_factory=CoverLife)
    rule: str = ""  #: what the available nitrogen rests on
    in_range: bool | None = None  #: is the material inside the range the rule was published for?


def outcome_of(site: Site, doses: Sequence[Application], material: Material) -> Outcome:
    """Return what doses of one material leave."""
    if not doses or material.lacks("density", "moisture"):
        return Outcome()
    loose: dict[Available, float] = defaultdict(float)  # by the rule that holds, manner and season
    lying = [(dose, dose.response(site)) for dose in doses]
    for dose, response in lying:
        loose[response.nitrogen(1, dose.time_of_year(site))] += dose.loose
    dry = material.dry_mass(sum(loose.values()))
    available = sum(material.dry_mass(size) * rule.per_dry for rule, size in loose.items())
    left, humus = carbon_left(site, lying, material)
    return Outcome(
        matter_after_year=left,
        humus_at_end=humus,
        nitrogen=_times(dry, material.get("nitrogen")),
        available_nitrogen=None if material.lacks("nitrogen") and not available else available,
        phosphorus=_times(dry, material.get("phosphorus")),
        potassium=_times(dry, material.get("potassium")),
        cover=Covering().life(site, doses, material),
        rule="; ".join(sorted({rule.rule for rule in loose})),
        in_range=all(rule.in_range for rule in loose),
    )


def joined(outcomes: Sequence[Outcome]) -> Outcome:
    """Return what several outcomes leave in all; what is not known of one is not known of all."""
    if len(outcomes) == 1:
        return outcomes[0]
    return Outcome(
        matter_after_year=_sum([of.matter_after_year for of in outcomes]),
        humus_at_end=_sum([of.humus_at_end for of in outcomes]),
        nitrogen=_sum([of.nitrogen for of in outcomes]),
        available_nitrogen=_sum([of.available_nitrogen for of in outcomes]),
        phosphorus=_sum([of.phosphorus for of in outcomes]),
        potassium=_sum([of.potassium for of in outcomes]),
        rule="; ".join(sorted({of.rule for of in outcomes if of.rule})),
        in_range=all(of.in_range for of in outcomes),
    )


def _sum(amounts: Sequence[float | None]) -> float | None:
    known = [amount for amount in amounts if amount is not None]
    return sum(known) if len(known) == len(amounts) else None


def _times(amount: float, share: float | None) -> float | None:
    return None if share is None else amount * share


def carbon_left(
    site: Site, doses: Sequence[tuple[Application, Response]], material: Material
) -> tuple[float | None, float | None]:
    """Return organic matter [kg] left a year after each dose, and humus [kg] at the horizon's end.

    Each stands with what it becomes where it lies.
    """
    if material.lacks("carbon", "decay", "humus"):
        return None, None
    left = humus = 0.0
    for dose, response in doses:
        left += dose.loose * response.turnovers.likely.after_year
        humus += dose.loose * response.humus[(site.end - dose.day).days]
    matter = rate("matter_per_carbon") * carbon_in(material, 1.0)
    return matter * left, matter * humus
