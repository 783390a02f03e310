"""Lists of the site file's description, and sections whose keys the grower chooses."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import Any

from barrowful.measures.fixed import fixed
from barrowful.measures.letters import difference, looks, stray
from barrowful.measures.problems import Mark
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.language.kinds import Kind
from barrowful.sitefile.text.nodes import Listing, Mapping, Node, Refused, Scalar


class Names:
    """The names the grower gives to the items of a list or section, as far as they are read."""

    def __init__(self, context: ReadContext, path: str) -> None:
        self.context, self.path = context, path
        self.by_looks: dict[str, tuple[str, str]] = {}

    def take(self, name: str, mark: Mark) -> None:
        """Note a name; one that hides a letter, or that an eye takes for another, is a problem."""
        if hidden := stray(name):
            sentence = f'in the name "{name[:40]}" {hidden}; type the name anew'
            self.context.problem(mark, "unseen-letter", f"{self.path}: {sentence}")
        other, where = self.by_looks.setdefault(looks(name), (name, mark.where))
        if other != name:
            sentence = (
                f'"{name[:40]}" looks like the name {where},'
                f" but {difference(name, other)}; give names that differ to the eye"
            )
            self.context.problem(mark, "look-alike-name", f"{self.path}: {sentence}")


@fixed(kw_only=False)
class ListOf(Kind):
    """A list; ``label`` is the key whose value names an item in paths and must not repeat."""

    kind: Kind
    least: int = 0
    most: int = 1_000_000
    label: str = ""

    @property
    def name(self) -> str:
        if self.least == self.most:
            return f"a list of {self.least}: {self.kind.name}"
        return f"a list: {self.kind.name}"

    @property
    def json(self) -> dict[str, Any]:
        return {
            "type": "array",
            "items": self.kind.json,
            "minItems": self.least,
            "maxItems": self.most,
        }

    def read(self, node: Node, context: ReadContext, path: str) -> Any:
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Listing):
            self.refuse_shape(node, context, path, "not-a-list", self.name)
            return None
        count = len(node.items)
        if not self.least <= count <= self.most:
            sentence = f"has {count} items, {self._wanted(count)} expected{_comma(node)}"
            context.problem(node.mark, "wrong-number", f"{path}: {sentence}")
            return None
        if self.label:
            self._refuse_twice(node, context, path)
        return self.final(
            self._item(item, context, self._path(path, item, index))
            for index, item in enumerate(node.items, 1)
        )

    def _item(self, item: Node, context: ReadContext, path: str) -> Any:
        """Return what an item is read as; one that goes by a name is read once."""
        if not self.label:
            return self.kind.read(item, context, path)
        return context.once(item, path, lambda: self.kind.read(item, context, path))

    def final(self, values: Iterable[Any]) -> Any:
        """Return the values as the records hold them."""
        return tuple(values)

    def _wanted(self, count: int) -> str:
        if self.least == self.most:
            return f"{self.least}"
        return f"at least {self.least}" if count < self.least else f"at most {self.most:,}"

    def _refuse_twice(self, node: Listing, context: ReadContext, path: str) -> None:
        """Note each item whose name an item before it has."""
        places: dict[str, str] = {}
        names = Names(context, path)
        for index, item in enumerate(node.items, 1):
            label = self._label(item)
            name = label or f"{index}"
            if name in places:
                sentence = f'"{name[:40]}" also stands {places[name]}'
                context.problem(item.mark, "duplicate-name", f"{path}: {sentence}")
            elif label and isinstance(item, Mapping):
                names.take(label, item.entries[self.label][1].mark)
            places[name] = item.mark.where

    def _path(self, path: str, item: Node, index: int) -> str:
        """Return an item's path: by its name, or its number; one key out of several names itself."""
        if isinstance(self.kind, Group) and self.kind.is_choice and _has_one_key(item):
            return path
        return f"{path}.{self._label(item) or index}"

    def _label(self, item: Node) -> str:
        """Return the name of an item, or nothing where it has none."""
        if self.label and isinstance(item, Mapping) and self.label in item.entries:
            label = item.entries[self.label][1]
            if isinstance(label, Scalar):
                return label.text.strip()
        return ""


def _has_one_key(item: Node) -> bool:
    return isinstance(item, Mapping) and len(item.entries) == 1


def _comma(node: Listing) -> str:
    """Return a hint where an item looks like the front of a number with a decimal comma."""
    fronts = (item.text for item in node.items if isinstance(item, Scalar))
    return "; a comma starts a new item, so write 1.5, not 1,5" if any(map(str.isdigit, fronts)) else ""


class SetOf(ListOf):
    """A list whose order and repeats mean nothing; what stands in it twice is asked about."""

    def read(self, node: Node, context: ReadContext, path: str) -> Any:
        values = super().read(node, context, path)
        texts = [item.text.strip() for item in getattr(node, "items", ()) if isinstance(item, Scalar)]
        if len(set(texts)) < len(texts):
            twice = next(text for text in texts if texts.count(text) > 1)
            context.warning(node.mark, "twice", f'{path}: "{twice[:40]}" stands there more than once')
        return values

    def final(self, values: Iterable[Any]) -> frozenset[Any]:
        return frozenset(values)


@fixed(kw_only=False)
class Named(Kind):
    """A section whose keys the grower chooses; ``check`` may refuse a name."""

    kind: Kind
    check: Callable[[str], str] | None = None

    @property
    def name(self) -> str:
        return "names of your own, each with " + self.kind.name

    @property
    def json(self) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": self.kind.json}

    def read(self, node: Node, context: ReadContext, path: str) -> Section | None:
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Mapping):
            self.refuse_shape(node, context, path, "not-a-section", self.name)
            return None
        section, names = Section(node.mark, path), Names(context, path)
        for name, (mark, _) in node.entries.items():
            check = self.check or str
            if context.attempt(mark, f"{path}.{name[:40]}", partial(check, name)) is not None:
                names.take(name, mark)
        for name in self.in_order(node, context, path):
            value = node.entries[name][1]
            section.marks[name] = value.mark
            section[name] = self.item(name, value, context, f"{path}.{name}")
        return section

    def in_order(self, node: Mapping, context: ReadContext, path: str) -> Iterable[str]:
        """Return the names in the order in which they are read."""
        return node.entries

    def item(self, name: str, node: Node, context: ReadContext, path: str) -> Any:
        """Return the value behind a name."""
        return self.kind.read(node, context, path)
