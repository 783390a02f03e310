"""Arguments of the door for scripts: each is what it may be, or refused with what would be right."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from barrowful.measures.problems import WrongUse
from barrowful.reports.limits import FEWEST_DRAWS, MOST_DRAWS, MOST_SEED
from barrowful.reports.ranges import RangesAsked
from barrowful.site.load import LoadedSite


def check_site(site: object) -> None:
    """Refuse what is no loaded site."""
    if not isinstance(site, LoadedSite):
        raise WrongUse(f"give a site as barrowful.load returns it, not {_kind(site)}")


def check_one_of(word: object, known: tuple[str, ...], what: str) -> None:
    """Refuse a word that is none of those there are."""
    if word not in known:
        raise WrongUse(f'{what} is "{word}"; it is one of {", ".join(known)}')


def check_within(number: object, most: int, what: str, least: int = 1) -> None:
    """Refuse a number beyond its limits, or what is no whole number."""
    if not isinstance(number, int) or isinstance(number, bool):
        raise WrongUse(f"{what} are a whole number, not {number!r}")
    if not least <= number <= most:
        raise WrongUse(f"{what} are {least} to {most}, not {number}")


def check_texts(example: str, **given: object) -> None:
    """Refuse arguments that are given and are no texts."""
    for name, value in given.items():
        if value is not None and not isinstance(value, str):
            raise WrongUse(f"{name} is a text such as {example}, not {_kind(value)}")


def check_days(**given: object) -> None:
    """Refuse arguments that are given and are no days."""
    for name, value in given.items():
        if value is not None and (not isinstance(value, date) or isinstance(value, datetime)):
            raise WrongUse(f"{name} is a datetime.date such as date(2027, 3, 1), not {_kind(value)}")


def check_cases(cases: object) -> None:
    """Refuse cases that are no names with values by path."""
    form = 'cases are names with values by path, {"dear": {"ways.yard compost.buy.price": "60 EUR/m3"}}'
    if not isinstance(cases, Mapping):
        raise WrongUse(f"{form}, not {_kind(cases)}")
    for name, values in cases.items():
        if not isinstance(name, str) or not isinstance(values, Mapping):
            raise WrongUse(f"{form}; {name!r}: {_kind(values)} is none")


def ranges_asked(ranges: bool, draws: int, seed: int) -> RangesAsked | None:
    """Return the ranges asked for; None where none are."""
    check_within(draws, MOST_DRAWS, "draws", FEWEST_DRAWS)
    check_within(seed, MOST_SEED, "seeds", 0)
    return RangesAsked(draws, seed) if ranges else None


def _kind(value: Any) -> str:
    name = type(value).__name__
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}" if value is not None else "None"
