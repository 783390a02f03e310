"""Feeds sized anew: each season by what it lacks, beside what the seasons before were given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import reduce
from math import inf
from typing import Any

from barrowful.ground.amount import mass_on
from barrowful.measures.draws import AtLeast, resized
from barrowful.measures.elementwise import at_least, at_most, likely, per
from barrowful.needs.anew import Anew, Sized, share_of
from barrowful.needs.doses import SLACK_SHARE
from barrowful.needs.given import net_of, nutrients_of
from barrowful.needs.meal import nitrogen_let_on, sizing, wanted_by
from barrowful.site.needs import Feed
from barrowful.soil.application import Application
from barrowful.soil.seasons import season_of


def feed_anew(ask: Anew, need: Feed) -> Sized:
    """Return what feeds a place in each season [m3], of one way or of several together."""
    amounts, shares = list[Any](), list[Any]()
    wanted = wanted_by(ask.place, need)
    there = [*ask.past, *ask.beside]
    for season in sorted({season_of(ask.site, dose.day) for dose in ask.doses}):
        own = [dose for dose in ask.doses if season_of(ask.site, dose.day) == season]
        net = net_of(ask.site, ask.place, there, season)
        lacking = {name: of - net[name] for name, of in wanted.items()}
        by_all = len({dose.way for dose in own}) > 1 or _is_more(ask, need, own, lacking)
        fed = (_together if by_all else _in_turn)(ask, need, own, lacking, amounts)
        amounts += fed
        there += [replace(dose, loose=loose) for dose, loose in zip(own, fed, strict=True)]
        shares.append(_met(net_of(ask.site, ask.place, there, season), wanted))
    return Sized(amounts, sum(shares) / len(shares))


def _met(net: Mapping[str, Any], wanted: Mapping[str, float]) -> Any:
    """Return the share of the nutrients wanted that there is, of the one that is met least."""
    return reduce(at_most, (share_of(net[name], of) for name, of in wanted.items() if of > 0), 1.0)


def _gives(ask: Anew, need: Feed, dose: Application) -> dict[str, Any]:
    """Return the nutrients [kg] that each m3 of a dose gives in its season."""
    dry = dose.material.dry_mass(1.0) / (1 + need.allowance)
    return nutrients_of(dose.material, dry, dose.gives(ask.site, 1).per_dry)


def _is_more(ask: Anew, need: Feed, doses: Sequence[Application], lacks: Mapping[str, Any]) -> bool:
    """Say whether doses bring more than is lacking of the nutrient that sizes a feed, for another of it."""
    nutrient = sizing(need)
    brought = sum(likely(_gives(ask, need, dose)[nutrient]) * dose.loose for dose in doses)
    return bool(brought > at_least(likely(lacks[nutrient]), 0.0) * (1 + SLACK_SHARE))


def _in_turn(
    ask: Anew, need: Feed, doses: Sequence[Application], lacks: Mapping[str, Any], before: Sequence[Any]
) -> list[Any]:
    """Return the doses [m3] of one way that bring what is lacking of the nutrient that sizes a feed.

    In a draw in which the stuff gives none of it, nothing is put on.
    """
    nutrient = sizing(need)
    lacking, amounts = lacks[nutrient], list[Any]()
    for dose in doses:
        each = _gives(ask, need, dose)[nutrient]
        wanted = per(at_least(lacking, 0.0), each, 0.0)
        amounts.append(at_most(wanted, ask.left([*before, *amounts])))
        lacking = lacking - amounts[-1] * each
    return amounts


def _together(
    ask: Anew, need: Feed, doses: Sequence[Application], lacks: Mapping[str, Any], before: Sequence[Any]
) -> list[Any]:
    """Return the doses [m3] of several ways that bring all that is lacking, within the nitrogen let on."""
    gives = [_gives(ask, need, dose) for dose in doses]
    rows = [
        AtLeast([each[name] for each in gives], of) for name, of in lacks.items() if getattr(need, name) > 0
    ]
    allowed = nitrogen_let_on(ask.place, need)
    if allowed < inf:
        net = mass_on(ask.place.total_area, need.nitrogen) - lacks["nitrogen"]
        rows.append(AtLeast([-each["nitrogen"] for each in gives], net - allowed))
    limits = [limit.after(before, len(doses)) for limit in ask.limits]
    return resized([dose.loose for dose in doses], rows, limits)
