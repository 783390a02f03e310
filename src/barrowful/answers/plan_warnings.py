"""What a plan as it is written asks too much of, or does not do: limits, stocks, sellers, ceilings, needs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from barrowful.answers.begun_plan import begun
from barrowful.answers.choices import WholeSite, your_plan
from barrowful.answers.options import options
from barrowful.answers.overdrawn import overdrawn_ways
from barrowful.needs.breaches import worst_breaches
from barrowful.site.records import PlanLine, Site


class OfPlan(NamedTuple):
    """A sentence on a plan, and the number of the line that it names first, from 0; None for all of it."""

    sentence: str
    line: int | None = None


def plan_warnings(whole: WholeSite) -> list[str]:
    """Return what a plan as it is written asks too much of: limits, stocks, sellers, ceilings."""
    return [told.sentence for told in told_of_plan(whole)]


def warnings_of_file(site: Site) -> list[OfPlan]:
    """Return the same of the plan in a site file, which is worked out for it."""
    return list(told_of_plan(your_plan(options(begun(site))))) if site.plan else []


def told_of_plan(whole: WholeSite) -> Iterator[OfPlan]:
    """Yield the same, each with the line that it names first."""
    if not whole.together.answer.site.plan:
        return
    yield from map(OfPlan, over_limits(whole))
    yield from _overdrawn(whole)
    yield from _late_lines(whole)
    yield from _unmet_lines(whole)
    yield from _idle_lines(whole)
    yield from _breaches(whole)


def over_limits(whole: WholeSite) -> list[str]:
    """Return which limits of the grower's what is followed is over."""
    return [f"{whole.title}: {whole.over}"] if whole.over else []


def _overdrawn(whole: WholeSite) -> Iterator[OfPlan]:
    """Yield a sentence on each way that is asked for more than it brings, with the first line of it."""
    together, first = whole.together, dict[str, int]()
    for number, line in enumerate(together.answer.site.plan):
        first.setdefault(line.way, number)
    for way, short in overdrawn_ways(together.answer.supplies, together.all_doses).items():
        yield OfPlan(f"plan: {short}", first.get(way))


def _breaches(whole: WholeSite) -> Iterator[OfPlan]:
    """Yield a sentence on each ceiling that is broken, with the line of a dose that breaks it."""
    together = whole.together
    line_of = {id(dose): number for number, part in enumerate(together.parts) for dose in part.doses}
    for broken in worst_breaches(together.answer.site, together.all_doses):
        yield OfPlan(f"plan: {broken.sentence}", line_of.get(id(broken.dose)))


def _late_lines(whole: WholeSite) -> Iterator[OfPlan]:
    """Yield a sentence on the lines of the plan that a seller cannot meet: the worst, and how many more."""
    answer = whole.together.answer
    late = [
        (earliest - line.day, number, line, earliest)
        for number, line in enumerate(answer.site.plan)
        if line.day is not None
        and (earliest := answer.supplies[line.way].earliest) is not None
        and line.day < earliest
    ]
    if late:
        _, number, worst, earliest = max(late, key=lambda one: one[0])
        more = f" (and {len(late) - 1} more late)" if late[1:] else ""
        wanted = f"is wanted on {worst.day}, but comes on {earliest} at the soonest"
        ordered = f"when it is ordered on {answer.site.start}"
        yield OfPlan(f"plan: {_named(worst)} {wanted} {ordered}{more}", number)


def _unmet_lines(whole: WholeSite) -> Iterator[OfPlan]:
    """Yield a sentence on lines without an amount that leave their need unmet: the worst, how many more."""
    together = whole.together
    lines = zip(together.answer.site.plan, together.parts, strict=False)  # lines come first
    unmet = [
        (part.decision, number, line)
        for number, (line, part) in enumerate(lines)
        if line.amount is None
        and not part.decision.feasible
        and (line.need, line.place) not in whole.places_met
    ]
    if unmet:
        decision, number, worst = min(unmet, key=lambda each: each[0].met_share)
        more = f" (and {len(unmet) - 1} more not met)" if unmet[1:] else ""
        goes_on = f"{decision.met_share:.0%} of it is met" if decision.every_dose else "nothing goes on"
        yield OfPlan(f"plan: {_named(worst)}: {decision.why_not}; {goes_on}{more}", number)


def _idle_lines(whole: WholeSite) -> Iterator[OfPlan]:
    """Yield a sentence on lines without an amount that put nothing on, as other lines meet their need."""
    together = whole.together
    plan = together.answer.site.plan
    lines = Counter((line.need, line.place) for line in plan)
    idle = [
        (number, line)
        for number, (line, part) in enumerate(zip(plan, together.parts, strict=False))  # lines come first
        if line.amount is None
        and not (part.doses or part.decision.founds)
        and lines[line.need, line.place] > 1
        and (line.need, line.place) in whole.places_met
    ]
    if idle:
        more = f" (and {len(idle) - 1} more)" if idle[1:] else ""
        number, first = idle[0]
        told = f"plan: {_named(first)}: nothing of it goes on, other lines meet the need{more}"
        yield OfPlan(told, number)


def _named(line: PlanLine) -> str:
    """Return what a line is called."""
    return f"{line.place}, {line.need} by {line.way}"
