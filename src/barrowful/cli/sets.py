"""The --set option: values that hold for an answer instead of the site file's; no file is touched."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

import click

from barrowful.cli.complete import paths
from barrowful.measures.problems import SiteProblems, WrongUse

if TYPE_CHECKING:
    from barrowful.site.load import LoadedSite

Command = TypeVar("Command", bound=Callable[..., Any])


def set_option(command: Command) -> Command:
    """Add --set, which may be repeated."""
    words = "Take this value instead of the file's, none to take it out; may be repeated."
    return click.option(
        "--set", "sets", multiple=True, metavar="PATH=VALUE", shell_complete=paths, help=words
    )(command)


def build_with(data: bytes, name: str, sets: Sequence[str]) -> LoadedSite:
    """Return the site of a file's bytes with what --set says, as if that stood in the file.

    Raises :class:`SiteProblems` for what is wrong with that site, and :class:`WrongUse` for a path that
    leads nowhere in a file that is sound.
    """
    from barrowful.site.load import build
    from barrowful.sitefile.text.cases import changes_of
    from barrowful.sitefile.text.edit import set_values
    from barrowful.sitefile.text.nodes import parse

    changes, document = changes_of(sets), parse(data, name)
    try:
        changed = set_values(document, changes)
    except WrongUse:
        build(document)  # what is wrong with the file itself goes first
        raise
    return build(changed)


def load_with(data: bytes, name: str, sets: Sequence[str]) -> LoadedSite:
    """Return the same; a sound file that has problems only with what --set says is wrong use."""
    from barrowful.site.load import load

    if not sets:
        return load(data, name)
    try:
        return build_with(data, name, sets)
    except SiteProblems as problems:
        load(data, name)  # what is wrong with the file itself goes first
        raise WrongUse(f"with what --set says the site has problems:\n{problems}") from None
