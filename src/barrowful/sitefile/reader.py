"""From a document to checked values: the only door into a site file."""

from __future__ import annotations

from dataclasses import dataclass

from barrowful.measures.money import currencies
from barrowful.measures.problems import Problem
from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.text.nodes import Document, Scalar


@dataclass(frozen=True)
class Reading:
    """What a reader found: the checked values, the problems and the warnings."""

    file: str
    values: Section
    problems: tuple[Problem, ...]
    warnings: tuple[Problem, ...]
    context: ReadContext


def read(document: Document) -> Reading:
    """Return the checked values of a document with every problem and warning in it.

    Currency and own measures are read first, because other values are written in them.
    """
    context = ReadContext(document.file)
    entries = document.top.entries
    fields = {field.key: field for field in SITE.fields}
    if "currency" in entries and isinstance(entries["currency"][1], Scalar):
        named = entries["currency"][1].text
        context.currency = named if named in currencies() else ""
    if "measures" in entries:
        own = fields["measures"].kind.read(entries["measures"][1], ReadContext(document.file), "measures")
        context.own = {name: size for name, size in (own or {}).items() if size is not None}
    values = SITE.read(document.top, context, "") or Section(document.top.mark)
    return Reading(
        document.file, values, (*document.problems, *context.problems), tuple(context.warnings), context
    )
