"""Lines of a plan without an amount: each gets what is needed beside all other lines, within the ceilings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from barrowful.answers.options import Answer
from barrowful.needs.decision import Decision, Serving, of_servings, refused
from barrowful.needs.harvests import wait_of, why_barred
from barrowful.needs.registry import NEEDS, decide
from barrowful.needs.settled import Settled
from barrowful.site.records import Place, PlanLine
from barrowful.soil.application import Application
from barrowful.soil.seasons import crop_of, feeding_from, first_fed, season_of
from barrowful.supplies.joint import Joint


def sized(answer: Answer, lines: Mapping[int, PlanLine], typed: Sequence[Application]) -> dict[int, Decision]:
    """Return what lines without an amount put on, by their numbers, beside what is ``typed``."""
    if not lines:
        return {}
    sizing = Sizing(answer, lines, typed)
    for kind in NEEDS:
        sizing.settle(kind)
    return sizing.decisions


class Sizing:
    """Lines without an amount, settled in the order needs are.

    Lines for one need of a place share it: as the row of all their ways has it where that meets it, else the
    first takes what it can and the next what is left; those with a day come last, by their days.
    """

    def __init__(self, answer: Answer, lines: Mapping[int, PlanLine], typed: Sequence[Application]) -> None:
        self.answer, self.site, self.lines = answer, answer.site, lines
        self.settled = Settled(self.site)
        self.typed = {(dose.kind, dose.place.name) for dose in typed}
        self.decisions: dict[int, Decision] = {}
        #: When a need is ready that lines before meet, by kind and place.
        self.met: dict[tuple[str, str], date | None] = {}
        self._put_on(typed)

    def settle(self, kind: str) -> None:
        """Settle the lines for a kind of need; places that have one alone come first."""
        by_place: dict[str, list[int]] = {}
        for number, line in self.lines.items():
            if line.need == kind:
                by_place.setdefault(line.place, []).append(number)
        self._turn([numbers for numbers in by_place.values() if len(numbers) == 1])
        self._jointly(kind, by_place)
        queues = [
            sorted(numbers, key=lambda number: self.lines[number].day or date.min)
            for numbers in by_place.values()
            if numbers[0] not in self.decisions
        ]
        for turn in range(max(map(len, queues), default=0)):
            self._turn([queue[turn:] for queue in queues if len(queue) > turn])

    def _jointly(self, kind: str, by_place: Mapping[str, Sequence[int]]) -> None:
        """Settle the lines of places whose ways meet the need as one row of several ways."""
        groups: dict[tuple[str, ...], list[str]] = {}
        for name, numbers in by_place.items():
            ways = {self.lines[number].way for number in numbers}
            if len(numbers) == len(ways) > 1 and self._mixes(kind, name, numbers):
                groups.setdefault(tuple(way for way in self.answer.supplies if way in ways), []).append(name)
        for several, names in groups.items():
            joint = Joint(tuple(self.answer.supplies[way] for way in several))
            places = [self.site.place(name) for name in names]
            for serving in decide(self.site, kind, places, joint, self.settled).servings:
                for number in by_place[serving.place.name] if serving.met else ():
                    self._carry_out(number, _part_of(serving, self.lines[number]))

    def _mixes(self, kind: str, place: str, numbers: Sequence[int]) -> bool:
        """Say whether lines may be one row of several ways: with a day only if amounts do not go by it."""
        dated = [line for line in map(self.lines.__getitem__, numbers) if line.day]
        stocks = any(self.answer.supplies[line.way].limited for line in dated)
        by_day = dated and (NEEDS[kind].by_season or stocks or any(map(self._why_not, dated)))
        return NEEDS[kind].mixes and (kind, place) not in self.typed and not by_day

    def _turn(self, queues: Sequence[Sequence[int]]) -> None:
        """Settle the first line of each queue, those of a way that has an end together."""
        sharing: dict[str, list[int]] = {}
        for number, *after in queues:
            line = self.lines[number]
            supply = self.answer.supplies[line.way]
            if (line.need, line.place) in self.met and not supply.stands:
                ready = self.met[line.need, line.place]
                self._carry_out(number, Serving(place=self.site.place(line.place), ready_on=ready))
            elif line.day is None and supply.limited:
                sharing.setdefault(line.way, []).append(number)
            elif line.day is None:
                self._decide([number])
            else:
                days = (self.lines[other].day or line.day for other in after)
                self._begin(number, line.day, next((day for day in days if day > line.day), None))
        for numbers in sharing.values():
            self._decide(numbers)

    def _decide(self, numbers: Sequence[int]) -> None:
        """Settle lines of one way and kind of need as its row of options does."""
        lines = [self.lines[number] for number in numbers]
        places = [self.site.place(line.place) for line in lines]
        supply = self.answer.supplies[lines[0].way]
        decision = decide(self.site, lines[0].need, places, supply, self.settled)
        for number, serving in zip(numbers, decision.servings, strict=True):
            own = replace(of_servings([serving], self.site.start), founds=decision.founds)
            self._carry_out(number, serving, decision if len(numbers) == 1 else own)

    def _begin(self, number: int, day: date, then: date | None) -> None:
        """Settle a line that goes on first on a day; the next one takes over on its own, where it has one."""
        line, place = self.lines[number], self.site.place(self.lines[number].place)
        decision = self._begun_on(line, place, day)
        [serving] = decision.servings
        kept = [dose for dose in serving.every_dose if dose.day == day or not self._is_of(line, dose, then)]
        if len(kept) == len(serving.every_dose):
            self._carry_out(number, serving, decision)
        else:
            self._carry_out(number, replace(serving, doses=tuple(kept), later=()), goes_on=True)

    def _is_of(self, line: PlanLine, dose: Application, then: date | None) -> bool:
        """Say whether a dose comes when the next line of a need goes on: of a feed, from its season on."""
        if then is None or not NEEDS[line.need].by_season:
            return then is not None and dose.day >= then
        return season_of(self.site, dose.day) >= season_of(self.site, then)

    def _begun_on(self, line: PlanLine, place: Place, day: date) -> Decision:
        """Return what a place gets of a way that goes on first on a day; why nothing does on it."""
        if because := self._why_not(line):
            return of_servings([refused(place, because)], self.site.start)
        return decide(self.site, line.need, [place], self.answer.supplies[line.way], self._beside(line, day))

    def _beside(self, line: PlanLine, day: date) -> Settled:
        """Return what is settled, where the way of a line goes on first on a day."""
        return self.settled.begun_on(self.answer.supplies[line.way], day, NEEDS[line.need].goes_on_once)

    def _why_not(self, line: PlanLine) -> str:
        """Return why nothing of its way can go on on the day of a line, or nothing."""
        site, supply, day = self.site, self.answer.supplies[line.way], line.day or self.site.start
        if supply.stands:
            return ""
        if day > site.end:
            return f"{day} is after the horizon ends on {site.end}"
        place = site.place(line.place)
        need = place.need(line.need)
        wait = wait_of(site, place, line.need, need is not None and need.dug, supply.material)
        barred = why_barred(wait, day)
        if barred:
            return barred
        if NEEDS[line.need].by_season and season_of(site, day) < first_fed(site, place):
            first = feeding_from(site.hemisphere, day, crop_of(place))
            return (
                f"the first season fed begins with {first}: give a day from then on, or the amount for {day}"
            )
        there = self._beside(line, day).stock(supply).lots.first == day
        return "" if there else f"nothing of it is there on {day}"

    def _carry_out(
        self, number: int, serving: Serving, decision: Decision | None = None, goes_on: bool = False
    ) -> None:
        """Put on what a line brings; others may still be needed where it ``goes_on`` with the next line."""
        line = self.lines[number]
        self.decisions[number] = decision or of_servings([serving], self.site.start)
        self._put_on(serving.every_dose)
        if serving.met and not goes_on and not self.decisions[number].founds:
            self.met[line.need, line.place] = serving.ready_on

    def _put_on(self, doses: Sequence[Application]) -> None:
        """Settle doses, and take them from what has an end."""
        self.settled.put_on(doses)
        for dose in doses:
            supply = self.answer.supplies[dose.way]
            if supply.limited:
                self.settled.stock(supply).take(dose.number, dose.loose)


def _part_of(serving: Serving, line: PlanLine) -> Serving:
    """Return what the way of a line brings of a serving by several, on the line's day where it has one."""
    first, later = (
        tuple(replace(dose, day=line.day) if line.day else dose for dose in doses if dose.way == line.way)
        for doses in (serving.doses, serving.later)
    )
    return replace(serving, doses=first, later=later)
