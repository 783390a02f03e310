"""Several things wrong in one file: all are told at once, in the order of the file, and none is invented."""

from __future__ import annotations

from collections.abc import Callable

from barrowful.measures.problems import Problem

Load = Callable[[str], tuple[Problem, ...]]

HEAD = "site: Bad Field\ncurrency: EUR\nstart: 2027-03-01\n"


def told(problems: tuple[Problem, ...]) -> list[tuple[int, str]]:
    """Return line and code of each problem."""
    return [(one.line, one.code) for one in problems]


def test_all_at_once_in_file_order(problems_of: Load) -> None:
    """Faults of many kinds in many sections come back together, sorted by place."""
    text = (
        "ways:\n"
        "  - name: yard\n"
        "    buy: {price: 46 USD/m3, lead: 3, material: hay}\n"
        "site: Bad Field\n"
        "currency: EUR\n"
        "currency: EUR\n"
        "start: 2027-02-30\n"
        "places:\n"
        "  - {name: beds, kind: bedd, shape: {rectangle: [9 kg, 1.2]}, cuont: 2}\n"
        "  - {name: beds, kind: bed, shape: {}}\n"
        "soil: {clay: 340 %, sand: 3 %}\n"
    )
    assert told(problems_of(text)) == [
        (3, "wrong-currency"),
        (3, "bare-number"),
        (6, "duplicate-key"),
        (7, "not-a-date"),
        (9, "unknown-word"),
        (9, "wrong-dimension"),
        (9, "bare-number"),
        (9, "unknown-key"),
        (10, "duplicate-name"),
        (10, "one-of"),
        (11, "out-of-range"),
        (11, "unknown-key"),
    ]


def test_names_that_lead_nowhere_come_together(problems_of: Load) -> None:
    """Every name that is not in the file or the catalogue is told in one go."""
    text = HEAD + (
        "places:\n"
        "  - {name: beds, kind: bed, shape: {area: 3 m2}, ways: [yrd], needs: [{feed: {for: cabage}}]}\n"
        "ways:\n"
        "  - {name: yard, buy: {material: stras, price: 4 EUR/m3}}\n"
        "  - {name: patch, grow: {plant: comfry, area: 3 m2}}\n"
        "history:\n"
        "  - {date: 2026-01-01, place: bedz, material: stras, amount: 3 m3}\n"
        "plan:\n"
        "  - {place: bedz, need: feed, way: yrd}\n"
    )
    assert told(problems_of(text)) == [
        (5, "unknown-way"),
        (5, "unknown-crop"),
        (7, "unknown-material"),
        (8, "unknown-plant"),
        (10, "unknown-place"),
        (10, "unknown-material"),
        (12, "unknown-place"),
        (12, "unknown-way"),
    ]


def test_a_wrong_value_does_not_hide_a_wrong_name(problems_of: Load) -> None:
    """A bad unit in one line does not keep back an unknown material in another."""
    text = HEAD + (
        "places:\n"
        "  - {name: beds, kind: bed, shape: {area: 3 kg}}\n"
        "ways:\n"
        "  - {name: yard, buy: {material: stras, price: 4 EUR/m3}}\n"
    )
    assert told(problems_of(text)) == [(5, "wrong-dimension"), (7, "unknown-material")]


def test_anchors_aliases_and_tags_come_with_the_rest(problems_of: Load) -> None:
    """What YAML offers and a site file does not is told together with unknown keys and wrong units."""
    text = HEAD + (
        "soil: &one {clay: 3 kg}\n"
        "places:\n"
        "  - {name: !x beds, kind: bed, shape: {area: 3 m2}, soil: *one}\n"
        "plases: []\n"
    )
    assert [one for one in told(problems_of(text)) if one[0] != 6] == [
        (4, "anchor"),
        (4, "wrong-dimension"),
        (7, "unknown-key"),
    ]
    assert {code for line, code in told(problems_of(text)) if line == 6} == {"tag", "alias"}


def test_a_way_with_a_fault_is_still_a_way(problems_of: Load) -> None:
    """A heap that draws from a way with a fault of its own is not told that there is no such way."""
    text = HEAD + (
        "places: []\n"
        "ways:\n"
        "  - {name: yard, buy: {material: stras, price: 4 EUR/m3}}\n"
        "  - {name: heap, make: {bay: 1 m3, from: [{way: yard}]}}\n"
    )
    assert told(problems_of(text)) == [(6, "unknown-material")]


def test_a_file_without_currency_is_told_in_whole_sentences(
    problems_of: Load, well_formed: Callable[[tuple[Problem, ...], str], None]
) -> None:
    """Where no currency is named, no sentence leaves a gap for it."""
    text = (
        "site: Bad Field\nstart: 2027-03-01\nplaces: []\n"
        "ways: [{name: yard, buy: {material: hay, price: 4 EUR/m3}}]\n"
    )
    problems = problems_of(text)
    assert '"currency" is missing' in problems[0].message
    well_formed(problems, text)


def test_the_path_of_a_need_is_the_one_whatif_takes(problems_of: Load) -> None:
    """A problem in a need names it by its kind: the path that --set would take."""
    text = HEAD + "places: [{name: beds, kind: bed, shape: {area: 3 m2}, needs: [{cover: {depth: 3}}]}]\n"
    (one,) = problems_of(text)
    assert one.message.startswith("places.beds.needs.cover.depth: ")


def test_every_sentence_is_punctuated(problems_of: Load) -> None:
    """Where a sentence is followed by a second one, a stop stands between them."""
    text = HEAD + (
        "places: [{name: beds, kind: bed, shape: {area: 3 m2}, needs: [{feed: {for: xyzzy}}]}]\n"
        "ways: [{name: yard, buy: {material: xyzzy, price: 4 EUR/m3}}]\n"
        "materials: {plugh: {moisture: 40 %}}\n"
    )
    for one in problems_of(text):
        for second in ("List them", "Give "):
            before, found, _ = one.message.partition(second)
            assert not found or before.rstrip()[-1] in ".;?!", one.message


def test_an_item_of_a_list_is_told_by_its_number(problems_of: Load) -> None:
    """An ingredient with one key is told by its number as the others are, and so is a name in a list."""
    text = HEAD + (
        "places: [{name: beds, kind: bed, shape: {area: 3 m2}, ways: [heap, hepa]}]\n"
        "ways: [{name: heap, make: {bay: 1 m3, from: [{way: nowhere}, {material: strw, weekly: 9 kg}]}}]\n"
    )
    paths = [problem.message.partition(": ")[0] for problem in problems_of(text)]
    assert paths == [
        "places.beds.ways.2",
        "ways.heap.make.from.1.way",
        "ways.heap.make.from.2.material",
    ]


def test_a_flood_of_names_gets_no_more_hints(problems_of: Load) -> None:
    """The nearest name is looked for at the first problems only, or thousands would take minutes."""
    entries = "".join(
        f"  - {{date: 2026-01-01, place: bedz, material: straw, amount: {amount} m3}}\n"
        for amount in range(1, 61)
    )
    text = f"{HEAD}places: [{{name: beds, kind: bed, shape: {{area: 3 m2}}}}]\nhistory:\n{entries}"
    hinted = ["did you mean" in problem.message for problem in problems_of(text)]
    assert hinted == [True] * 50 + [False] * 10


def test_what_keys_are_to_each_other_comes_with_what_is_wrong_in_others(problems_of: Load) -> None:
    """What shows only beside other keys is told with what is wrong in a key: each place and way by itself."""
    text = HEAD + (
        "places:\n"
        "  - name: beds\n"
        "    kind: bed\n"
        "    shape: {polygon: [[0 m, 0 m], [4 m, 3 m], [4 m, 0 m], [0 m, 3 m]]}\n"
        "    layer_now: 3\n"
        "    needs: [{feed: {nitrogen: 3 g/m2}}, {feed: {nitrogen: 4 g/m2}}, {lime: {ph: 6.5}}]\n"
        "  - {name: plums, kind: tree, shape: {ring: {radius: 10 cm, collar: 15 cm}}, needs: [{cover: {}}]}\n"
        "  - {name: apples, kind: tree, shape: {area: 3 m2}, needs: [{feed: {for: apple}}]}\n"
        "ways:\n"
        "  - {name: a, buy: {material: straw, price: 4 EUR/m3, seller: Q, delivery: 4 EUR}}\n"
        "  - {name: b, buy: {material: hay, price: 4 EUR/m3, seller: Q, delivery: 5 EUR}}\n"
        "  - {name: c, buy: {material: hey, price: 4 EUR/m3, seller: Q, delivery: 6 EUR}}\n"
        "limits: {lift: [foo], by: 2026-01-01}\n"
        "history:\n"
        "  - {date: 2026-01-01, place: apples, material: straw, amount: 40 m3}\n"
        "  - {date: 2026-01-32, place: apples, material: straw, amount: 40 m3}\n"
        "plan:\n"
        "  - {place: apples, need: lime, way: a}\n"
        "  - {place: apples, need: lime, way: z}\n"
    )
    assert told(problems_of(text)) == [
        (7, "bad-shape"),
        (8, "bare-number"),
        (9, "duplicate-need"),
        (9, "missing-key"),
        (10, "bad-shape"),
        (10, "missing-key"),
        (11, "missing-key"),
        (14, "seller"),
        (15, "unknown-material"),
        (16, "unknown-word"),
        (16, "before-start"),
        (18, "too-deep"),
        (19, "not-a-date"),
        (21, "unknown-need"),
        (22, "unknown-way"),
    ]


def test_a_merge_comes_with_the_rest(problems_of: Load) -> None:
    """What stands beside a merge is read; that keys are missing which it may have brought is not told."""
    text = HEAD + (
        "places:\n"
        "  - {<<: {kind: bed, shape: {area: 3 m2}}, name: beds, count: 3.5}\n"
        "ways: [{name: yard, buy: {material: stras, price: 4 EUR/m3}}]\n"
        "<<: {soil: {ph: 5}}\n"
    )
    assert told(problems_of(text)) == [
        (5, "merge-key"),
        (5, "not-whole"),
        (6, "unknown-material"),
        (7, "merge-key"),
    ]


def test_what_may_have_been_said_is_not_asked_for(problems_of: Load) -> None:
    """A soil, a place, a material or a measure that could not be read is not told to be missing as well."""
    needs = "needs: [{lime: {ph: 6.5}}, {raise: {organic_matter: 4 %, depth: 15 cm}}]"
    text = HEAD + (
        "siol: {ph: 5.8, organic_matter: 2 %}\n"
        "hemisphere: sooth\n"
        "climate: {annual_mean: 15 degC, last_frost: 09-10, first_frost: 05-20}\n"
        "measures: {skep: 5}\n"
        "materials: {dust: {like: strw}, more dust: {like: dust}}\n"
        "places:\n"
        f"  - {{name: beds, kind: bed, shape: {{area: 3 m2}}, {needs}}}\n"
        "  - {nmae: rows, kind: row, shape: {area: 3 m2}}\n"
        "ways:\n"
        "  - {name: a, buy: {material: dust, price: 4 EUR/skep}}\n"
        "  - {name: b, have: {material: more dust, amount: 4 skep}}\n"
        "  - {name: c, make: {bay: 1 m3, from: [{way: a}, {material: straw, mass: 4}]}}\n"
        "  - {name: d, grow: {plant: comfrey, area: 9 m2, grows_on: rows}}\n"
        "history:\n"
        "  - {date: 2026-01-01, place: rows, way: b, amount: 4 kg}\n"
        "  - {date: 2026-01-02, job: 'turned, c', temperature: 50 degC}\n"
    )
    assert told(problems_of(text)) == [
        (4, "unknown-key"),
        (5, "unknown-word"),
        (7, "bare-number"),
        (8, "unknown-material"),
        (11, "missing-key"),
        (11, "unknown-key"),
        (15, "bare-number"),
    ]
