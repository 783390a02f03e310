"""The answer first: what to do, of whom, when, for how much, and what nothing meets, in a few lines."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from barrowful.answers.choices import CHEAPEST, PLAN, WholeSite, cheapest
from barrowful.answers.headlines import quantity_told, too_old_told, way_in_short
from barrowful.answers.instead import lacking_of_feed, left_by_ours, others_get_some, would_serve
from barrowful.answers.less_work import less_work_told
from barrowful.answers.met_by_others import met_by_others
from barrowful.answers.search import best_of
from barrowful.answers.together import Part, Together
from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.measures.elementwise import round_up
from barrowful.measures.money import rounded
from barrowful.measures.telling import hours_told
from barrowful.measures.text import all_of
from barrowful.needs.dress import Dressing
from barrowful.needs.feed import Feeding
from barrowful.needs.feed_balance import shares_met
from barrowful.site.records import Place
from barrowful.soil.application import Application
from barrowful.supplies.placing import PlacedOrder, order_day

#: Lines of an answer, and letters of one: what a screen shows at once.
MOST_LINES, LETTERS = 8, 96
#: Kinds of need of which a part is worth telling: the rest may come later, or be done without.
PART_OF_THE_WAY = (Feeding.kind, Dressing.kind)
#: What is told where phosphorus stops all there is.
LOW_IN_PHOSPHORUS = (
    "Little of it comes with a mulch of chip, straw or leaves, or with clover or vetch grown there"
)


class Advice(NamedTuple):
    """What a screen says first, and what there was no room for in it."""

    lines: tuple[str, ...]
    more: tuple[str, ...]


def advice(whole: WholeSite, later: Sequence[str] = ()) -> tuple[str, ...]:
    """Return what a screen says first of what is followed."""
    return all_advice(whole, later).lines


def all_advice(whole: WholeSite, later: Sequence[str] = ()) -> Advice:
    """Return what to do, by way, what is not met with what would serve, and what less work would cost.

    What its season has ``later`` follows what to do. It has eight lines at most. Where no way has room beside
    the rest, that is told in fewer words.
    """
    unmet, part_way = {kind: _unmet(whole, kind) for kind in whole.unmet}, _part_way(whole)
    not_met = _not_met(whole, unmet)
    by_name = [*([f"Not met: {'; '.join(unmet.values())}."] if unmet else []), *part_way]
    reasons = [*later, *_already_met(whole), *not_met.values(), *part_way]
    every = [*reasons, *_beside(whole)]
    for last in (every, reasons, [*later, *by_name], by_name):
        lines, told = _with_ways(whole, last, bool(part_way))
        if told or not whole.together.parts:
            break
    first = _fitting(lines, not_met if last in (every, reasons) else {})
    return Advice(first, tuple(line for line in every if line not in first))


def _beside(whole: WholeSite) -> list[str]:
    """Return what lies too long to count, what less work would cost, and that not all was looked at."""
    lines = [*too_old_told(whole.bill.orders), *less_work_told(whole)]
    if not whole.together.answer.site.plan and not best_of(whole.together.answer).whole:
        lines.append("Not every combination of ways was looked at; one may be cheaper.")
    return lines


def _with_ways(whole: WholeSite, last: Sequence[str], part_way: bool) -> tuple[list[str], int]:
    """Return lines with as many ways as there is room for above some last ones, and how many that are.

    Where there is room for none, a line has how much of each is ordered first.
    """
    ways = list(dict.fromkeys(way.name for part in whole.together.parts for way in part.source.parts))
    for named in range(len(ways), -1, -1):
        told = [line for way in ways[:named] if (line := _of_way(whole, way))]
        left = ways[named:] if named else [way_in_short(whole, way) for way in ways]
        rest = [f"- {'and ' if named else ''}{', '.join(left)}: see the orders."] if left else []
        lines = [_head(whole, part_way), *told, *rest, *last]
        if _height(lines) <= MOST_LINES:
            break
    return lines, len(told)


def _height(lines: Iterable[str]) -> int:
    """Return how many lines of a screen some lines take, each counted as often as it is broken."""
    return sum(round_up(len(line) / LETTERS) for line in lines)


def _fitting(lines: Sequence[str], not_met: Mapping[str, str]) -> tuple[str, ...]:
    """Return the first lines that fit a screen's height, and the needs not met that none of these tells."""
    kept = list(lines)
    while True:
        left = [kind for kind, line in not_met.items() if line not in kept]
        told = [*kept, *([f"Not met either: {', '.join(left)}."] if left else [])]
        if len(kept) == 1 or _height(told) <= MOST_LINES:
            return tuple(told)
        kept.pop()


def _head(whole: WholeSite, part_way: bool) -> str:
    """Return what all comes to; where it is nothing, whether something goes ``part_way``."""
    site, bill = whole.together.answer.site, whole.bill
    if not whole.together.parts:
        return _nothing(whole, part_way)
    ready = f"ready {whole.ready_on}" if whole.ready_on else "with no day it is ready"
    cash = f"{rounded(bill.cash, site.currency):,} {site.currency}"
    first = f"{rounded(bill.cash_first_year, site.currency):,} of it in the first year"
    what = "Your plan" if whole.title == PLAN else "Do this"
    return f"{what}: {cash} by {site.end}, {first}; {hours_told(bill.hours.likely)}; {ready}."


def _nothing(whole: WholeSite, part_way: bool) -> str:
    """Return why nothing is to be done."""
    if part_way:
        return "No way meets a need whole; what goes part of the way is told below."
    if whole.unmet:
        return "Nothing is put on: no way meets a need."
    if any(place.needs for place in whole.together.answer.site.places):
        return "Nothing to do: every need is met already."
    return "Nothing to do: no place has a need."


def _of_way(whole: WholeSite, way: str) -> str:
    """Return what is ordered or taken of a way first, and what for, and how often it is ordered again."""
    site = whole.together.answer.site
    orders = [placed for placed in whole.bill.orders if placed.way.name == way]
    first_of_all = [placed for placed in orders if placed.day == orders[0].day]
    parts = [part for part in whole.together.parts if way in {of.name for of in part.source.parts}]
    by_need: dict[str, list[Part]] = {}
    for part in parts:
        by_need.setdefault(part.need, []).append(part)
    told = (_for_what(site.labour.barrow, of_need, way) for of_need in by_need.values())
    for_what = "; ".join(filter(None, told))
    there = ["what is left of it"] if whole.together.answer.supplies[way].lies_there else []
    if not orders:
        return f"- {way}: {'; '.join([*there, for_what])}." if for_what else ""
    ordering = f"{quantity_told(first_of_all)}, order by {order_day(orders[0].way, orders[0].day, site)}"
    first = ", then ".join([*there, ordering])
    later = len(orders) - len(first_of_all)
    more = f"; {later} more order{'s' if later > 1 else ''} to {orders[-1].day}" if later else ""
    return f"- {way}: {first}; {for_what}{_left_over(orders, whole.together.all_doses)}{more}."


def _left_over(orders: Sequence[PlacedOrder], doses: Iterable[Application]) -> str:
    """Return how much the first order of a way leaves over, where it is much of a load or of a bulk order.

    What goes on of it before the next order is no surplus.
    """
    first, *later = orders
    if first.way.selling.word == "bag":
        return ""
    joined, again = first.day + judged_time("orders_joined"), later[0].day if later else date.max
    used = sum(dose.loose for dose in doses if dose.way == first.way.name and joined < dose.day < again)
    left = first.order.leftover - used
    load = first.way.selling.volume if first.way.selling.word == "load" else None
    if left < judgement("left_over_told") * (load or first.order.volume):
        return ""
    return f", {first.way.material.told(left, 0)} left over"


def _for_what(barrow: float, parts: Sequence[Part], way: str) -> str:
    """Return a need, the places that get some, what is put on first of a way, and later.

    A plan may have many parts for one need. Nothing where nothing is ever put on.
    """
    need, decisions = parts[0].need, [part.decision for part in parts]
    doses = [dose for decision in decisions for dose in decision.doses if dose.way == way]
    if not doses:
        later = [dose for decision in decisions for dose in decision.later if dose.way == way]
        served = [of.place for decision in decisions for of in decision.servings]
        if not later and all(decision.feasible for decision in decisions):
            closed = max((of.ready_on for of in decisions if of.founds and of.ready_on), default=None)
            return f"plants {need} {_where(served)}, closed by {closed}" if closed else ""
        if later:
            return f"{need} {_where(dose.place for dose in later)}: from {min(dose.day for dose in later)} on"
        return f"{need} {_where(served)}: nothing goes on"
    days = sorted({dose.day for dose in doses})
    soon = days[0] + judged_time("orders_joined")
    at_first, more = [[dose for dose in doses if (dose.day > soon) is late] for late in (False, True)]
    first = f"{need} {_where(dose.place for dose in at_first)}, {_told(barrow, at_first)} from {days[0]}"
    if not more:
        return first
    others = {dose.place.name for dose in more} - {dose.place.name for dose in at_first}
    where = f" on {_where(dose.place for dose in more)}" if others else ""
    return f"{first}, {_told(barrow, more)} more{where} to {days[-1]}"


def _where(places: Iterable[Place]) -> str:
    return named(place.name for place in places)


def named(names: Iterable[str]) -> str:
    """Return names, each once: two, and how many more.

    >>> named(["long beds", "plums", "long beds", "pears", "figs"])
    'long beds, plums and 2 more'
    """
    names = list(dict.fromkeys(names))
    return ", ".join(names[:2]) + (f" and {len(names) - 2} more" if len(names) > 2 else "")


def _told(barrow: float, doses: Sequence[Application]) -> str:
    """Return how much some doses of one stuff are: by weight what is sold so, else by volume and barrows."""
    loose, stuff = sum(dose.loose for dose in doses), doses[0].material
    if stuff.sort.as_sold:
        return stuff.told(loose, 0)
    loads = round_up(loose / barrow)
    return f"{stuff.told(loose, 0)} ({loads} barrow{'s' if loads > 1 else ''})"


def _already_met(whole: WholeSite) -> list[str]:
    """Return a line on the needs that are met with nothing put on, and by what."""
    told = met_by_others(whole) if whole.together.parts else []
    return [f"Met with nothing of its own: {'; '.join(told)}."] if told else []


def _unmet(whole: WholeSite, kind: str) -> str:
    """Return a kind of need with the first place it is not met in, what a feed lacks, and how many more."""
    places = whole.places_left_out(kind)
    more = f" and {len(places) - 1} more" if len(places) > 1 else ""
    return f"{kind}, {places[0]}{lacking_of_feed(whole, kind, places[0])}{more}"


def _not_met(whole: WholeSite, unmet: Mapping[str, str]) -> dict[str, str]:
    """Return a line for each kind of need that is ``unmet``, told with where, and what would serve."""
    lines = {}
    for kind, where in unmet.items():
        place = whole.places_left_out(kind)[0]
        because, serving = whole.why_left_out(kind, place)
        asked = serving is not None and whole.title != PLAN and (serving.ceiling or kind == "feed")
        would = would_serve(whole, kind, serving) if serving and asked else ""
        if serving and asked and kind == "feed":
            because = left_by_ours(whole, serving.place) or because
        if serving and asked and not would and serving.ceiling == "phosphorus":
            because = f"{because}. {LOW_IN_PHOSPHORUS}"
        told = f". Would serve: {would}" if would else f": {because}" if because else ""
        lines[kind] = f"Not met: {where}{told}{others_get_some(whole, kind)}."
    return lines


def _part_way(whole: WholeSite) -> list[str]:
    """Return a line on what goes part of the way for each need that may, with what it brings.

    A place does not go without nitrogen because the potassium falls short, nor undressed for want of 5 mm.
    """
    short_of = [kind for kind in PART_OF_THE_WAY if kind in whole.unmet]
    if whole.title != CHEAPEST or not short_of:
        return []
    partly = cheapest(whole.together.answer, partial=True).together
    return [line for kind in short_of if (line := _part_of(partly, kind))]


def _part_of(partly: Together, kind: str) -> str:
    """Return the line on what goes part of the way for a kind of need; nothing where there is hardly any."""
    part, answer = next(filter(None, (_short_of(kind, of) for of in partly.parts)), None), partly.answer
    if part is None:
        return ""
    ways = dict.fromkeys(dose.way for dose in part.decision.doses)
    told = all_of([f"{way}, {_for_what(answer.site.labour.barrow, [part], way)}" for way in ways])
    [serving, *more] = part.decision.servings
    place = serving.place
    if kind == Feeding.kind:
        brings = _brings(shares_met(answer.site, place, partly.doses_on(place.name)))
    else:
        brings = f"{serving.share:.0%} of it" if round(serving.share, 2) else ""
    if not brings:
        return ""
    where = f"{place.name}: " if more else ""
    return f'Part of the way: {told} ({where}{brings}); "barrowful orders --partial" has it.'


def _brings(shares: Mapping[str, float]) -> str:
    """Return what share of each nutrient there is in the first season; nothing where there is hardly any."""
    if all(share >= 1 for share in shares.values()):
        return "all of it in the first season, less later"
    any_of_it = any(round(share, 2) for share in shares.values())
    return all_of([f"{share:.0%} of the {name}" for name, share in shares.items()]) if any_of_it else ""


def _short_of(kind: str, part: Part) -> Part | None:
    """Return what a part puts on for a kind of need at places where it does not meet it whole, or None."""
    short = tuple(of for of in part.decision.short_of if of.doses)
    if part.need != kind or not short:
        return None
    return part._replace(decision=replace(part.decision, servings=short))
