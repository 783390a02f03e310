"""The one description of the site file: every key's example reads in its own place, and explain finds it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

import pytest
from click.testing import CliRunner

from barrowful.cli.main import exit_code
from barrowful.measures.problems import Mark, Problem
from barrowful.site.load import load
from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.kinds import Flag, Kind
from barrowful.sitefile.language.lists import ListOf, Named
from barrowful.sitefile.language.names import MaterialName
from barrowful.sitefile.language.quantity import Quantitative
from barrowful.sitefile.products.outline import find, inner, lines
from barrowful.sitefile.products.starter import starter
from barrowful.sitefile.text.nodes import Scalar

#: Lines the examples speak of, so that each is tried among what it names.
AROUND = {
    "measures": "{barrow: 80 L, bucket: 12 L}",
    "soil": "{organic_matter: 1.8 %, bulk_density: 1.35 g/cm3, ph: 5.8}",
}
PLACES = {
    "long beds": "{name: long beds, kind: bed, shape: {area: 20 m2}, soil: {organic_matter: 1.8 %, ph: 5.8},"
    " needs: [{raise: {organic_matter: 4 %, depth: 15 cm}}, {dress: {depth: 1 cm}}]}",
    "young plums": "{name: young plums, kind: tree, shape: {ring: {radius: 90 cm}}, count: 11,"
    " soil: {organic_matter: 1.8 %}, needs: [{raise: {organic_matter: 4 %, depth: 15 cm}}]}",
    "old pears": "{name: old pears, kind: tree, shape: {ring: {radius: 2 m}}}",
}
WAYS = {
    "yard compost": "{name: yard compost, buy: {material: green compost, price: 46 EUR/m3}}",
    "tree crew chip": "{name: tree crew chip, buy: {material: arborist chip, price: 9 EUR/m3}}",
    "hot heap": "{name: hot heap, make: {bay: 1 m3, from: [{material: autumn leaves, volume: 300 L}]}}",
}
#: Where a key needs company that no single group can ask for: path -> (any of these will do, else this).
COMPANY = {
    "ways.NAME.make.from.N": [({"mass", "volume", "amount", "weekly", "way"}, "weekly: 25 kg")],
    "ways.NAME.grow.sample": [({"fresh", "dry"}, "fresh: 2.1 kg")],
    "history.N": [
        ({"amount", "depth"}, "amount: 18 barrow"),
        ({"way", "material", "job"}, "material: arborist chip"),
    ],
}
#: Where a key goes only with another value of its neighbour than the neighbour's example, or says nothing
#: without one that need not stand.
BESIDE = {
    "ways.NAME.grow.fixed_share": {"plant": "white clover"},
    "ways.NAME.buy.load": {"price": "60 EUR/load"},
    "ways.NAME.make.from.N.months": {"weekly": "25 kg"},
    "places.NAME.shape": {"count": "3"},
    "places.NAME.needs.feed.trunk": {"for": "apple"},
    "places.NAME.needs.feed.age": {"for": "citrus"},
    "places.NAME.needs.feed.crop": {"for": "tomato"},
    "history.N.temperature": {"way": "hot heap"},
    "materials.NAME.basis": {"nitrogen": "0.7 %", "moisture": "50 %"},
}

#: Another text for a key than its example, where there is no other number to put into it.
OTHER = {
    "currency": "GBP",
    "hemisphere": "south",
    "climate.last_frost": "05-20",
    "climate.first_frost": "11-25",
    "soil.phosphorus_test": "high",
    "soil.managed": "bare",
    "places.NAME.kind": "row",
    "places.NAME.soil.phosphorus_test": "high",
    "places.NAME.soil.managed": "bare",
    "places.NAME.ways": "[tree crew chip]",
    "places.NAME.needs.feed.for": "kale",
    "places.NAME.limits": "{depth_per_year: 1 cm}",
    "places.NAME.limits.lift": "[cover_depth]",
    "limits.lift": "[cover_depth]",
    "ways.NAME.buy.drop": "road",
    "ways.NAME.grow.plant": "white clover",
    "ways.NAME.grow.around": "old pears",
    "ways.NAME.grow.grows_on": "young plums",
    "ways.NAME.make.from.N.way": "yard compost",
    "materials.NAME.like": "hay",
    "materials.NAME.class": "manure",
    "materials.NAME.flags": "[coffee]",
    "materials.NAME.basis": "as received",
    "plan.N.place": "young plums",
    "plan.N.need": "dress",
    "plan.N.way": "tree crew chip",
    "history.N.place": "old pears",
    "history.N.way": "yard compost",
}
#: Keys of the file whose example is an empty list; what stands in it is tried key by key.
EMPTY = {"places", "ways", "plan", "history"}


class Step(NamedTuple):
    """A key on the way from the top of the file: where its group stands, the group and the field."""

    where: str
    group: Group
    field: Field


def chains(group: Group = SITE, where: str = "", above: tuple[Step, ...] = ()) -> Iterator[tuple[Step, ...]]:
    """Yield the way from the top of the file to every key."""
    for field in group.fields:
        chain = (*above, Step(where, group, field))
        yield chain
        below, between = inner(field.kind)
        if below is not None:
            here = f"{where}.{field.key}" if where else field.key
            yield from chains(below, here + between, chain)


CHAINS = {".".join(filter(None, (chain[-1].where, chain[-1].field.key))): chain for chain in chains()}
MEASURES = {path: chain for path, chain in CHAINS.items() if isinstance(chain[-1].field.kind, Quantitative)}


def entries(step: Step, text: str) -> dict[str, str]:
    """Return the keys of a group: the one tried, with what the group cannot be without."""
    found = {step.field.key: text}
    examples = {field.key: field.example for field in step.group.fields}
    for field in step.group.fields:
        if field.required and field.key not in found:
            found[field.key] = "tested" if field.key == "name" else field.example
    found |= BESIDE.get(f"{step.where}.{step.field.key}", {})
    for keys in (*step.group.one_of, *([step.group.some_of] if step.group.some_of else [])):
        if not found.keys() & set(keys):
            found[keys[0]] = examples[keys[0]]
    for enough, company in COMPANY.get(step.where, ()):
        if not found.keys() & enough:
            key, _, value = company.partition(": ")
            found[key] = value
    return found


def wrapped(kind: Kind, text: str) -> str:
    """Return a group's text inside the list or the names it stands in."""
    if isinstance(kind, ListOf):
        return f"[{wrapped(kind.kind, text)}]"
    return f"{{green compost: {text}}}" if isinstance(kind, Named) else text


def document(chain: tuple[Step, ...], text: str) -> str:
    """Return a whole site file that gives the last key of a chain the text, and only what else must stand."""
    for step in reversed(chain[1:]):
        inside = "{" + ", ".join(f"{key}: {value}" for key, value in entries(step, text).items()) + "}"
        above = chain[chain.index(step) - 1].field.kind
        text = wrapped(above, inside)
    top = chain[0].field.key
    found = {"site": "Heron Field", "currency": "EUR", "start": "2027-03-01", **AROUND}
    for key, known in (("places", PLACES), ("ways", WAYS)):
        mine = text[1:-1] if key == top else ""
        others = [one for name, one in known.items() if f"{{name: {name}," not in mine]
        found[key] = "[" + ", ".join([*others, *([mine] if mine else [])]) + "]"
    if top not in ("places", "ways"):
        found[top] = text
    return "".join(f"{key}: {value}\n" for key, value in found.items())


@pytest.mark.parametrize("path", CHAINS)
def test_every_example_reads_in_its_place(
    path: str, problems_of: Callable[[str], tuple[Problem, ...]]
) -> None:
    """What the manual and the messages show as an example of a key can be typed there as it stands."""
    chain = CHAINS[path]
    text = document(chain, chain[-1].field.example)
    assert [str(one) for one in problems_of(text)] == [], text


def other(path: str, field: Field) -> str:
    """Return a text for a key that says something else than its example."""
    text, kind = field.example, field.kind
    if path in OTHER:
        return OTHER[path]
    if isinstance(kind, Flag):
        return {"true": "false", "false": "true"}[text]
    if isinstance(kind, MaterialName):
        return "hay"
    if re.search("[0-9]", text):
        return re.sub("[0-9]+", lambda digits: f"{int(digits[0]) + 1:0{len(digits[0])}}", text, count=1)
    return f"{text} too"


@pytest.mark.parametrize("path", [path for path in CHAINS if path not in EMPTY])
def test_every_key_reaches_the_site(path: str) -> None:
    """A key with another text makes another site: none is read and then left lying."""
    chain = CHAINS[path]
    texts = [document(chain, text) for text in (chain[-1].field.example, other(path, chain[-1].field))]
    if path == "currency":
        texts[1] = texts[1].replace("EUR", "GBP")
    sites = [load(text.encode(), "field.yaml").site for text in texts]
    assert sites[0] != sites[1], texts


@pytest.mark.parametrize("path", MEASURES)
def test_a_range_reads_wherever_a_measure_does(
    path: str, problems_of: Callable[[str], tuple[Problem, ...]]
) -> None:
    """Low, likely and high are taken in the place of any one measure."""
    chain = MEASURES[path]
    example = chain[-1].field.example
    text = document(chain, f"{{low: {example}, likely: {example}, high: {example}}}")
    assert [str(one) for one in problems_of(text)] == [], text


@pytest.mark.parametrize("path", [path for path, chain in CHAINS.items() if chain[-1].field.default])
def test_every_default_reads(path: str, problems_of: Callable[[str], tuple[Problem, ...]]) -> None:
    """A default could have been typed."""
    chain = CHAINS[path]
    assert [str(one) for one in problems_of(document(chain, chain[-1].field.default))] == []


#: One value of each physical dimension; names that share a dimension stand together.
VALUES = {
    ("length", "water depth"): "9 m",
    ("area",): "12 m2",
    ("volume",): "2 m3",
    ("mass",): "25 kg",
    ("density",): "640 kg/m3",
    ("dose", "feed"): "3 kg/m2",
    ("share", "ratio", "count"): "4 %",
    ("time", "hours"): "5 weeks",
    ("rate",): "0.35 /year",
    ("temperature",): "12.5 degC",
}


@pytest.mark.parametrize("path", MEASURES)
def test_a_value_of_another_dimension_is_never_a_number(path: str) -> None:
    """Whatever else is measured, put in this key, is a problem that shows what was meant."""
    kind = MEASURES[path][-1].field.kind
    assert isinstance(kind, Quantitative)
    tried = 0
    for names, text in {**VALUES, ("",): "7"}.items():
        if not set(names) & set(kind.dimensions):
            context = ReadContext("field.yaml")
            assert kind.read(Scalar(text, Mark(1, 1)), context, path) is None
            (one,) = context.problems
            assert one.code == ("bare-number" if names == ("",) else "wrong-dimension")
            assert "write one such as" in one.message
            tried += 1
    assert tried >= 8


def test_outline_and_description_name_the_same_keys() -> None:
    """The flat outline lists each key of the description once."""
    assert sorted(line.path for line in lines()) == sorted(CHAINS)


@pytest.mark.parametrize("path", CHAINS)
def test_every_key_is_described(path: str) -> None:
    """Each key has a sentence and an example; explain finds it by its path, one like it by its last word."""
    field = CHAINS[path][-1].field
    assert field.help.strip().endswith((".", "?"))
    assert field.example
    assert [line.path for line in find(path)] == [path]
    assert field.key in [line.field.key for line in find(field.key)]


def test_explain_finds_a_key_by_the_growers_own_names() -> None:
    """A path as the messages give it, with names of places and ways in it, is found too."""
    for word, path in {
        "places.young plums.count": "places.NAME.count",
        "ways.tree crew chip.buy.price": "ways.NAME.buy.price",
        "places.long beds.needs.raise.depth": "places.NAME.needs.raise.depth",
        "history.3.amount": "history.N.amount",
        "materials.green compost.density": "materials.NAME.density",
    }.items():
        assert [line.path for line in find(word)] == [path]


def test_explain_answers_for_every_key() -> None:
    """The command lists every key with its meaning and example, and explains one by its path."""
    with CliRunner().isolation() as (out, _, _mixed):
        assert exit_code(["explain", "--format", "json"]) == 0
        rows = json.loads(out.getvalue())["tables"][0]["rows"]
    assert [row["key"] for row in rows] == list(CHAINS)
    assert all(row["meaning"] and row["kind"] and row["example"] for row in rows)
    for path in ("places.NAME.shape.ring.collar", "ways.NAME.buy.price", "history.N.cash"):
        with CliRunner().isolation() as (out, _, _mixed):
            assert exit_code(["explain", path]) == 0
            said = out.getvalue().decode()
        assert said.startswith(path)
        assert CHAINS[path][-1].field.example in said


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("limits.cash", "to the end of the horizon"),
        ("limits.hours", "to the end of the horizon"),
        ("places.NAME.priority", "places of a kind of need"),
        ("places.NAME.limits", "good practice"),
        ("limits", "your own (cash, hours, by) on all together"),
    ],
)
def test_what_a_limit_reaches_over_is_said(path: str, words: str) -> None:
    """Money and hours are of the whole horizon, what is the grower's own is not a place's, and who is first."""
    assert words in CHAINS[path][-1].field.help


def test_the_starter_is_sound(problems_of: Callable[[str], tuple[Problem, ...]]) -> None:
    """The starter loads as it is written, and each key it shows behind a # is a key."""
    text = starter()
    assert problems_of(text) == ()
    known = {chain[-1].field.key for chain in CHAINS.values()}
    shown = [
        line.strip("# ").partition(":")[0] for line in text.splitlines() if line.lstrip().startswith("# ")
    ]
    keys = [word for word in shown if word.isidentifier()]
    assert len(keys) > 20
    assert set(keys) <= known
