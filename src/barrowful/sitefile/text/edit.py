"""Setting values of a document by their paths; the file itself is not touched."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.measures.problems import Mark, SiteProblems, WrongUse, did_you_mean
from barrowful.sitefile.text.nodes import Document, Listing, Mapping, Node, Scalar, parse

#: Names that are told where none is like the one that was asked for.
MOST_NAMED = 5
#: What a path is set to where what stands there is to be taken out.
NONE = "none"
#: Where values that were set stand.
SET = Mark(source="--set")


def set_value(document: Document, path: str, text: str) -> Document:
    """Return a document with the value at a path replaced, or added, by a YAML text; "none" takes it out.

    Keys are joined by dots; a list item goes by its name, a need by its kind, any item by its number
    from 1. Raises :class:`WrongUse` when the path leads nowhere. What is set stands in ``--set``.

    >>> new = set_value(parse(b"places: [{name: a.b, count: 2}]", "x"), "places.a.b.count", "3")
    >>> new.top.entries["places"][1].items[0].entries["count"][1].text
    '3'
    """
    if text.strip() == NONE:
        top = _without(document.top, path, path)
        assert isinstance(top, Mapping)
        return Document(document.file, top, document.problems)
    try:
        read = parse(f"value: {text}".encode(), f"--set {path}")
    except SiteProblems as problems:
        raise WrongUse(str(problems)) from None
    if read.problems:
        raise WrongUse(str(read.problems[0]))
    if len(read.top.entries) > 1:
        raise WrongUse(f'"{path}": a value is one line; set what stands on others by paths of its own')
    value = read.top.entries["value"][1]
    _place(value)
    top = _set(document.top, path, value, path)
    assert isinstance(top, Mapping)
    return Document(document.file, top, document.problems)


def set_values(document: Document, changes: Iterable[tuple[str, str]]) -> Document:
    """Return a document with values set one after another, each by its path; see :func:`set_value`."""
    for path, text in changes:
        document = set_value(document, path, text)
    return document


def value_at(document: Document, path: str) -> str | None:
    """Return the single value at a path, None where the document says nothing of it.

    Raises :class:`WrongUse` for a name that is not there, and for what is no single value.

    >>> document = parse(b"places: [{name: a.b, count: 2}]", "x")
    >>> value_at(document, "places.a.b.count"), value_at(document, "places.a.b.new")
    ('2', None)
    """
    node: Node | None = document.top
    rest = path
    while rest and node is not None:
        if isinstance(node, Mapping):
            key, rest = _step(rest, list(node.entries)) or _new_key(rest)
            node = node.entries[key][1] if key in node.entries else None
        elif isinstance(node, Listing):
            index, label, rest = _item(node, rest, path)
            node = inside(node.items[index], label)
        else:
            raise WrongUse(f'"{path}": "{rest}" stands below a single value')
    if node is not None and not isinstance(node, Scalar):
        raise WrongUse(f'"{path}" is no single value')
    return None if node is None else node.text.strip()


def _place(node: Node) -> None:
    """Give a node and all in it the place it has instead of one in the site file."""
    node.mark = SET
    below = node.items if isinstance(node, Listing) else []
    if isinstance(node, Mapping):
        below = [value for _, value in node.entries.values()]
        node.entries = {key: (SET, value) for key, (_, value) in node.entries.items()}
    for inner in below:
        _place(inner)


def _set(node: Node, path: str, value: Node, whole: str) -> Node:
    """Return a copy of the nodes along a path, with the value at its end."""
    if isinstance(node, Mapping):
        key, rest = _step(path, list(node.entries)) or _new_key(path)
        if rest and key not in node.entries:
            inner: Node = Mapping(SET)
        else:
            inner = node.entries[key][1] if rest else value
        mark = node.entries[key][0] if key in node.entries else SET
        entries = {**node.entries, key: (mark, _set(inner, rest, value, whole) if rest else value)}
        return Mapping(node.mark, entries)
    if isinstance(node, Listing):
        return _set_item(node, path, value, whole)
    raise WrongUse(f'"{whole}": "{path}" stands below a single value')


def _set_item(node: Listing, path: str, value: Node, whole: str) -> Listing:
    """Return a copy of a list with a value set in one of its items, by its label or else its number."""
    index, label, rest = _item(node, path, whole)
    item = node.items[index]
    new = _set(inside(item, label), rest, value, whole) if rest else value
    return Listing([*node.items[:index], _outside(item, label, new), *node.items[index + 1 :]], node.mark)


def _without(node: Node, path: str, whole: str) -> Node:
    """Return a copy of the nodes along a path, without what stands at its end."""
    if isinstance(node, Mapping):
        step = _step(path, list(node.entries))
        if step is None:
            close = did_you_mean(path.split(".")[0], list(node.entries))
            raise WrongUse(f'"{whole}": nothing here is called "{path}" that could be taken out{close}')
        key, rest = step
        mark, inner = node.entries[key]
        entries = {**node.entries, key: (mark, _without(inner, rest, whole) if rest else inner)}
        return Mapping(node.mark, entries if rest else {of: entries[of] for of in entries if of != key})
    if isinstance(node, Listing):
        index, label, rest = _item(node, path, whole)
        item = node.items[index]
        left = [_outside(item, label, _without(inside(item, label), rest, whole))] if rest else []
        return Listing([*node.items[:index], *left, *node.items[index + 1 :]], node.mark)
    raise WrongUse(f'"{whole}": "{path}" stands below a single value')


def _item(node: Listing, path: str, whole: str) -> tuple[int, str, str]:
    """Return which item of a list a path starts with, its label if it goes by that, and the rest."""
    labels = [label_of(item, index) for index, item in enumerate(node.items)]
    numbers = [str(index + 1) for index in range(len(node.items))]
    by_label = _step(path, labels)
    step = by_label or _step(path, numbers)
    if step is None:
        close = did_you_mean(path.split(".")[0], labels) or _there(labels)
        raise WrongUse(f'"{whole}": nothing here is called "{path}"{close}')
    name, rest = step
    return (labels if by_label else numbers).index(name), name if by_label else "", rest


def _there(labels: list[str]) -> str:
    """Return the first names there are, where none is like the one that was asked for."""
    more = f" and {len(labels) - MOST_NAMED} more" if len(labels) > MOST_NAMED else ""
    return f"; there are {', '.join(labels[:MOST_NAMED])}{more}" if labels else "; the list is empty"


def _step(path: str, names: list[str]) -> tuple[str, str] | None:
    """Return the longest name a path starts with, and the rest of the path."""
    fitting = [name for name in names if path == name or path.startswith(name + ".")]
    if not fitting:
        return None
    name = max(fitting, key=len)
    return name, path[len(name) + 1 :]


def _new_key(path: str) -> tuple[str, str]:
    key, _, rest = path.partition(".")
    return key, rest


def label_of(item: Node, index: int) -> str:
    """Return what an item of a list goes by: its name, its only key, or its number from 1."""
    if isinstance(item, Mapping):
        name = item.entries.get("name")
        if name is not None and isinstance(name[1], Scalar):
            return name[1].text.strip()
        if len(item.entries) == 1:
            return next(iter(item.entries))
    return str(index + 1)


def _is_need(item: Node, label: str) -> bool:
    return isinstance(item, Mapping) and list(item.entries) == [label]


def inside(item: Node, label: str) -> Node:
    """Return what a label stands for: the item, or a need's own section."""
    return item.entries[label][1] if isinstance(item, Mapping) and _is_need(item, label) else item


def _outside(item: Node, label: str, new: Node) -> Node:
    if isinstance(item, Mapping) and _is_need(item, label):
        return Mapping(item.mark, {label: (item.entries[label][0], new)})
    return new
