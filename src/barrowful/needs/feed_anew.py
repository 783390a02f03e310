"""Feeds sized anew: each season by what it lacks, beside what the seasons before were given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf
from typing import Any

from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.amount import mass_on
from barrowful.measures.draws import AtLeast, resized
from barrowful.measures.elementwise import at_least, at_most
from barrowful.needs.anew import Anew
from barrowful.needs.feed_jointly import nutrients_of
from barrowful.needs.meal import net_of, nitrogen_let_on, sizing
from barrowful.site.needs import Feed
from barrowful.soil.application import Application
from barrowful.soil.seasons import season_of

#: A dose, and the most that may go on of it [m3].
Limited = tuple[Application, Any]


def feed_anew(ask: Anew, need: Feed) -> list[Any]:
    """Return what feeds a place in each season [m3], of one way or of several together."""
    seasons: dict[int, list[int]] = {}
    for number, dose in enumerate(ask.doses):
        seasons.setdefault(season_of(ask.site, dose.day), []).append(number)
    amounts = [0.0] * len(ask.doses)
    there = [*ask.past, *ask.beside]
    for season, numbers in sorted(seasons.items()):
        own = [(ask.doses[number], ask.most[number]) for number in numbers]
        net = net_of(ask.site, ask.place, there, season)
        feed = _together if len({dose.way for dose, _ in own}) > 1 else _in_turn
        for number, loose in zip(numbers, feed(ask, need, own, net), strict=True):
            amounts[number] = loose
            there.append(replace(ask.doses[number], loose=loose))
    return amounts


def _gives(ask: Anew, need: Feed, dose: Application) -> dict[str, Any]:
    """Return the nutrients [kg] that each m3 of a dose gives in its season."""
    dry = dose.material.dry_mass(1.0) / (1 + need.allowance)
    return nutrients_of(dose.material, dry, dose.gives(ask.site, 1).per_dry)


def _in_turn(ask: Anew, need: Feed, doses: Sequence[Limited], net: dict[str, Any]) -> list[Any]:
    """Return the doses [m3] of one way that bring what is lacking of the nutrient that sizes a feed."""
    nutrient = sizing(need)
    lacking = mass_on(ask.place.total_area, getattr(need, nutrient)) - net[nutrient]
    amounts = list[Any]()
    for dose, limit in doses:
        each = _gives(ask, need, dose)[nutrient]
        amounts.append(at_most(at_least(lacking, 0.0) / each, limit))
        lacking = lacking - amounts[-1] * each
    return amounts


def _together(ask: Anew, need: Feed, doses: Sequence[Limited], net: dict[str, Any]) -> list[Any]:
    """Return the doses [m3] of several ways that bring all that is lacking, within the nitrogen let on."""
    place, gives = ask.place, [_gives(ask, need, dose) for dose, _ in doses]
    rows = [
        AtLeast([each[name] for each in gives], mass_on(place.total_area, getattr(need, name)) - net[name])
        for name in NUTRIENTS
        if getattr(need, name) > 0
    ]
    allowed = nitrogen_let_on(place, need)
    if allowed < inf:
        rows.append(AtLeast([-each["nitrogen"] for each in gives], net["nitrogen"] - allowed))
    return resized([dose.loose for dose, _ in doses], rows, [limit for _, limit in doses])
