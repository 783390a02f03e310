"""The JSON Schema for editors: valid, in step with the reader, and no stricter than it."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator

from barrowful.measures.problems import Problem
from barrowful.sitefile.products.schema import schema, text
from barrowful.sitefile.products.starter import starter

Load = Callable[[str], tuple[Problem, ...]]
Editor = Callable[[str], Any]

SITE = """\
site: Field
currency: EUR
start: 2027-03-01
horizon: 4 years
climate: {annual_mean: 12 degC}
soil: {organic_matter: 2 %, phosphorus_test: low}
measures: {barrow: 80 L}
labour: {push: 40 m}
places:
  - name: beds
    kind: bed
    shape: {rectangle: [9 m, 1.2 m]}
    count: 4
    needs: [{cover: {depth: 8 cm, dug: false}}]
ways:
  - name: yard
    buy: {material: green compost, price: 46 EUR/m3, lead: 2 weeks, delivery: 55 EUR, drop: yard}
  - name: heap
    make: {bays: 2, bay: 1 m3, target_cn: 30, from: [{material: hay, weekly: 9 kg, months: [4, 5]}]}
  - name: patch
    grow: {plant: comfrey, start_with: 20, area: 14 m2}
materials: {stuff: {like: straw, density: 60 kg/m3}}
limits: {cash: 400 EUR}
"""

REFUSED = {
    "key unknown at the top": ("labour:", "labor:"),
    "key unknown below": ("push:", "pusch:"),
    "key unknown in a need": ("depth:", "deep:"),
    "site missing": ("site: Field\n", ""),
    "places missing": (SITE[SITE.index("places:") : SITE.index("ways:")], ""),
    "name missing": ("  - name: beds\n    kind: bed", "  - kind: bed"),
    "shape missing": ("    shape: {rectangle: [9 m, 1.2 m]}\n", ""),
    "material missing": ("material: green compost, ", ""),
    "kind unknown": ("kind: bed", "kind: border"),
    "word unknown": ("drop: yard", "drop: garden"),
    "switch in a word": ("dug: false", "dug: maybe"),
    "bare length": ("depth: 8 cm", "depth: 8"),
    "bare side": ("[9 m, 1.2 m]", "[9, 1.2 m]"),
    "bare temperature": ("12 degC", "12"),
    "bare time": ("2 weeks", "2"),
    "bare money": ("55 EUR", "55"),
    "time by the hour": ("2 weeks", "48 hours"),
    "length in words": ("8 cm", "deep"),
    "decimal comma in a length": ("depth: 8 cm", "depth: '8,5 cm'"),
    "decimal comma in money": ("price: 46 EUR/m3", "price: '46,5 EUR/m3'"),
    "day the other way round": ("2027-03-01", "1.3.2027"),
    "currency in small letters": ("currency: EUR", "currency: eur"),
    "money before the number": ("46 EUR/m3", "EUR 46/m3"),
    "price for nothing": ("46 EUR/m3", "46 EUR"),
    "delivery by the metre": ("55 EUR,", "55 EUR/m,"),
    "half a bed": ("count: 4", "count: 4.5"),
    "no bed": ("count: 4", "count: 0"),
    "count in words": ("count: 4", "count: four"),
    "C:N out of bounds": ("target_cn: 30", "target_cn: 300"),
    "month thirteen": ("[4, 5]", "[4, 13]"),
    "no months": ("[4, 5]", "[]"),
    "one side": ("[9 m, 1.2 m]", "[9 m]"),
    "three sides": ("[9 m, 1.2 m]", "[9 m, 1.2 m, 3 m]"),
    "two shapes": ("{rectangle: [9 m, 1.2 m]}", "{rectangle: [9 m, 1.2 m], area: 9 m2}"),
    "no shape": ("{rectangle: [9 m, 1.2 m]}", "{}"),
    "two needs in one": ("depth: 8 cm, dug: false}}", "depth: 8 cm}, fill: {depth: 8 cm}}"),
    "an empty need": ("{cover: {depth: 8 cm, dug: false}}", "{cover: {}}"),
    "two kinds of way": ("    grow:", "    have: {material: hay, amount: 1 m3}\n    grow:"),
    "no kind of way": ("    grow: {plant: comfrey, start_with: 20, area: 14 m2}\n", ""),
    "no land": (", start_with: 20, area: 14 m2", ""),
    "half a range": ("8 cm", "{low: 7 cm, likely: 8 cm}"),
    "a list for a value": ("8 cm", "[8 cm]"),
    "a value for a list": ("[{cover: {depth: 8 cm, dug: false}}]", "cover"),
    "a section for a value": ("name: beds", "name: {a: b}"),
    "a name of nothing": ("site: Field", "site: ''"),
    "a name too long": ("site: Field", "site: " + "x" * 81),
    "heap of nothing": ("from: [{material: hay, weekly: 9 kg, months: [4, 5]}]", "from: []"),
    "ingredient of two sorts": ("{material: hay, weekly", "{material: hay, way: yard, weekly"),
}

TAKEN = {
    "as it stands": ("", ""),
    "a range": ("8 cm", "{low: 7 cm, likely: 8 cm, high: 9 cm}"),
    "a quoted measure": ("8 cm", "'8 cm'"),
    "a measure without its zero": ("8 cm", ".5 ft"),
    "an exponent": ("8 cm", "8e1 mm"),
    "a plus": ("count: 4", "count: +4"),
    "no space": ("8 cm", "8cm"),
    "price by the grower's own measure": ("46 EUR/m3", "3 EUR/barrow"),
    "price with spaces": ("46 EUR/m3", "46 EUR / m3"),
    "one week": ("2 weeks", "1 week"),
    "half a year": ("2 weeks", "0.5 year"),
    "yes": ("dug: false", "dug: yes"),
    "no": ("dug: false", "dug: no"),
    "a name in digits": ("name: beds", "name: 2027"),
    "a site in digits": ("site: Field", "site: 47"),
    "own measure of a length": ("barrow: 80 L", "barrow: 80 L, pace: 75 cm"),
}


@pytest.fixture(scope="module")
def validator() -> Draft7Validator:
    """Give a validator for the schema."""
    return Draft7Validator(schema())


def test_the_schema_is_draft_07() -> None:
    """The schema says that it is draft-07, and is."""
    Draft7Validator.check_schema(schema())
    assert schema()["$schema"] == "http://json-schema.org/draft-07/schema#"
    assert json.loads(text()) == schema()


def test_the_demo_files_and_the_starter_fit(
    validator: Draft7Validator, as_editor: Editor, demos: dict[str, str]
) -> None:
    """An editor marks nothing in the files that come with the tool."""
    assert len(demos) >= 2
    for sound in (*demos.values(), starter()):
        errors = [f"{list(one.path)}: {one.message}" for one in validator.iter_errors(as_editor(sound))]
        assert errors == []


@pytest.mark.parametrize(("old", "new"), REFUSED.values(), ids=REFUSED)
def test_what_the_schema_refuses_the_reader_refuses(
    old: str, new: str, validator: Draft7Validator, as_editor: Editor, problems_of: Load
) -> None:
    """One change that spoils the file is seen by the editor and by the tool."""
    assert SITE.count(old) >= 1
    spoilt = SITE.replace(old, new, 1)
    assert problems_of(spoilt)
    assert not validator.is_valid(as_editor(spoilt))


@pytest.mark.parametrize(("old", "new"), TAKEN.values(), ids=TAKEN)
def test_what_the_reader_takes_the_schema_takes(
    old: str, new: str, validator: Draft7Validator, as_editor: Editor, problems_of: Load
) -> None:
    """An editor marks nothing that the tool would read without complaint."""
    assert old in SITE
    changed = SITE.replace(old, new, 1)
    assert problems_of(changed) == ()
    assert [one.message[:100] for one in validator.iter_errors(as_editor(changed))] == []


def test_every_key_has_words_for_an_editor() -> None:
    """Each property of each section carries its sentence."""

    bare: list[str] = []

    def walk(node: dict[str, Any], path: str) -> None:
        for key, one in node.get("properties", {}).items():
            words = one.get("description", "").strip()
            if not words.endswith((".", "?")):
                bare.append(f"{path}.{key}")
            walk(one, f"{path}.{key}")
            walk(one.get("items", {}), f"{path}.{key}")
            named = one.get("additionalProperties")
            walk(named if isinstance(named, dict) else {}, f"{path}.NAME")

    walk({"properties": schema()["properties"]}, "")
    assert len(schema()["properties"]) > 10
    assert bare == []


def test_every_key_has_a_title_and_an_example_that_fits() -> None:
    """Examples and defaults are what the schema itself takes, and materials, plants and crops are suggested."""
    whole = schema()
    shown = [node for node in nodes(whole) if "examples" in node]
    assert len(shown) > 150
    for node in shown:
        validator = Draft7Validator({**node, "definitions": whole["definitions"]})
        assert node["title"]
        for value in [*node["examples"], *([node["default"]] if "default" in node else [])]:
            assert validator.is_valid(value), (node["title"], value)
    suggested = {word for node in nodes(whole) for word in node.get("enum", ())}
    assert {"green compost", "comfrey", "cabbage", "EUR"} <= suggested


def nodes(node: Any) -> list[dict[str, Any]]:
    """Return every object in a piece of JSON."""
    inner = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    below = [each for value in inner for each in nodes(value)]
    return [node, *below] if isinstance(node, dict) else below


def test_the_written_schema_is_the_schema() -> None:
    """The copy in the documentation is up to date."""
    copy = Path(__file__).parents[2] / "docs" / "site.schema.json"
    assert json.loads(copy.read_text(encoding="utf-8")) == schema()
