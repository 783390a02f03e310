"""Amounts in the units of whoever sells: so many loads, bags or sacks, whose size a way tells."""

from __future__ import annotations

from typing import Any, NamedTuple

from barrowful.ground.sizes import Size
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import ParseError
from barrowful.measures.text import split_quantity
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.quantity import Stuff
from barrowful.sitefile.text.nodes import Node, Scalar

#: What is sold by the piece.
PIECES = ("load", "bag", "sack")
#: What is wrong with a text whose unit may be one of a way's.
_MAY_BE_A_PIECE = frozenset({"ambiguous-unit", "unknown-unit"})


class Counted(NamedTuple):
    """So many of a unit that only a way can tell the size of.

    ``misread`` says why the unit means nothing by itself; ``own`` is what the amount is in the grower's own
    measure of the same name, where there is one.
    """

    text: str
    number: float
    word: str
    misread: ParseError | None = None
    own: Size | None = None

    @property
    def piece(self) -> str:
        """Return the word for one of it.

        >>> Counted("4 loads", 4.0, "loads").piece
        'load'
        """
        return self.word.removesuffix("s")


@fixed(kw_only=False)
class SellersStuff(Stuff):
    """An amount of material by volume, by mass, or by the load, bag or sack of the way it came by."""

    @property
    def name(self) -> str:
        return f"{super().name}, or in a unit of the way's such as 4 load"

    def read(self, node: Node, context: ReadContext, path: str) -> Any:
        counted = self._counted(node.text, context) if isinstance(node, Scalar) else None
        return super().read(node, context, path) if counted is None else counted

    def _counted(self, text: str, context: ReadContext) -> Counted | None:
        """Return the amount a text is in a unit that a way may have; None where it is anything else."""
        try:
            number, word = split_quantity(text)
        except ParseError:
            return None
        if number < 0 or (number == 0 and not self.zero) or not word.isalpha():
            return None
        try:
            measured = context.measured(text, self.dimensions)
        except ParseError as misread:
            return Counted(text, number, word, misread) if misread.code in _MAY_BE_A_PIECE else None
        own = Size(**{measured.dimension: measured.size})
        return Counted(text, number, word, own=own) if word.removesuffix("s") in PIECES else None
