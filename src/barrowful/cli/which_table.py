"""The --table option: which table is written, and what is said of those that are not."""

from __future__ import annotations

from collections.abc import Sequence
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


#: Tables that are there with another option too than the one that is named for them.
ALSO_WITH = {"frontier": "--chart"}


def check_table(ctx: click.Context, name: str) -> None:
    """Refuse a table that the command that runs has not, or not with its options: before anything is done."""
    names = _names(ctx)
    if name in names and not _is_there(ctx, name):
        raise _asked_with(name)
    if name and name not in names:
        raise _unknown(name, [each for each in names if _is_there(ctx, each)])


def _is_there(ctx: click.Context, name: str) -> bool:
    """Say whether a table needs no option, or one that is given."""
    options = {ASKED_WITH.get(name), ALSO_WITH.get(name)}
    asking = [param.name for param in ctx.command.params if options.intersection(param.opts)]
    return name not in ASKED_WITH or any(ctx.params.get(str(param)) for param in asking)


def wanted_table(report: Report, name: str) -> str:
    """Return the name of a table of a report, or say which there are and what asks for this one."""
    there = [table.name for table in report.tables]
    if name in there:
        return name
    if name in NAMES.get(report.command, ()) and name in ASKED_WITH:
        raise _asked_with(name)
    raise _unknown(name, there)


def _asked_with(name: str) -> WrongUse:
    return WrongUse(f'the table "{name}" is there with {ASKED_WITH[name]}')


def _unknown(name: str, there: Sequence[str]) -> WrongUse:
    known = did_you_mean(name, there)
    return WrongUse(f'there is no table "{name}"; there are {", ".join(there)}{known}')


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
