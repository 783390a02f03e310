"""A report: tables of rows under described columns, with sentences, cautions and warnings."""

from __future__ import annotations

from dataclasses import field, replace
from typing import TYPE_CHECKING, Any, NamedTuple

from barrowful.measures.fixed import fixed
from barrowful.tables.columns import Column, Value

if TYPE_CHECKING:
    from barrowful.tables.writers.chart import Chart

Row = dict[str, Value]
#: Cautions that people see when they do not ask for all.
MOST_CAUTIONS = 3
#: What stands above cautions wherever people see any.
ABOVE_CAUTIONS = "Local rules, the maker's instructions and licensed people come before these cautions."


#: Columns of a screen where nothing tells how many there are, and the fewest a screen is taken to have.
USUAL_WIDTH, LEAST_WIDTH = 100, 60


class Look(NamedTuple):
    """How people see a report: metric or customary measures, the gravest cautions or all, and how wide.

    Charts are drawn in dots of ``braille``, or else in plain letters. In csv and tsv, ``guard`` keeps
    spreadsheets from running text.
    """

    measures: str = "metric"
    all_cautions: bool = False
    width: int = USUAL_WIDTH
    braille: bool = True
    guard: bool = True


class Head(NamedTuple):
    """The first rows of a long table: what a screen shows unless it is asked for, and how that is said."""

    rows: int
    told: str


@fixed
class Table:
    """A named table; ``shown`` are the columns people see, the others are for machines.

    What the other keys are for is said at :class:`~barrowful.tables.layout.Layout`.
    """

    name: str
    columns: tuple[Column[Any], ...]
    rows: list[Row]
    shown: tuple[str, ...]
    title: str = ""
    for_people: bool = True
    identifies: tuple[str, ...] = ()
    noted: tuple[str, ...] = ()
    always_shown: tuple[str, ...] = ()
    first_to_go: tuple[str, ...] = ()
    together: tuple[tuple[str, ...], ...] = ()
    joined: tuple[tuple[str, str], ...] = ()
    summed: tuple[str, ...] = ()
    head: Head | None = None

    @property
    def keys(self) -> list[str]:
        """Return the keys of its columns, in their order: those of every row."""
        return [column.key for column in self.columns]


class Note(NamedTuple):
    """A caution with its source, or any remark with a key and a severity."""

    key: str
    severity: int
    text: str
    source: str
    ways: tuple[str, ...] = ()

    @property
    def about(self) -> str:
        """Return the ways it is about, the first two by name."""
        more = len(self.ways) - 2
        return ", ".join(self.ways[:2]) + (f" and {more} more" if more > 0 else "")


@fixed(kw_only=False)
class Report:
    """What a command answers; the lines of ``answer`` stand above all tables, ``charts`` under them.

    Of its warnings those that were ``reckoned`` are not of the site file alone.
    """

    command: str
    site: str
    currency: str
    tables: list[Table]
    sentences: list[str] = field(default_factory=list)
    cautions: list[Note] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    answer: tuple[str, ...] = ()
    charts: tuple[Chart, ...] = ()
    reckoned: tuple[str, ...] = ()

    def table(self, name: str) -> Table:
        """Return the table of a name; :class:`KeyError` says which there are."""
        for table in self.tables:
            if table.name == name:
                return table
        raise KeyError(f'no table "{name}"; there are {", ".join(table.name for table in self.tables)}')

    @property
    def further_sentences(self) -> list[str]:
        """Return the sentences that the answer has not said."""
        return [sentence for sentence in self.sentences if sentence not in self.answer]

    def only(self, name: str) -> Report:
        """Return the report with one table."""
        return replace(self, tables=[replace(self.table(name), for_people=True, head=None)])

    def gravest(self, every: bool) -> list[Note]:
        """Return the cautions people see: the first few, which are the gravest, or every one."""
        return self.cautions if every else self.cautions[:MOST_CAUTIONS]

    def caution_lines(self, every: bool, with_sources: bool) -> list[str]:
        """Return the cautions people see, under the line of what comes before them."""
        lines = [
            f"Caution ({note.about}): {note.text}" + (f" [{note.key}: {note.source}]" if with_sources else "")
            for note in self.gravest(every)
        ]
        return [ABOVE_CAUTIONS, *lines] if lines else []
