"""The part of a plan's programme about the ground: amounts, needs met in a manner, and ceilings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from math import inf

from barrowful.answers.costs import placing_hours
from barrowful.ground.amount import depth
from barrowful.measures.dates import year_after
from barrowful.needs.bounds import Bound, bounds_of, kind_of
from barrowful.needs.registry import NEEDS
from barrowful.needs.rows import Either, Manner, Row
from barrowful.planning.books import Books
from barrowful.planning.ground import Ground
from barrowful.planning.lime_apart import add_apart
from barrowful.planning.sooner import Alone, EitherWay, add_either_way
from barrowful.soil.history import done

#: The least [m3] that is something, where a manner begins with some of it.
SOMETHING = 0.001


@dataclass(kw_only=True, eq=False)
class Amounts:
    """The columns of one kind of place."""

    ground: Ground
    loose: dict[int, int] = field(default_factory=dict)  #: column of each portion, by its number
    met: dict[str, int] = field(default_factory=dict)  #: column of each kind of need that can be met
    stands: dict[tuple[str, str], int] = field(
        default_factory=dict
    )  #: by kind and way that meets it standing there
    put_off: dict[str, list[int]] = field(
        default_factory=dict
    )  #: by kind of need: of manners that put it off


def amounts_of(books: Books, ground: Ground, digging_waits: bool, sooner: bool = False) -> Amounts:
    """Return the columns of a kind of place, with their rows in the programme.

    Where hours bear on nothing but each other, what is dug on which day may wait until money is settled.
    Rows by which the solver sees some ``sooner`` are added where it takes long without.
    """
    made, column, row = Amounts(ground=ground), len(books.programme.most), len(books.programme.rows)
    _add_portions(books, made)
    every = [
        way
        for kind, manners in ground.manners.items()
        for way in _add_need(books, made, kind, manners, sooner)
    ]
    _add_made_ground(books, made)
    add_apart(books.programme, ground.asked.portions, made.loose)
    _add_ceilings(books, made)
    if every and sooner:
        add_either_way(every, made.loose, made.met.values(), Alone(books.programme, column, row))
    _add_digging(books, made, digging_waits)
    return made


def _add_portions(books: Books, made: Amounts) -> None:
    ground = made.ground
    for number, (of, most) in enumerate(zip(ground.asked.portions, ground.most, strict=True)):
        if most <= 0:
            continue
        column = made.loose[number] = books.programme.column(most)
        books.draw(of.supply.name, of.number, column, 1.0)
        hours = _placing(ground, number, 1.0) - _placing(ground, number, 0.0)
        books.work(column, hours)
        books.by_month[_month(of.number)][column] += hours


def _placing(ground: Ground, number: int, loose: float) -> float:
    """Return the hours to put so much [m3] of a portion on, digging and all."""
    dose = replace(ground.asked.dose(number), loose=loose)
    return placing_hours(ground.asked.site, [dose], ground.asked.portions[number].supply).likely


def _month(day: int) -> date:
    return date.fromordinal(day).replace(day=1)


def _add_need(
    books: Books, made: Amounts, kind: str, manners: Sequence[Manner], sooner: bool
) -> list[EitherWay]:
    """Add that a need is met or not, and where it is, in one of its manners; return what holds either way."""
    programme, standing = books.programme, made.ground.standing[kind]
    if not manners and not standing:
        return []
    met = made.met[kind] = programme.yes()
    number = len(standing) + bool(manners)
    stands = [met] if number == 1 else [programme.yes() for _ in range(number)]
    if number > 1:
        programme.row({**dict.fromkeys(stands, 1.0), met: -1.0}, least=0.0, most=0.0)
    chosen = programme.one_of(len(manners), stands.pop()) if manners else []
    for column, (way, _) in zip(stands, standing, strict=True):
        made.stands[kind, way] = column
    in_manner = dict(zip(chosen, manners, strict=True))
    made.put_off[kind] = [column for column, manner in in_manner.items() if manner.put_off]
    _add_without(books, made, kind, in_manner)
    for row, least in _in_common(in_manner, sooner):
        _add_row(books, made, row, least)
    return [
        EitherWay(either, column, _add_either(books, made, either, column))
        for either, columns in _ruled(in_manner)
        for column in ([met] if len(columns) == len(in_manner) and not standing else columns)
    ]


def _ruled(in_manner: Mapping[int, Manner]) -> Iterable[tuple[Either, list[int]]]:
    """Return what holds either way once, with the columns of the manners in which it does."""
    ruled: dict[int, tuple[Either, list[int]]] = {}
    for column, manner in in_manner.items():
        for either in manner.either:
            ruled.setdefault(id(either), (either, []))[1].append(column)
    return ruled.values()


def _add_made_ground(books: Books, made: Amounts) -> None:
    """Add that a place is filled before any other need of it is met."""
    makers = [kind for kind in made.ground.manners if NEEDS[kind].makes_ground]
    for maker in makers:
        filled = {made.met[maker]: -1.0} if maker in made.met else {}
        for kind, met in made.met.items():
            if kind not in makers:
                books.programme.row({met: 1.0, **filled}, most=0.0)


def _in_common(in_manner: Mapping[int, Manner], sooner: bool) -> Iterable[tuple[Row, dict[int, float]]]:
    """Return each row once, with the columns of the manners that ask for it and the least each asks for."""
    keys = dict[int, object]()
    together: dict[object, tuple[Row, dict[int, float]]] = {}
    for column, manner in in_manner.items():
        for row in (*manner.rows, *(manner.so_anyway if sooner else ())):
            if id(row.each) not in keys:
                keys[id(row.each)] = frozenset(row.each.items())
            _, least = together.setdefault((keys[id(row.each)], row.most), (row, {}))
            least[column] = max(least.get(column, -inf), row.least)
    return together.values()


def _add_without(books: Books, made: Amounts, kind: str, in_manner: Mapping[int, Manner]) -> None:
    """Add what is not used in a manner, and what each begins with; nothing goes on for a need not met."""
    ground = made.ground
    for number, column in made.loose.items():
        most, own = ground.most[number], ground.asked.portions[number].kind == kind
        barred = [chosen for chosen, manner in in_manner.items() if number in manner.without]
        if own:
            allowed = [chosen for chosen in in_manner if chosen not in barred]
            books.programme.row({column: 1.0, **dict.fromkeys(allowed, -most)}, most=0.0)
        elif barred:
            books.programme.row({column: 1.0, **dict.fromkeys(barred, most)}, most=most)
    for chosen, manner in in_manner.items():
        if manner.begins_with:
            begun = {made.loose[number]: 1.0 for number in manner.begins_with if number in made.loose}
            books.programme.row({**begun, chosen: -SOMETHING}, least=0.0)


def _add_either(books: Books, made: Amounts, either: Either, chosen: int) -> int:
    """Add that in a manner rows hold, or portions are not used; return the column that says the latter."""
    instead = books.programme.yes()
    for number in sorted(either.without & made.loose.keys()):
        most = made.ground.most[number]
        books.programme.row({made.loose[number]: 1.0, instead: most}, most=most)
    for row in either.rows:
        _add_row(books, made, row, {chosen: row.least}, unless=instead)
    return instead


def _add_row(
    books: Books, made: Amounts, row: Row, least: Mapping[int, float], unless: int | None = None
) -> None:
    """Add a row that holds in some manners: in the others it asks for nothing that is not so anyway.

    ``least`` is what each manner asks for. At most so much it lets on ``unless`` a column says yes.
    """
    most = made.ground.most
    each = {made.loose[number]: value for number, value in row.each.items() if number in made.loose}
    sizes = [(value, most[number]) for number, value in row.each.items() if number in made.loose]
    asked = {column: of for column, of in least.items() if of > -inf}
    if asked:
        lowest = sum(value * size for value, size in sizes if value < 0)
        slack = lowest if lowest < 0 and min(asked.values()) > 0 else min(0.0, lowest)
        # each . x >= slack + (least - slack) x chosen
        books.programme.row({**each, **{column: slack - of for column, of in asked.items()}}, least=slack)
    if row.most < inf:
        highest = max(row.most, sum(value * size for value, size in sizes if value > 0))
        freed = {} if unless is None else {unless: row.most - highest}
        books.programme.row({**each, **dict.fromkeys(least, highest - row.most), **freed}, most=highest)


def _add_ceilings(books: Books, made: Amounts) -> None:
    """Add the ceilings on twelve months: of all that goes on, for whatever need, and of what did before."""
    ground = made.ground
    place, site = ground.place, ground.asked.site
    uses: dict[tuple[str, str], list[tuple[int, int, float]]] = defaultdict(list)
    bounds: dict[tuple[str, str], Bound] = {}
    for number, column in made.loose.items():
        of = ground.asked.portions[number]
        for bound in bounds_of(place, of.kind, of.need.dug, of.material):
            uses[bound.name, bound.shares].append((of.number, column, depth(bound.each, place.total_area)))
            bounds[bound.name, bound.shares] = bound
    past: dict[tuple[str, str], list[tuple[int, float]]] = defaultdict(list)
    for dose in done(site, place):
        for bound in bounds_of(place, kind_of(dose), dose.dug, dose.material):
            past[bound.name, bound.shares].append(
                (dose.number, bound.each * depth(dose.loose, place.total_area))
            )
    for key, bound in bounds.items():
        _add_ceiling(books, bound, uses[key], past[key])


def _add_ceiling(
    books: Books, bound: Bound, uses: Sequence[tuple[int, int, float]], past: Sequence[tuple[int, float]]
) -> None:
    """Add a ceiling on each twelve months; the first dressing of a new place may be deeper."""
    days = sorted({*(day for day, _, _ in uses), *(day for day, _ in past)})
    first = _first_days(books, uses) if bound.first > bound.limit and not past else {}
    for begin in days:
        end = year_after(begin)
        inside = {column: each for day, column, each in uses if begin <= day < end}
        used = sum(use for day, use in past if begin <= day < end)
        limit = max(bound.limit, bound.first if past and begin == days[0] else 0.0)
        deeper = {first[begin]: bound.limit - bound.first} if begin in first else {}
        books.programme.row({**inside, **deeper}, most=max(0.0, limit - used))


def _first_days(books: Books, uses: Sequence[tuple[int, int, float]]) -> dict[int, int]:
    """Return the column of each day that says whether it is the first something goes on."""
    programme = books.programme
    first = {day: programme.yes() for day in sorted({day for day, _, _ in uses})}
    programme.row(dict.fromkeys(first.values(), 1.0), most=1.0)
    for day, column, _ in uses:
        later = [chosen for begin, chosen in first.items() if begin > day]
        if later:
            most = programme.most[column]
            programme.row({column: 1.0, **dict.fromkeys(later, most)}, most=most)
    return first


def _add_digging(books: Books, made: Amounts, waits: bool) -> None:
    """Add that what is dug in on a day is dug in once."""
    ground, programme = made.ground, books.programme
    dug: dict[int, list[int]] = defaultdict(list)
    for number in made.loose:
        if ground.asked.portions[number].need.dug:
            dug[ground.asked.portions[number].number].append(number)
    for day, numbers in dug.items():
        digs = programme.waits([made.loose[number] for number in numbers]) if waits else programme.yes()
        hours = _placing(ground, numbers[0], 0.0)
        books.work(digs, hours)
        books.by_month[_month(day)][digs] += hours
        for number in numbers:
            programme.row({made.loose[number]: 1.0, digs: -ground.most[number]}, most=0.0)
