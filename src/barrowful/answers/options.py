"""The main job: each way applied to the needs it can serve, side by side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import field, replace
from datetime import date
from typing import Any, NamedTuple

from barrowful.answers.costs import Bill
from barrowful.answers.jointly import joint_rows
from barrowful.answers.known import Assigned, Beside, Known, Reach, Worked, same, supplies_there
from barrowful.answers.nearby import Differences, differences
from barrowful.answers.option import Option, first_among_equals, worth
from barrowful.costs.labour import Hours
from barrowful.measures.fixed import fixed
from barrowful.needs.decision import Decision, Serving
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place, PlanLine, Site
from barrowful.soil.application import Application
from barrowful.supplies.joint import Joint, Source
from barrowful.supplies.placing import Placed
from barrowful.supplies.registry import supplies
from barrowful.supplies.supply import Cost, Supply


class Choice(NamedTuple):
    """An answer to one plain question: which option, and the sentence."""

    question: str
    need: str
    option: Option | None
    sentence: str


@fixed(kw_only=False)
class Answer:
    """All options of a site, in need and file order."""

    site: Site
    options: tuple[Option, ...]
    #: More rows of several ways, for where other needs come first: they are not shown.
    spare: tuple[Option, ...] = ()
    supplies: dict[str, Supply[Any]] = field(default_factory=dict)
    #: Ways that serve a need jointly, by their keys.
    joints: dict[str, Joint] = field(default_factory=dict)
    #: Servings by kind of need, way, place and what was settled there before, once they were asked for.
    servings: dict[tuple[str, str, str, tuple[int, ...]], Serving] = field(default_factory=dict)
    #: Decisions by kind of need, way, places, what was settled there and drawn of the way before.
    decisions: dict[Beside, Decision] = field(default_factory=dict)
    #: Costs, and hours to put it on, of doses of a way: by the way, whether it is founded, and the doses.
    costs: dict[tuple[str, bool, tuple[int, ...]], tuple[Cost, Hours]] = field(default_factory=dict)
    #: Bills of all, by the costs of each way.
    bills: dict[tuple[int, ...], Bill] = field(default_factory=dict)
    #: Orders by the draws of a seller, which costs keep.
    placed: Placed = field(default_factory=dict)
    #: The likely hours to put on what meets needs first, by day: by way and doses.
    jobs: dict[tuple[str, tuple[int, ...]], list[tuple[date, float]]] = field(default_factory=dict)
    #: The day all work is done, by the jobs of each part and way.
    done: dict[tuple[int, ...], date | None] = field(default_factory=dict)
    #: What was searched through on the way to the cheapest.
    reached: dict[Assigned, Reach] = field(default_factory=dict)
    #: The doses that what is known goes by: while they are kept no others have their place in memory.
    kept: list[Sequence[Application]] = field(default_factory=list)
    #: The answer that some of it is taken over from, and the decisions that the rows are made of.
    near: Answer | None = None
    known: Known | None = None

    def with_plan(self, lines: Iterable[PlanLine]) -> Answer:
        """Return the answer for the site with these lines as its plan; nothing is known of them yet."""
        plan = tuple(lines)
        if plan == self.site.plan:
            return self
        return Answer(
            site=replace(self.site, plan=plan),
            options=self.options,
            spare=self.spare,
            supplies=self.supplies,
            joints=self.joints,
        )

    def is_as_near(self, ways: Iterable[str]) -> bool:
        """Say whether ways bring, and cost, what they do in the answer near it, in the same places."""
        differs = self.known.differs if self.near and self.known else None
        return differs is not None and not differs.places and differs.same_cost(ways)

    def source(self, name: str) -> Source:
        """Return a way, or several that serve jointly, by its key or its name."""
        if name in self.supplies:
            return self.supplies[name]
        return self.joints.get(name) or next(of for of in self.joints.values() if of.name == name)


def options(site: Site, by_place: bool = False, near: Answer | None = None) -> Answer:
    """Return every option: a row for each need kind and way, or for each place too; of several ways jointly
    the cheapest.

    What is the same as on a site ``near`` it, that was answered before, is taken over and not worked out.
    """
    shown, spare = list[Option](), list[Option]()
    differs = differences(near.site, site) if near else None
    known = Known(site, near.known if near else None, differs, keeps=not by_place)
    ways = supplies(site, supplies_there(near.supplies, differs) if near and differs else {})
    for kind in NEEDS:
        joint = joint_rows(known, kind, ways, site.places, shown)
        spare += () if by_place else joint.spare
        if not by_place:
            shown += beaten([*_side_by_side(known, kind, ways.values(), site.places), *joint.shown])
            continue
        sources = [*ways.values(), *(row.supply for row in joint.shown)]
        for place in site.places:
            shown += beaten(_side_by_side(known, kind, sources, (place,)))
    answer = _answer(known, shown, spare, ways)
    return _with_what_is_the_same(answer, near, differs) if near and differs else answer


def _answer(
    known: Known, shown: Sequence[Option], spare: Sequence[Option], ways: dict[str, Supply[Any]]
) -> Answer:
    """Return rows as an answer that knows what each decides with nothing beside it."""
    rows = [*shown, *spare]
    servings: dict[tuple[str, str, str, tuple[int, ...]], Serving] = {
        (row.need, row.key, of.place.name, ()): of
        for row in rows
        if not row.supply.limited
        for of in row.decision.servings
    }
    decisions: dict[Beside, Decision] = {
        (row.need, row.key, tuple(place.name for place in row.places), (), ()): row.decision
        for row in rows
        if row.supply.limited
    }
    return Answer(
        site=known.site,
        options=tuple(shown),
        spare=tuple(spare),
        supplies=ways,
        joints={row.key: row.supply for row in rows if isinstance(row.supply, Joint)},
        servings=servings,
        decisions=decisions,
        known=known,
    )


def _with_what_is_the_same(answer: Answer, near: Answer, differs: Differences) -> Answer:
    """Return an answer that also has what is worked out for one near it, and is the same for both."""
    of = Worked(near.servings, near.decisions, near.costs, near.bills, near.jobs, near.done, near.reached)
    alike = answer.known.alike if answer.known else ()
    there = same(of, differs, {**answer.supplies, **answer.joints}, alike)
    return replace(
        answer,
        servings={**there.servings, **answer.servings},
        decisions={**there.decisions, **answer.decisions},
        costs=there.costs,
        bills=there.bills,
        placed=dict(near.placed),
        jobs=there.jobs,
        done=there.done,
        reached=there.reached,
        near=near,
    )


def _side_by_side(
    known: Known, kind: str, sources: Iterable[Source], among: tuple[Place, ...]
) -> list[Option]:
    rows = []
    for source in sources:
        places = [place for place in among if source.serves(place, kind)]
        if places:
            rows.append(known.option(kind, places, source, known.decision(kind, places, source)))
    return rows


def beaten(rows: list[Option]) -> list[Option]:
    """Mark each feasible row that another of the same places beats on all they are compared on at once."""
    marked = []
    for row in rows:
        better = [
            other for other in rows if other is not row and other.places == row.places and _beats(other, row)
        ]
        best = min(better, key=first_among_equals, default=None)
        marked.append(replace(row, beaten_by=best.name) if best else row)
    return marked


def _beats(one: Option, other: Option) -> bool:
    """Say whether a feasible option is no worse than another in anything and better in something."""
    if not (one.feasible and other.feasible) or worth(one) == worth(other):
        return False
    pairs: Iterable[tuple[Any, Any]] = zip(worth(one), worth(other), strict=True)
    return all(better <= worse for better, worse in pairs)
