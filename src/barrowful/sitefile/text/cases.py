"""The cases of a what-if: names, and the changes each makes to the file's values."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from barrowful.measures.problems import UNSEEN, ParseError, WrongUse, printable
from barrowful.measures.text import MOST_DIGITS, NUMBER, read_number

Change = tuple[str, str]
Case = tuple[str, list[Change]]
MOST_CASES = 200
#: The ends of a range are smaller than this.
MOST_END = Decimal(10) ** 12


def cases_of(sets: Sequence[str], cases: Sequence[str], vary: Sequence[str]) -> list[Case]:
    """Return the cases that --set, --case and --vary ask for; a --set applies to every case.

    >>> cases_of(["a.b=1"], [], [])
    [('set', [('a.b', '1')])]
    >>> cases_of([], ["dear:p=9 EUR"], ["q=1..2 m:2"])
    [('dear', [('p', '9 EUR')]), ('q=1 m', [('q', '1 m')]), ('q=2 m', [('q', '2 m')])]
    """
    common = changes_of(sets)
    named: dict[str, list[Change]] = {}
    for text in cases:
        name, colon, rest = text.partition(":")
        if not colon or not name.strip():
            raise WrongUse(f'"{text}" is not a case; write --case "NAME:PATH=VALUE"')
        named.setdefault(name.strip(), []).append(_change(rest))
    varied = [(f"{path}={value}", [(path, value)]) for text in vary for path, value in _values(text)]
    found = [(name, [*common, *changes]) for name, changes in [*named.items(), *varied]]
    if common and not found:
        found = [("set", common)]
    if len(found) > MOST_CASES:
        raise WrongUse(f"{len(found)} cases are more than {MOST_CASES}")
    return found


def changes_of(sets: Sequence[str]) -> list[Change]:
    """Return the changes that --set asks for.

    >>> changes_of(["places.beds.count=3", "site = Far = Near"])
    [('places.beds.count', '3'), ('site', 'Far = Near')]
    """
    return [_change(text) for text in sets]


def _change(text: str) -> Change:
    if hidden := UNSEEN.search(text):
        letter = f"U+{ord(hidden.group()):04X}"
        raise WrongUse(f'"{printable(text)}" has an invisible control character ({letter}); leave it out')
    path, equals, value = text.partition("=")
    if not equals or not path.strip() or not value.strip():
        raise WrongUse(f'"{text}" is not a change; write "PATH=VALUE"')
    return path.strip(), value.strip()


def _values(text: str) -> list[Change]:
    path, value = _change(text)
    match = re.fullmatch(r"(.+?)\.\.(.+?)\s*[:/]\s*([0-9]{1,3})", value)
    ends = [NUMBER.match(part.strip()) for part in match.groups()[:2]] if match else []
    if not match or None in ends:
        raise WrongUse(f'"{text}" is not a range; write "PATH=A..B:N", e.g. "{path}=40..60 EUR/m3:5"')
    low, high = (_end(end.group(), text) for end in ends if end)
    unit = match[2].strip()[len(ends[1].group()) :].strip() if ends[1] else ""
    first = match[1].strip()[len(ends[0].group()) :].strip() if ends[0] else ""
    if first and first != unit:
        raise WrongUse(f'"{text}": both ends need the same unit')
    count = int(match[3])
    if count < 2:
        raise WrongUse(f'"{text}": give at least 2 steps')
    values = _steps(low, high, count)
    if not values:
        raise WrongUse(f'"{text}": the ends are too close for {count} steps')
    return [(path, f"{value} {unit}".strip()) for value in values]


def _end(number: str, text: str) -> Decimal:
    """Return an end of a range, which is a number that a site file could hold written out."""
    try:
        read_number(number)
        if abs(value := Decimal(number)) >= MOST_END:
            raise ParseError("out-of-range", f"{number} is too large; give ends below {MOST_END:.0e}")
    except ParseError as wrong:
        raise WrongUse(f'"{text}": {wrong}') from None
    if sum(letter.isdigit() for letter in _plain(value)) > MOST_DIGITS:
        raise WrongUse(f'"{text}": {number} written out has more than {MOST_DIGITS} digits')
    return value


def _steps(low: Decimal, high: Decimal, count: int) -> list[str]:
    """Return equal steps as plain numbers: to six decimals, or as many more as a narrow range needs.

    The ends stay as they are. There are no steps where the digits that a number may have would not
    keep them apart.

    >>> _steps(Decimal(40), Decimal(60), 4)
    ['40', '46.666667', '53.333333', '60']
    >>> _steps(Decimal("1e-7"), Decimal("3e-7"), 3)
    ['0.0000001', '0.0000002', '0.0000003']
    """
    span, most = high - low, max(1, max(abs(low), abs(high)).adjusted() + 1)
    places = min(6 + max(0, -3 - span.adjusted()) if span else 6, MOST_DIGITS - most)
    if (
        0 < abs(span) / (count - 1) < Decimal(10) ** (3 - places)
    ):  # rounding would move a step by a thousandth
        return []
    between = (round(low + span * index / (count - 1), places) for index in range(1, count - 1))
    return [_plain(step) for step in (low, *(between if span else [low] * (count - 2)), high)]


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"
