"""A plan in words and lines for people: totals, what each aim gained, what it saves, how far it is proven."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from itertools import pairwise

from barrowful.answers.choices import WholeSite, whole_site
from barrowful.answers.option import hours_counted, total_cost
from barrowful.answers.options import Answer
from barrowful.measures.fixed import fixed
from barrowful.measures.money import rounded
from barrowful.measures.telling import days_in_words
from barrowful.planning.clashes import LIMITS, Clash
from barrowful.planning.plan import Plan
from barrowful.planning.programme import Limited
from barrowful.planning.search import Stage
from barrowful.planning.ways_out import JOINS, OWN_DAY
from barrowful.site.records import Site

#: What the plan is called where it is told beside the rows of options.
LEAST_COST = "the least-cost plan"
#: Ways out that are told at once.
MOST_WAYS_OUT = 3


@fixed(eq=True)
class PlanTotals:
    """What a plan comes to, how many needs of places there are, and how far it is proven on which days."""

    whole: WholeSite
    proven: bool
    gap: float | None  #: share by which it may at most be dearer than the least, None where that is not known
    calendar: str
    needs: int


@fixed(eq=True)
class StageLine:
    """What an aim came to, as money and whole counts, and what it gained on the aim before."""

    aim: str
    met: int
    cash: Decimal
    hours: float
    orders: int
    gained: str


def totals_of(plan: Plan) -> PlanTotals:
    """Return what a plan comes to."""
    return PlanTotals(
        whole=plan.whole,
        proven=plan.proven,
        gap=_gap(plan),
        calendar=plan.calendar.told,
        needs=needs_there(plan.calendar.answer.site),
    )


def _gap(plan: Plan) -> float | None:
    if plan.beyond or plan.coarse:
        return None
    return 0.0 if plan.proven else plan.gap


def nothing_to_do(there: WholeSite) -> PlanTotals:
    """Return the totals where every need is met already."""
    return PlanTotals(
        whole=there,
        proven=True,
        gap=0.0,
        calendar="none: every need is met already",
        needs=needs_there(there.together.answer.site),
    )


def needs_there(site: Site) -> int:
    """Return how many needs of places there are."""
    return sum(len(place.needs) for place in site.places)


def stage_lines(plan: Plan) -> list[StageLine]:
    """Return what each aim came to."""
    site = plan.calendar.answer.site
    gained = [_gained(*pair, site.currency) for pair in pairwise(plan.stages)]
    gains = ["", *gained] if plan.stages else []  # it was stopped before the first aim
    return [
        StageLine(
            aim=stage.aim,
            met=round(stage.met),
            cash=_money(stage.cash, site.currency),
            hours=stage.hours,
            orders=stage.orders,
            gained=gained,
        )
        for stage, gained in zip(plan.stages, gains, strict=True)
    ]


def _money(cash: float, currency: str) -> Decimal:
    return rounded(Decimal(str(cash)), currency)


def _gained(before: Stage, after: Stage, currency: str) -> str:
    """Return by how much an aim came to less than the one before, in money, hours and orders."""
    less = [
        _less(_money(before.cash, currency) - _money(after.cash, currency), currency, "less"),
        _less(Decimal(f"{before.hours - after.hours:.1f}"), "h", "less"),
        _fewer(Decimal(before.orders - after.orders)),
    ]
    return ", ".join(filter(None, less)) or "nothing more"


def _less(gained: Decimal, unit: str, word: str) -> str:
    return f"{gained:,} {unit} {word}" if gained > 0 else ""


def _fewer(orders: Decimal) -> str:
    return _less(orders, "order" if orders == 1 else "orders", "fewer")


def gains(plan: Plan) -> list[str]:
    """Return a sentence on the hours and orders that were saved at the same cost, where any were."""
    stages = plan.stages
    hours = _saved(stages, "least hours", lambda stage: Decimal(f"{stage.hours:.1f}"))
    orders = _saved(stages, "fewest orders", lambda stage: Decimal(stage.orders))
    told = [_less(hours, "h", "less"), _fewer(orders)]
    if not plan.lines or not any(told):
        return []  # of a plan that puts nothing on there is nothing to be spared
    return [f"Looking on at the same cost gained {' and '.join(filter(None, told))}."]


def _saved(stages: Sequence[Stage], aim: str, of: Callable[[Stage], Decimal]) -> Decimal:
    """Return how much less an aim came to than the one before it."""
    pairs = ((before, after) for before, after in pairwise(stages) if after.aim == aim)
    return next((of(before) - of(after) for before, after in pairs), Decimal(0))


def saving(answer: Answer, limited: Limited, plan: Plan) -> str:
    """Return what a plan saves against the cheapest whole-site row of options that meets as much.

    Where none does it is the cheapest of those that meet most, and what that leaves out.
    """
    site = answer.site
    plain = answer.with_plan(())
    rows = [row for row in whole_site(plain) if row.count and not row.over and _within(row, limited)]
    most = max((row.count for row in rows), default=0)
    as_much, hourly = min(most, plan.whole.count), site.labour.hourly_value
    if not most:
        return "No row of options meets a need within the limits."
    enough = [row for row in rows if row.count >= as_much]
    row = min(enough, key=lambda row: (total_cost(row.bill.cash, row.bill.hours, hourly), row.title))
    if most < plan.whole.count:
        left_out = plan.whole.places_met - row.places_met
        than = _apart(row, plan.whole, site.currency) or "for the same"
        told = f"No row of options meets as much: {most} of {needs_there(site)} needs at the most"
        return f'{told}, as does "{row.title}": {than}, without {_all_of(left_out)}.'
    apart = _apart(plan.whole, row, site.currency)
    if not apart:
        return f'The cheapest row of options, "{row.title}", comes to the same.'
    return f'That is {apart} than the cheapest row of options, "{row.title}".'


def _all_of(needs: Iterable[tuple[str, str]]) -> str:
    """Return needs by kind and place in words, the places of each kind shortened."""
    kinds: dict[str, list[str]] = {}
    for kind, name in sorted(needs):
        kinds.setdefault(kind, []).append(name)
    return "; ".join(f"{kind}, {_first_of(names)}" for kind, names in kinds.items())


def _within(row: WholeSite, limited: Limited) -> bool:
    return limited.cash_first_year is None or row.bill.cash_first_year <= limited.cash_first_year


def _apart(whole: WholeSite, row: WholeSite, currency: str) -> str:
    """Return how money, hours and the day ready differ from those of a row, or nothing."""
    cash = rounded(row.bill.cash - whole.bill.cash, currency)
    hours = Decimal(f"{row.bill.hours.likely - whole.bill.hours.likely:.0f}")
    days = _days_sooner(whole.ready_on, row.ready_on)
    parts = [_more_or_less(cash, currency, "less", "more"), _more_or_less(hours, "h", "less", "more")]
    parts.append(_more_or_less(Decimal(days), days_in_words(days), "sooner", "later"))
    told = list(filter(None, parts))
    return " and ".join(filter(None, [", ".join(told[:-1]), *told[-1:]]))


def _days_sooner(ready: date | None, other: date | None) -> int:
    return (other - ready).days if ready is not None and other is not None else 0


def _more_or_less(gained: Decimal, unit: str, less: str, more: str) -> str:
    """Return a difference in words, nothing where there is none.

    >>> _more_or_less(Decimal("-10"), "h", "less", "more")
    '10 h more'
    """
    return f"{abs(gained):,} {unit} {less if gained > 0 else more}" if gained else ""


def proof_of(plan: Plan) -> str:
    """Return how far it is proven that no plan costs less, and on which days."""
    row = f'It is the row "{plan.row}" of options. ' if plan.row else ""
    days = f"on the days looked at: {plan.calendar.told}"
    if plan.beyond:
        told = f'What the search leaves out is put on as the row "{plan.rest}" of options does it. '
        rest = told if plan.rest else ""
        more = "It meets more than the search for the least does"
        return f"{row}{rest}{more}, so it is not proven that none costs less, {days}."
    if plan.proven:
        counted = hours_counted(plan.calendar.answer.site)
        return f"{row}It is proven that none costs less{counted} with nothing put off, {days}."
    if plan.coarse:
        lots = "Places that are alike are planned in lots"
        return f"{row}{lots}: it is not proven that no more of them can be met, {days}."
    why = (
        "the search stopped before it was proven" if plan.stopped else "amounts are rounded and orders placed"
    )
    return f"{row}It costs at most {plan.gap:.1%} more than the least there may be, {why}, {days}."


def put_off(plan: Plan) -> Iterator[str]:
    """Yield what waits for the second year: the money of the first is limited, or nothing does sooner."""
    if plan.put_off:
        waits = "Waits for the second year"
        if plan.limited.cash_first_year is not None:
            waits = "Put off to the second year, within the money of the first"
        yield f"{waits}: {_all_of(plan.put_off)}."


def _first_of(names: Sequence[str]) -> str:
    """Return the first of some names, and how many more there are."""
    return f"{names[0]} and {len(names) - 1} more" if len(names) > 1 else names[0]


def ways_out(clashes: Iterable[Clash]) -> Iterator[str]:
    """Yield, for each limit of the grower's of which more would do, which needs that lets be met."""
    changes: dict[tuple[str, str], list[Clash]] = {}
    for clash in clashes:
        if set(clash.limit.split(JOINS)) <= LIMITS.keys() | {OWN_DAY}:
            changes.setdefault((clash.limit, clash.least_change), []).append(clash)
    for (limit, change), meets in list(changes.items())[:MOST_WAYS_OUT]:
        would_do = f"{change} would do" if JOINS not in limit else change
        yield f"{_named(meets)}: {would_do} ({limit})."


def _named(clashes: Sequence[Clash]) -> str:
    more = f" and {len(clashes) - 1} more" if len(clashes) > 1 else ""
    return f"{clashes[0].need}, {clashes[0].place}{more}"


def why_nothing(clashes: Sequence[Clash]) -> str:
    """Return why no need can be met: what would let some be, else each reason with its needs."""
    out = " ".join(ways_out(clashes)).removesuffix(".")
    reasons: dict[str, list[Clash]] = {}
    for clash in clashes:
        reasons.setdefault(clash.least_change, []).append(clash)
    told = [f"{_named(kept)}: {reason}" for reason, kept in list(reasons.items())[:MOST_WAYS_OUT]]
    return f"no need can be met: {out or '. '.join(told)}"
