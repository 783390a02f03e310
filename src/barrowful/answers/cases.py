"""The answers of a what-if: the file as it stands, each case beside it, and what each row changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import cached_property
from typing import NamedTuple, TypeVar

from barrowful.answers.begun_plan import begun
from barrowful.answers.choices import WholeSite, followed, whole_site
from barrowful.answers.instead import instead
from barrowful.answers.lines import OptionLine, WholeLine, option_line, option_lines, whole_line
from barrowful.answers.options import Answer, options
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import SiteProblems, WrongUse
from barrowful.site.load import LoadedSite
from barrowful.sitefile.text.cases import BASE, Case, Change
from barrowful.sitefile.text.vary import Cell

Number = TypeVar("Number", float, Decimal)
#: What tells a row of a case from the others: need and way, or a whole site's way and which of that name.
Key = tuple[str, str | int]


class Changes(NamedTuple):
    """What a row adds to the base's: cash, hours, days of waiting, loose m3, organic matter left [kg]."""

    cash: Decimal | None = None
    hours: float | None = None
    days: int | None = None
    loose: float | None = None
    matter: float | None = None


class CaseLine(NamedTuple):
    """An option of a case, and what it changes; nothing in the base, and for what the base has not."""

    case: str
    cells: tuple[Cell, ...]
    line: OptionLine
    changes: Changes


class WholeCaseLine(NamedTuple):
    """The whole site of a case by one way, by your plan or the cheapest ways, and what it changes."""

    case: str
    cells: tuple[Cell, ...]
    line: WholeLine
    changes: Changes


@fixed
class CaseAnswer:
    """A case worked out: its site as loaded, and all its rows."""

    name: str
    cells: tuple[Cell, ...]
    loaded: LoadedSite
    answer: Answer
    #: What it stands beside.
    base: CaseAnswer | None = None

    @cached_property
    def rows(self) -> list[WholeSite]:
        """Return the totals over the whole site; those of a way that is as in the base are the base's."""
        there = self.base.rows if self.base else ()
        known = {row.way: row for row in there if row.way and self.answer.is_as_near((row.way,))}
        return whole_site(self.answer, known)

    @cached_property
    def followed(self) -> WholeSite:
        """Return what is followed: the grower's plan, else the cheapest ways."""
        return followed(self.answer)

    @cached_property
    def keyed_rows(self) -> dict[Key, WholeSite]:
        """Return the totals over the whole site by what tells them apart."""
        rows = dict[Key, WholeSite]()
        for row in self.rows:
            rows[row.title, sum(title == row.title for title, _ in rows)] = row
        return rows

    def whole_lines(self) -> dict[Key, WholeLine]:
        """Return the lines of the whole site."""
        return {key: whole_line(self.answer.site, row) for key, row in self.keyed_rows.items()}

    def option_lines(self) -> dict[Key, OptionLine]:
        """Return the lines of the options."""
        return {(line.option.need, line.option.name): line for line in option_lines(self.answer)}


class Standing:
    """The file as it stands, which all cases are held against."""

    def __init__(self, loaded: LoadedSite) -> None:
        self.case = CaseAnswer(name=BASE, cells=(), loaded=loaded, answer=options(begun(loaded.site)))

    @cached_property
    def option_lines(self) -> dict[Key, OptionLine]:
        """Return the lines of the options as the file stands."""
        return self.case.option_lines()

    @cached_property
    def whole_lines(self) -> dict[Key, WholeLine]:
        """Return the lines of the whole site as the file stands."""
        return self.case.whole_lines()

    def with_changes(self, case: Case) -> CaseAnswer:
        """Return a case worked out; what its values make wrong with the site is wrong use."""
        loaded = self.changed(case.name, case.changes)
        return self.beside(case.name, loaded, case.cells)

    def beside(self, name: str, loaded: LoadedSite, cells: tuple[Cell, ...] = ()) -> CaseAnswer:
        """Return the answer of a site as a case beside this one."""
        answer = options(begun(loaded.site), near=self.case.answer)
        return CaseAnswer(name=name, cells=cells, loaded=loaded, answer=answer, base=self.case)

    def changed(self, name: str, changes: Sequence[Change]) -> LoadedSite:
        """Return the site with values set; wrong use where it has problems with them."""
        try:
            return self.case.loaded.changed(changes)
        except SiteProblems as problems:
            first, *more = problems.problems
            also = f" (and {len(more)} more problems)" if more else ""
            raise WrongUse(f"{name}: {first.message}{also}") from None

    def changed_whole(self, case: CaseAnswer) -> Iterator[tuple[Key, WholeLine | None]]:
        """Give the whole site's rows of a case that may be others than the base's, those it lacks as None."""
        base, rows = self.case.keyed_rows, case.keyed_rows
        for key, row in rows.items():
            if row is not base.get(key):
                yield key, whole_line(case.answer.site, row)
        yield from ((key, None) for key in base if key not in rows)

    def changed_options(self, case: CaseAnswer) -> Iterator[tuple[Key, OptionLine | None]]:
        """Give the rows of a case that may be others than the base's, and those it has no more as None."""
        base, there = self.option_lines, set[Key]()
        for option in case.answer.options:
            key: Key = (option.need, option.name)
            there.add(key)
            before = base.get(key)
            same = before is not None and before.option is option
            if before is None or not same or instead(case.answer, option) != before.instead:
                yield key, option_line(case.answer, option)
        yield from ((key, None) for key in base if key not in there)


def case_line(case: str, cells: tuple[Cell, ...], line: OptionLine, before: OptionLine | None) -> CaseLine:
    """Return a row of a case and what it adds to the row before it, where there is one."""
    return CaseLine(case, cells, line, _changes(line, before))


def whole_case_line(
    case: str, cells: tuple[Cell, ...], line: WholeLine, before: WholeLine | None
) -> WholeCaseLine:
    """Return a row of the whole site of a case and what it adds to the row before it, where there is one."""
    return WholeCaseLine(case, cells, line, _whole_changes(line, before))


def _changes(now: OptionLine, before: OptionLine | None) -> Changes:
    if before is None:
        return Changes()
    ready, was_ready = now.option.ready_on, before.option.ready_on
    return Changes(
        cash=_less(now.cash, before.cash),
        hours=_less(now.hours, before.hours),
        days=(ready - was_ready).days if ready and was_ready else None,
        loose=_less(now.loose, before.loose),
        matter=_less(now.option.outcome.matter_after_year, before.option.outcome.matter_after_year),
    )


def _whole_changes(now: WholeLine, before: WholeLine | None) -> Changes:
    if before is None or not (now.acts and before.acts):
        return Changes()
    ready, was_ready = now.whole.ready_on, before.whole.ready_on
    return Changes(
        cash=now.whole.bill.cash - before.whole.bill.cash,
        hours=now.whole.bill.hours.likely - before.whole.bill.hours.likely,
        days=(ready - was_ready).days if ready and was_ready else None,
        loose=_less(now.loose, before.loose),
    )


def _less(now: Number | None, before: Number | None) -> Number | None:
    """Return the difference of two numbers that are both known."""
    return None if now is None or before is None else now - before
