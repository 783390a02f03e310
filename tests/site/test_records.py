"""The records of a site and the description of its file: each key has a field, each field its unit and meaning."""

from __future__ import annotations

import ast
import dataclasses
import inspect
import types
import typing
from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from barrowful.measures.dates import Step
from barrowful.measures.dimensions import SI
from barrowful.measures.text import read_measure
from barrowful.site import needs, records, ways
from barrowful.site.load import load
from barrowful.site.pairs import PAIRS, RENAMED, WORKED_OUT, Pair
from barrowful.sitefile.keys.material import MATERIAL
from barrowful.sitefile.keys.need import MIX, NEED
from barrowful.sitefile.keys.shape import SHAPE
from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.keys.way import WAY
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.money import Cash, CashPer
from barrowful.sitefile.language.quantity import Measure
from barrowful.sitefile.products.manual import groups
from barrowful.sitefile.text.nodes import parse

#: What a float of a record can be measured in; a share, a ratio and a pH have no unit.
UNITS = {*SI.values(), "share", "ratio", "pH"} - {"1"}
#: Sections that become no record of the site: a choice of sections, and a material of the catalogue's kind.
NO_RECORD = (WAY, NEED, SHAPE, MATERIAL, MIX)
#: Measures of the grower's own that examples are written in.
OWN = {
    "barrow": read_measure("80 L", ("volume", "mass"), {}),
    "bucket": read_measure("12 L", ("volume", "mass"), {}),
}


def record_classes() -> list[type[Any]]:
    """Return every record of a site."""
    return [
        thing
        for module in (records, needs, ways)
        for _, thing in inspect.getmembers(module, inspect.isclass)
        if thing.__module__ == module.__name__
    ]


def field_names(record: type[Any]) -> set[str]:
    """Return the names of a record's fields."""
    return {field.name for field in dataclasses.fields(record)}


def notes(record: type[Any]) -> dict[str, str]:
    """Return what the source says beside each field of a record itself."""
    text, _ = inspect.getsourcelines(record)
    (tree,) = ast.parse("".join(text)).body
    assert isinstance(tree, ast.ClassDef)
    found = {}
    for node in tree.body:
        if isinstance(node, ast.AnnAssign) and "ClassVar" not in ast.unparse(node.annotation):
            assert isinstance(node.target, ast.Name)
            assert node.end_lineno is not None
            found[node.target.id] = text[node.end_lineno - 1].partition("  #: ")[2].strip()
    return found


def all_notes(record: type[Any]) -> dict[str, str]:
    """Return what the source says beside each field of a record, those of its bases included."""
    bases = [base for base in reversed(record.__mro__) if dataclasses.is_dataclass(base)]
    return {name: note for base in bases for name, note in notes(base).items()}


@pytest.mark.parametrize("record", record_classes())
def test_a_record_is_frozen_and_built_by_keyword(record: type[Any]) -> None:
    """No field can be set after, and none is told by its place."""
    assert record.__dataclass_params__.frozen
    assert all(field.kw_only for field in dataclasses.fields(record))


@pytest.mark.parametrize("record", record_classes())
def test_unit_and_meaning_stand_beside_each_field(record: type[Any]) -> None:
    """What a field holds is said beside it; where that is a float, its unit comes first."""
    beside = notes(record)
    assert [name for name, note in beside.items() if len(note) < 1] == []
    for name, hint in typing.get_type_hints(record).items():
        if name in beside and float in (hint, *typing.get_args(hint)):
            assert beside[name].split(",")[0].split(" ")[0] in UNITS, f"{name}: {beside[name]}"
        if name in beside and Decimal in (hint, *typing.get_args(hint)):
            assert beside[name].startswith("money"), f"{name}: {beside[name]}"


def test_every_section_becomes_a_record() -> None:
    """Each section of the description, but the few named, has its record, and each record its section."""
    sections = {group.title for _, group in groups(SITE, "")}
    shapes = {field.kind.title for field in SHAPE.fields if isinstance(field.kind, Group)}
    paired = [pair.group.title for pair in PAIRS.values()]
    assert sections - shapes - {group.title for group in NO_RECORD} == set(paired)
    assert len(paired) == len(set(paired))
    assert set(PAIRS) == {*record_classes()} - {needs.Need, ways.Way}
    assert {*RENAMED, *WORKED_OUT} <= set(PAIRS)


@pytest.mark.parametrize("pair", PAIRS.values(), ids=lambda pair: pair.record.__name__)
def test_every_key_is_a_field_and_every_field_a_key(pair: Pair) -> None:
    """Each key of a section is a field of its record, renamed or worked out; each field comes of one."""
    keys, names = set(pair.group.by_key), field_names(pair.record)
    assert set(pair.fields.values()) <= names, "a key that is no field"
    assert names - set(pair.fields.values()) <= pair.worked_out, "a field of no key"
    assert set(pair.renamed) <= keys, "renamed, but no key"
    assert pair.worked_out <= keys | names, "worked out, but neither key nor field"
    assert len(set(pair.fields.values())) == len(pair.fields), "two keys for a field"


@pytest.mark.parametrize("pair", PAIRS.values(), ids=lambda pair: pair.record.__name__)
def test_what_may_be_left_out_has_one_default(pair: Pair) -> None:
    """A key that need not stand has its default in the description or else in the record, never in both."""
    defaults = {
        field.name: field.default is not dataclasses.MISSING for field in dataclasses.fields(pair.record)
    }
    for key, name in pair.fields.items():
        described = pair.group.by_key[key]
        assert defaults[name] is not bool(described.required or described.default), key


@pytest.mark.parametrize("pair", PAIRS.values(), ids=lambda pair: pair.record.__name__)
def test_a_kind_gives_what_the_field_holds(pair: Pair) -> None:
    """The value of a key's example is of the field's type, and the unit beside the field is the kind's."""
    hints, beside = typing.get_type_hints(pair.record), all_notes(pair.record)
    for key, name in pair.fields.items():
        field = pair.group.by_key[key]
        node = parse(f"key: {field.example}".encode(), "x").top.entries["key"][1]
        value = field.kind.read(node, ReadContext("x", "EUR", OWN), key)
        parts = typing.get_args(hints[name])
        allowed = parts if type(None) in parts else (hints[name],)
        assert type(value) in {typing.get_origin(hint) or hint for hint in allowed}, key
        if isinstance(field.kind, Measure):
            unit = SI[field.kind.gives or field.kind.dimension]
            assert beside[name].split(",")[0].split(" ")[0] == ("share" if unit == "1" else unit), key
        if isinstance(field.kind, Cash | CashPer):
            per = f" for each {SI[field.kind.dimension]}" if isinstance(field.kind, CashPer) else ""
            assert beside[name].startswith(f"money{per}"), key


PLAIN = (str, int, float, bool, type(None), date, Decimal, Step)


def changeable(value: Any, path: str) -> Iterator[str]:
    """Yield what can be changed in a value, by its path."""
    if isinstance(value, PLAIN):
        return
    if isinstance(value, tuple | frozenset):
        for index, item in enumerate(value):
            yield from changeable(item, f"{path}.{index}")
    elif isinstance(value, types.MappingProxyType):
        for key, item in value.items():
            yield from changeable(item, f"{path}.{key}")
    elif dataclasses.is_dataclass(value) and value.__dataclass_params__.frozen:  # type: ignore[attr-defined]
        for field in dataclasses.fields(value):
            yield from changeable(getattr(value, field.name), f"{path}.{field.name}")
    else:
        yield path


def test_nothing_of_a_site_can_be_changed(demo_folder: Path) -> None:
    """A site is made of frozen records, tuples, frozen sets and mappings that cannot be written to."""
    for path in demo_folder.glob("*.yaml"):
        assert list(changeable(load(path.read_bytes(), path.name).site, path.name)) == []


#: What of a place does not bear on what each square metre gets: what it is called, how large it is, and when
#: its turn comes.
NO_SORT = {"name", "area", "count", "priority", "ring"}


@pytest.mark.parametrize("field", sorted(field_names(records.Place) - NO_SORT))
def test_all_else_of_a_place_is_its_sort(site_of: Callable[..., records.Site], field: str) -> None:
    """Places that differ in anything else are of two sorts: one does not get what was worked out for the other."""
    place = site_of([{"name": "bed", "kind": "bed", "shape": {"area": "3 m2"}}], []).places[0]
    assert dataclasses.replace(place, **{field: object()}).sort != place.sort
