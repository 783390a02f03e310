"""The --table option: which table is written, and what is said of those that are not."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from barrowful.measures.problems import WrongUse, did_you_mean
from barrowful.tables.names import ASKED_WITH, NAMES

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from barrowful.tables.report import Report


class TableOption(click.Option):
    """An option whose help and completion name the tables of its command."""

    def get_help_record(self, ctx: click.Context) -> tuple[str, str] | None:
        record = super().get_help_record(ctx)
        return record and (record[0], f"{record[1]}  [{', '.join(_names(ctx))}]")

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        from click.shell_completion import CompletionItem

        return [CompletionItem(name) for name in _names(ctx) if name.startswith(incomplete)]


def _names(ctx: click.Context) -> tuple[str, ...]:
    return NAMES.get(ctx.command.name or "", ())


def wanted_table(report: Report, name: str) -> str:
    """Return the name of a table of a report, or say which there are and what asks for this one."""
    there = [table.name for table in report.tables]
    if name in there:
        return name
    if name in NAMES.get(report.command, ()) and name in ASKED_WITH:
        raise WrongUse(f'the table "{name}" is there with {ASKED_WITH[name]}')
    known = did_you_mean(name, there)
    raise WrongUse(f'there is no table "{name}"; there are {", ".join(there)}{known}')


def others_left(report: Report) -> str:
    """Return what is said where only the first of several tables is written, nothing where it is all.

    A table that costs work of its own is not reckoned where it is not written: it counts by its name.
    """
    written, *others = dict.fromkeys(
        [table.name for table in report.tables]
        + [name for name in NAMES.get(report.command, ()) if name not in ASKED_WITH]
    )
    if not others:
        return ""
    last = " or ".join(filter(None, (", ".join(others[:-1]), others[-1])))
    return f"Only the table {written} is written; --table writes {last}."
