"""The kinds of value a site file can hold: each reads its node, names itself, gives its schema."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from barrowful.measures.dates import read_date, read_step
from barrowful.measures.dimensions import SI
from barrowful.measures.money import Price, read_currency, read_price
from barrowful.measures.problems import Mark, ParseError, did_you_mean
from barrowful.measures.text import read_number, read_unit
from barrowful.measures.units import fits
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.text.nodes import Node, Refused, Scalar

MOST_MONEY = 1_000_000_000
#: The start of every quantity and price, for the schema.
NUMBER_PATTERN = r"^[+-]?([0-9]+(\.[0-9]+)?|\.[0-9]+)([eE][+-]?[0-9]{1,3})?"
UNIT_PATTERN = r" *([A-Za-z%/]|1 */).*$"


@dataclass(frozen=True)
class Kind:
    """A kind of value; ``read`` returns None after noting a problem."""

    @property
    def name(self) -> str:
        """Return the words the manual uses."""
        raise NotImplementedError

    @property
    def json(self) -> dict[str, Any]:
        """Return the JSON Schema of the kind."""
        raise NotImplementedError

    def read(self, node: Node, context: ReadContext, path: str) -> Any:
        """Return the checked value of a node."""
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Scalar):
            context.problem(node.mark, "not-a-value", f"{path}: expected {self.name}, one value")
            return None
        return context.attempt(node.mark, path, lambda: self.of_text(node.text, node.mark, context, path))

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Any:
        """Return the value of a text, or raise :class:`ParseError`."""
        raise NotImplementedError


@dataclass(frozen=True)
class Words(Kind):
    """Free text, or a name when ``most`` is short."""

    most: int = 80

    @property
    def name(self) -> str:
        return "text"

    @property
    def json(self) -> dict[str, Any]:
        return {"type": ["string", "number"], "minLength": 1, "maxLength": self.most}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> str:
        found = text.strip()
        if not found:
            raise ParseError("empty-text", "a word is missing here")
        if len(found) > self.most:
            raise ParseError("too-long", f"is longer than {self.most} letters")
        return found


@dataclass(frozen=True)
class Choice(Kind):
    """One of a few words."""

    words: tuple[str, ...]

    @property
    def name(self) -> str:
        return "one of " + ", ".join(self.words)

    @property
    def json(self) -> dict[str, Any]:
        return {"enum": list(self.words)}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> str:
        if text not in self.words:
            raise ParseError(
                "unknown-word", f'"{text[:30]}" is not {self.name}{did_you_mean(text, self.words)}'
            )
        return text


@dataclass(frozen=True)
class Flag(Kind):
    """Yes or no."""

    @property
    def name(self) -> str:
        return "true or false"

    @property
    def json(self) -> dict[str, Any]:
        return {"enum": [True, False, "true", "false", "yes", "no", "True", "False", "Yes", "No"]}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> bool:
        if text in {"true", "yes", "True", "Yes"}:
            return True
        if text in {"false", "no", "False", "No"}:
            return False
        raise ParseError("not-yes-no", f'"{text[:30]}" is not true or false')


@dataclass(frozen=True)
class Number(Kind):
    """A bare number: a count when ``whole``, otherwise a pure ratio."""

    least: float
    most: float
    whole: bool = False

    @property
    def name(self) -> str:
        what = "a whole number" if self.whole else "a bare number"
        return f"{what} from {self.least:g} to {self.most:g}"

    @property
    def json(self) -> dict[str, Any]:
        return {
            "type": "integer" if self.whole else "number",
            "minimum": self.least,
            "maximum": self.most,
        }

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> float:
        value = read_number(text)
        if self.whole and not value.is_integer():
            raise ParseError("not-whole", f'"{text}" is not a whole number')
        if not self.least <= value <= self.most:
            raise ParseError("out-of-range", f'"{text}" is not {self.name}')
        return int(value) if self.whole else value


@dataclass(frozen=True)
class Day(Kind):
    """A date."""

    @property
    def name(self) -> str:
        return "a date such as 2027-03-01"

    @property
    def json(self) -> dict[str, Any]:
        return {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Any:
        day = read_date(text)
        if not 1900 <= day.year <= 2200:
            raise ParseError("out-of-range", f'"{text}" is not between 1900 and 2200')
        return day


@dataclass(frozen=True)
class Duration(Kind):
    """A length of calendar time, more than nothing unless ``zero`` is allowed."""

    most: str = "100 years"
    zero: bool = False

    @property
    def name(self) -> str:
        return f"a length of time such as 5 weeks, at most {self.most}"

    @property
    def json(self) -> dict[str, Any]:
        return {"type": "string", "pattern": NUMBER_PATTERN + " *(day|week|month|year)s?$"}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Any:
        step = read_step(text)
        least_fine = step.years > 0 or (self.zero and step.years == 0)
        if not least_fine or step.years > read_step(self.most).years:
            raise ParseError("out-of-range", f'"{text}" is not {self.name}')
        return step


@dataclass(frozen=True)
class Currency(Kind):
    """An ISO 4217 currency code."""

    @property
    def name(self) -> str:
        return "a currency code such as EUR"

    @property
    def json(self) -> dict[str, Any]:
        return {"type": "string", "pattern": "^[A-Z]{3}$"}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> str:
        return read_currency(text)


@dataclass(frozen=True)
class Cash(Kind):
    """Money, or money per something: dimensions of a unit, or the words bag and load."""

    per: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        example = {"volume": "46 EUR/m3", "hours": "12 EUR/h", "mass": "6 EUR/kg"}
        return f"money such as {example[self.per[0]] if self.per else '55 EUR'}"

    @property
    def json(self) -> dict[str, Any]:
        tail = " */ *[^ ]+$" if self.per else "$"
        return {"type": "string", "pattern": NUMBER_PATTERN + " *[A-Z]{3}" + tail}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Price | None:
        if not context.currency:
            return None  # the missing or bad currency is told already
        price = read_price(text, context.currency)
        if price.amount > MOST_MONEY:
            raise ParseError("out-of-range", f'"{text[:40]}" is more than {MOST_MONEY:,}')
        if price.amount < 0:
            raise ParseError("out-of-range", f'"{text}" is less than nothing')
        if price.per in self.per or (not self.per and not price.per):
            return price
        if not self.per or not price.per:
            raise ParseError("not-money", f'"{text[:40]}" is not {self.name}')
        _, found = read_unit(price.per, context.own)
        if not any(fits(found, dimension) for dimension in self.per if dimension in SI):
            raise ParseError("wrong-dimension", f'"{text[:40]}" is not money per {" or ".join(self.per)}')
        return price
