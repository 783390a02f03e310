"""Needs that are met with nothing of their own: by what lies there already, or by what goes on for others."""

from __future__ import annotations

from barrowful.answers.choices import WholeSite
from barrowful.measures.text import all_of
from barrowful.needs.decision import CannotServe
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place
from barrowful.soil.application import Application


def met_by_others(whole: WholeSite) -> list[str]:
    """Return the kinds of need that are met everywhere with nothing put on, each with what meets it."""
    parts = whole.together.parts
    kinds = [
        kind
        for kind in whole.met
        if not any(part.doses or part.decision.founds for part in parts if part.need == kind)
    ]
    return [_by_what(whole, kind) for kind in kinds]


def _by_what(whole: WholeSite, kind: str) -> str:
    """Return a kind of need with the others whose doses meet it; by itself where it is met as it is."""
    every = whole.together.answer.site.places_with(kind)
    places = [place for place in every if not _is_met(whole, kind, place, [])]
    others = {other for place in places for other in _needed(whole, kind, place)}
    named = [other for other in NEEDS if other in others]
    return f"{kind}, by what goes on for {all_of(named)}" if named else kind


def _needed(whole: WholeSite, kind: str, place: Place) -> set[str]:
    """Return the other kinds of need without whose doses on a place it is not met; all that have any there
    where it can do without each of them.
    """
    doses = [dose for dose in whole.together.all_doses if dose.place.name == place.name]
    kinds = {dose.kind for dose in doses}
    needed = {
        other
        for other in kinds
        if not _is_met(whole, kind, place, [dose for dose in doses if dose.kind != other])
    }
    return needed or kinds


def _is_met(whole: WholeSite, kind: str, place: Place, doses: list[Application]) -> bool:
    """Say whether doses on a place meet a need of it."""
    try:
        return not NEEDS[kind].judge(whole.together.answer.site, place, doses).why_not
    except CannotServe:
        return False
