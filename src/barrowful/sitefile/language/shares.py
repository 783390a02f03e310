"""Shares of a whole, each from a least to a largest, that must be able to make it."""

from __future__ import annotations

from typing import Any

from barrowful.measures.fixed import fixed
from barrowful.measures.problems import Mark, ParseError
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.language.kinds import Kind
from barrowful.sitefile.text.nodes import Node

#: What rounding may take off a whole.
SLACK = 1e-9


class ShareRange(Kind):
    """A share from a least to a largest, as a pair, or a single share."""

    @property
    def name(self) -> str:
        return "a share such as 40 %, or a range of them such as 30..50 %"

    @property
    def json(self) -> dict[str, Any]:
        number = r"([0-9]+(\.[0-9]+)?|\.[0-9]+)"
        return {"type": "string", "pattern": rf"^{number} *%?( *\.\. *{number})? *%$"}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> tuple[float, float]:
        first, dots, last = text.partition("..")
        if dots and not (first.strip() and last.strip()):
            raise ParseError("not-a-range", f'"{text}" lacks an end; write both, e.g. "30..50 %"')
        last = last.strip() if dots else first.strip()
        first = first.strip() if "%" in first else f"{first.strip()} %"
        low, high = (context.measured(end, ("share",)).size for end in (first, last))
        if not 0 <= low <= high <= 1:
            raise ParseError(
                "out-of-range", f'"{text}" must rise from no less than 0 % to no more than 100 %'
            )
        return low, high


@fixed
class Mix(Group):
    """A section of shares of a whole, which they must be able to make."""

    def read(self, node: Node, context: ReadContext, path: str) -> Section | None:
        before = len(context.problems)
        section = super().read(node, context, path)
        if section is None or len(context.problems) > before:
            return section
        low, high = (sum(share[end] for share in section.values()) for end in (0, 1))
        if not (low <= 1 + SLACK and high >= 1 - SLACK):
            come = f"at least {low:.0%}" if low > 1 else f"at most {high:.0%}"
            sentence = f"the shares come to {come}; they must be able to make 100 %"
            context.problem(section.mark, "shares", f"{path}: {sentence}")
        return section
