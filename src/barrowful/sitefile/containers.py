"""Containers of the site file's description: fields, sections, lists and named entries."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

from barrowful.measures.letters import difference, looks, stray
from barrowful.measures.problems import NOWHERE, Mark
from barrowful.sitefile.desk import Desk, Section
from barrowful.sitefile.kinds import Kind
from barrowful.sitefile.nodes import Listing, Mapping, Node, Refused, Scalar


@dataclass(frozen=True)
class Field:
    """One key of a section, described once: reader, manual, schema and messages use it."""

    key: str
    kind: Kind
    help: str
    example: str
    required: bool = False
    default: str = ""
    source: str = ""

    @cached_property
    def assumed(self) -> Any:
        """Return the default's value, read once."""
        return self.kind.read(Scalar(self.default, NOWHERE), Desk("the defaults"), self.key)


@dataclass(frozen=True)
class Group(Kind):
    """A section with known keys; exactly one key of each ``one_of`` tuple must stand."""

    fields: tuple[Field, ...]
    title: str
    one_of: tuple[tuple[str, ...], ...] = ()
    some_of: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "keys", {field.key: field for field in self.fields})
        object.__setattr__(self, "needed", [field for field in self.fields if field.required])
        object.__setattr__(self, "assumed", [field for field in self.fields if field.default])

    @property
    def name(self) -> str:
        return "a section"

    @property
    def json(self) -> dict[str, Any]:
        schema: dict[str, Any] = {
            "type": "object",
            "properties": {
                field.key: {**field.kind.json, "description": field.help} for field in self.fields
            },
            "required": [field.key for field in self.fields if field.required],
            "additionalProperties": False,
        }
        if self.one_of:
            schema["allOf"] = [{"oneOf": [{"required": [key]} for key in keys]} for keys in self.one_of]
        if self.some_of:
            schema["anyOf"] = [{"required": [key]} for key in self.some_of]
        return schema

    def read(self, node: Node, desk: Desk, path: str) -> Section | None:
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Mapping):
            example = ", ".join(field.key for field in self.fields[:3])
            desk.problem(
                node.mark,
                "not-a-section",
                f"{path or 'the file'}: expected a section with {example}",
            )
            return None
        section = Section(node.mark)
        known: dict[str, Field] = self.keys  # type: ignore[attr-defined]
        for key, (mark, value) in node.entries.items():
            field = known.get(key)
            if field is None:
                self._unknown(key, mark, desk, path or "the file")
                continue
            section.marks[key] = value.mark
            section[key] = field.kind.read(value, desk, f"{path}.{key}" if path else key)
        self._check(section, node, desk, path)
        return section

    def _unknown(self, key: str, mark: Mark, desk: Desk, where: str) -> None:
        """Note a key that is none, with the nearest there is."""
        if re.match(r"[0-9]+( |$)", key):
            sentence = f'a comma starts a new key before "{key[:40]}"; write a decimal point'
            desk.problem(mark, "decimal-comma", f"{where}: {sentence}")
            return
        hint = desk.nearest(key, self.keys)  # type: ignore[attr-defined]
        desk.problem(mark, "unknown-key", f'{where}: "{key[:40]}" is not a key here{hint}')

    def _check(self, section: Section, node: Mapping, desk: Desk, path: str) -> None:
        where = path or "the file"
        for field in self.needed:  # type: ignore[attr-defined]
            if field.key not in node.entries:
                desk.problem(node.mark, "missing-key", f'{where}: "{field.key}" is missing, {_such(field)}')
        for keys in self.one_of:
            given = [key for key in keys if key in node.entries]
            if len(given) != 1:
                found = " and ".join(given) or "none"
                desk.problem(
                    node.mark,
                    "one-of",
                    f"{where}: give exactly one of {', '.join(keys)} (found {found})",
                )
        if self.some_of and not any(key in node.entries for key in self.some_of):
            desk.problem(node.mark, "missing-key", f"{where}: give at least one of {', '.join(self.some_of)}")
        for field in self.assumed:  # type: ignore[attr-defined]
            if field.key not in node.entries:
                section[field.key] = field.assumed


def _such(field: Field) -> str:
    return f'e.g. "{field.key}: {field.example}"'


@dataclass(frozen=True)
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

    def read(self, node: Node, desk: Desk, path: str) -> list[Any] | None:
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Listing):
            desk.problem(node.mark, "not-a-list", f"{path}: expected {self.name}")
            return None
        count = len(node.items)
        if not self.least <= count <= self.most:
            exact = self.least == self.most
            wanted = f"{self.least}" if exact else (
                f"at least {self.least}" if count < self.least else f"at most {self.most:,}"
            )  # fmt: skip
            desk.problem(
                node.mark, "wrong-number", f"{path}: has {count} items, {wanted} expected{_comma(node)}"
            )
            return None
        names: dict[str, int] = {}
        known = _Names(desk, path)
        found = []
        for index, item in enumerate(node.items):
            name = self._name(item, index)
            if self.label and name in names:
                desk.problem(
                    item.mark,
                    "duplicate-name",
                    f'{path}: "{name[:40]}" also stands on line {names[name]}',
                )
            elif self.label and isinstance(item, Mapping) and self.label in item.entries:
                known.take(name, item.entries[self.label][1].mark)
            names[name] = item.mark.line
            found.append(self.kind.read(item, desk, path if name == _only_key(item) else f"{path}.{name}"))
        return found

    def _name(self, item: Node, index: int) -> str:
        if self.label and isinstance(item, Mapping) and self.label in item.entries:
            label = item.entries[self.label][1]
            if isinstance(label, Scalar):
                return label.text.strip()
        return ("" if self.label else _only_key(item)) or str(index + 1)


class _Names:
    """The names the grower gives to the items of a list or section, as far as they are read."""

    def __init__(self, desk: Desk, path: str) -> None:
        self.desk, self.path = desk, path
        self.by_looks: dict[str, tuple[str, int]] = {}

    def take(self, name: str, mark: Mark) -> None:
        """Note a name; one that hides a letter, or that an eye takes for another, is a problem."""
        if hidden := stray(name):
            message = f'{self.path}: in the name "{name[:40]}" {hidden}; type the name anew'
            self.desk.problem(mark, "unseen-letter", message)
        other, line = self.by_looks.setdefault(looks(name), (name, mark.line))
        if other != name:
            message = (
                f'{self.path}: "{name[:40]}" looks like the name on line {line},'
                f" but {difference(name, other)}; give names that differ to the eye"
            )
            self.desk.problem(mark, "look-alike-name", message)


def _only_key(item: Node) -> str:
    """Return the key of an item that has just one, such as a need: it names the item in paths."""
    return next(iter(item.entries)) if isinstance(item, Mapping) and len(item.entries) == 1 else ""


def _comma(node: Listing) -> str:
    """Return a hint where an item looks like the front of a number with a decimal comma."""
    fronts = (item.text for item in node.items if isinstance(item, Scalar))
    return "; a comma starts a new item, so write 1.5, not 1,5" if any(map(str.isdigit, fronts)) else ""


@dataclass(frozen=True)
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

    def read(self, node: Node, desk: Desk, path: str) -> Section | None:
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Mapping):
            desk.problem(node.mark, "not-a-section", f"{path}: expected {self.name}")
            return None
        section = Section(node.mark)
        known = _Names(desk, path)
        for name, (mark, value) in node.entries.items():
            check = self.check or str
            if desk.attempt(mark, f"{path}.{name[:40]}", partial(check, name)) is not None:
                known.take(name, mark)
            section.marks[name] = value.mark
            section[name] = self.kind.read(value, desk, f"{path}.{name}")
        return section
