"""One thing wrong in a sound file: which problem is told, on which line, and in which words."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import pytest

from barrowful.measures.problems import Problem

SOUND = """\
site: Bad Field
currency: EUR
start: 2027-03-01
climate: {annual_mean: 12 degC}
soil: {organic_matter: 2 %, bulk_density: 1.3 g/cm3}
measures: {barrow: 80 L}
places:
  - name: beds
    kind: bed
    shape: {rectangle: [9 m, 1.2 m]}
    count: 2
    needs:
      - cover: {depth: 8 cm}
      - feed: {nitrogen: 12 g/m2}
ways:
  - name: yard
    buy: {material: green compost, price: 46 EUR/m3}
  - name: heap
    make: {bay: 1 m3, from: [{material: straw, volume: 300 L}, {material: hay, weekly: 9 kg}]}
  - name: patch
    grow: {plant: comfrey, area: 10 m2}
materials:
  leafy stuff: {like: autumn leaves, moisture: 40 %}
history:
  - {date: 2026-11-20, place: beds, material: straw, amount: 3 m3}
plan:
  - {place: beds, need: cover, way: yard}
"""


class Bad(NamedTuple):
    """A line of the sound file replaced, and what has to be said of it."""

    name: str
    line: int
    new: str
    code: str
    says: str
    at: int = 0


BAD = [
    # Keys.
    Bad(
        "misspelt key",
        13,
        "      - cover: {depth: 8 cm, depht: 8 cm}",
        "unknown-key",
        'did you mean "depth"?',
    ),
    Bad("misspelt top key", 6, "mesures: {barrow: 80 L}", "unknown-key", 'did you mean "measures"?'),
    Bad("misspelt need", 13, "      - covr: {depth: 8 cm}", "unknown-key", 'did you mean "cover"?'),
    Bad("number for a key", 9, "    kind: bed\n    1: 2", "unknown-key", '"1" is not a key here', 10),
    Bad("key like no other", 9, "    kind: bed\n    zzz: 1", "unknown-key", '"zzz" is not a key here', 10),
    Bad(
        "key of other sections",
        13,
        "      - cover: {depth: 8 cm, by: 2027-05-01}",
        "unknown-key",
        '"by" is not a key here; it is one under "needs.raise" and under the site\'s "limits"',
    ),
    Bad(
        "key of the top", 9, "    kind: bed\n    horizon: 1 year", "unknown-key", "at the top of the file", 10
    ),
    Bad(
        "a key that is a switch",
        13,
        "      - cover: {depth: 8 cm, on: 1}",
        "unknown-key",
        '"on" is not a key',
    ),
    Bad("key missing", 9, "    # kind: bed", "missing-key", '"kind" is missing', 8),
    Bad("key given twice", 11, "    count: 2\n    count: 3", "duplicate-key", "on line 11", 12),
    Bad(
        "key twice in braces", 13, "      - cover: {depth: 8 cm, depth: 9 cm}", "duplicate-key", "on line 13"
    ),
    Bad("a list as a key", 21, "    [grow]: {plant: comfrey}", "key-not-text", "a key must be a word"),
    # What YAML offers and a site file does not.
    Bad("anchor on a value", 8, "  - name: &a beds", "anchor", "not allowed"),
    Bad("anchor on a section", 10, "    shape: &s {rectangle: [9 m, 1.2 m]}", "anchor", "not allowed"),
    Bad("alias", 9, "    kind: *a", "alias", "repeat the value"),
    Bad("merge key", 10, "    <<: {kind: bed}\n    shape: {area: 9 m2}", "merge-key", "repeat the lines"),
    Bad("tag", 13, "      - cover: !big {depth: 8 cm}", "tag", "leave it out"),
    Bad("tag of a number", 11, "    count: !!int 2", "tag", "leave it out"),
    Bad("tag of Python", 11, "    count: !!python/object/apply:os.system [ls]", "tag", "leave it out"),
    Bad("second document", 7, "---\nplaces:", "two-documents", "keep one"),
    Bad("tab to indent", 13, "\t- cover: {depth: 8 cm}", "not-yaml", "tab"),
    Bad("tab before a key of an item", 9, "\tkind: bed", "not-yaml", "tab"),
    Bad("tab after the dash", 13, "      -\tcover: {depth: 8 cm}", "not-yaml", "tab"),
    Bad("unquoted at sign", 8, "  - name: @beds", "not-yaml", "quotes"),
    Bad("unquoted backtick", 8, "  - name: `beds`", "not-yaml", "quotes"),
    Bad("two colons", 9, "    kind: bed: tree", "not-yaml", 'second ":"'),
    Bad("indentation off", 10, "   shape: {rectangle: [9 m, 1.2 m]}", "not-yaml", "list item"),
    Bad("unclosed quote", 27, "  - {place: 'beds, need: cover, way: yard}", "not-yaml", "not closed"),
    Bad("unclosed brace", 27, "  - {place: beds, need: cover, way: yard", "not-yaml", "not closed"),
    # Letters nobody sees.
    Bad("bell in a name", 8, "  - name: be\x07ds", "control-character", "U+0007"),
    Bad("escape in a name", 8, "  - name: be\x1b[31mds", "control-character", "U+001B"),
    Bad("control sequence in a name", 8, "  - name: be\x9b31mds", "control-character", "U+009B"),
    Bad("zero byte", 8, "  - name: be\x00ds", "control-character", "U+0000"),
    Bad("override of direction", 8, "  - name: be\u202eds", "control-character", "U+202E"),
    Bad("isolate of direction", 8, "  - name: be\u2066ds", "control-character", "U+2066"),
    Bad("mark of direction", 8, "  - name: be\u200fds", "control-character", "U+200F"),
    # Numbers and units.
    Bad("bare number", 13, "      - cover: {depth: 8}", "bare-number", '"9 m"'),
    Bad("number bare in a list", 10, "    shape: {rectangle: [9, 1.2 m]}", "bare-number", "has no unit"),
    Bad("decimal comma", 13, "      - cover:\n          depth: 8,5 cm", "decimal-comma", "decimal point", 14),
    Bad(
        "comma for thousands in braces",
        17,
        "    buy: {material: green compost, price: 1,234.50 EUR/m3}",
        "decimal-comma",
        'a comma starts a new key before "234.50 EUR/m3"',
    ),
    Bad("a number for a key", 1, "1: 2\nsite: x", "unknown-key", '"1" is not a key here'),
    Bad("a number for a key of nothing", 1, "1:\nsite: x", "unknown-key", '"1" is not a key here'),
    Bad("a tab in a list item", 8, "  - name: beds\n\tkind: bed", "not-yaml", "starts with a tab", 9),
    Bad("comma for thousands", 13, '      - cover: {depth: "1,000 mm"}', "decimal-comma", "comma"),
    Bad("comma that parts", 10, "    shape: {rectangle: [9 m, 1,2 m]}", "wrong-number", "write 1.5, not 1,5"),
    Bad("spaced thousands", 13, "      - cover: {depth: 1 000 mm}", "spaced-number", "space inside"),
    Bad("feet and inches", 13, "      - cover: {depth: 4 ft 6 in}", "compound", "one number and one unit"),
    Bad("marks for feet", 13, "      - cover: {depth: \"4' 6''\"}", "compound", "one number and one unit"),
    Bad("power in a measure", 6, "measures: {barrow: 9**9**9 L}", "unknown-unit", "missing"),
    Bad("power in a value", 13, "      - cover: {depth: 9**9**9 L}", "unknown-unit", "missing"),
    Bad("product in a value", 13, "      - cover: {depth: 9*9*9 cm}", "unknown-unit", "missing"),
    Bad("a call in a value", 13, "      - cover: {depth: 9 __import__('os')}", "unknown-unit", "not a unit"),
    Bad("statements in a value", 13, '      - cover: {depth: "3 m; 4"}', "unknown-unit", "not a unit"),
    Bad("unit unknown", 13, "      - cover: {depth: 8 cms}", "unknown-unit", 'did you mean "cm"?'),
    Bad(
        "unit of another kind",
        13,
        "      - cover: {depth: 8 kg}",
        "wrong-dimension",
        '"8 kg" is not a length',
    ),
    Bad("area for a length", 10, "    shape: {rectangle: [9 m2, 1 m]}", "wrong-dimension", "is not a length"),
    Bad("length for an area", 10, "    shape: {area: 9 m}", "wrong-dimension", '"9 m" is not'),
    Bad("area for a measure", 6, "measures: {barrow: 80 m2}", "wrong-dimension", '"80 m2"'),
    Bad(
        "which ton", 5, "soil: {organic_matter: 2 %, bulk_density: 1 ton/m3}", "ambiguous-unit", '"short_ton"'
    ),
    Bad("degrees of what", 4, "climate: {annual_mean: 12 C}", "ambiguous-unit", '"degC"'),
    Bad(
        "bucket of what size",
        25,
        "  - {date: 2026-11-20, place: beds, material: straw, amount: 3 bucket}",
        "ambiguous-unit",
        '"measures:"',
    ),
    Bad("kelvin", 4, "climate: {annual_mean: 285 kelvin}", "unknown-unit", "not a unit"),
    Bad("infinity", 13, "      - cover: {depth: .inf}", "not-a-number", ".inf"),
    Bad("not a number", 13, "      - cover: {depth: .nan m}", "not-a-number", ".nan"),
    Bad("beyond all size", 13, "      - cover: {depth: 1e400 m}", "not-finite", "too large"),
    Bad("below all size", 13, "      - cover: {depth: 8 cm, keep: 1e-999 %}", "not-finite", "too small"),
    Bad(
        "a price below all size",
        17,
        "    buy: {material: green compost, price: 1e-999 EUR/m3}",
        "not-finite",
        "too small",
    ),
    Bad("leading zero", 13, "      - cover: {depth: 010 cm}", "leading-zero", "leave the zero out"),
    Bad("hexadecimal", 13, "      - cover: {depth: 0x1F cm}", "unknown-unit", "not a unit"),
    Bad("underscores", 13, "      - cover: {depth: 1_000 mm}", "unknown-unit", "not a unit"),
    Bad("digits of another script", 13, "      - cover: {depth: \u0663 cm}", "not-a-number", "plain number"),
    Bad("too many digits", 13, "      - cover: {depth: 1234567890123456 um}", "too-many-digits", "15 digits"),
    Bad("sixty to the hour", 13, "      - cover: {depth: 1:30}", "unknown-unit", "not a unit"),
    Bad("less than nothing", 13, "      - cover: {depth: -8 cm}", "out-of-range", "more than nothing"),
    Bad("next to nothing", 10, "    shape: {area: 1e-12 m2}", "out-of-range", "is too small"),
    Bad("nothing at all", 13, "      - cover: {depth: 0 cm}", "out-of-range", "more than nothing"),
    Bad("over a hundred", 13, "      - cover: {depth: 8 cm, keep: 160 %}", "out-of-range", "100 %"),
    # Counts, switches, words, days.
    Bad("half a bed", 11, "    count: 2.5", "not-whole", "whole number"),
    Bad("no bed", 11, "    count: 0", "out-of-range", "from 1"),
    Bad("count in words", 11, "    count: two", "not-a-number", '"two"'),
    Bad("count with a unit", 11, "    count: 2 beds", "not-a-number", '"2 beds"'),
    Bad("count in eights", 11, "    count: 010", "leading-zero", "leave the zero out"),
    Bad("count without end", 11, "    count: .inf", "not-a-number", ".inf"),
    Bad("switch by another word", 13, "      - cover: {depth: 8 cm, dug: on}", "not-yes-no", "true or false"),
    Bad("kind unknown", 9, "    kind: bedd", "unknown-word", 'did you mean "bed"?'),
    Bad("word missing", 1, "site: ''", "empty-text", "missing"),
    Bad("word too long", 1, "site: " + "x" * 81, "too-long", "80"),
    Bad("day that is none", 3, "start: 2027-02-30", "not-a-date", "not a day of the calendar"),
    Bad("day the other way round", 3, "start: 1.3.2027", "not-a-date", "2027-03-01"),
    Bad("day with an hour", 3, "start: 2027-03-01 08:00", "not-a-date", "2027-03-01"),
    Bad("day of long ago", 3, "start: 0001-01-01", "out-of-range", "1900"),
    Bad("frost that is none", 4, "climate: {annual_mean: 12 degC, last_frost: 02-30}", "not-a-date", "10-25"),
    Bad(
        "frost in words",
        4,
        "climate: {annual_mean: 12 degC, first_frost: 20 Oct}",
        "not-a-date",
        "write 10-20",
    ),
    Bad(
        "eleven months", 4, f"climate: {{monthly_mean: [{', '.join(['9 degC'] * 11)}]}}", "wrong-number", "12"
    ),
    # Ranges.
    Bad(
        "low over likely",
        13,
        "      - cover: {depth: {low: 9 cm, likely: 8 cm, high: 9 cm}}",
        "not-a-range",
        "out of order",
    ),
    Bad(
        "high below likely",
        13,
        "      - cover: {depth: {low: 7 cm, likely: 8 cm, high: 79 mm}}",
        "not-a-range",
        "out of order",
    ),
    Bad(
        "no high",
        13,
        "      - cover: {depth: {low: 7 cm, likely: 8 cm}}",
        "not-a-range",
        "low, likely and high",
    ),
    Bad(
        "high of another kind",
        13,
        "      - cover: {depth: {low: 7 cm, likely: 8 cm, high: 9 kg}}",
        "wrong-dimension",
        '"9 kg"',
    ),
    # Shapes.
    Bad(
        "collar as wide as the ring",
        10,
        "    shape: {ring: {radius: 15 cm, collar: 15 cm}}",
        "bad-shape",
        "collar",
    ),
    Bad(
        "collar wider than the ring",
        10,
        "    shape: {ring: {diameter: 20 cm, collar: 15 cm}}",
        "bad-shape",
        "collar",
    ),
    Bad(
        "outline that crosses",
        10,
        "    shape: {polygon: [[0 m, 0 m], [2 m, 2 m], [2 m, 0 m], [0 m, 2 m]]}",
        "bad-shape",
        "crosses",
    ),
    Bad(
        "outline of two corners",
        10,
        "    shape: {polygon: [[0 m, 0 m], [2 m, 2 m]]}",
        "wrong-number",
        "at least 3",
    ),
    Bad(
        "outline on a line", 10, "    shape: {polygon: [[0 m, 0 m], [1 m, 0 m], [3 m, 0 m]]}", "bad-shape", ""
    ),
    Bad("sides that cannot meet", 10, "    shape: {triangle: [1 m, 2 m, 9 m]}", "bad-shape", "cannot meet"),
    Bad("flat triangle", 10, "    shape: {triangle: [1 m, 2 m, 3 m]}", "bad-shape", "cannot meet"),
    Bad("two shapes", 10, "    shape: {rectangle: [9 m, 1 m], area: 9 m2}", "one-of", "rectangle and area"),
    Bad("no shape", 10, "    shape: {}", "one-of", "found none"),
    Bad(
        "radius and diameter",
        10,
        "    shape: {circle: {radius: 1 m, diameter: 2 m}}",
        "one-of",
        "radius and diameter",
    ),
    Bad("one side", 10, "    shape: {rectangle: [9 m]}", "wrong-number", "2 expected"),
    Bad("a shape in a word", 10, "    shape: 9 m2", "not-a-section", "expected a section"),
    # Needs.
    Bad("second need of a kind", 14, "      - cover: {depth: 9 cm}", "duplicate-need", 'second "cover"'),
    Bad(
        "two needs in one",
        14,
        "      - {feed: {nitrogen: 9 g/m2}, fill: {depth: 9 cm}}",
        "one-of",
        "feed and fill",
    ),
    Bad("an empty need", 13, "      - cover: {}", "missing-key", "depth"),
    Bad("a need that is a value", 13, "      - cover: 8 cm", "not-a-section", "expected a section"),
    Bad("a list for a value", 13, "      - cover: {depth: [8 cm]}", "not-a-value", "one value"),
    Bad("a value for a list", 11, "    ways: yard", "not-a-list", "expected a list"),
    Bad("a list of nothing", 11, "    ways:", "not-a-list", "nothing is written; write a list"),
    Bad("a section of nothing", 13, "      - cover:", "not-a-section", "nothing is written; write a section"),
    Bad("no crop of that name", 14, "      - feed: {for: cabage}", "unknown-crop", 'did you mean "cabbage"?'),
    Bad("a sort of crop", 14, "      - feed: {for: head cabbage}", "unknown-crop", 'did you mean "cabbage"?'),
    Bad("no potato", 14, "      - feed: {for: sweet potato}", "unknown-crop", "known here. List"),
    Bad("a bean", 14, "      - feed: {for: dwarf bean}", "unknown-crop", 'did you mean "snap bean"?'),
    Bad("a tree without a trunk", 14, "      - feed: {for: apple}", "missing-key", "trunk"),
    # Ways.
    Bad(
        "two kinds of way",
        20,
        "  - name: patch\n    have: {material: straw, amount: 1 m3}",
        "one-of",
        "grow and have",
    ),
    Bad("no kind of way", 21, "    # grow: {plant: comfrey}", "one-of", "found none", 20),
    Bad("second way of a name", 20, "  - name: yard", "duplicate-name", "line 16"),
    Bad(
        "no material of that name",
        17,
        "    buy: {material: green compst, price: 46 EUR/m3}",
        "unknown-material",
        'did you mean "green compost"?',
    ),
    Bad(
        "no plant of that name",
        21,
        "    grow: {plant: comfry, area: 10 m2}",
        "unknown-plant",
        'did you mean "comfrey"?',
    ),
    *(
        Bad(f"way named {word}", 20, f"  - name: {word}", "name", "stands in answers for something else")
        for word in ("your plan", "Your plan", "cheapest for each need", "nothing", "in all")
    ),
    Bad(
        "place named in all",
        8,
        "  - {name: in all, kind: bed, shape: {area: 1 m2}}\n  - name: beds",
        "name",
        "stands in answers for something else",
    ),
    Bad("no land", 21, "    grow: {plant: comfrey}", "missing-key", "at least one of area"),
    Bad("other money", 17, "    buy: {material: green compost, price: 46 USD/m3}", "wrong-currency", "EUR"),
    Bad("no money", 17, "    buy: {material: green compost, price: 46 /m3}", "wrong-currency", "EUR"),
    Bad(
        "money before the number",
        17,
        "    buy: {material: green compost, price: EUR 46/m3}",
        "not-money",
        "46 EUR",
    ),
    Bad(
        "money with a comma",
        17,
        '    buy: {material: green compost, price: "46,50 EUR/m3"}',
        "not-money",
        '"46.50 EUR/m3"',
    ),
    Bad(
        "money by its sign",
        17,
        "    buy: {material: green compost, price: €6.50/bag}",
        "not-money",
        "6.50 EUR/bag",
    ),
    Bad("no money at all", 17, "    buy: {material: green compost, price: free}", "not-money", '"0 EUR/m3"'),
    Bad(
        "money for what", 17, "    buy: {material: green compost, price: 46 EUR}", "not-money", '"46 EUR/bag"'
    ),
    Bad("price for nothing", 17, "    buy: {material: green compost, price: 46 EUR}", "not-money", "EUR/m3"),
    Bad(
        "price by the metre",
        17,
        "    buy: {material: green compost, price: 46 EUR/m}",
        "wrong-dimension",
        "volume",
    ),
    Bad(
        "price by the word for it",
        17,
        "    buy: {material: green compost, price: 46 EUR/volume}",
        "unknown-unit",
        '"volume"',
    ),
    Bad(
        "price below nothing",
        17,
        "    buy: {material: green compost, price: -4 EUR/m3}",
        "out-of-range",
        "less than nothing",
    ),
    Bad(
        "price by a bag of no size",
        17,
        "    buy: {material: green compost, price: 6 EUR/bag}",
        "missing-key",
        'add "bag: 40 L"',
    ),
    Bad(
        "price by a load of no size",
        17,
        "    buy: {material: arborist chip, price: 60 EUR/load}",
        "missing-key",
        'add "load: 10 m3"',
    ),
    Bad("bare time", 17, "    buy: {material: hay, price: 4 EUR/m3, lead: 3}", "bare-number", "5 weeks"),
    Bad(
        "half a day",
        17,
        "    buy: {material: hay, price: 4 EUR/m3, lead: 2.5 days}",
        "not-a-duration",
        "whole days",
    ),
    Bad(
        "lead of ages",
        17,
        "    buy: {material: hay, price: 4 EUR/m3, lead: 101 years}",
        "out-of-range",
        "100 years",
    ),
    Bad(
        "ingredient in two amounts",
        19,
        "    make: {bay: 1 m3, from: [{material: straw, volume: 3 L, mass: 2 kg}]}",
        "one-of",
        "exactly one of mass, volume, amount, weekly",
    ),
    Bad(
        "ingredient in none",
        19,
        "    make: {bay: 1 m3, from: [{material: straw}]}",
        "one-of",
        "exactly one of",
    ),
    Bad(
        "ingredient of two sorts",
        19,
        "    make: {bay: 1 m3, from: [{material: straw, way: yard, weekly: 9 L}]}",
        "one-of",
        "material and way",
    ),
    Bad(
        "ingredient of no way",
        19,
        "    make: {bay: 1 m3, from: [{way: yrd}]}",
        "unknown-way",
        'did you mean "yard"?',
    ),
    Bad("heap of itself", 19, "    make: {bay: 1 m3, from: [{way: heap}]}", "unknown-way", '"heap"'),
    Bad("heap of nothing", 19, "    make: {bay: 1 m3, from: []}", "wrong-number", "at least 1"),
    Bad(
        "month thirteen",
        19,
        "    make: {bay: 1 m3, from: [{material: hay, weekly: 9 L, months: [13]}]}",
        "out-of-range",
        "from 1 to 12",
    ),
    # Places and ways named elsewhere.
    Bad(
        "second place of a name",
        14,
        "  - {name: beds, kind: bed, shape: {area: 1 m2}}",
        "duplicate-name",
        "line 8",
    ),
    Bad("restricted to no way", 11, "    ways: [yard, pach]", "unknown-way", 'did you mean "patch"?'),
    Bad(
        "history of no place",
        25,
        "  - {date: 2026-11-20, place: bedz, material: straw, amount: 3 m3}",
        "unknown-place",
        'did you mean "beds"?',
    ),
    Bad(
        "history of no amount",
        25,
        "  - {date: 2026-11-20, place: beds, material: straw}",
        "one-of",
        "amount and depth",
    ),
    Bad(
        "plan of no place",
        27,
        "  - {place: bedz, need: cover, way: yard}",
        "unknown-place",
        'did you mean "beds"?',
    ),
    Bad(
        "plan of no way",
        27,
        "  - {place: beds, need: cover, way: yrad}",
        "unknown-way",
        'did you mean "yard"?',
    ),
    Bad(
        "plan of a day gone by",
        27,
        "  - {place: beds, need: cover, way: yard, date: 2027-02-28}",
        "before-start",
        "2027-02-28 is before start (2027-03-01)",
    ),
    Bad(
        "all to be ready before the start",
        6,
        "limits: {by: 2027-02-28}",
        "before-start",
        "limits.by: 2027-02-28 is before start (2027-03-01)",
    ),
    *(
        Bad(
            f"{key} limited and lifted, of {where}",
            at,
            f"{room}limits: {{lift: [{name}, suits], {key}: {least}}}",
            "one-of",
            f'limits.lift: {name}: it lifts what "{key}" limits',
        )
        for where, at, room in (("the site", 6, ""), ("a place", 11, "    "))
        for key, name, least in (
            ("depth_per_year", "yearly_depth", "1 cm"),
            ("nitrogen", "nitrogen", "1 g/m2"),
        )
    ),
    Bad("plan of no need", 27, "  - {place: beds, need: raise, way: yard}", "unknown-need", '"raise"'),
    # Materials and measures of the grower's own.
    Bad(
        "like nothing known",
        23,
        "  leafy stuff: {like: autum leaves}",
        "unknown-material",
        'did you mean "autumn leaves"?',
    ),
    Bad(
        "like each other",
        23,
        "  leafy stuff: {like: dark stuff}\n  dark stuff: {like: leafy stuff, moisture: 40 %}",
        "circle",
        'leafy stuff.like: "leafy stuff" is like "dark stuff" is like "leafy stuff", a circle',
    ),
    Bad("like itself", 23, "  leafy stuff: {like: leafy stuff}", "unknown-material", "not in the catalogue"),
    Bad("material of no class", 23, "  leafy stuff: {moisture: 40 %}", "missing-key", '"class: "'),
    Bad(
        "element and oxide",
        23,
        "  leafy stuff: {like: straw, phosphorus: 1 %, phosphate: 2 %}",
        "one-of",
        "not both",
    ),
    Bad(
        "more than there can be",
        23,
        "  leafy stuff: {like: straw, basis: as received, moisture: 90 %, carbon: 40 %}",
        "out-of-range",
        "100 %",
    ),
    Bad("a barrow that is no volume", 6, "measures: {barrow: 80 cm}", "wrong-dimension", "a volume"),
    Bad("name of a unit", 6, "measures: {m: 80 L}", "bad-name", "standard unit"),
    Bad("name that starts with a digit", 6, "measures: {2b: 80 L}", "bad-name", "letters"),
]


def with_line(line: int, new: str) -> str:
    """Return the sound file with one line replaced."""
    lines = SOUND.splitlines()
    lines[line - 1 : line] = new.split("\n")
    return "\n".join(lines) + "\n"


def test_the_file_that_is_spoilt_is_sound(problems_of: Callable[[str], tuple[Problem, ...]]) -> None:
    """Without its one fault the file loads."""
    assert problems_of(SOUND) == ()


@pytest.mark.parametrize("bad", BAD, ids=[bad.name for bad in BAD])
def test_one_fault(
    bad: Bad,
    problems_of: Callable[[str], tuple[Problem, ...]],
    well_formed: Callable[[tuple[Problem, ...], str], None],
) -> None:
    """The fault is named by its code, on its line, in words that help, and nothing else is blamed."""
    text = with_line(bad.line, bad.new)
    problems = problems_of(text)
    told = [str(one) for one in problems]
    fitting = [one for one in problems if one.code == bad.code and bad.says in one.message]
    assert len(fitting) == 1, told
    assert {one.line for one in problems} == {bad.at or bad.line}, told
    well_formed(problems, text)


@pytest.mark.parametrize("where", ["of the site", "of the place"])
def test_raising_from_nowhere(
    where: str,
    problems_of: Callable[[str], tuple[Problem, ...]],
    well_formed: Callable[[tuple[Problem, ...], str], None],
) -> None:
    """Soil organic matter cannot be raised where no soil says what it is now, and the soil may be either."""
    bare = with_line(14, "      - raise: {organic_matter: 4 %, depth: 15 cm}").replace(
        "organic_matter: 2 %, ", ""
    )
    (one,) = problems_of(bare)
    assert (one.code, one.line) == ("missing-key", 14)
    assert '"organic_matter"' in one.message
    well_formed((one,), bare)
    told = {
        "of the site": "soil: {organic_matter: 2 %, ",
        "of the place": "    soil: {organic_matter: 2 %}\n    needs:",
    }
    old = {"of the site": "soil: {", "of the place": "    needs:"}
    assert problems_of(bare.replace(old[where], told[where], 1)) == ()


WHOLE = {
    "nothing": (b"", "empty"),
    "blank lines": (b"\n\n  \n", "empty"),
    "only a comment": (b"# a site\n", "empty"),
    "only a start": (b"---\n", "empty"),
    "a list": (b"- site: x\n", "not-a-section"),
    "a word": (b"site\n", "not-a-section"),
    "an empty section": (b"{}\n", "missing-key"),
    "Latin-1": (SOUND.replace("Bad", "B\xe4d").encode("latin-1"), "not-utf-8"),
    "UTF-16 with a mark": (SOUND.encode("utf-16"), "not-utf-8"),
    "UTF-16 without one": (SOUND.encode("utf-16-le"), "control-character"),
    "UTF-32": (SOUND.encode("utf-32"), "not-utf-8"),
    "half a pair": (b"site: \xed\xa0\x80\n", "not-utf-8"),
    "an overlong slash": (b"site: \xc0\xaf\n", "not-utf-8"),
}


@pytest.mark.parametrize(("data", "code"), WHOLE.values(), ids=WHOLE)
def test_what_is_no_site_file(
    data: bytes,
    code: str,
    problems_of: Callable[[bytes], tuple[Problem, ...]],
    well_formed: Callable[[tuple[Problem, ...], bytes], None],
) -> None:
    """A file that is no site file at all gets a plain refusal."""
    problems = problems_of(data)
    assert {one.code for one in problems} == {code}
    well_formed(problems, data)


def test_the_line_of_a_bad_byte_is_told(problems_of: Callable[[bytes], tuple[Problem, ...]]) -> None:
    """A byte that is not UTF-8 is found on its own line."""
    (one,) = problems_of(with_line(8, "  - name: caf\xe9").encode("latin-1"))
    assert (one.code, one.line) == ("not-utf-8", 8)
    assert "UTF-8" in one.message


def test_a_byte_order_mark_is_taken(problems_of: Callable[[bytes], tuple[Problem, ...]]) -> None:
    """UTF-8 with its mark at the front is as good as without."""
    assert problems_of(b"\xef\xbb\xbf" + SOUND.encode()) == ()


@pytest.mark.parametrize("ending", ["\r\n", "\r"])
def test_any_line_ending_is_taken(ending: str, problems_of: Callable[[bytes], tuple[Problem, ...]]) -> None:
    """Line endings of other systems are read, and lines are counted the same."""
    assert problems_of(SOUND.replace("\n", ending).encode()) == ()
    (one,) = problems_of(with_line(13, "      - cover: {depth: 8}").replace("\n", ending).encode())
    assert (one.code, one.line) == ("bare-number", 13)


def test_unseen_letters_are_found_behind_any_line_ending(
    problems_of: Callable[[bytes], tuple[Problem, ...]],
) -> None:
    """An override of direction is refused in a file with line endings of two letters, too."""
    text = with_line(8, "  - name: be\u202eds").replace("\n", "\r\n")
    assert [(one.code, one.line) for one in problems_of(text.encode())] == [("control-character", 8)]


@pytest.mark.parametrize("escape", [r"\x1b[31m", r"\x07", r"\u202e", r"\u2067", r"\x9b"])
def test_unseen_letters_are_found_behind_an_escape(
    escape: str, problems_of: Callable[[str], tuple[Problem, ...]]
) -> None:
    """A name cannot smuggle in by an escape what it may not hold as it is."""
    problems = problems_of(SOUND.replace("Bad Field", f'"Bad {escape} Field"'))
    assert [one.line for one in problems] == [1]


@pytest.mark.parametrize("name", [r"\x1b]0;x\x07depth", r"de\npth", r"\u202edepth"])
def test_messages_hold_no_unseen_letters(
    name: str,
    problems_of: Callable[[str], tuple[Problem, ...]],
    well_formed: Callable[[tuple[Problem, ...], str], None],
) -> None:
    """A key that is no key is named without what a terminal would obey."""
    text = with_line(13, f'      - cover: {{depth: 8 cm, "{name}": 8 cm}}')
    problems = problems_of(text)
    assert problems
    well_formed(problems, text)


def test_a_letter_yaml_refuses_is_not_called_a_tab(problems_of: Callable[[str], tuple[Problem, ...]]) -> None:
    """A letter that may not stand in YAML is not blamed on indentation, and its line is told."""
    (one,) = problems_of(with_line(8, "  - name: be\ufffeds"))
    assert one.line == 8
    assert "tab" not in one.message
