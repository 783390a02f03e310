"""The kinds that hold a quantity: a measure or an amount with limits, typed alone or as a range."""

from __future__ import annotations

from dataclasses import KW_ONLY
from functools import cached_property
from typing import Any, NamedTuple

from barrowful.catalogue.figures import SITE_GRADE, Figure
from barrowful.ground.sizes import Size
from barrowful.measures.dimensions import SI
from barrowful.measures.factors import SPELLINGS
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import Mark, ParseError
from barrowful.measures.text import EXAMPLES, Measured, read_measure
from barrowful.measures.units import scale
from barrowful.sitefile.language import patterns
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.kinds import Kind
from barrowful.sitefile.language.lists import Named
from barrowful.sitefile.text.nodes import Mapping, Node

#: No length [m], area [m2], volume [m3] or mass [kg] of a site is smaller or larger than these.
LEAST_SI, MOST_SI = 1e-6, 1e9
#: What a measure of the grower's own can be.
OWN_DIMENSIONS = ("length", "volume", "mass")


class Spread(NamedTuple):
    """A measure as low, likely and high; where one was typed it stands for all three."""

    low: Measured
    likely: Measured
    high: Measured


@fixed(kw_only=False)
class Quantitative(Kind):
    """A quantity of one of some dimensions, with limits as texts with units.

    ``least`` and ``most`` are refused beyond; outside ``usual`` a warning is given.
    ``zero`` says whether nothing at all is allowed where ``least`` is not set.
    They hold for the first dimension. :meth:`final` makes of a spread what the records hold.
    """

    _: KW_ONLY
    least: str = ""
    most: str = ""
    usual: tuple[str, str] = ("", "")
    zero: bool = False

    @property
    def dimensions(self) -> tuple[str, ...]:
        """Return the dimensions a text may have."""
        raise NotImplementedError

    def final(self, spread: Spread, mark: Mark) -> Any:
        """Return what the records hold."""
        raise NotImplementedError

    @property
    def name(self) -> str:
        words = " or ".join(f"a {dimension}" for dimension in self.dimensions)
        examples = " or ".join(EXAMPLES.get(d, f"1 {SI[d]}") for d in self.dimensions)
        return f"{words} such as {examples}"

    @property
    def json(self) -> dict[str, Any]:
        single = self.json_text(patterns.quantity(self.dimensions, self.least, self.most, self.zero))
        three = {
            "type": "object",
            "properties": dict.fromkeys(Spread._fields, single),
            "required": list(Spread._fields),
            "additionalProperties": False,
        }
        return {"anyOf": [single, three]}

    @cached_property
    def limits(self) -> tuple[float | None, ...]:
        texts = (self.least, self.most, *self.usual)
        first = self.dimensions[:1]
        return tuple(read_measure(text, first, {}).size if text else None for text in texts)

    def read(self, node: Node, context: ReadContext, path: str) -> Any:
        spread = self.spread(node, context, path)
        return None if spread is None else self.final(spread, node.mark)

    def spread(self, node: Node, context: ReadContext, path: str) -> Spread | None:
        """Return low, likely and high of a node, or None after noting a problem."""
        if isinstance(node, Mapping):
            return self._range(node, context, path)
        measured: Measured | None = super().read(node, context, path)
        return None if measured is None else Spread(measured, measured, measured)

    def _range(self, node: Mapping, context: ReadContext, path: str) -> Spread | None:
        problem = _not_a_range(node, self.name)
        if not problem:
            ends = [
                super(Quantitative, self).read(node.entries[key][1], context, path) for key in Spread._fields
            ]
            if None in ends:
                return None
            spread = Spread(*ends)
            problem = _not_in_order(spread)
            if not problem:
                return spread
        context.problem(node.mark, "not-a-range", f"{path}: {problem}")
        return None

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Measured:
        measured = context.measured(text, self.dimensions)
        if measured.dimension == self.dimensions[0]:
            self._check(text, measured.size)
            self._warn(text, measured.size, mark, context, path)
        elif not LEAST_SI <= measured.size <= MOST_SI and not (self.zero and measured.size == 0):
            raise ParseError("out-of-range", f'"{text}" must be more than nothing, and not beyond reason')
        return measured

    def _check(self, text: str, size: float) -> None:
        """Refuse a size beyond the limits."""
        least, most, _, _ = self.limits
        nothing = size < LEAST_SI and not (size == 0 and self.zero) if least is None else least > 0 >= size
        if nothing:
            told = "is too small" if size > 0 else "must be more than nothing"
            raise ParseError("out-of-range", f'"{text}" {told}')
        if least is not None and size < least:
            raise ParseError("out-of-range", f'"{text}" is less than {self.least}')
        if most is not None and size > most:
            raise ParseError("out-of-range", f'"{text}" is more than {self.most}')

    def _warn(self, text: str, size: float, mark: Mark, context: ReadContext, path: str) -> None:
        """Warn of a size outside what is usual."""
        _, _, low, high = self.limits
        if low is not None and size < low:
            context.warning(mark, "unusual", f'{path}: "{text}" is less than the usual {self.usual[0]}')
        if high is not None and size > high:
            context.warning(mark, "unusual", f'{path}: "{text}" is more than the usual {self.usual[1]}')


def _not_a_range(node: Mapping, name: str) -> str:
    """Return what keeps a mapping from being read as a range, or nothing."""
    if set(node.entries) != set(Spread._fields):
        return f"expected {name}, or low, likely and high"
    if any(isinstance(end, Mapping) for _, end in node.entries.values()):
        return "a range stands inside a range; give three values"
    return ""


def _not_in_order(spread: Spread) -> str:
    """Return what keeps three measures from being a range, or nothing."""
    dimensions = {end.dimension for end in spread}
    if len(dimensions) > 1:
        return f"low, likely and high mix {' and '.join(sorted(dimensions))}"
    if not spread.low.size <= spread.likely.size <= spread.high.size:
        return "low, likely and high are out of order"
    return ""


@fixed(kw_only=False)
class OfDimension(Quantitative):
    """A quantity of one dimension."""

    dimension: str

    @property
    def dimensions(self) -> tuple[str, ...]:
        return (self.dimension,)


@fixed(kw_only=False)
class Measure(OfDimension):
    """A quantity of one dimension, as a float in its SI unit: the likely one of a range.

    ``gives`` is the dimension of the float where the grower's word for it is another: a feed is
    typed in g/m2 and is a dose in kg/m2.
    """

    _: KW_ONLY
    gives: str = ""

    def final(self, spread: Spread, mark: Mark) -> float:
        if not self.gives:
            return spread.likely.size
        factor, offset = scale(spread.likely.unit, self.gives)
        return spread.likely.magnitude * factor + offset


def limits(group: Group, key: str) -> tuple[float, float]:
    """Return the least and the most [SI] that a key of a section takes.

    >>> from barrowful.sitefile.keys.need import FILL
    >>> limits(FILL, "depth")
    (1e-06, 10.0)
    """
    least, most, _, _ = group.by_key[key].kind.limits
    return (LEAST_SI if least is None else least), (MOST_SI if most is None else most)


@fixed(kw_only=False)
class Stuff(Quantitative):
    """An amount of material by volume or by mass, as a :class:`Size`."""

    by: tuple[str, ...] = ("volume", "mass")

    @property
    def dimensions(self) -> tuple[str, ...]:
        return self.by

    def final(self, spread: Spread, mark: Mark) -> Size:
        return Size(**{spread.likely.dimension: spread.likely.size})


class Stated(OfDimension):
    """A figure of a material, as the catalogue holds figures; its place is the line it stands on."""

    def final(self, spread: Spread, mark: Mark) -> Figure:
        texts = [f"{end.magnitude:.6g}" for end in spread]
        word = f"{spread.likely.unit}"
        return Figure(
            dimension=self.dimension,
            low=spread.low.size,
            likely=spread.likely.size,
            high=spread.high.size,
            texts=(texts[0], texts[1], texts[2]),
            unit="%" if word == "percent" else word,
            basis="stated in the site file",
            sources=(),
            place=mark.source or f"line {mark.line}",
            grade=SITE_GRADE,
        )


class OwnMeasure(Kind):
    """The size of one of the grower's own measures: a length, a volume or a mass."""

    @property
    def name(self) -> str:
        return "a length, volume or mass such as 75 cm, 80 L or 20 kg"

    @property
    def json(self) -> dict[str, Any]:
        return self.json_text(patterns.quantity(OWN_DIMENSIONS, "", "", False))

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Measured:
        measured = read_measure(text, OWN_DIMENSIONS, {})
        if not LEAST_SI <= measured.size <= MOST_SI:
            raise ParseError("out-of-range", f'"{text}" must be more than nothing, and not beyond reason')
        return measured


@fixed(kw_only=False)
class OwnMeasures(Named):
    """The grower's own measures: from here on they are units of the file.

    Those of ``volumes`` are used as volumes, and may be nothing else.
    """

    volumes: tuple[str, ...] = ()

    @property
    def json(self) -> dict[str, Any]:
        volume = OwnMeasure().json_text(patterns.quantity(("volume",), "", "", False))
        known = {name: {**volume, "description": f"What a {name} holds."} for name in self.volumes}
        names = {"pattern": "^[A-Za-z][A-Za-z_]{0,29}$", "not": {"enum": sorted(SPELLINGS)}}
        return {**super().json, "properties": known, "propertyNames": names}

    def item(self, name: str, node: Node, context: ReadContext, path: str) -> Measured | None:
        size: Measured | None = super().item(name, node, context, path)
        if size is None:
            context.refused.add(name)
        else:
            context.measures[name] = size
        if size is not None and name in self.volumes and size.dimension != "volume":
            context.problem(node.mark, "wrong-dimension", f"{path}: a {name} is a volume, e.g. 80 L")
        return size
