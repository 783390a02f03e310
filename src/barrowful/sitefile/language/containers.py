"""Sections of the site file's description, and the keys in them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import KW_ONLY
from functools import cached_property
from typing import Any

from barrowful.measures.fixed import fixed
from barrowful.measures.problems import NOWHERE, Mark
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.language.kinds import Kind
from barrowful.sitefile.language.rules import Rule
from barrowful.sitefile.text.nodes import Mapping, Node, Refused, Scalar
from barrowful.sitefile.text.plain import plain

#: Keys that are named where a section is wanted.
NAMED = 4


@fixed(kw_only=False)
class Field:
    """One key of a section, described once: reader, manual, schema and messages use it."""

    key: str
    kind: Kind
    _: KW_ONLY
    help: str
    example: str
    required: bool = False
    default: str = ""
    source: str = ""

    @property
    def json(self) -> dict[str, Any]:
        """Return the JSON Schema of what stands behind the key, with what an editor shows of it."""
        shown = {"title": self.key, **self.kind.json, "description": self.help}
        shown["examples"] = [plain(self.example)]
        return {**shown, "default": plain(self.default)} if self.default else shown

    def assumed(self, context: ReadContext) -> Any:
        """Return the default's value; it is read once where it means the same in every file."""
        if self.kind.of_file:
            return self.kind.read(Scalar(self.default, NOWHERE), context, self.key)
        return self._assumed

    @cached_property
    def _assumed(self) -> Any:
        return self.kind.read(Scalar(self.default, NOWHERE), ReadContext("the defaults"), self.key)


@fixed
class Group(Kind):
    """A section with known keys; exactly one key of each ``one_of`` tuple must stand.

    Keys of ``first`` are read before the others, which are written in what they say. ``rules`` are for
    editors: what the site asks of its keys beside.
    """

    fields: tuple[Field, ...]
    title: str
    one_of: tuple[tuple[str, ...], ...] = ()
    some_of: tuple[str, ...] = ()
    first: tuple[str, ...] = ()
    rules: tuple[Rule, ...] = ()

    @cached_property
    def by_key(self) -> dict[str, Field]:
        """Return the fields by their keys."""
        return {field.key: field for field in self.fields}

    def below(self, key: str) -> Group:
        """Return the section a key holds."""
        kind = self.by_key[key].kind
        if not isinstance(kind, Group):
            raise TypeError(f'"{key}" of {self.title} holds no section')
        return kind

    @cached_property
    def is_choice(self) -> bool:
        """Say whether it is a single key out of several, such as a need."""
        return self.one_of == (tuple(self.by_key),)

    @property
    def name(self) -> str:
        return "a section"

    @property
    def json(self) -> dict[str, Any]:
        schema: dict[str, Any] = {
            "type": "object",
            "title": self.title,
            "properties": {field.key: field.json for field in self.fields},
            "required": [field.key for field in self.fields if field.required],
            "additionalProperties": False,
        }
        exactly = [{"oneOf": [{"required": [key]} for key in keys]} for keys in self.one_of]
        if exactly or self.rules:
            schema["allOf"] = [*exactly, *self.rules]
        if self.some_of:
            schema["anyOf"] = [{"required": [key]} for key in self.some_of]
        return schema

    def read(self, node: Node, context: ReadContext, path: str) -> Section | None:
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Mapping):
            example = ", ".join(field.key for field in self.fields[:NAMED])
            self.refuse_shape(node, context, path or "the file", "not-a-section", f"a section with {example}")
            return None
        section, lines = Section(node.mark, path), set[int]()
        for key in self._in_order(node.entries):
            mark, value = node.entries[key]
            field = self.by_key.get(key)
            if field is None:
                section.stray = True
                self._unknown(key, node, context, path or "the file", mark.line in lines)
                continue
            lines.add(mark.line)
            section.marks[key] = value.mark
            section[key] = field.kind.read(value, context, f"{path}.{key}" if path else key)
        section.stray = section.stray or node.merged
        if not node.merged:
            self._check(section, node, context, path or "the file")
        self._assume(section, context)
        return section

    def blank(self, mark: Mark, context: ReadContext) -> Section:
        """Return the section as if it stood there empty: the defaults alone."""
        section = Section(mark)
        self._assume(section, context)
        return section

    def _in_order(self, entries: Iterable[str]) -> Iterable[str]:
        if not self.first:
            return entries
        return sorted(
            entries, key=lambda key: self.first.index(key) if key in self.first else len(self.first)
        )

    def _unknown(self, key: str, node: Mapping, context: ReadContext, where: str, beside: bool) -> None:
        """Note a key that is none, with the nearest there is.

        What a comma leaves has no value, and stands on a line after another key.
        """
        mark, value = node.entries[key]
        bare = isinstance(value, Scalar) and not value.text
        if bare and beside and re.match(r"[0-9]+([. ]|$)", key):
            sentence = f'a comma starts a new key before "{key[:40]}"; write a decimal point'
            context.problem(mark, "decimal-comma", f"{where}: {sentence}")
            return
        sentence = f'"{key[:40]}" is not a key here{context.right_key(key, self.by_key)}'
        context.problem(mark, "unknown-key", f"{where}: {sentence}")

    @cached_property
    def _needed(self) -> list[Field]:
        return [field for field in self.fields if field.required]

    @cached_property
    def _assumed(self) -> list[Field]:
        return [field for field in self.fields if field.default]

    def _check(self, section: Section, node: Mapping, context: ReadContext, where: str) -> None:
        """Note the keys that are missing, and those that do not go together."""
        for field in self._needed:
            if field.key not in node.entries:
                sentence = f'"{field.key}" is missing, e.g. "{field.key}: {field.example}"'
                context.problem(node.mark, "missing-key", f"{where}: {sentence}")
        for keys in self.one_of:
            given = [key for key in keys if key in node.entries]
            if len(given) != 1:
                sentence = f"give exactly one of {', '.join(keys)} (found {' and '.join(given) or 'none'})"
                context.problem(node.mark, "one-of", f"{where}: {sentence}")
        if self.some_of and not any(key in node.entries for key in self.some_of):
            sentence = f"give at least one of {', '.join(self.some_of)}"
            context.problem(node.mark, "missing-key", f"{where}: {sentence}")

    def _assume(self, section: Section, context: ReadContext) -> None:
        """Fill in the defaults of what is left out."""
        for field in self._assumed:
            if field.key not in section:
                section[field.key] = field.assumed(context)
