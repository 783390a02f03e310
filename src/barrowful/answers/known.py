"""What is decided for a site as its options are worked out, and what is taken over from a site nearby."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from barrowful.answers.costs import Bill
from barrowful.answers.nearby import Differences
from barrowful.answers.option import Option, make_option
from barrowful.costs.labour import Hours
from barrowful.needs.decision import Decision, Serving
from barrowful.needs.registry import decide
from barrowful.site.records import Place, Site
from barrowful.supplies.joint import Source
from barrowful.supplies.supply import Cost, Supply

#: A kind of need, a way, places, and the doses settled on these and drawn of that way before.
Beside = tuple[str, str, tuple[str, ...], tuple[int, ...], tuple[int, ...]]
#: A kind of need, a way and places.
Row = tuple[str, str, tuple[str, ...]]


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


def same(of: Worked, differs: Differences, sources: Mapping[str, Source]) -> Worked:
    """Return what is worked out for a site that holds for one which differs from it, by its ``sources``."""

    def as_much(name: str) -> bool:
        return name in sources and differs.same_doses(sources[name])

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

    def decision(self, kind: str, places: Sequence[Place], source: Source) -> Decision:
        """Return what a way, or several, do for a kind of need in places, with nothing settled before."""
        row = _row(kind, places, source)
        known = self._taken_over(row, source)
        if known is None:
            known = decide(self.site, kind, places, source)
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
        if self.near is None or self.differs is None:
            return None
        same = self.differs.same_place(row[2]) and self.differs.same_doses(source)
        return self.near.decisions.get(row) if same else None

    def _costs_the_same(self, source: Source) -> bool:
        return self.differs is not None and self.differs.same_cost(source.names)


def _row(kind: str, places: Sequence[Place], source: Source) -> Row:
    return kind, source.name, tuple(place.name for place in places)


def supplies_there(supplies: Mapping[str, Supply[Any]], differs: Differences) -> dict[str, Supply[Any]]:
    """Return the supplies of a site that are the same on one which differs from it."""
    return {name: supply for name, supply in supplies.items() if differs.same_cost((name,))}
