"""What a what-if comes to, in a few sentences: what the whole site costs in each case, and what changes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

from barrowful.answers.choices import PLAN
from barrowful.answers.outlook import Outlook, differing
from barrowful.measures.money import rounded
from barrowful.measures.telling import hours_told
from barrowful.site.references import NO_WAY
from barrowful.sitefile.text.vary import Cell, Varied

#: Cases, or changes among them, that are told one by one, and values that a line tells.
MOST_TOLD, MOST_VALUES = 4, 8


class Told(NamedTuple):
    """A case and what it comes to."""

    name: str
    cells: tuple[Cell, ...]
    outlook: Outlook


def advice_of(base: Outlook, cases: Sequence[Told], varied: Sequence[Varied]) -> tuple[str, ...]:
    """Return what the cases come to beside the file as it stands, in a few lines."""
    named = [case for case in cases if not case.cells]
    among = [case for case in cases if case.cells]
    lines = [_standing(base), *(_beside(base, case) for case in named[:MOST_TOLD])]
    if len(named) > MOST_TOLD:
        lines.append(f"And {len(named) - MOST_TOLD} more cases: see the table.")
    if len(varied) == 1:
        lines += _along(varied[0], base, among)
    elif varied:
        lines += _in_a_grid(base, among)
    if all(case.outlook == base for case in cases):
        lines.append("For the whole site nothing changes in any case.")
    return tuple(lines)


def _standing(base: Outlook) -> str:
    """Return what the site comes to as the file stands."""
    how = "by your plan" if base.title == PLAN else "by the cheapest way for each need"
    ready = f", ready {base.ready_on}" if base.ready_on else ""
    short = f"; {base.shortfall}" if base.shortfall else ""
    cost = f"{base.money} and {hours_told(base.hours)}{ready}"
    return f"As the file stands the whole site costs {cost}, {how}{short}."


def _beside(base: Outlook, case: Told) -> str:
    """Return what a case of a name of its own comes to beside the file as it stands."""
    now, parts = case.outlook, list[str]()
    parts.append(f"{now.money}{_more(now.cash - base.cash, now.currency)}")
    if round(now.hours) != round(base.hours):
        parts.append(hours_told(now.hours))
    if now.ready_on != base.ready_on:
        parts.append(f"ready {now.ready_on}" if now.ready_on else "with no day it is ready")
    parts += [f"{need} {_by(before, after)}" for need, before, after in differing(base, now)]
    return f"{case.name}: {', '.join(parts)}{_short(base, now)}."


def _by(before: str, after: str) -> str:
    """Return by what a need is met, and by what before; either may be that nothing meets it."""
    if after == NO_WAY:
        return f"not met (before by {before})"
    return f"by {after} (before not met)" if before == NO_WAY else f"by {after} instead of {before}"


def _more(cash: Decimal, currency: str) -> str:
    """Return how much more or less that is, or nothing."""
    if not cash:
        return ", as before"
    return f" ({rounded(abs(cash), currency):,} {'more' if cash > 0 else 'less'})"


def _short(base: Outlook, now: Outlook) -> str:
    """Return how many needs are not met where they are others than before."""
    return f"; {now.shortfall or 'every need met'}" if now.met != base.met or now.needs != base.needs else ""


def _along(axis: Varied, base: Outlook, cases: Sequence[Told]) -> Iterator[str]:
    """Give what the whole site costs along the values of one thing, and between which the ways change."""
    texts = _texts(axis)
    moneys = [f"{rounded(case.outlook.cash, case.outlook.currency):,}" for case in cases]
    currency = cases[0].outlook.currency
    unit, at = f" {axis.unit}" if axis.unit else "", "with" if axis.is_words else "at"
    if len(set(moneys)) == 1:
        yield f"At every value of {axis.path} it costs {moneys[0]} {currency}{_hours(cases)}."
    elif len(cases) <= MOST_VALUES:
        each = ", ".join(f"{money} {at} {text}" for money, text in zip(moneys, texts, strict=True))
        yield f"In {currency}, by {axis.path}{f' in{unit}' if unit else ''}: {each}."
    else:
        first, last = (f"{moneys[end]} {currency} {at} {texts[end]}{unit}" for end in (0, -1))
        yield f"Along {axis.path} from {first} to {last}."
    if len(set(moneys)) > 1:
        best = min(range(len(cases)), key=lambda index: _rank(cases[index].outlook))
        met = {case.outlook.met for case in cases}
        word = "Cheapest" if len(met) == 1 else "Cheapest where most needs are met"
        yield f"{word}: {cases[best].outlook.money} {at} {texts[best]}{unit}{_left(cases[best].outlook)}."
    fewer = [index for index, case in enumerate(cases) if case.outlook.met < base.met]
    if fewer:
        more = f" and {len(fewer) - MOST_TOLD} more" if len(fewer) > MOST_TOLD else ""
        where = ", ".join(texts[index] for index in fewer[:MOST_TOLD])
        yield f"Fewer needs are met {at} {where}{unit}{more}: {cases[fewer[0]].outlook.shortfall}."
    yield from _turns(axis, cases, texts, unit)


def _hours(cases: Sequence[Told]) -> str:
    """Return between which hours the cases take, where they differ to the hour."""
    hours = [case.outlook.hours for case in cases]
    low, high = f"{min(hours):,.0f}", f"{max(hours):,.0f}"
    return f" and takes {low} to {high} h" if low != high else ""


def _texts(axis: Varied) -> list[str]:
    """Return the values as people read them, numbers without their unit."""
    return [f"{of.cell:.10g}" if isinstance(of.cell, float) else of.text for of in axis.values]


def _rank(outlook: Outlook) -> tuple[int, Decimal, float]:
    """Return what is better first: most needs met, least cash, fewest hours."""
    return -outlook.met, outlook.cash, outlook.hours


def _left(outlook: Outlook) -> str:
    return f" ({outlook.shortfall})" if outlook.shortfall else ""


def _turns(axis: Varied, cases: Sequence[Told], texts: Sequence[str], unit: str) -> Iterator[str]:
    """Give between which values the ways change, and to what."""
    turns = [
        (index, need, before, after)
        for index, (low, high) in enumerate(pairwise(cases))
        for need, before, after in differing(low.outlook, high.outlook)
    ]
    for index, need, before, after in turns[:MOST_TOLD]:
        low, high = texts[index], texts[index + 1]
        where = f"From {low} to {high}" if axis.is_words else f"Between {low} and {high}{unit}"
        was, becomes = ("not met" if ways == NO_WAY else ways for ways in (before, after))
        yield f"{where} {need} turns from {was} to {becomes}."
    if len(turns) > MOST_TOLD:
        yield f"And {len(turns) - MOST_TOLD} more such turns."
    if turns and not axis.is_words:
        yield f'Where exactly: --break-even "{axis.path}={axis.values[0].text}..{axis.values[-1].text}".'


def _in_a_grid(base: Outlook, cases: Sequence[Told]) -> Iterator[str]:
    """Give the cheapest and the dearest case of a grid, and how often less is met, or by other ways."""
    most = max(case.outlook.met for case in cases)
    ranked = sorted(
        (case for case in cases if case.outlook.met == most), key=lambda case: _rank(case.outlook)
    )
    fewer = [case for case in cases if case.outlook.met < most]
    of = f"of {len(ranked):,} cases{' that meet most needs' if fewer else ''}"
    if ranked[0].outlook.cash == ranked[-1].outlook.cash:
        yield f"Each {of} costs {ranked[0].outlook.money}{_hours(ranked)}{_left(ranked[0].outlook)}."
    else:
        for word, case in (("Cheapest", ranked[0]), ("Dearest", ranked[-1])):
            yield f"{word} {of}: {case.outlook.money} with {case.name}{_left(case.outlook)}."
    if fewer:
        meet = "meets" if len(fewer) == 1 else "meet"
        first = f"{fewer[0].name}{_left(fewer[0].outlook)}"
        yield f"{len(fewer):,} of {len(cases):,} cases {meet} fewer needs, as with {first}."
    others = Counter(turn for case in cases for turn in differing(base, case.outlook))
    for (need, before, after), count in others.most_common(MOST_TOLD):
        yield f"In {count:,} of {len(cases):,} cases {need} is {_by(before, after)}."
