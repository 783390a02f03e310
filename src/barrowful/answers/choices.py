"""From rows to advice: the cheapest by your dates, the fastest, least cash, and the whole site."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from decimal import Decimal
from functools import cached_property, lru_cache
from types import MappingProxyType

from barrowful.answers.carrying_out import as_written, carried_out
from barrowful.answers.costs import Bill
from barrowful.answers.option import Option, hours_counted, put_off, total_cost
from barrowful.answers.options import Answer, Choice
from barrowful.answers.search import best_of, rows_of
from barrowful.answers.together import NOT_MADE, Together
from barrowful.answers.would_do import would_do
from barrowful.answers.written import planned
from barrowful.measures.fixed import fixed
from barrowful.measures.text import all_of
from barrowful.needs.decision import Serving
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Site
from barrowful.site.references import TITLES

CHEAPEST, PLAN = TITLES
#: How a reason begins that is of what a way brings.
GIVES = "gives "
#: What is said of a choice where several rows are followed for its need.
BY_ONE = " by one row for all places"


@fixed(kw_only=False)
class WholeSite:
    """One way for all it can serve, the cheapest ways for all needs, or your plan: totals over the site.

    ``way`` is the one way that is followed, where it is one alone.
    """

    title: str
    together: Together
    bill: Bill
    way: str = ""

    def rows(self, kind: str) -> list[Option]:
        """Return the rows of a kind of need that may be followed here, one for each way."""
        rows = rows_of(self.together.answer, kind)
        return [row for row in rows if row.name == self.way] if self.way else rows

    def alone(self, kind: str, place: str) -> list[tuple[Option, Serving]]:
        """Return what may be followed for a need of a place, each by itself, with its row."""
        return [
            (row, of) for row in self.rows(kind) for of in row.decision.servings if of.place.name == place
        ]

    @cached_property
    def met(self) -> tuple[str, ...]:
        """Return the kinds of need that are met in every place with them."""
        return tuple(kind for kind in needs_of(self.together.answer.site) if not self.places_left_out(kind))

    def places_left_out(self, kind: str) -> list[str]:
        """Return the names of the places whose need of a kind is not met."""
        places = self.together.answer.site.places_with(kind)
        return [place.name for place in places if (kind, place.name) not in self.places_met]

    @cached_property
    def places_met(self) -> set[tuple[str, str]]:
        """Return the needs that are met, by kind and place."""
        parts = self.together.parts
        return {(part.need, of.place.name) for part in parts for of in part.decision.servings if of.met}

    @property
    def unmet(self) -> tuple[str, ...]:
        """Return the kinds of need that are not met everywhere."""
        return tuple(kind for kind in needs_of(self.together.answer.site) if kind not in self.met)

    @property
    def count(self) -> int:
        """Return how many needs of places are met."""
        return len(self.places_met)

    @property
    def ready_on(self) -> date | None:
        """Return the day the last of what is met is ready."""
        return self.together.ready_on

    @property
    def over(self) -> str:
        """Return which limits of the grower's it is over, or nothing."""
        return self.together.over_limits(self.bill)

    def why_left_out(self, kind: str, place: str) -> tuple[str, Serving | None]:
        """Return why a need of a place is not met, and the serving that comes nearest to it.

        That is what is carried out and goes part of the way. Where a way would meet it, it is over a limit
        of the grower's, by itself or beside the rest.
        """
        part_way = self.part_way(kind, place)
        if part_way is not None:
            return part_way.why_not, part_way
        if self.title == PLAN:
            return "it is not in your plan", None
        if place in self.together.not_made(kind):
            return NOT_MADE, None
        alone = self.alone(kind, place)
        if self.way and not alone:
            return f"{self.way} cannot serve it", None
        would = [row for row, of in alone if of.met]
        if would:
            return would_do(self.together, self.bill, would), None
        serving = self.left_out(kind, place)
        because = serving.why_not if serving else ""
        by = next((row.name for row, of in alone if of is serving), "")
        if by and serving and serving.ready_on and self._comes_late(kind, place, serving.ready_on):
            return f"{by} has it ready on {serving.ready_on}: {because}", serving
        return (f"{by} {because}" if by and because.startswith(GIVES) else because), serving

    def _comes_late(self, kind: str, name: str, ready: date) -> bool:
        """Say whether a need of a place is ready on a day after the one it is due, and before all ends."""
        site = self.together.answer.site
        need = site.place(name).need(kind)
        due = min((day for day in (need.due if need else None, site.limits.by) if day), default=date.max)
        return due < ready <= site.end

    def part_way(self, kind: str, place: str) -> Serving | None:
        """Return what is carried out for a need of a place and does not meet it, or None."""
        parts = (part for part in self.together.parts if part.need == kind)
        servings = (of for part in parts for of in part.decision.servings)
        return next((of for of in servings if of.place.name == place and not of.met), None)

    def left_out(self, kind: str, place: str) -> Serving | None:
        """Return what comes nearest to a need of a place that is not met: alone, else beside the others."""
        alone = (serving for _, serving in self.alone(kind, place))
        # of what does nothing, rather what would do later, or might do something, than what does not suit it
        nearest = max(alone, key=_nearness, default=None)
        if nearest is not None and not nearest.met:
            return nearest
        return self.together.unmet.get((kind, place), nearest)


def _nearness(serving: Serving) -> tuple[float, bool, bool, int]:
    """Return how near a serving comes: by its share, then what a ceiling stops, then by its day."""
    ready = serving.ready_on or date.max
    return serving.share, not serving.unsuited, bool(serving.ceiling), -ready.toordinal()


def needs_of(site: Site) -> list[str]:
    """Return the kinds of need there are on a site, in order."""
    return [kind for kind in NEEDS if site.places_with(kind)]


def covers_all(site: Site, row: Option) -> bool:
    """Say whether a row reaches every place with its need."""
    return len(row.places) == len(site.places_with(row.need))


def choices(answer: Answer) -> list[Choice]:
    """Return the three plain answers for each kind of need."""
    found = []
    for kind in needs_of(answer.site):
        whole = [row for row in rows_of(answer, kind) if covers_all(answer.site, row)]
        served = [row for row in whole if row.feasible]
        waits = [row for row in whole if row.ready_on is not None]
        found += [
            _choice(
                answer.site, "cheapest by your dates", kind, min(served, key=_by_cost(answer), default=None)
            ),
            _choice(answer.site, "fastest", kind, min(served, key=_by_date, default=None)),
            _choice(answer.site, "least cash at any wait", kind, min(waits, key=_by_cash, default=None)),
        ]
    return found


def _by_cost(answer: Answer) -> Callable[[Option], tuple[Decimal, float, date]]:
    hourly = answer.site.labour.hourly_value
    return lambda row: (
        total_cost(row.cash, row.hours, hourly),
        row.hours.compared,
        row.ready_on or date.max,
    )


def _by_date(row: Option) -> tuple[date, Decimal, float]:
    return row.ready_on or date.max, row.cash, row.hours.compared


def _by_cash(row: Option) -> tuple[Decimal, date, float]:
    return row.cash, row.ready_on or date.max, row.hours.compared


def choices_told(whole: WholeSite, found: Iterable[Choice]) -> list[str]:
    """Return plain answers in sentences, the questions that have one answer together.

    They are of one row for all places; where several are followed for a need, that is said.
    """
    site = whole.together.answer.site
    parts = [part.need for part in whole.together.parts if whole.title == CHEAPEST]
    same: dict[tuple[str, int], list[Choice]] = {}
    for choice in found:
        same.setdefault((choice.need, id(choice.option)), []).append(choice)
    return [
        f"{kind}, {all_of([choice.question for choice in alike])}"
        f"{BY_ONE if parts.count(kind) > 1 else ''}: {_said(site, alike[0].option)}."
        for (kind, _), alike in same.items()
    ]


def _choice(site: Site, question: str, kind: str, row: Option | None) -> Choice:
    return Choice(question, kind, row, f"{kind}, {question}: {_said(site, row)}.")


def _said(site: Site, row: Option | None) -> str:
    if row is None:
        return "no one way meets it everywhere"
    if row.feasible and not row.acts:
        return f"{row.name}, which has nothing to bring: the need is met already"
    ready = f"ready {row.ready_on}" if row.ready_on else "with no day in sight"
    price = f"{row.cash:,} {site.currency} and {row.hours.likely:.1f} h{hours_counted(site)}"
    short = put_off(site, row) if row.feasible else row.over or row.decision.late or row.why_not
    return ", ".join(filter(None, (row.name, price, "" if ready in short else ready, short)))


def whole_site(answer: Answer, known: Mapping[str, WholeSite] = MappingProxyType({})) -> list[WholeSite]:
    """Return totals for each way over all it serves, for your plan, and for the cheapest ways.

    Totals of ways that are ``known`` are not worked out.
    """
    serving = {row.name for row in answer.options}
    found = [known.get(name) or of_way(answer, name) for name in answer.supplies if name in serving]
    if answer.site.plan:
        found.append(your_plan(answer))
    return [*found, cheapest(answer)] if found else []


def followed(answer: Answer) -> WholeSite:
    """Return what is followed where nothing else is asked for: your plan, else the cheapest ways."""
    return your_plan(answer) if answer.site.plan else cheapest(answer)


def plan_hint(whole: WholeSite) -> list[str]:
    """Return a sentence on what may be better than the cheapest ways, where these are followed."""
    if whole.title != CHEAPEST or not (whole.together.parts or whole.unmet):
        return []
    if whole.unmet:
        return ['A mix of ways and days may meet more, or cost less: "barrowful plan" looks for it.']
    return ['A mix of ways and days may cost less: "barrowful plan" looks for the least.']


def of_way(answer: Answer, name: str, partial: bool = False) -> WholeSite:
    """Return one way for all it can serve."""
    together = carried_out(answer, dict.fromkeys(NEEDS, (name,)), partial)
    return WholeSite(name, together, together.bill(), way=name)


@lru_cache(maxsize=8)
def your_plan(answer: Answer) -> WholeSite:
    """Return the plan as it is written."""
    together = as_written(answer, planned(answer))
    return WholeSite(PLAN, together, together.bill())


def cheapest(answer: Answer, partial: bool = False) -> WholeSite:
    """Return the cheapest ways for all needs together, with what does not meet its need where asked for.

    What goes part of the way is left out where all together would be over a limit of the grower's.
    """
    best = best_of(answer)
    within = WholeSite(CHEAPEST, best.together, best.bill)
    if not partial:
        return within
    does, picks = {part.need for part in best.together.parts}, best.picks.items()
    tried = {kind: ways if kind in does and ways else _first_of(answer, kind) for kind, ways in picks}
    together = carried_out(answer, tried, partial)
    whole = WholeSite(CHEAPEST, together, together.bill())
    return within if whole.over else whole


def _first_of(answer: Answer, kind: str) -> tuple[str, ...]:
    """Return the way that meets most of a kind of need that none meets."""
    rows = sorted(rows_of(answer, kind), key=lambda row: -row.decision.met_share)
    return (rows[0].key,) if rows else ()
