"""Lines of a plan as they are written: the grower's own amount and day, or as reckoned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from barrowful.answers.options import Answer
from barrowful.answers.together import Part
from barrowful.needs.decision import CannotServe, Decision, Judged, Serving, of_servings
from barrowful.needs.doses import dose_for
from barrowful.needs.registry import NEEDS, decide
from barrowful.site.records import Place, PlanLine, Site
from barrowful.soil.application import Application
from barrowful.supplies.supply import Supply


def planned(answer: Answer) -> list[Part]:
    """Return the parts that the lines of a plan make, each judged by all that is put on its place."""
    lines = [(line, _part(answer, line)) for line in answer.site.plan]
    there: dict[str, list[Application]] = {}
    for line, part in lines:
        there.setdefault(line.place, []).extend(part.doses)
    return [_judged(answer.site, line, part, there[line.place]) for line, part in lines]


def _part(answer: Answer, line: PlanLine) -> Part:
    site, supply = answer.site, answer.supplies[line.way]
    place = site.place(line.place)
    decision = decide(site, line.need, [place], supply)
    if _typed(line):
        doses = _doses(site, line, place, decision.doses, supply)
        reckoned = decision.servings[0] if line.amount is None else Serving(place=place)
        decision = Decision(servings=(replace(reckoned, doses=doses, later=()),))
    return Part(line.need, supply, decision)


def _typed(line: PlanLine) -> bool:
    """Say whether a line has an amount or a day of the grower's own."""
    return line.amount is not None or line.day is not None


def _judged(site: Site, line: PlanLine, part: Part, there: Sequence[Application]) -> Part:
    """Return a part with how far its need is met, where its doses are the grower's own."""
    if not _typed(line):
        return part
    [serving] = part.decision.servings
    try:
        judged = NEEDS[line.need].judge(site, serving.place, there)
    except CannotServe as refusal:
        judged = Judged(0.0, str(refusal))
    ready = None if judged.why_not else max((dose.day for dose in serving.doses), default=site.start)
    because = judged.why_not and (serving.why_not or judged.why_not)
    serving = replace(serving, why_not=because, share=judged.share, ready_on=ready)
    return part._replace(decision=of_servings([serving], site.start))


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
