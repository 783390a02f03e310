"""The formats a report is written in, in one registry; a writer is loaded when it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from barrowful.tables.report import Look, Report


class Format(NamedTuple):
    """A format: its writer, which gives the text in pieces, and what it has no room for.

    ``one_table`` says that it holds the first table alone, ``rows_only`` that sentences and cautions
    go elsewhere, ``sources`` that cautions always carry their sources, ``metric`` that machines read it.
    """

    pieces: Callable[[Report, Look], Iterable[str]]
    one_table: bool = False
    rows_only: bool = False
    sources: bool = False
    metric: bool = False

    def write(self, report: Report, look: Look) -> str:
        """Return the whole text."""
        return "".join(self.pieces(report, look))


def _table(report: Report, look: Look) -> Iterable[str]:
    from barrowful.tables.writers.text import write_table

    return write_table(report, look)


def _plain(report: Report, look: Look) -> Iterable[str]:
    from barrowful.tables.writers.text import write_plain

    return [write_plain(report, look)]


def _csv(report: Report, look: Look) -> Iterable[str]:
    from barrowful.tables.writers.csv import write_csv

    return [write_csv(report, look.guard)]


def _tsv(report: Report, look: Look) -> Iterable[str]:
    from barrowful.tables.writers.csv import write_tsv

    return write_tsv(report, look.guard)


def _json(report: Report, look: Look) -> Iterable[str]:
    from barrowful.tables.writers.json import write_json

    return write_json(report)


def _markdown(report: Report, look: Look) -> Iterable[str]:
    from barrowful.tables.writers.markdown import write_markdown

    return [write_markdown(report, look)]


#: Name -> format, in the order that help shows.
FORMATS = {
    "table": Format(_table),
    "plain": Format(_plain, rows_only=True),
    "csv": Format(_csv, rows_only=True, one_table=True, metric=True),
    "tsv": Format(_tsv, rows_only=True, one_table=True, metric=True),
    "json": Format(_json, sources=True, metric=True),
    "markdown": Format(_markdown),
}
