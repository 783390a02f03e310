"""What the words for wood and where it comes from tell: timber that may be treated, or trees."""

from __future__ import annotations

import re
from functools import cache

from barrowful.catalogue.figures import load


def timber_in(told: str) -> str:
    """Return the word by which a text tells of timber that may be painted or treated, or nothing.

    >>> timber_in("old pallets"), timber_in("our old fence panels"), timber_in("untreated floorboards")
    ('pallets', 'fence', 'floorboards')
    >>> timber_in("street trees, no pallets"), timber_in("the hedge along the fence"), timber_in("untreated")
    ('', '', '')
    >>> timber_in("lay boards for the lorry"), timber_in("chipped boards")
    ('', 'boards')
    """
    found = (
        _timber().search(_taken_back().sub(" ", part)) for part in re.split(r"[.,;:()]|\bbut\b", told.lower())
    )
    return next((match.group() for match in found if match), "")


def names_trees(told: str) -> bool:
    """Say whether a text tells of trees or of what is cut from them.

    >>> names_trees("roadside ash and hazel"), names_trees("the lane"), names_trees("local mill")
    (True, False, False)
    """
    return bool(_trees().search(told.lower()))


@cache
def _timber() -> re.Pattern[str]:
    return re.compile(rf"\b{_any('timber')}\b")


@cache
def _trees() -> re.Pattern[str]:
    return re.compile(rf"\b{_any('trees')}\b")


@cache
def _taken_back() -> re.Pattern[str]:
    """Return what tells of no timber: all that is denied, and where trees stand."""
    stands = rf"\b{_any('beside')} (?:(?:the|a|our|my|their) )?(?:[\w']+ )?{_any('timber')}\b"
    return re.compile(rf"\b{_any('denied')}\b.*|{stands}")


def _any(words: str) -> str:
    return f"(?:{'|'.join(load('origins.toml')[words])})"
