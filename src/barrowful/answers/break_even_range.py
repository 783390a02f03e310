"""Between which ends a break-even is looked for: those that are typed, or some round the file's value."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from typing import NamedTuple

from barrowful.answers.break_even import LOOKED_AT, Scale, scale_of
from barrowful.answers.cases import Standing
from barrowful.measures.problems import SiteProblems, WrongUse
from barrowful.sitefile.products.outline import find
from barrowful.sitefile.text.edit import value_at
from barrowful.sitefile.text.ranges import ends_of, read_end, read_range, unit_of
from barrowful.sitefile.text.vary import MOST_CASES

#: Shares of the file's value that are tried as the ends of a range of its own, the farthest first.
DOWN, UP = (Decimal("0.5"), Decimal("0.8"), Decimal("0.95")), (Decimal(2), Decimal("1.25"), Decimal("1.05"))
#: Days before and after the file's date that are tried, the farthest first.
DAYS = (365, 180, 60, 14)
#: What a field says to a number with a fraction where it takes none.
WHOLE = {"not-whole", "not-a-duration"}


class Asked(NamedTuple):
    """The scale that is searched, how many values are looked at first, and where the range comes from."""

    scale: Scale
    looks: int
    why: str


def asked(standing: Standing, text: str) -> Asked:
    """Return what ``PATH``, ``PATH=A..B`` or ``PATH=A..B:N`` asks for; else wrong use that says the form."""
    path, equals, typed = (part.strip() for part in text.partition("="))
    loaded = standing.case.loaded
    if not path or (equals and not typed):
        raise WrongUse(f'"{text}" is not a path; write --break-even "PATH" or "PATH=A..B"')
    stands = _stands(standing, path)
    if stands and read_end(stands) is None and ".." not in stands:
        raise WrongUse(
            f'"{path}" is "{stands}", which is no number or date; a break-even is looked for along a number'
            f' or a date, e.g. --break-even "ways.NAME.buy.price". To compare words: --vary "{path}=a,b,c"'
        )
    if not typed:
        low, high, unit, why = _own_range(standing, path, stands)
        return Asked(_scale(standing, path, unit, low, high), LOOKED_AT, why)
    between = read_range(path, typed, loaded.measures)
    if between is None:
        raise _no_range(path, typed)
    count = LOOKED_AT if between.steps is None else between.steps
    if not 2 <= count <= MOST_CASES:
        raise WrongUse(f'"{path}={typed}": look at 2 to {MOST_CASES:,} values, not {count:,}')
    low, high = ends_of(between, loaded.measures)
    return Asked(_scale(standing, path, unit_of(between), low, high), count, "")


def _no_range(path: str, typed: str) -> WrongUse:
    return WrongUse(
        f'"{path}={typed}" is no range of numbers or dates; write --break-even "PATH=A..B",'
        f' e.g. "{path}=30..90 EUR/m3" or "{path}=2028-03-01..2029-03-01"'
    )


def _stands(standing: Standing, path: str) -> str:
    """Return the value of a path as the file stands, or its default; wrong use where it is no such key."""
    document = standing.case.loaded.document
    value = value_at(document, path)
    if value is not None:
        return value
    lines = find(path)
    if not lines:  # the reader knows the nearest key there is
        standing.changed(path, [(path, "1")])
    return lines[0].field.default if lines else ""


def _own_range(standing: Standing, path: str, stands: str) -> tuple[Decimal | date, Decimal | date, str, str]:
    """Return ends round the value that stands in the file that its field takes, their unit, and in words."""
    end = read_end(stands) if stands else None
    if not stands:
        raise WrongUse(f'the file does not say "{path}"; give a range, --break-even "{path}=A..B"')
    if end is None:
        raise WrongUse(f'"{path}" is "{stands}"; give a range, --break-even "{path}=A..B"')
    if isinstance(end, date):
        return (*_days_round(standing, path, end), "", f"up to a year either way of the file's {stands}")
    low = _first(standing, path, (end.number * share for share in DOWN), end.words)
    high = _first(standing, path, (end.number * share for share in UP), end.words)
    if low is None or high is None or low == high:
        raise WrongUse(f'no range round "{stands}" suits "{path}"; give one, --break-even "{path}=A..B"')
    return (
        low,
        high,
        end.words,
        f"{_share(low, end.number)} to {_share(high, end.number)} of the file's {stands}",
    )


def _share(end: Decimal, of: Decimal) -> str:
    return f"{100 * end / of:.0f} %"


def _days_round(standing: Standing, path: str, middle: date) -> tuple[date, date]:
    """Return days before and after a date that the field takes; the date itself where it takes none."""
    days = [middle, middle]
    for side, sign in enumerate((-1, 1)):
        for far in DAYS:
            day = middle + timedelta(days=sign * far)
            if not _problems(standing, path, day.isoformat()):
                days[side] = day
                break
    if days[0] == days[1]:
        raise WrongUse(f'no other date suits "{path}"; give a range, --break-even "{path}=A..B"')
    return days[0], days[1]


def _first(standing: Standing, path: str, values: Iterator[Decimal], unit: str) -> Decimal | None:
    """Return the first value that its field takes, as it is or as the whole number next to it."""
    for value in values:
        for near in (value, value.to_integral_value()):
            if not _problems(standing, path, f"{near.normalize():f} {unit}".strip()):
                return near.normalize()
    return None


def _problems(standing: Standing, path: str, text: str) -> set[str]:
    """Return the codes of what is wrong with the site where a path has a value."""
    try:
        standing.case.loaded.changed([(path, text)])
    except SiteProblems as problems:
        return {problem.code for problem in problems.problems}
    return set()


def _scale(standing: Standing, path: str, unit: str, low: Decimal | date, high: Decimal | date) -> Scale:
    """Return the scale between two ends; in whole steps where the field takes whole numbers only."""
    scale = scale_of(path, unit, low, high, whole=False)
    whole = scale.last > 1 and bool(WHOLE & _problems(standing, path, scale.text(1)))
    return scale_of(path, unit, low, high, whole=True) if whole else scale
