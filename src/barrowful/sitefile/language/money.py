"""The kinds that hold money: a sum, money for each unit of something, and what a seller asks."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any, NamedTuple

from barrowful.ground.sizes import Selling
from barrowful.measures.fixed import fixed
from barrowful.measures.meant import LENGTHS, money_meant, unit_meant
from barrowful.measures.money import Price, read_price
from barrowful.measures.problems import Mark, ParseError
from barrowful.measures.text import read_unit
from barrowful.measures.units import fits, known, scale
from barrowful.sitefile.language import patterns
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.kinds import Kind

MOST_MONEY = 1_000_000_000
#: What a grower would type for money by a dimension, shown in messages.
EXAMPLES = {"volume": "46 EUR/m3", "hours": "12 EUR/h", "mass": "6 EUR/kg"}
#: Words for what is brought in one go; what else is no unit is taken for a bag.
LOADS = frozenset({"lorry", "trailer", "truck", "trip", "tipper", "skip", "pickup", "van"})
#: What else is to be said where a price is for a piece.
HOLDS = {"bag": "what one holds (bag: 40 L, or 12 kg)", "load": "what one holds (load: 6 m3)"}


class Money(Kind):
    """Money of some kind; what is not is told with how it may be written, where that would be read."""

    @property
    def example(self) -> str:
        """Return what a grower would type, in euros."""
        raise NotImplementedError

    def forms(self, amount: str, per: str) -> Iterator[str]:
        """Yield how an amount for so much may be written, the likeliest first."""
        raise NotImplementedError

    def value(self, text: str, context: ReadContext) -> Any:
        """Return the value of a text, or raise :class:`ParseError`."""
        raise NotImplementedError

    @property
    def name(self) -> str:
        return f"money such as {self.example}"

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Any:
        try:
            return self.value(text, context)
        except ParseError as misread:
            told, write, forms = str(misread).partition("; write ")
            hint = "" if write and misread.code == "not-money" else self._hint(text, misread.code, context)
            told = told.partition("; say ")[0] if hint else told
            raise ParseError(misread.code, f"{told}{hint or write + forms}") from None

    def _hint(self, text: str, code: str, context: ReadContext) -> str:
        """Return how a text that is misread may be written: as it is meant, else as an example is."""
        amount, per = money_meant(text, context.currency)
        forms = self.forms(amount, per) if amount else iter(())
        written = next((form for form in forms if self._is_read(form, context)), "")
        if not written and code in {"not-money", "unknown-unit"}:  # a unit alone is no money
            return f'; write one such as "{self.example.replace("EUR", context.currency)}"'
        holds = next((f" with {size}" for word, size in HOLDS.items() if written.endswith(f"/{word}")), "")
        return f'; write "{written}"{holds}' if written else ""

    def _is_read(self, text: str, context: ReadContext) -> bool:
        try:
            self.value(text, context)
        except ParseError:
            return False
        return True


class Cash(Money):
    """A sum of money, as a Decimal."""

    example = "55 EUR"

    def forms(self, amount: str, per: str) -> Iterator[str]:
        yield from [amount] if not per else []

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.money(most=MOST_MONEY))

    def value(self, text: str, context: ReadContext) -> Decimal | None:
        price = _price(text, context)
        if price is not None and price.per:
            raise ParseError("not-money", f'"{text[:40]}" is not {self.name}')
        return None if price is None else price.amount


@fixed(kw_only=False)
class CashPer(Money):
    """Money for each SI unit of a dimension, as a Decimal: for each hour, or for each kg."""

    dimension: str

    @property
    def example(self) -> str:
        return EXAMPLES[self.dimension]

    def forms(self, amount: str, per: str) -> Iterator[str]:
        usual = self.example.partition("/")[2]
        yield f"{amount}/{per.removesuffix('s') or usual}"
        yield f"{amount}/{per[:1]}"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.money((self.dimension,), most=MOST_MONEY))

    def value(self, text: str, context: ReadContext) -> Decimal | None:
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
class PriceFor(Money):
    """What a seller asks for a volume, a mass, or one of ``words`` such as bag."""

    words: tuple[str, ...] = ()
    example = EXAMPLES["volume"]

    def forms(self, amount: str, per: str) -> Iterator[str]:
        """Yield it for what was said, for a cube of a length, else for a piece of no known size."""
        told = per.casefold()
        if not told:
            yield f"{amount}/m3"
        for unit in filter(None, (told, per, told.removesuffix("s"), unit_meant(told))):
            yield f"{amount}/{unit}"
        yield f"{amount}/{LENGTHS.get(told, told)}3"
        if told.isalpha() and told not in LENGTHS and known(told) is None:
            yield f"{amount}/{'load' if told in LOADS else 'bag'}"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.money(("volume", "mass"), self.words, MOST_MONEY))

    def value(self, text: str, context: ReadContext) -> SellersPrice | None:
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
        forms = [f'"{text[:40]}/m3"'] if "volume" in dimensions else []
        forms += [f'"{text[:40]}/{word}" with {HOLDS[word]}' for word in words]
        hint = f"; write {', or '.join(forms)}" if forms else ""
        raise ParseError("not-money", f'"{text[:40]}" is not {name}{hint}')
    factor, unit = read_unit(price.per, context.measures)
    dimension = next((dimension for dimension in dimensions if fits(unit, dimension)), "")
    if not dimension:
        wanted = " or ".join((*dimensions, *words))
        raise ParseError("wrong-dimension", f'"{text[:40]}" is not money per {wanted}')
    return dimension, factor * scale(unit, dimension)[0]
