"""The part of a plan's programme about what there is: lots, what is made or planted, and what keeps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Set
from datetime import date
from typing import Any

from barrowful.planning.books import Books, counts
from barrowful.supplies.supply import Cost, Draw, Supply


def add_stores(books: Books, ways: Mapping[str, Supply[Any]]) -> None:
    """Add what there is of each way, and what it takes.

    Ways that draw on others come first, so that all that is drawn is known.
    """
    limited = {name for name, way in ways.items() if way.limited}
    for _, way in sorted(ways.items(), key=lambda each: (not each[1].draws_on_others, each[0])):
        made = _add_made(books, way, limited)
        if way.limited:
            if not made:
                _add_linear(books, way)
            _add_lots(books, way, made)


def add_standing(books: Books, way: Supply[Any], column: int) -> None:
    """Add what it takes to have a way that stands there, where a column says so."""
    _add_cost(books, column, way.founding(1))


def _add_made(books: Books, way: Supply[Any], limited: Set[str]) -> list[int]:
    """Add a yes or no for each lot that is made, and what it takes more than those before it.

    What it draws on ways that are ``limited`` is drawn on its day; what is bought for it is ordered.
    """
    columns, draws = list[int](), {lot.day: lot.loose for lot in way.there(way.site.end)}
    before, passed = Cost(), dict[tuple[str, date], float]()
    for lot in way.made(way.site.end):
        column = books.programme.yes()
        if columns:
            books.programme.row({columns[-1]: 1.0, column: -1.0}, least=0.0)
        columns.append(column)
        draws[lot.day] = draws.get(lot.day, 0.0) + lot.loose
        cost = way.cost(draws)
        _add_cost(books, column, cost, before)
        passed_on = (each for each in way.passed_on(draws) if each[0] in limited)
        drawn = {(name, day): loose for name, days in passed_on for day, loose in days.items()}
        for name, day in {**drawn, **passed}:
            more = drawn.get((name, day), 0.0) - passed.get((name, day), 0.0)
            books.draw(name, day.toordinal(), column, more)
        before, passed = cost, drawn
    return columns


def _add_cost(books: Books, column: int, cost: Cost, before: Cost | None = None) -> None:
    """Add what a column costs: what it takes in all, less what was taken before."""
    earlier = before or Cost()
    books.work(column, cost.hours.likely - earlier.hours.likely)
    for sign, of in ((1, cost), (-1, earlier)):
        for payment in of.paid:
            books.pay(column, sign * float(payment.cash), payment.day.toordinal())
    for (way, day), loose in _bought(cost.bought, earlier.bought).items():
        books.draw(way, day.toordinal(), column, loose)


def _bought(now: tuple[Draw, ...], before: tuple[Draw, ...]) -> dict[tuple[str, date], float]:
    more: dict[tuple[str, date], float] = defaultdict(float)
    for sign, draws in ((1, now), (-1, before)):
        for draw in draws:
            more[draw.way.name, draw.day] += sign * draw.loose
    return more


def _add_linear(books: Books, way: Supply[Any]) -> None:
    """Add what each m3 drawn takes, and what it takes to have the way at all, and in each year."""
    days = {day: of for day, of in books.drawn[way.name].items() if of}
    if not days:
        return
    once, twice, first = way.founding(1), way.founding(2), date.fromordinal(next(iter(days)))
    hours = way.cost({first: 1.0}).hours.likely - way.founding(1, way.sown_for([first])).hours.likely
    for of in days.values():
        for column, loose in of.items():
            books.work(column, hours * loose)
    if not (once.paid or once.hours.likely):
        return
    there = sum(lot.loose for lot in way.lots(way.site.end))
    founded = books.programme.yes()
    _add_cost(books, founded, Cost(paid=once.paid + once.paid, hours=once.hours.times(2)), twice)
    by_year: dict[int, list[date]] = defaultdict(list)
    for day in map(date.fromordinal, days):
        by_year[day.year].append(day)
    for own in by_year.values():
        drawn = books.drawn_on(way.name, map(date.toordinal, own))
        in_year = books.programme.yes()
        _add_cost(books, in_year, way.founding(2, 1 + way.sown_for(own)), once)
        books.programme.row({**drawn, in_year: -there}, most=0.0)
        books.programme.row({in_year: 1.0, founded: -1.0}, most=0.0)


def _add_lots(books: Books, way: Supply[Any], made: list[int]) -> None:
    """Add that no more is drawn by any day than has come; of what does not keep, on its day."""
    days = {day: of for day, of in books.drawn[way.name].items() if of}
    lots = way.made(way.site.end) if made else way.lots(way.site.end)
    for last in sorted(days):
        drawn = counts()
        for day, of in days.items():
            if day == last or (way.keeps and day < last):
                for column, loose in of.items():
                    drawn[column] += loose
        come = [number for number, lot in enumerate(lots) if _is_there(way, lot.day.toordinal(), last)]
        if made:
            for number in come:
                drawn[made[number]] -= lots[number].loose
            there = way.there(date.fromordinal(last))
            books.programme.row(drawn, most=sum(lot.loose for lot in there))
        else:
            books.programme.row(drawn, most=sum(lots[number].loose for number in come))


def _is_there(way: Supply[Any], lot: int, day: int) -> bool:
    return lot <= day if way.keeps else lot == day
