"""Lines of a plan as they are written: the grower's own amount and day, or as reckoned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from barrowful.answers.options import Answer
from barrowful.answers.together import Part
from barrowful.needs.decision import Decision, Serving
from barrowful.needs.kind import dose_for
from barrowful.needs.registry import decide
from barrowful.site.records import Place, PlanLine, Site
from barrowful.soil.application import Application
from barrowful.supplies.supply import Supply


def planned(answer: Answer) -> list[Part]:
    """Return the parts that the lines of a plan make."""
    return [_part(answer, line) for line in answer.site.plan]


def _part(answer: Answer, line: PlanLine) -> Part:
    site, supply = answer.site, answer.supplies[line.way]
    place = site.place(line.place)
    decision = decide(site, line.need, [place], supply)
    if line.amount is not None or line.day is not None:
        doses = _doses(site, line, place, decision.doses, supply)
        decision = _as_written(line, place, doses, decision)
    return Part(line.need, line.way, decision)


def _as_written(line: PlanLine, place: Place, doses: tuple[Application, ...], reckoned: Decision) -> Decision:
    """Return the decision of doses as a line has them; without an amount what is not met stays so."""
    if line.amount is None and not reckoned.feasible:
        [serving] = reckoned.servings
        return replace(reckoned, servings=(replace(serving, doses=doses, later=()),))
    ready = max((dose.day for dose in doses), default=None)
    return Decision(servings=(Serving(place=place, doses=doses, ready_on=ready),), ready_on=ready)


def _doses(
    site: Site, line: PlanLine, place: Place, reckoned: Sequence[Application], supply: Supply[Any]
) -> tuple[Application, ...]:
    need = place.need(line.need)
    assert need is not None
    loose = sum(dose.loose for dose in reckoned)
    if line.amount is not None:
        loose = line.amount.loose(supply.material.get("density") or float("nan"))
    lots = supply.lots(site.end)
    first = reckoned[0].day if reckoned else lots[0].day if lots else site.start
    return (dose_for(place, need, supply, line.day or first, loose),) if loose > 0 else ()
