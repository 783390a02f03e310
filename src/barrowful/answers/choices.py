"""From rows to advice: the cheapest by your dates, the fastest, least cash, and the whole site."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any

from barrowful.answers.combined import Combined, combined
from barrowful.answers.options import Answer, Choice, Option, make_option, total_cost
from barrowful.answers.together import Together
from barrowful.needs.registry import NEEDS, decide
from barrowful.site.records import Place, Site


@dataclass(frozen=True)
class WholeSite:
    """One way for all it can serve, or the cheapest way for each need: totals over the site."""

    title: str
    rows: tuple[Option, ...]
    met: tuple[str, ...]
    unmet: tuple[str, ...]
    combined: Combined
    ready_on: date | None


def needs_of(site: Site) -> list[str]:
    """Return the kinds of need there are on a site, in order."""
    return [kind for kind in NEEDS if site.places_with(kind)]


def covers_all(site: Site, rows: list[Option], kind: str) -> bool:
    """Say whether rows of one need reach every place with it."""
    reached = {place.name for row in rows for place in row.places}
    return reached == {place.name for place in site.places_with(kind)}


def meets(site: Site, rows: list[Option], kind: str) -> bool:
    """Say whether rows of one need meet it in every place with it, in time."""
    return bool(rows) and all(row.feasible for row in rows) and covers_all(site, rows, kind)


def _worth(answer: Answer) -> Callable[[Option], Any]:
    hourly = answer.site.labour.hourly_value
    return lambda row: (
        total_cost(row.cash, row.hours, hourly),
        row.hours.compared,
        row.decision.ready_on or date.max,
    )


def cheapest(answer: Answer, kind: str, beside: Together | None = None) -> list[Option]:
    """Return the option that meets a need everywhere at least cost, or the best in each place.

    ``beside`` holds options already chosen: no stock is spread twice. Where no one way may serve every
    place, each place gets the cheapest of its own; empty when some place has none.
    """
    together = beside.copy() if beside else Together(answer)
    rows = [row for row in answer.options if row.need == kind and meets(answer.site, [row], kind)]
    for row in sorted(rows, key=_worth(answer)):
        if together.fits(row):
            return [row]
    found: list[Option] = []
    for place in answer.site.places_with(kind):
        best = _best_here(together, kind, place)
        if best is None:
            return []
        found.append(best)
        together.add(best)
    return found


def fitting(answer: Answer, rows: list[Option]) -> list[Option]:
    """Return the options, in order, that can be carried out beside those before them."""
    together = Together(answer)
    for row in rows:
        if together.fits(row):
            together.add(row)
    return together.rows


def _best_here(together: Together, kind: str, place: Place) -> Option | None:
    """Return the cheapest option that meets a need in one place beside those chosen, or None."""
    answer, key = together.answer, (kind, place.name)
    if key not in answer.met_here:
        answer.met_here[key] = _met_here(answer, kind, place)
    return next((row for row in answer.met_here[key] if together.fits(row)), None)


def _met_here(answer: Answer, kind: str, place: Place) -> tuple[Option, ...]:
    """Return the options that meet a need in one place, the cheapest first."""
    site = answer.site
    rows = (
        make_option(site, kind, supply, [place], decide(site, kind, [place], supply))
        for supply in answer.supplies.values()
        if supply.serves(place, kind)
    )
    return tuple(sorted((row for row in rows if row.feasible), key=_worth(answer)))


def choices(answer: Answer) -> list[Choice]:
    """Return the three plain answers for each kind of need."""
    found = []
    for kind in needs_of(answer.site):
        rows = [row for row in answer.options if row.need == kind]
        whole = [row for row in rows if covers_all(answer.site, [row], kind)]
        served = [row for row in whole if row.feasible]
        waits = [row for row in whole if row.decision.ready_on is not None]
        fastest = min(served, key=_by_date, default=None)
        least = min(waits, key=_by_cash, default=None)
        found += [
            _choice(answer.site, "cheapest by your dates", kind, cheapest(answer, kind)),
            _choice(answer.site, "fastest", kind, [fastest] if fastest else []),
            _choice(answer.site, "least cash at any wait", kind, [least] if least else []),
        ]
    return found


def _by_date(row: Option) -> tuple[date, Decimal, float]:
    return row.decision.ready_on or date.max, row.cash, row.hours.compared


def _by_cash(row: Option) -> tuple[Decimal, date, float]:
    return row.cash, row.decision.ready_on or date.max, row.hours.compared


def _choice(site: Site, question: str, kind: str, rows: list[Option]) -> Choice:
    if not rows:
        return Choice(question, kind, None, f"{kind}, {question}: no one way meets it everywhere.")
    return Choice(
        question,
        kind,
        rows[0],
        f"{kind}, {question}: " + "; ".join(_said(site, row, rows) for row in rows) + ".",
    )


def _said(site: Site, row: Option, rows: list[Option]) -> str:
    where = f"{row.places[0].name} by " if len(rows) > 1 else ""
    if row.feasible and not row.acts:
        return f"{where}{row.way.name}, which has nothing to bring: the need is met already"
    ready = f"ready {row.decision.ready_on}" if row.decision.ready_on else "with no day in sight"
    late = "" if row.feasible else ", too late for your date"
    counted = f" (hours at {site.labour.hourly_value:f} {site.currency})" if site.labour.hourly_value else ""
    price = f"{row.cash:,} {site.currency} and {row.hours.likely:.1f} h{counted}"
    return f"{where}{row.way.name}, {price}, {ready}{late}"


@lru_cache(maxsize=8)
def chosen(answer: Answer) -> tuple[Option, ...]:
    """Return the cheapest options by your dates for every kind of need."""
    together = Together(answer)
    for kind in needs_of(answer.site):
        for row in cheapest(answer, kind, together):
            together.add(row)
    return tuple(together.rows)


def whole_site(answer: Answer) -> list[WholeSite]:
    """Return totals for each way over all it serves, and for the cheapest way for each need."""
    found = []
    for name in answer.supplies:
        rows = [row for row in answer.options if row.way.name == name]
        if rows:
            found.append(_whole(answer, name, rows))
    best = chosen(answer)
    if best:
        found.append(_whole(answer, "cheapest for each need", list(best)))
    return found


def _whole(answer: Answer, title: str, rows: list[Option]) -> WholeSite:
    site = answer.site
    feasible = fitting(answer, [row for row in rows if row.feasible])
    met = tuple(
        kind for kind in needs_of(site) if meets(site, [row for row in feasible if row.need == kind], kind)
    )
    unmet = tuple(kind for kind in needs_of(site) if kind not in met)
    days = [row.decision.ready_on for row in feasible if row.decision.ready_on]
    return WholeSite(title, tuple(feasible), met, unmet, combined(answer, feasible), max(days, default=None))


def best_whole(answer: Answer) -> WholeSite | None:
    """Return the cheapest of the whole-site rows that meet the most needs; a mix wins a tie."""
    hourly = answer.site.labour.hourly_value

    def worth(row: WholeSite) -> tuple[int, Decimal, float]:
        value = total_cost(row.combined.cash, row.combined.hours, hourly)
        return -len(row.met), value, row.combined.hours.compared

    return min(reversed(whole_site(answer)), key=worth, default=None)
