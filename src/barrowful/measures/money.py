"""Money as exact decimals in one ISO 4217 currency; never a float, never a pint unit."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from functools import cache, lru_cache
from pathlib import Path
from typing import NamedTuple

from barrowful.measures.problems import ParseError, did_you_mean
from barrowful.measures.text import NUMBER, read_number

#: No price is as large as this; a slip of the exponent is.
MOST = Decimal(10) ** 15
#: Room for any sum that a float of a quantity can lead to.
_WIDE = Context(prec=999)


@cache
def currencies() -> dict[str, int]:
    """Return the ISO 4217 codes with their number of decimal places, from ``currencies.txt``."""
    text = Path(__file__).with_name("currencies.txt").read_text(encoding="utf-8")
    places: dict[str, int] = {}
    for line in text.splitlines():
        if line and not line.startswith("#"):
            digits, codes = line.split(":")
            places.update(dict.fromkeys(codes.split(), int(digits)))
    return places


class Price(NamedTuple):
    """An amount of money for one ``per``: a unit's text, ``bag``, ``load``, or "" for a sum."""

    amount: Decimal
    per: str


def read_currency(text: str) -> str:
    """Return an ISO 4217 code, or raise :class:`ParseError`."""
    if text not in currencies():
        raise ParseError(
            "unknown-currency",
            f'"{text[:12]}" is not a currency code of ISO 4217 such as EUR, USD or KES'
            f"{did_you_mean(text.upper(), currencies())}",
        )
    return text


@lru_cache(maxsize=1024)
def read_price(text: str, currency: str) -> Price:
    """Return the price a text such as ``46 EUR/m3`` is, in the site's currency.

    >>> read_price("46 EUR/m3", "EUR")
    Price(amount=Decimal('46'), per='m3')
    >>> read_price("55 EUR", "EUR")
    Price(amount=Decimal('55'), per='')
    """
    match = NUMBER.match(text)
    number = match.group() if match else ""
    words = text[len(number) :].strip()
    if not match or words.startswith((",", ".")):
        raise ParseError("not-money", f'"{text[:40]}" is not money')
    read_number(number)
    code, slash, per = (part.strip() for part in words.partition("/"))
    if code != currency:
        found = f'"{code[:12]}"' if code else "no currency"
        raise ParseError("wrong-currency", f'"{text[:40]}" has {found}; the site\'s currency is {currency}')
    if slash and not per:
        raise ParseError("not-money", f'"{text[:40]}" does not say what it is for')
    amount = Decimal(number)
    if abs(amount) >= MOST:
        raise ParseError("out-of-range", f'"{text[:40]}" is too large a price')
    return Price(amount, per)


def rounded(amount: Decimal, currency: str) -> Decimal:
    """Round to the currency's own smallest coin, halves up, as bills are.

    Common practice, no source for bills; Commission Regulation (EC) No 1291/2000, article 20(1), rounds sums
    of money that are converted so: a third decimal of five or more raises the second.

    >>> rounded(Decimal("2.345"), "EUR")
    Decimal('2.35')
    """
    return amount.quantize(Decimal(1).scaleb(-currencies()[currency]), ROUND_HALF_UP, _WIDE)
