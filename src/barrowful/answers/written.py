"""Lines of a plan as they are written: the grower's own amount and day, or as reckoned."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from barrowful.answers.options import Answer
from barrowful.answers.together import Part
from barrowful.needs.decision import CannotServe, Decision, Judged, Serving, of_servings
from barrowful.needs.doses import dose_for
from barrowful.needs.registry import NEEDS, decide
from barrowful.site.records import Place, PlanLine, Site
from barrowful.soil.application import Application
from barrowful.supplies.joint import Joint
from barrowful.supplies.supply import Supply

#: What brings nothing: a need is met without it.
NOTHING = Joint(())


def planned(answer: Answer) -> list[Part]:
    """Return the parts that the lines of a plan make, each judged by all that is put on its place.

    After those of the lines come the needs without one that are met already, or by what is put on for others.
    """
    site = answer.site
    parts = _dug_together([_part(answer, line) for line in site.plan])
    there: dict[str, list[Application]] = defaultdict(list)
    for line, part in zip(site.plan, parts, strict=True):
        there[line.place] += part.doses
    verdicts = Verdicts(site, there)
    lines = [_judged(line, part, verdicts) for line, part in zip(site.plan, parts, strict=True)]
    return [*lines, *_met_by_others(site, there, verdicts)]


class Verdicts:
    """How far all that is put on each place meets its needs, each judged once."""

    def __init__(self, site: Site, there: Mapping[str, Sequence[Application]]) -> None:
        self.site, self.there = site, there
        self._known: dict[tuple[str, str], Judged] = {}

    def of(self, kind: str, place: Place) -> Judged:
        """Return how far a need of a place is met."""
        key = kind, place.name
        if key not in self._known:
            try:
                self._known[key] = NEEDS[kind].judge(self.site, place, self.there.get(place.name, ()))
            except CannotServe as refusal:
                self._known[key] = Judged(0.0, str(refusal))
        return self._known[key]


def _part(answer: Answer, line: PlanLine) -> Part:
    site, supply = answer.site, answer.supplies[line.way]
    place = site.place(line.place)
    if line.amount is not None and line.day is not None:
        decision = Decision(servings=(Serving(place=place),))  # nothing is left to reckon
    else:
        decision = decide(site, line.need, [place], supply)
    if _typed(line):
        doses = _doses(site, line, place, decision.doses, supply)
        reckoned = decision.servings[0] if line.amount is None else Serving(place=place)
        decision = Decision(servings=(replace(reckoned, doses=doses, later=()),))
    return Part(line.need, supply, decision)


def _typed(line: PlanLine) -> bool:
    """Say whether a line has an amount or a day of the grower's own."""
    return line.amount is not None or line.day is not None


def _dug_together(parts: Sequence[Part]) -> list[Part]:
    """Return parts of which what is dug into a place on one day is dug in together, each its share."""
    dug = Counter((dose.place.name, dose.day) for part in parts for dose in part.doses if dose.dug)

    def shared(dose: Application) -> Application:
        times = dug[dose.place.name, dose.day] if dose.dug else 1
        return dose if times == 1 else replace(dose, share=dose.share / times)

    return [part._replace(decision=_each_dose(part.decision, shared)) for part in parts]


def _each_dose(decision: Decision, of: Callable[[Application], Application]) -> Decision:
    """Return a decision of which each dose is made another."""
    servings = tuple(
        replace(serving, doses=tuple(map(of, serving.doses)), later=tuple(map(of, serving.later)))
        for serving in decision.servings
    )
    return replace(decision, servings=servings)


def _judged(line: PlanLine, part: Part, verdicts: Verdicts) -> Part:
    """Return a part with how far its need is met, where its doses are the grower's own."""
    if not _typed(line):
        return part
    [serving] = part.decision.servings
    judged = verdicts.of(line.need, serving.place)
    serving = replace(
        serving,
        doses=tuple(dose for dose in serving.doses if dose.day <= judged.first_to),
        later=tuple(dose for dose in serving.doses if dose.day > judged.first_to),
        why_not=judged.why_not and (serving.why_not or judged.why_not),
        share=judged.share,
        ready_on=judged.ready_on,
    )
    decision = replace(of_servings([serving], verdicts.site.start), as_written=True)
    return part._replace(decision=decision)


def _met_by_others(
    site: Site, there: Mapping[str, Sequence[Application]], verdicts: Verdicts
) -> Iterator[Part]:
    """Yield a part without doses for each need without a line that is met: by what is put on for others, or
    already.
    """
    named = {(line.need, line.place) for line in site.plan}
    for place in site.places:
        for need in place.needs:
            if (need.kind, place.name) not in named:
                judged = verdicts.of(need.kind, place)
                if not judged.why_not:
                    serving = Serving(place=place, ready_on=judged.ready_on)
                    yield Part(need.kind, NOTHING, of_servings([serving], site.start))


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
    dose = dose_for(place, need, supply, line.day or first, loose)
    if line.amount is not None:
        dose = replace(dose, typed="volume" if line.amount.volume is not None else "weight")
    return (dose,) if loose > 0 else ()
