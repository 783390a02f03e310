"""What is decided for a site as its options are worked out, and what is taken over from a site nearby."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from barrowful.answers.costs import Bill
from barrowful.answers.nearby import Differences
from barrowful.answers.option import Option, make_option
from barrowful.costs.labour import Hours
from barrowful.needs.decision import Decision, Serving
from barrowful.needs.registry import decide
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.joint import Source
from barrowful.supplies.supply import Cost, Supply

#: A kind of need, a way, places, and the doses settled on these and drawn of that way before.
Beside = tuple[str, str, tuple[str, ...], tuple[int, ...], tuple[int, ...]]
#: A kind of need, a way and places.
Row = tuple[str, str, tuple[str, ...]]
#: Ways for the first kinds of need, in the order needs are settled.
Assigned = tuple[tuple[str, tuple[str, ...]], ...]


class Use(NamedTuple):
    """What is put on of one way, and whether it is founded for it."""

    way: str
    founds: bool
    doses: tuple[Application, ...]


class Reach(NamedTuple):
    """What ways for the first kinds of need reach together, whatever it costs."""

    met: int  #: needs of places
    ready: date | None
    late: bool  #: are there too few hours a week to do its work in time?
    uses: tuple[Use, ...]
    unmet: frozenset[tuple[str, str]]  #: needs that later ones may meet yet, by kind and place


class Worked(NamedTuple):
    """What is worked out once for the same, by what it goes by; doses go by where they are in memory."""

    #: Servings by kind of need, way, place and what was settled there before, once they were asked for.
    servings: dict[tuple[str, str, str, tuple[int, ...]], Serving]
    #: Decisions by kind of need, way, places, what was settled there and drawn of the way before.
    decisions: dict[Beside, Decision]
    #: Costs, and hours to put it on, of doses of a way: by the way, whether it is founded, and the doses.
    costs: dict[tuple[str, bool, tuple[int, ...]], tuple[Cost, Hours]]
    #: Bills of all, by the costs of each way.
    bills: dict[tuple[int, ...], Bill]
    #: The likely hours to put on what meets needs first, by day: by way and doses.
    jobs: dict[tuple[str, tuple[int, ...]], list[tuple[date, float]]]
    #: The day all work is done, by the jobs of each part and way.
    done: dict[tuple[int, ...], date | None]
    #: What was searched through on the way to the cheapest.
    reached: dict[Assigned, Reach]


def same(
    of: Worked, differs: Differences, sources: Mapping[str, Source], alike: Collection[tuple[str, str]]
) -> Worked:
    """Return what is worked out for a site that holds for one which differs from it, by its ``sources``.

    ``alike`` are kinds of need and several ways that do the same for it as before, with nothing beside it.
    """

    def as_much(name: str) -> bool:
        return name in sources and differs.same_doses(sources[name])

    def as_far(assigned: Assigned) -> bool:
        every = [(kind, way) for kind, ways in assigned for way in ways]
        first = 1 if every and every[0] in alike else 0  # nothing is put on before it
        return all(as_much(way) for _, way in every[first:])

    hours = not differs.terms
    return Worked(
        servings={
            key: serving
            for key, serving in of.servings.items()
            if as_much(key[1]) and differs.same_place((key[2],))
        },
        decisions={
            key: decision
            for key, decision in of.decisions.items()
            if as_much(key[1]) and differs.same_place(key[2])
        },
        costs={key: cost for key, cost in of.costs.items() if differs.same_cost((key[0],))},
        bills=dict(of.bills) if hours else {},
        jobs={key: jobs for key, jobs in of.jobs.items() if hours and as_much(key[0])},
        done=dict(of.done) if hours else {},
        reached={
            assigned: reach
            for assigned, reach in of.reached.items()
            if hours and not differs.places and as_far(assigned)
        },
    )


class Known:
    """The decisions and options of a site by kind of need, way and places.

    What a site ``near`` it has known, and which is the same here, is taken over as ``differs`` says. They are
    kept for another site, unless there are a row for each place.
    """

    def __init__(
        self, site: Site, near: Known | None = None, differs: Differences | None = None, keeps: bool = True
    ) -> None:
        self.site, self.keeps = site, keeps
        self.decisions: dict[Row, Decision] = {}
        self.options: dict[Row, Option] = {}
        self.near = near if differs is not None else None
        self.differs = differs
        #: Kinds of need and several ways that do the same for it, whatever they cost now.
        self.alike: set[tuple[str, str]] = set()

    def decision(self, kind: str, places: Sequence[Place], source: Source) -> Decision:
        """Return what a way, or several, do for a kind of need in places, with nothing settled before."""
        row = _row(kind, places, source)
        known = self._taken_over(row, source)
        if known is None:
            known = self._or_as_before(row, source, decide(self.site, kind, places, source))
            self._pass_on(row, source, known)
        if self.keeps:
            self.decisions[row] = known
        return known

    def option(self, kind: str, places: Sequence[Place], source: Source, decision: Decision) -> Option:
        """Return the option of what a way, or several, do for a kind of need in places."""
        row = _row(kind, places, source)
        known = self.near.options.get(row) if self.near else None
        if known is None or known.decision is not decision or not self._costs_the_same(source):
            known = make_option(self.site, kind, source, places, decision)
        if self.keeps:
            self.options[row] = known
        return known

    def _taken_over(self, row: Row, source: Source) -> Decision | None:
        return self.near.decisions.get(row) if self.near is not None and self._same(row, source) else None

    def _same(self, row: Row, source: Source) -> bool:
        """Say whether a source does the same in some places here as on the site nearby."""
        differs = self.differs
        return differs is not None and differs.same_place(row[2]) and differs.same_doses(source)

    def _pass_on(self, row: Row, source: Source, decision: Decision) -> None:
        """Let other sites beside that nearby take over what goes by no price, as this one would have."""
        if self.near is not None and self.near.keeps and source.weight_of and self._same(row, source):
            self.near.decisions[row] = decision

    def is_hopeless(self, kind: str, places: Sequence[Place], source: Source) -> bool:
        """Say whether several ways met a need nowhere near it, and do not however much they cost now."""
        before = self._whatever_cost(_row(kind, places, source), source)
        by_itself = len(places) == 1 or not source.limited
        hopeless = before is not None and by_itself and all(of.hopeless for of in before.servings)
        if hopeless and before and self.keeps:
            self.decisions[_row(kind, places, source)] = before
        return hopeless

    def _or_as_before(self, row: Row, source: Source, decision: Decision) -> Decision:
        """Return what is decided, as it was decided near it where several ways do the same."""
        before = self._whatever_cost(row, source)
        if before is None or not before.does_as(decision):
            return decision
        self.alike.add(row[:2])
        return before

    def _whatever_cost(self, row: Row, source: Source) -> Decision | None:
        """Return what was decided near it where places and what ways bring are the same, if not the cost."""
        if self.near is None or self.differs is None or not self.differs.same_place(row[2]):
            return None
        return self.near.decisions.get(row) if self.differs.bringing.isdisjoint(source.names) else None

    def _costs_the_same(self, source: Source) -> bool:
        return self.differs is not None and self.differs.same_cost(source.names)


def _row(kind: str, places: Sequence[Place], source: Source) -> Row:
    return kind, source.key, tuple(place.name for place in places)


def supplies_there(supplies: Mapping[str, Supply[Any]], differs: Differences) -> dict[str, Supply[Any]]:
    """Return the supplies of a site that are the same on one which differs from it."""
    return {name: supply for name, supply in supplies.items() if differs.same_cost((name,))}
