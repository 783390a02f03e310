"""The kinds of value a site file can hold: each reads its node, names itself, gives its schema."""

from __future__ import annotations

import re
from datetime import date
from typing import Any, ClassVar

from barrowful.measures.dates import Step, read_date, read_step
from barrowful.measures.fixed import fixed
from barrowful.measures.meant import month_day_meant
from barrowful.measures.money import currencies, read_currency
from barrowful.measures.problems import Mark, ParseError, did_you_mean
from barrowful.measures.text import read_number
from barrowful.sitefile.language import patterns
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.text.nodes import Node, Refused, Scalar

#: A year without a leap day, to tell a day of any year by.
ANY_YEAR = 2001


@fixed(kw_only=False)
class Kind:
    """A kind of value; ``read`` gives it as the records hold it, or None after noting a problem."""

    #: Whether the same text can mean another thing in another file.
    of_file: ClassVar[bool] = False

    @property
    def limits(self) -> tuple[float | None, ...]:
        """Return least, most, and the two ends of what is usual, in SI; None where there is none."""
        return (None, None, None, None)

    @property
    def name(self) -> str:
        """Return the words the manual uses."""
        raise NotImplementedError

    @property
    def json(self) -> dict[str, Any]:
        """Return the JSON Schema of the kind."""
        raise NotImplementedError

    def json_text(self, pattern: str) -> dict[str, Any]:
        """Return the JSON Schema of texts of a pattern; an editor that can says what is expected instead."""
        return {"type": "string", "pattern": pattern, "patternErrorMessage": f"expected {self.name}"}

    def read(self, node: Node, context: ReadContext, path: str) -> Any:
        """Return the checked value of a node."""
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Scalar):
            context.problem(node.mark, "not-a-value", f"{path}: expected {self.name}, one value")
            return None
        try:
            return self.of_text(node.text, node.mark, context, path)
        except ParseError as misread:
            if not context.follows(misread.code, node.text):
                context.problem(node.mark, misread.code, f"{path}: {misread}")
            return None

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Any:
        """Return the value of a text, or raise :class:`ParseError`."""
        raise NotImplementedError

    def refuse_shape(self, node: Node, context: ReadContext, path: str, code: str, wanted: str) -> None:
        """Note that a node is not the list or section ``wanted``, or that nothing is written at all."""
        empty = isinstance(node, Scalar) and not node.text
        told = f"nothing is written; write {wanted}, or leave the key out" if empty else f"expected {wanted}"
        context.problem(node.mark, code, f"{path}: {told}")


@fixed(kw_only=False)
class Words(Kind):
    """Free text, or a name when ``most`` is short."""

    most: int = 80

    @property
    def name(self) -> str:
        return "text"

    @property
    def json(self) -> dict[str, Any]:
        return {"type": ["string", "number"], "pattern": r"\S", "maxLength": self.most}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Any:
        words = text.strip()
        if not words:
            raise ParseError("empty-text", "a word is missing here")
        if len(words) > self.most:
            raise ParseError("too-long", f"is longer than {self.most} letters")
        return words


@fixed(kw_only=False)
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


@fixed(kw_only=False)
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


class Day(Kind):
    """A date."""

    @property
    def name(self) -> str:
        return "a date such as 2027-03-01"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.DAY)

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> date:
        day = read_date(text)
        if not 1900 <= day.year <= 2200:
            raise ParseError("out-of-range", f'"{text}" is not between 1900 and 2200')
        return day


class MonthDay(Words):
    """A day of any year, as (month, day)."""

    @property
    def name(self) -> str:
        return "a month and day such as 04-20"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.MONTH_DAY)

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> tuple[int, int]:
        words = super().of_text(text, mark, context, path)
        digits = re.fullmatch(r"([0-9]{2})-([0-9]{2})", words)
        try:
            day = date(ANY_YEAR, int(digits[1]), int(digits[2])) if digits else None
        except ValueError:
            day = None
        if day is None:
            meant = month_day_meant(words) or "10-25 for 25 October"
            raise ParseError("not-a-date", f'"{words}" is not a month and day; write {meant}')
        return day.month, day.day


@fixed(kw_only=False)
class Duration(Kind):
    """A length of calendar time, more than nothing unless ``zero`` is allowed."""

    most: str = "100 years"
    zero: bool = False

    @property
    def least(self) -> str:
        """Return the least it may be, in words; nothing where it is more than nothing."""
        return "nothing" if self.zero else ""

    @property
    def name(self) -> str:
        return f"a length of time such as 5 weeks, at most {self.most}"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.duration(self.most, self.zero))

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Step:
        step = read_step(text)
        least_fine = step.years > 0 or (self.zero and step.years == 0)
        if not least_fine or step.years > read_step(self.most).years:
            raise ParseError("out-of-range", f'"{text}" is not {self.name}')
        return step


class Currency(Kind):
    """An ISO 4217 currency code: from here on that of all money in the file."""

    @property
    def name(self) -> str:
        return "a currency code such as EUR"

    @property
    def json(self) -> dict[str, Any]:
        return {"enum": sorted(currencies())}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> str:
        context.currency = read_currency(text)
        return context.currency
