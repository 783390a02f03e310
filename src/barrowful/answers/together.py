"""Needs settled one after another: what each gets beside those before, and what all costs together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import chain
from typing import Any, NamedTuple

from barrowful.answers.bills import bill_of
from barrowful.answers.costs import Bill, jobs_of
from barrowful.answers.known import Use
from barrowful.answers.met_besides import counting_later, met_by_all
from barrowful.answers.option import Option, make_option, over_limits
from barrowful.answers.options import Answer
from barrowful.answers.overdrawn import overdrawn
from barrowful.answers.work import finished
from barrowful.needs.decision import Decision, Serving, in_turn, of_servings
from barrowful.needs.registry import NEEDS, decide, serve
from barrowful.needs.settled import Settled
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.joint import Source
from barrowful.supplies.supply import Supply

#: Ways for each kind of need: the first serves what it can, the next what is left, and so on.
Picks = Mapping[str, tuple[str, ...]]
#: Kinds of need that make the ground of a place, and why its other needs are not met without.
MAKERS, NOT_MADE = [kind for kind in NEEDS if NEEDS[kind].makes_ground], "nothing goes on before it is filled"


class Part(NamedTuple):
    """What a way, or several jointly, do for one kind of need: the servings that are carried out."""

    need: str
    source: Source
    decision: Decision

    @property
    def way(self) -> str:
        """Return the name of the way, or of the ways that serve jointly."""
        return self.source.name

    @property
    def doses(self) -> tuple[Application, ...]:
        """Return all that is put on."""
        return self.decision.every_dose


class Together:
    """Needs settled in their order, each beside those before it: what is put on, and what is left of stocks.

    A serving that does not meet its need is not carried out: nothing is put on for it. Nothing is spread
    twice, and no ceiling is passed by all together.
    """

    def __init__(self, answer: Answer, partial: bool = False) -> None:
        self.answer, self.partial, self.worked_out = answer, partial, 0
        self.settled = Settled(answer.site, if_late="part" if partial else "nothing")
        # what goes part of the way is decided otherwise than what the rows and the search know
        self.servings = {} if partial else answer.servings
        self.decisions = {} if partial else answer.decisions
        self.parts: list[Part] = []
        self.unmet: dict[tuple[str, str], Serving] = {}
        self.written = False  #: are the parts lines of a plan, which stay as they are?

    def copy(self) -> Together:
        """Return another with the same settled."""
        other = Together(self.answer, self.partial)
        other.written = self.written
        other.settled, other.parts, other.unmet = self.settled.branch(), list(self.parts), dict(self.unmet)
        return other

    def serve(
        self, kind: str, ways: Sequence[str], among: Collection[str] | None = None, whole: bool = False
    ) -> int:
        """Settle a kind of need by ways: each serves the places that those before it do not.

        Where names of places are given it is settled in those alone; where ``whole``, only what meets it.

        Returns how many servings had to be worked out for it.
        """
        before = self.worked_out
        places = self.answer.site.places_with(kind)
        left = {place.name: place for place in places if among is None or place.name in among}
        for name in self.not_made(kind) & left.keys():
            self.unmet[kind, name] = Serving(place=left.pop(name), why_not=NOT_MADE, share=0.0)
        for way in ways:
            supply = self.answer.source(way)
            served = [place for place in left.values() if supply.serves(place, kind)]
            if not served:
                continue
            decision = self._beside(kind, served, supply)
            part = self.partial and not whole and way == ways[-1]
            carried = [of for of in decision.servings if of.met or (part and of.every_dose)]
            if carried and self._suffices(supply, carried):
                self._carry_out(kind, supply, decision, carried)
                for serving in carried:
                    if serving.met:
                        del left[serving.place.name]
                        self.unmet.pop((kind, serving.place.name), None)
            for serving in decision.short_of:
                self.unmet.setdefault((kind, serving.place.name), serving)
        return self.worked_out - before

    def not_made(self, kind: str) -> set[str]:
        """Return the places that are still to be filled, on which nothing else goes on before."""
        if kind in MAKERS:
            return set()
        makers = [part for part in self.parts if part.need in MAKERS]
        made = {of.place.name for part in makers for of in part.decision.servings if of.met}
        return {place.name for maker in MAKERS for place in self.answer.site.places_with(maker)} - made

    def beside_all(self, kind: str, place: Place, source: Source) -> Serving:
        """Return what a place would get of a source beside all that is settled; nothing is put on."""
        return serve(self.answer.site, kind, place, source, self.settled.branch())

    def _beside(self, kind: str, places: Sequence[Place], supply: Source) -> Decision:
        """Return what places get of a supply beside what is settled; of what has no end each by itself."""
        site = self.answer.site
        if not supply.limited:
            by_name = {place.name: self._serving(kind, place, supply) for place in in_turn(places)}
            return of_servings([by_name[place.name] for place in places], site.start)
        ways, names = {part.name for part in supply.parts}, tuple(place.name for place in places)
        there = [dose for place in places for dose in self.settled.on(place)]
        drawn = [dose for dose in self.all_doses if dose.way in ways]
        key = kind, supply.key, names, tuple(map(id, there)), tuple(map(id, drawn))
        known = self.decisions
        if key not in known:
            found = decide(site, kind, places, supply, self.settled)
            known[key] = replace(found, servings=tuple(map(self._dug_once, found.servings)))
            self.worked_out += len(places)
        return known[key]

    def _serving(self, kind: str, place: Place, supply: Source) -> Serving:
        """Return what one place gets; the same beside the same is worked out once."""
        key = kind, supply.key, place.name, tuple(id(dose) for dose in self.settled.on(place))
        known = self.servings
        if key not in known:
            known[key] = self._dug_once(serve(self.answer.site, kind, place, supply, self.settled))
            self.worked_out += 1
        return known[key]

    def _dug_once(self, serving: Serving) -> Serving:
        """Return what a place gets, dug in with what is settled to be dug in there on the same day."""
        dug = defaultdict[date, float](float)
        for dose in self.settled.on(serving.place):
            dug[dose.day] += dose.share if dose.dug else 0.0

        def with_it(dose: Application) -> Application:
            already = dug.get(dose.day, 0.0) if dose.dug else 0.0
            return replace(dose, share=max(0.0, dose.share - already)) if already else dose

        return serving.each(with_it) if any(dose.day in dug for dose in serving.every_dose) else serving

    def _carry_out(self, kind: str, supply: Source, decision: Decision, carried: Sequence[Serving]) -> None:
        """Put on what is carried out, and take it from its stock."""
        part = replace(of_servings(carried, self.answer.site.start), founds=decision.founds)
        self.parts.append(Part(kind, supply, part))
        self.settled.put_on(part.every_dose)
        self.take(supply, part.every_dose)
        for earlier in counting_later(kind):
            self._meets_too(earlier, supply, [of.place for of in carried if of.place.need(earlier)])

    def take(self, source: Source, doses: Sequence[Application]) -> None:
        """Take doses of a source from what has an end."""
        for way, own in source.divide(doses):
            for dose in own if way.limited else ():
                self.settled.stock(way).take(dose.number, dose.loose)

    def _meets_too(self, kind: str, source: Source, places: Sequence[Place]) -> None:
        """Note where what was just put on meets a need settled before that is not met, or not whole."""
        start, own = self.answer.site.start, [part.decision for part in self.parts if part.need == kind]
        met = met_by_all(self.answer.site, kind, places, self.settled, own) if places else {}
        for name in met:
            self.unmet.pop((kind, name), None)
        for number, part in enumerate(self.parts):
            if part.need == kind and any(of.place.name in met for of in part.decision.servings):
                servings = [met.pop(of.place.name, of) for of in part.decision.servings]
                self.parts[number] = part._replace(decision=of_servings(servings, start))
        if met:
            decision = replace(of_servings([*met.values()], start), by_others=True)
            self.parts.append(Part(kind, source, decision))

    def _suffices(self, supply: Source, carried: Sequence[Serving]) -> bool:
        """Say whether no way is asked for more than it brings, what it passes on to others counted."""
        drawn_on = supply.limited and any(part.source.draws_on_others for part in self.parts)
        if not supply.draws_on_others and not drawn_on:
            return True
        doses = [*self.all_doses, *(dose for of in carried for dose in of.every_dose)]
        return not overdrawn(self.answer.supplies, doses)

    @property
    def all_doses(self) -> list[Application]:
        """Return all that is put on."""
        return [dose for part in self.parts for dose in part.doses]

    def doses_on(self, place: str) -> list[Application]:
        """Return all that is put on a place."""
        return [dose for dose in self.all_doses if dose.place.name == place]

    @property
    def met(self) -> int:
        """Return how many needs of places are met."""
        return sum(of.met for part in self.parts for of in part.decision.servings)

    @property
    def ready_on(self) -> date | None:
        """Return the day the last of what is met is ready, its work done."""
        weekly, days = self.answer.site.labour.hours_per_week, self._days
        if weekly is None or not days:
            return max(days, default=None)
        done = self._done(weekly)
        return None if done is None else max([*days, done])

    def _done(self, weekly: float) -> date | None:
        """Return the day on which all is put on with so many hours a week, None where they are too few."""
        jobs = [
            self._jobs_of(way, own)
            for part in self.parts
            for way, own in part.source.divide(part.decision.doses)
        ]
        known, key = self.answer.done, tuple(map(id, jobs))
        if key not in known:
            known[key] = finished(weekly, chain.from_iterable(jobs))
        return known[key]

    @property
    def _days(self) -> list[date]:
        """Return the days needs are ready on, were there hours enough."""
        return [of.ready_on for part in self.parts for of in part.decision.servings if of.ready_on]

    @property
    def late(self) -> bool:
        """Say whether there are too few hours a week to do the work by the end, or by its own later days."""
        weekly, end = self.answer.site.labour.hours_per_week, self.answer.site.end
        if weekly is None or not any(part.decision.doses for part in self.parts):
            return False
        done = self._done(weekly)
        return done is None or done > max([end, *self._days])

    def _jobs_of(self, way: Supply[Any], doses: Sequence[Application]) -> list[tuple[date, float]]:
        """Return the likely hours to put doses of a way on, by day; worked out once for the same."""
        known, key = self.answer.jobs, (way.name, tuple(map(id, doses)))
        if key not in known:
            known[key] = jobs_of(self.answer.site, doses, way)
            self.answer.kept.append(doses)
        return known[key]

    def uses(self) -> tuple[Use, ...]:
        """Return what is put on of each way."""
        founded = {part.way for part in self.parts if part.decision.founds}
        return tuple(
            Use(way, way in founded, tuple(doses)) for way, doses in doses_by_way(self.parts).items()
        )

    def bill(self) -> Bill:
        """Return what all costs together."""
        return bill_of(self.answer, self.uses())

    def options(self) -> list[Option]:
        """Return the parts as options, each with what it costs by itself."""
        site = self.answer.site
        return [
            make_option(
                site,
                part.need,
                part.source,
                [of.place for of in part.decision.servings],
                part.decision,
            )
            for part in self.parts
        ]

    def over_limits(self, bill: Bill) -> str:
        """Return which limits of the grower's all together are over, or nothing."""
        return over_together(self.answer.site, self.late, self.ready_on, bill)


def over_together(site: Site, late: bool, ready: date | None, bill: Bill) -> str:
    """Return which limits of the grower's work, ready on a day, is over, or nothing."""
    over = over_limits(site, bill.cash, bill.hours, ready)
    return over or ("the work is not done within the horizon" if late else "")


def doses_by_way(parts: Iterable[Part]) -> dict[str, list[Application]]:
    """Return the doses of parts by way, with a way of each part even where it brings nothing."""
    doses: dict[str, list[Application]] = {}
    for part in parts:
        for way, own in part.source.divide(part.doses):
            doses.setdefault(way.name, []).extend(own)
    return doses
