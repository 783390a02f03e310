"""The kinds that hold money: a sum, money for each unit of something, and what a seller asks."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, NamedTuple

from barrowful.ground.sizes import Selling
from barrowful.measures.fixed import fixed
from barrowful.measures.money import Price, read_price
from barrowful.measures.problems import Mark, ParseError
from barrowful.measures.text import read_unit
from barrowful.measures.units import fits, scale
from barrowful.sitefile.language import patterns
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.kinds import Kind

MOST_MONEY = 1_000_000_000
#: What a grower would type for money by a dimension, shown in messages.
EXAMPLES = {"volume": "46 EUR/m3", "hours": "12 EUR/h", "mass": "6 EUR/kg"}


class Cash(Kind):
    """A sum of money, as a Decimal."""

    @property
    def name(self) -> str:
        return "money such as 55 EUR"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.money(most=MOST_MONEY))

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Decimal | None:
        price = _price(text, context)
        if price is not None and price.per:
            raise ParseError("not-money", f'"{text[:40]}" is not {self.name}')
        return None if price is None else price.amount


@fixed(kw_only=False)
class CashPer(Kind):
    """Money for each SI unit of a dimension, as a Decimal: for each hour, or for each kg."""

    dimension: str

    @property
    def name(self) -> str:
        return f"money such as {EXAMPLES[self.dimension]}"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.money((self.dimension,), most=MOST_MONEY))

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Decimal | None:
        price = _price(text, context)
        if price is None:
            return None
        _, size = _size_of(price, text, self.name, (self.dimension,), (), context)
        return price.amount / Decimal(f"{size:.15g}")


class SellersPrice(NamedTuple):
    """What a seller asks, and for how much; the size of a bag or load is not known here."""

    amount: Decimal
    selling: Selling


@fixed(kw_only=False)
class PriceFor(Kind):
    """What a seller asks for a volume, a mass, or one of ``words`` such as bag."""

    words: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        return f"money such as {EXAMPLES['volume']}"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.money(("volume", "mass"), self.words, MOST_MONEY))

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> SellersPrice | None:
        price = _price(text, context)
        if price is None:
            return None
        if price.per in self.words:
            return SellersPrice(price.amount, Selling(price.per))
        dimension, size = _size_of(price, text, self.name, ("volume", "mass"), self.words, context)
        return SellersPrice(price.amount, Selling(price.per, **{dimension: size}))


def _price(text: str, context: ReadContext) -> Price | None:
    """Return the money of a text, or None where the missing or bad currency is told already."""
    if not context.currency:
        return None
    price = read_price(text, context.currency)
    if price.amount > MOST_MONEY:
        raise ParseError("out-of-range", f'"{text[:40]}" is more than {MOST_MONEY:,}')
    if price.amount < 0:
        raise ParseError("out-of-range", f'"{text}" is less than nothing')
    return price


def _size_of(
    price: Price,
    text: str,
    name: str,
    dimensions: tuple[str, ...],
    words: tuple[str, ...],
    context: ReadContext,
) -> tuple[str, float]:
    """Return the dimension of what a price is for, and its size in SI."""
    if not price.per:
        for_what = [unit for unit in ("m3", *words) if unit != "m3" or "volume" in dimensions]
        forms = " or ".join(f'"{text[:40]}/{unit}"' for unit in for_what)
        hint = f"; say what it is for: {forms}" if forms else ""
        raise ParseError("not-money", f'"{text[:40]}" is not {name}{hint}')
    factor, unit = read_unit(price.per, context.measures)
    dimension = next((dimension for dimension in dimensions if fits(unit, dimension)), "")
    if not dimension:
        wanted = " or ".join((*dimensions, *words))
        raise ParseError("wrong-dimension", f'"{text[:40]}" is not money per {wanted}')
    return dimension, factor * scale(unit, dimension)[0]
