"""How what is written otherwise would be written here: units, money, and days of the year."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

#: What makes an area or a volume of a length, before it and behind it.
BEFORE = {"cu": "3", "cub": "3", "cubic": "3", "sq": "2", "square": "2"}
BEHIND = {"3": "3", "^3": "3", "cubed": "3", "2": "2", "^2": "2", "squared": "2"}
#: Words for lengths, as units of the file are written.
LENGTHS = {
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters", "mtr"), "m"),
    **dict.fromkeys(("cm", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("in", "ins", "inch", "inches"), "in"),
    **dict.fromkeys(("ft", "foot", "feet"), "ft"),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), "yd"),
}
_LENGTH = "|".join(sorted(LENGTHS, key=len, reverse=True))
_BEFORE = rf"({'|'.join(BEFORE)})[. ]*({_LENGTH})[.]?"
_BEHIND = rf"({_LENGTH})[. ]*({'|'.join(map(re.escape, BEHIND))})"
#: A sign or a word, a number, a sign or a word, and what it is for.
_MONEY = (
    r"(?P<before>[^\s0-9.,/+-]{0,8}) ?(?P<number>[0-9][0-9.,]*) ?(?P<code>[^\s0-9.,/+-]{0,8})"
    r"(?: ?(?:/| per | each | an? )(?P<per>[^/]{1,30}))?"
)
#: Words for no money, and for money of any country that may stand for the site's.
FREE = frozenset({"free", "nothing", "none", "nil"})
COINS = frozenset({"", "eur", "euro", "euros", "pound", "pounds", "dollar", "dollars"})
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAY_FIRST = r"([0-9]{1,2})(?:st|nd|rd|th|[.])? *(?:of )?([a-z]{3})[a-z]*[.]?"
_MONTH_FIRST = r"([a-z]{3})[a-z]*[.]? *([0-9]{1,2})(?:st|nd|rd|th)?"
#: Letters of a word for a unit of which one letter more or less is another unit.
SHORT = 3
#: A year that has every day of a year but the one of leap years.
_ANY_YEAR = 2001


def unit_meant(word: str) -> str:
    """Return how an area or a volume is written that is called by its length, or nothing.

    >>> unit_meant("cu ft"), unit_meant("Square yards"), unit_meant("yards cubed"), unit_meant("ft")
    ('ft3', 'yd2', 'yd3', '')
    """
    told = word.strip().casefold()
    if found := re.fullmatch(_BEFORE, told):
        return LENGTHS[found[2]] + BEFORE[found[1]]
    if found := re.fullmatch(_BEHIND, told):
        return LENGTHS[found[1]] + BEHIND[found[2]]
    return ""


def slips(word: str, names: Sequence[str]) -> list[str]:
    """Return names that a word may be a slip for, and not another size or thing, as "hg" is none for "g".

    A short word is one but for its case or an s, or begins and ends as one; a longer one is as long but for a
    letter, and neither ends as a name nor has it within.

    >>> slips("cms", ["cm", "m"]), slips("metrs", ["metres", "m"]), slips("kilolitre", ["litre", "km"])
    (['cm'], ['metres'], [])
    """
    if len(word) <= SHORT:
        told = word.casefold().rstrip("s.")
        ends = word[:1], word[-1:]
        return [of for of in names if of.casefold().rstrip("s") == told or (of[0], of[-1]) == ends]
    if any(word.endswith(name) for name in names if len(name) > SHORT):
        return []
    near = (name for name in names if abs(len(name) - len(word)) <= 1)
    return [name for name in near if name not in word or word.startswith(name)]


def money_meant(text: str, currency: str) -> tuple[str, str]:
    """Return an amount of money as it may be written, and what it is for as it was written, or nothing.

    >>> money_meant("£45/yd", "GBP"), money_meant("45,50 GBP per yd3", "GBP"), money_meant("free", "EUR")
    (('45 GBP', 'yd'), ('45.50 GBP', 'yd3'), ('0 EUR', ''))
    >>> money_meant("46 USD/m3", "EUR")
    ('', '')
    """
    told = " ".join(text.split())
    if told.casefold() in FREE:
        return f"0 {currency}", ""
    found = re.fullmatch(_MONEY, told)
    if found is None or not all(_is_coin(found[key], currency) for key in ("before", "code")):
        return "", ""
    number = found["number"].rstrip(".,")
    if re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+([.][0-9]+)?", number):
        number = number.replace(",", "")
    return f"{number.replace(',', '.')} {currency}", (found["per"] or "").strip()


def _is_coin(word: str, currency: str) -> bool:
    """Say whether a word may stand for a currency: its code, a sign, or a word for coins."""
    return word.casefold() in COINS | {currency.casefold()} or not any(map(str.isalpha, word))


def month_day_meant(text: str) -> str:
    """Return a day of the year as month and day, or nothing where it may be another.

    >>> month_day_meant("25 Oct"), month_day_meant("April 20th"), month_day_meant("25/10")
    ('10-25', '04-20', '10-25')
    >>> month_day_meant("4/5"), month_day_meant("31 June")
    ('', '')
    """
    told = text.strip().casefold()
    if found := re.fullmatch(_DAY_FIRST, told):
        return _month_day(found[2], found[1])
    if found := re.fullmatch(_MONTH_FIRST, told):
        return _month_day(found[1], found[2])
    parts = re.split("[-/. ]", told)
    if len(parts) != len(("month", "day")) or not all(part.isdecimal() and part.isascii() for part in parts):
        return ""
    every = {_month_day(*pair) for pair in (parts, parts[::-1])} - {""}
    return every.pop() if len(every) == 1 else ""


def _month_day(month: str, day: str) -> str:
    """Return a month, by its first letters or its number, and a day; nothing where there is no such day."""
    number = MONTHS.index(month) + 1 if month in MONTHS else int(month) if month.isdecimal() else 0
    try:
        return f"{date(_ANY_YEAR, number, int(day)):%m-%d}"
    except ValueError:
        return ""
