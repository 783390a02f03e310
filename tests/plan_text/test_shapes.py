"""Every shape a plan can have in a file: it is replaced as a whole and nothing else is touched."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

Write = Callable[..., Any]
OLD = "{place: beds, need: dress, way: yard, date: 2028-01-01}"
FIRST = "{place: beds, need: cover, way: yard, amount: 0.5 m3, date: 2027-04-10}"
SECOND = "{place: beds, need: dress, way: yard}"
BLOCK = f"plan:\n  - {FIRST}\n  - {SECOND}\n"
FLOW = f"[\n  {FIRST},\n  {SECOND}\n]"
TAIL = "\n# in the shed\nhorizon: 3 years   # or four\n"
DEEP = "place: beds\n{0}need: dress\n{0}way: yard\n{0}date: 2028-01-01"

#: What stands behind the head, and what stands there afterwards.
SHAPES = {
    "none": ("", BLOCK),
    "none, and more keys": (TAIL, TAIL + BLOCK),
    "none, comments and blank lines": ("# the end\n\n", "# the end\n\n" + BLOCK),
    "none, an end mark": ("... # that is all\n", BLOCK + "... # that is all\n"),
    "block": (f"plan:\n  - {OLD}\n", BLOCK),
    "block, in the middle": (f"plan:\n  - {OLD}\n{TAIL}", BLOCK + TAIL),
    "block, comments about it": (
        f"plan:   # of mine\n  # so far\n  - {OLD}\n  # more to come\n{TAIL}",
        f"plan:   # of mine\n  # so far\n  - {FIRST}\n  - {SECOND}\n  # more to come\n{TAIL}",
    ),
    "block, comments in it": (f"plan:\n  - {OLD}  # a\n\n  # b\n  - {OLD}  # c\n{TAIL}", BLOCK + TAIL),
    "block, dashes under the key": (
        f"plan:\n- {OLD}\n- {OLD}\n{TAIL}",
        f"plan:\n- {FIRST}\n- {SECOND}\n{TAIL}",
    ),
    "block, deep": (f"plan:\n     - {OLD}\n", f"plan:\n     - {FIRST}\n     - {SECOND}\n"),
    "block, over several lines": (
        f"plan:\n  - {DEEP.format('    ')}\n  -\n    {DEEP.format('    ')}\n{TAIL}",
        BLOCK + TAIL,
    ),
    "block, a date in a block of its own": (
        f"plan:\n  - {DEEP.format('    ').replace(' 2028', ' |' + chr(10) + '      2028')}\n\n{TAIL}",
        f"{BLOCK}\n{TAIL}",
    ),
    "block, folded": (f"plan:\n  - {OLD.replace(', way', ',' + chr(10) + '   way')}\n{TAIL}", BLOCK + TAIL),
    "block, a quoted key": (f'"plan"  :\n  - {OLD}\n', BLOCK.replace("plan:", '"plan"  :')),
    "block, question mark": (f"? plan\n: - {OLD}\n{TAIL}", f"? plan\n: - {FIRST}\n  - {SECOND}\n{TAIL}"),
    "block, an end mark": (f"plan:\n- {OLD}\n...\n# x\n", f"plan:\n- {FIRST}\n- {SECOND}\n...\n# x\n"),
    "empty brackets": ("plan: []\n" + TAIL, BLOCK + TAIL),
    "empty brackets, a comment": (
        "plan: [ ]   # none\n" + TAIL,
        BLOCK.replace(":\n", ":   # none\n", 1) + TAIL,
    ),
    "empty brackets on a line of their own": (
        "plan:\n    []   # none\n" + TAIL,
        f"plan:\n    - {FIRST}\n    - {SECOND}   # none\n{TAIL}",
    ),
    "empty brackets, a comment in them": (f"plan: [ # none ]\n]\n{TAIL}", f"plan: {FLOW}\n{TAIL}"),
    "nothing": ("plan:\n" + TAIL, BLOCK + TAIL),
    "nothing, a comment": ("plan:  # none\n", BLOCK.replace(":\n", ":  # none\n", 1)),
    "a word for nothing": ("plan: ~ # none\n", BLOCK.replace(":\n", ": # none\n", 1)),
    "brackets": (f"plan: [{OLD}]\n{TAIL}", f"plan: {FLOW}\n{TAIL}"),
    "brackets, a comment behind": (f"plan: [{OLD}, {OLD}]  # so\n{TAIL}", f"plan: {FLOW}  # so\n{TAIL}"),
    "brackets over several lines": (
        f"plan:   [\n  {OLD}, # a ]\n\n  {OLD}\n  ]\n{TAIL}",
        f"plan:   {FLOW}\n{TAIL}",
    ),
    "brackets on a line of their own": (
        f"plan:\n  [{OLD}]\n{TAIL}",
        f"plan:\n  [\n    {FIRST},\n    {SECOND}\n  ]\n{TAIL}",
    ),
    "brackets that hold a block's braces": (f"plan:\t[\n\t{OLD}\n\t]\n{TAIL}", f"plan:\t{FLOW}\n{TAIL}"),
}


def is_planned(found: Any, head: str = "") -> None:
    """Hold that the plan has the two lines, that the file as it was is kept, and that nothing was refused."""
    assert (found.code, found.said) == (0, "")
    assert [(line.need, line.way, line.day) for line in found.site.plan] == [
        ("cover", "yard", date(2027, 4, 10)),
        ("dress", "yard", None),
    ]
    assert found.beside == ["field.yaml.bak"]
    assert (found.path.parent / "field.yaml.bak").read_bytes() == found.before


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "BOM"])
@pytest.mark.parametrize(("text", "wanted"), SHAPES.values(), ids=SHAPES)
def test_the_plan_is_replaced_and_all_else_stays(
    write: Write, head: str, text: str, wanted: str, mark: bytes, end: str
) -> None:
    """Comments about it, order, blank lines, quotes, line ends and a byte order mark stay as they are."""
    found = write(mark + (head + text).replace("\n", end).encode())
    assert found.after.decode() == (mark.decode() + head + wanted).replace("\n", end)
    is_planned(found)


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize("shape", ["block", "block, deep", "block, over several lines", "brackets"])
def test_a_file_that_does_not_end_with_a_line_end(write: Write, head: str, shape: str, end: str) -> None:
    """Where the plan ends the file, and no line end did, none does afterwards."""
    text, wanted = (each.removesuffix(TAIL).removesuffix("\n") for each in SHAPES[shape])
    found = write((head + text).replace("\n", end))
    assert found.after.decode() == (head + wanted).replace("\n", end)
    is_planned(found)


@pytest.mark.parametrize("text", ["", "# the end", "horizon: 3 years", "plan: []", "plan:"])
def test_a_plan_below_a_line_without_an_end(write: Write, head: str, text: str) -> None:
    """The last line is ended first, and then the plan is put under it."""
    found = write((head + text).removesuffix("\n"))
    kept = "" if text.startswith("plan") else text + "\n" * bool(text)
    assert found.after.decode() == head + kept + BLOCK
    is_planned(found)


def test_an_indented_file(write: Write, head: str) -> None:
    """A file that is indented as a whole keeps its plan in line with its keys."""
    for text in ("", f"plan:\n- {OLD}\n", "plan: []\n", "plan:\n"):
        whole = "".join(f"   {line}\n" for line in (head + text).splitlines())
        found = write(whole)
        assert found.after.startswith("".join(f"   {line}\n" for line in head.splitlines()).encode())
        is_planned(found)


IN_BRACES = (
    "{site: Field, currency: EUR, start: 2027-03-01, places: [{name: beds, kind: bed, shape: {area: 10 m2},"
    " needs: [{cover: {depth: 5 cm}}, {dress: {dose: 2 kg/m2}}]}],GAP"
    "ways: [{name: yard, buy: {material: green compost, price: 40 EUR/m3}}]"
)
ONE_LINE = f"plan: [{FIRST}, {SECOND}]"
SEVERAL = f"plan: [\n  {FIRST},\n  {SECOND}\n]"
#: What stands behind the ways of a file in braces, and what stands there afterwards: on one line, or several.
BRACED = {
    "none": ("}", f", {ONE_LINE}}}", f", {SEVERAL}}}"),
    "none, a comma": (", }\n", f", {ONE_LINE}}}\n", f", {SEVERAL}}}\n"),
    "empty": (", plan: []}", f", {ONE_LINE}}}", f", {SEVERAL}}}"),
    "filled": (f", plan: [{OLD}], }}", f", {ONE_LINE}, }}", f", {SEVERAL}, }}"),
    "nothing": (
        ", plan: , horizon: 3 years}",
        f", {ONE_LINE} , horizon: 3 years}}",
        f", {SEVERAL} , horizon: 3 years}}",
    ),
    "only the key": (", plan}", f", {ONE_LINE}}}", f", {SEVERAL}}}"),
    "a word for nothing": (", plan: null}", f", {ONE_LINE}}}", f", {SEVERAL}}}"),
}


@pytest.mark.parametrize(("text", "one_line", "several"), BRACED.values(), ids=BRACED)
def test_a_file_in_braces(write: Write, text: str, one_line: str, several: str) -> None:
    """In a file of one line the plan stands on that line; in any other each of its lines has one."""
    for gap, wanted in ((" ", one_line), ("\n", several), ("  # x, }\n", several)):
        found = write(IN_BRACES.replace("GAP", gap) + text)
        assert found.after.decode() == IN_BRACES.replace("GAP", gap) + wanted
        is_planned(found)


def test_a_brace_on_a_line_of_its_own(write: Write) -> None:
    """A key that is new gets a line of its own where the last brace has one."""
    whole = IN_BRACES.replace("GAP", "\n  ") + "  # dear, ]\n}\n"
    found = write(whole)
    lines = f"  plan: [\n    {FIRST},\n    {SECOND}\n  ]\n"
    assert found.after.decode() == whole.replace("]  # dear, ]\n", "],  # dear, ]\n" + lines)
    is_planned(found)


@pytest.mark.parametrize("indent", [None, 1, 2, 4])
@pytest.mark.parametrize("old", [None, [], [{"place": "beds", "need": "dress", "way": "yard"}]])
def test_json_stays_json(write: Write, lines: Any, indent: int | None, old: Any) -> None:
    """A site file written as JSON is JSON afterwards, with the plan it is to have."""
    needs = [{"cover": {"depth": "5 cm"}}, {"dress": {"dose": "2 kg/m2"}}]
    site = {
        "site": "Field",
        "currency": "EUR",
        "start": "2027-03-01",
        "places": [{"name": "beds", "kind": "bed", "shape": {"area": "10 m2"}, "needs": needs}],
        "ways": [{"name": "yard", "buy": {"material": "green compost", "price": "40 EUR/m3"}}],
    }
    whole = site if old is None else {**site, "plan": old, "horizon": "3 years"}
    found = write(json.dumps(whole, indent=indent))
    assert json.loads(found.after) == {**whole, "plan": list(lines)}
    assert found.after.count(b"\n") == (0 if indent is None else found.after.count(b"\n"))
    is_planned(found)


@pytest.mark.parametrize(("text", "_"), SHAPES.values(), ids=SHAPES)
def test_twice_is_once(write: Write, head: str, text: str, _: str) -> None:
    """The same plan written again gives the same bytes, and another one and then the first again too."""
    first = write(head + text).after
    assert write().after == first
    other = [{"place": "beds", "need": "cover", "way": "yard", "date": "2029-01-01"}]
    changed = write(None, other)
    assert [line.day for line in changed.site.plan] == [date(2029, 1, 1)]
    assert plain_but_comments(write().after) == plain_but_comments(first)


def plain_but_comments(data: bytes) -> list[bytes]:
    """Return lines without the comments behind them: one behind a last line goes with it."""
    return [line.split(b"#")[0].rstrip() for line in data.splitlines()]


def test_a_plan_that_says_so_already_stays_as_it_was_written(write: Write, head: str) -> None:
    """A plan by hand that has just these lines keeps its layout, its comments and the order of its keys."""
    by_hand = (
        f"plan:\n  # in spring\n  - date: '2027-04-10'\n    {FIRST[1:-1].split(', date')[0].replace(', ', chr(10) + '    ')}\n"
        f"  - {SECOND}   # when there is time\n"
    )
    found = write(head + by_hand)
    assert found.after == found.before
    is_planned(found)


#: What stands behind the head, and what stands there when the plan is to have no lines.
EMPTIED = {
    "none": (TAIL, TAIL),
    "empty": ("plan: [ ] # x\n", "plan: [ ] # x\n"),
    "nothing": ("plan:  # x\n", "plan: []  # x\n"),
    "a word for nothing": ("plan: ~  # x\n", "plan: []  # x\n"),
    "block": (f"plan:  # x\n  # y\n  - {OLD}\n  - {OLD} # z\n{TAIL}", f"plan: []  # x\n  # y\n{TAIL}"),
    "block, no line end": (f"plan:\n- {OLD}", "plan: []\n"),
    "block, question mark": (f"? plan\n: - {OLD}\n{TAIL}", f"? plan\n: []\n{TAIL}"),
    "brackets": (f"plan: [ {OLD} ] # x\n", "plan: [] # x\n"),
}


@pytest.mark.parametrize(("text", "wanted"), EMPTIED.values(), ids=EMPTIED)
def test_a_plan_without_lines(write: Write, head: str, text: str, wanted: str) -> None:
    """A plan that is to have no lines is an empty list, and a file that has none gets none."""
    found = write(head + text, [])
    assert (found.code, found.said) == (0, "")
    assert found.after.decode() == head + wanted
    assert found.site.plan == ()


def test_a_thing_called_plan_is_no_plan(write: Write, head: str) -> None:
    """Only the key at the top is the plan; a measure or a comment of that name is not."""
    text = head + "measures: {plan: 10 L}\n# plan: []\n"
    found = write(text)
    assert found.after.decode() == text + BLOCK
    is_planned(found)
