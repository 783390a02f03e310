"""The kinds that hold a quantity: a measure with limits, and a measure of the grower's own."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from barrowful.measures.problems import Mark, Misread
from barrowful.measures.text import EXAMPLES, read_measure, read_quantity
from barrowful.measures.units import SI, Quantity, Ranged, fits, si
from barrowful.sitefile.desk import Desk
from barrowful.sitefile.kinds import NUMBER_PATTERN, UNIT_PATTERN, Kind
from barrowful.sitefile.nodes import Mapping, Node, Scalar

#: No length [m], area [m2], volume [m3] or mass [kg] of a site is smaller or larger than these.
LEAST_SI, MOST_SI = 1e-6, 1e9


@dataclass(frozen=True)
class Measure(Kind):
    """A quantity of one of some dimensions, with limits as texts with units.

    ``least`` and ``most`` are refused beyond; outside ``usual`` a warning is given.
    ``zero`` says whether nothing at all is allowed where ``least`` is not set.
    """

    dimensions: tuple[str, ...]
    least: str = ""
    most: str = ""
    usual: tuple[str, str] = ("", "")
    zero: bool = False

    @property
    def name(self) -> str:
        words = " or ".join(f"a {dimension}" for dimension in self.dimensions)
        examples = " or ".join(EXAMPLES.get(d, f"1 {SI[d]}") for d in self.dimensions)
        return f"{words} such as {examples}"

    @property
    def json(self) -> dict[str, Any]:
        one = {"type": "string", "pattern": NUMBER_PATTERN + UNIT_PATTERN}
        three = {
            "type": "object",
            "properties": dict.fromkeys(("low", "likely", "high"), one),
            "required": ["low", "likely", "high"],
            "additionalProperties": False,
        }
        return {"anyOf": [one, three]}

    @cached_property
    def _limits(self) -> tuple[float | None, ...]:
        texts = (self.least, self.most, *self.usual)
        return tuple(
            si(read_quantity(text, *self.dimensions), self.dimensions[0]) if text else None for text in texts
        )

    def read(self, node: Node, desk: Desk, path: str) -> Quantity | Ranged | None:
        if isinstance(node, Mapping):
            return self._range(node, desk, path)
        if isinstance(node, Scalar):
            try:
                return self.of_text(node.text, node.mark, desk, path)
            except Misread as misread:
                desk.problem(node.mark, misread.code, f"{path}: {misread}")
                return None
        return super().read(node, desk, path)

    def _range(self, node: Mapping, desk: Desk, path: str) -> Ranged | None:
        if set(node.entries) != {"low", "likely", "high"}:
            desk.problem(node.mark, "not-a-range", f"{path}: expected {self.name}, or low, likely and high")
            return None
        ends = [node.entries[key][1] for key in ("low", "likely", "high")]
        if any(isinstance(end, Mapping) for end in ends):
            desk.problem(
                node.mark, "not-a-range", f"{path}: a range stands inside a range; give three values"
            )
            return None
        found = [self.read(end, desk, path) for end in ends]
        if None in found:
            return None
        dimensions = {self._dimension(one) for one in found}
        if len(dimensions) > 1:
            desk.problem(
                node.mark,
                "not-a-range",
                f"{path}: low, likely and high mix {' and '.join(sorted(dimensions))}",
            )
            return None
        low, middle, high = (si(one, self._dimension(one)) for one in found)
        if not low <= middle <= high:
            desk.problem(node.mark, "not-a-range", f"{path}: low, likely and high are out of order")
            return None
        return Ranged(*found)

    def _dimension(self, value: Quantity | Ranged) -> str:
        return next(d for d in self.dimensions if fits(getattr(value, "units", None), d))

    def of_text(self, text: str, mark: Mark, desk: Desk, path: str) -> Quantity:
        value, size, dimension = desk.measure(text, self.dimensions)
        if dimension != self.dimensions[0]:
            if not LEAST_SI <= size <= MOST_SI:
                raise Misread("out-of-range", f'"{text}" must be more than nothing, and not beyond reason')
            return value
        least, most, odd_low, odd_high = self._limits
        if least is None and size < LEAST_SI and not (size == 0 and self.zero):
            raise Misread("out-of-range", f'"{text}" must be more than nothing')
        if least is not None and least > 0 >= size:
            raise Misread("out-of-range", f'"{text}" must be more than nothing')
        if least is not None and size < least:
            raise Misread("out-of-range", f'"{text}" is less than {self.least}')
        if most is not None and size > most:
            raise Misread("out-of-range", f'"{text}" is more than {self.most}')
        if odd_low is not None and size < odd_low:
            desk.warning(mark, "unusual", f'{path}: "{text}" is less than the usual {self.usual[0]}')
        if odd_high is not None and size > odd_high:
            desk.warning(mark, "unusual", f'{path}: "{text}" is more than the usual {self.usual[1]}')
        return value


@dataclass(frozen=True)
class OwnMeasure(Kind):
    """The size of one of the grower's own measures: a length, a volume or a mass."""

    @property
    def name(self) -> str:
        return "a length, volume or mass such as 75 cm, 80 L or 20 kg"

    @property
    def json(self) -> dict[str, Any]:
        return {"type": "string", "pattern": NUMBER_PATTERN + UNIT_PATTERN}

    def of_text(self, text: str, mark: Mark, desk: Desk, path: str) -> Quantity:
        value = read_quantity(text, "length", "volume", "mass")
        if not LEAST_SI <= read_measure(text, ("length", "volume", "mass"), {})[1] <= MOST_SI:
            raise Misread("out-of-range", f'"{text}" must be more than nothing, and not beyond reason')
        return value
