"""The cases of a what-if: names, and the changes each makes to the file's values."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from barrowful.measures.problems import WrongUse
from barrowful.measures.text import NUMBER

Change = tuple[str, str]
Case = tuple[str, list[Change]]
MOST_CASES = 200


def cases_of(sets: Sequence[str], cases: Sequence[str], vary: Sequence[str]) -> list[Case]:
    """Return the cases that --set, --case and --vary ask for; a --set applies to every case.

    >>> cases_of(["a.b=1"], [], [])
    [('set', [('a.b', '1')])]
    >>> cases_of([], ["dear:p=9 EUR"], ["q=1..2 m:2"])
    [('dear', [('p', '9 EUR')]), ('q=1 m', [('q', '1 m')]), ('q=2 m', [('q', '2 m')])]
    """
    common = [_change(text) for text in sets]
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


def _change(text: str) -> Change:
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
    low, high = (Decimal(end.group()) for end in ends if end)
    unit = match[2].strip()[len(ends[1].group()) :].strip() if ends[1] else ""
    first = match[1].strip()[len(ends[0].group()) :].strip() if ends[0] else ""
    if first and first != unit:
        raise WrongUse(f'"{text}": both ends need the same unit')
    count = int(match[3])
    if count < 2:
        raise WrongUse(f'"{text}": give at least 2 steps')
    steps = [low + (high - low) * index / (count - 1) for index in range(count)]
    return [(path, f"{_plain(step)} {unit}".strip()) for step in steps]


def _plain(value: Decimal) -> str:
    rounded = value.quantize(Decimal("1e-6")).normalize()
    return f"{rounded:f}"
