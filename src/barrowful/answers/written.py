"""Lines of a plan as they are written: the grower's own amount and day, or as reckoned."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from barrowful.answers.options import Answer
from barrowful.answers.sized_lines import sized
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
    parts = _dug_together(_parts(answer))
    there: dict[str, list[Application]] = defaultdict(list)
    for line, part in zip(site.plan, parts, strict=True):
        there[line.place] += part.doses
    verdicts = Verdicts(site, there)
    shared = Counter((line.need, line.place) for line in site.plan)
    lines = [
        part if _by_itself(line, part, shared) else _judged(line, part, verdicts)
        for line, part in zip(site.plan, parts, strict=True)
    ]
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


def _parts(answer: Answer) -> list[Part]:
    """Return the part of each line: those with an amount first, then what the others lack beside them."""
    lines = dict(enumerate(answer.site.plan))
    decisions = {
        number: _of_amount(answer, line) for number, line in lines.items() if line.amount is not None
    }
    typed = [dose for decision in decisions.values() for dose in decision.doses]
    left = {number: line for number, line in lines.items() if number not in decisions}
    decisions |= sized(answer, left, typed)
    return [Part(line.need, answer.supplies[line.way], decisions[number]) for number, line in lines.items()]


def _of_amount(answer: Answer, line: PlanLine) -> Decision:
    """Return the dose of a line with an amount: on its day, else on the first that its row of options has."""
    site, supply = answer.site, answer.supplies[line.way]
    place, amount = site.place(line.place), line.amount
    need = place.need(line.need)
    assert need is not None
    assert amount is not None
    day = line.day or _first_day(site, line, place, supply)
    loose = amount.loose(supply.material.get("density") or float("nan"))
    dose = dose_for(place, need, supply, day, loose)
    dose = replace(dose, typed="weight" if amount.volume is None else "volume")
    return Decision(servings=(Serving(place=place, doses=(dose,) if loose > 0 else ()),))


def _first_day(site: Site, line: PlanLine, place: Place, supply: Supply[Any]) -> date:
    """Return the first day on which a way goes on for the need of a line, else the first it is there."""
    reckoned = decide(site, line.need, [place], supply).doses
    lots = supply.lots(site.end)
    return reckoned[0].day if reckoned else lots[0].day if lots else site.start


def _by_itself(line: PlanLine, part: Part, lines: Mapping[tuple[str, str], int]) -> bool:
    """Say whether what a line does for its need is known by itself: as a row of options, or as plants there.

    ``lines`` are how many there are for each need, by kind and place.
    """
    alone = line.day is None and lines[line.need, line.place] == 1
    return line.amount is None and (alone or part.source.stands)


def _dug_together(parts: Sequence[Part]) -> list[Part]:
    """Return parts of which what is dug into a place on one day is dug in together, each its share."""
    dug = Counter((dose.place.name, dose.day) for part in parts for dose in part.doses if dose.dug)

    def shared(dose: Application) -> Application:
        times = dug[dose.place.name, dose.day] if dose.dug else 1
        return dose if times == 1 else replace(dose, share=dose.share / times)

    return [part._replace(decision=_each_dose(part.decision, shared)) for part in parts]


def _each_dose(decision: Decision, of: Callable[[Application], Application]) -> Decision:
    """Return a decision of which each dose is made another."""
    return replace(decision, servings=tuple(serving.each(of) for serving in decision.servings))


def _judged(line: PlanLine, part: Part, verdicts: Verdicts) -> Part:
    """Return a part with how far its need is met by all that is put on its place."""
    [serving] = part.decision.servings
    judged = verdicts.of(line.need, serving.place)
    serving = replace(
        serving,
        doses=tuple(dose for dose in serving.every_dose if dose.day <= judged.first_to),
        later=tuple(dose for dose in serving.every_dose if dose.day > judged.first_to),
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
