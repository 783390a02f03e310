"""What the shell completes: names of the SITE on the command line, of the catalogue, and keys.

Whatever cannot be read gives no word: nothing is ever said while a shell completes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from barrowful.sitefile.text.nodes import Mapping, Node

#: What stands before a material in "12 bucket coffee grounds".
_AMOUNT = re.compile(r"[0-9.]+ +[^ ]+ +")


def ways(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Return the ways of the site that begin so."""
    return _items(_names(_top(ctx), "ways"), incomplete)


def places(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Return the places of the site that begin so."""
    return _items(_names(_top(ctx), "places"), incomplete)


def materials(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Return the materials of the site and the catalogue that begin so, behind an amount too."""
    from barrowful.catalogue.figures import names_in

    amount = _AMOUNT.match(incomplete)
    before = amount.group() if amount else ""
    known = dict.fromkeys([*_names(_top(ctx), "materials"), *names_in("materials")])
    return _items((before + name for name in known), incomplete)


def figures(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Return what the catalogue has figures of that begins so."""
    from barrowful.catalogue.contents import FIGURE_KINDS
    from barrowful.catalogue.figures import names_in

    sorts = ("materials", "plants", "crops")
    own = _names(_top(ctx), "materials") if ctx.params.get("site") else ()
    named = (name for sort in sorts for name in names_in(sort))
    return _items(dict.fromkeys([*own, *named, *sorts, *FIGURE_KINDS]), incomplete)


def keys(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Return the keys of the site file that begin so, by their paths once there is a dot."""
    from barrowful.sitefile.products.outline import lines

    known = (line.path if "." in incomplete else line.field.key for line in lines())
    return _items(dict.fromkeys(known), incomplete)


def paths(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Return the paths to values of the site that begin so, ready for the value."""
    return _items((f"{path}=" for path in _paths(_top(ctx))), incomplete, goes_on=True)


def _items(words: Iterable[str], incomplete: str, goes_on: bool = False) -> list[CompletionItem]:
    """Return those words that begin so; one that would go over more lines is left out."""
    from click.shell_completion import CompletionItem

    return [
        CompletionItem(word, goes_on=goes_on)
        for word in words
        if word.startswith(incomplete) and word.isprintable()
    ]


def _top(ctx: click.Context) -> Mapping:
    """Return the site file on the command line as it is read, unchecked; the sample where there is none."""
    from importlib.resources import files

    from barrowful.sitefile.text.nodes import MOST_BYTES, parse

    site = ctx.params.get("site") or next(iter(ctx.args), None)  # the latter while an option lacks its value
    if site is None:
        return parse(files("barrowful").joinpath("sample.yaml").read_bytes(), "sample").top
    if site == "-" or not Path(site).is_file():  # of a pipe nothing is read before its time
        return parse(b"", "nothing").top
    with click.open_file(str(site), "rb") as file:
        return parse(file.read(MOST_BYTES), str(site)).top


def _names(top: Mapping, section: str) -> list[str]:
    """Return the names in a list of a site file, or the keys of a section of names."""
    from barrowful.sitefile.text.edit import label_of
    from barrowful.sitefile.text.nodes import Listing, Mapping

    _, node = top.entries.get(section, (None, None))
    if isinstance(node, Mapping):
        return list(node.entries)
    return (
        [label_of(item, index) for index, item in enumerate(node.items)] if isinstance(node, Listing) else []
    )


def _paths(node: Node, path: str = "") -> Iterator[str]:
    """Yield the path to each single value, as --set takes it."""
    from barrowful.sitefile.text.edit import inside, label_of
    from barrowful.sitefile.text.nodes import Listing, Mapping

    if isinstance(node, Mapping):
        for key, (_, value) in node.entries.items():
            yield from _paths(value, f"{path}.{key}" if path else key)
    elif isinstance(node, Listing):
        for index, item in enumerate(node.items):
            label = label_of(item, index)
            yield from _paths(inside(item, label), f"{path}.{label}")
    elif path:
        yield path
