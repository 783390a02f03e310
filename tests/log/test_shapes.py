"""Every shape a history can have in a file: the entry is added and nothing else is touched."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

Log = Callable[..., Any]
ONE = "{date: 2026-11-20, place: beds, material: straw, amount: 2 barrow}"
TAIL = "\n# in the shed\nways:\n  - {name: yard, buy: {material: green compost, price: 40 EUR/m3}}  # dear\n"
TESTED = "history:\n  - date: 2026-11-20\n    place: beds\n    organic_matter: 2.1 %\n"
ADDED = "{date: 2027-04-12, place: beds, material: straw, amount: 18 barrow}"

#: Files to which one line is added: what stands after the head, before and after.
ADDS_A_LINE = {
    "a block list at the end": f"history:\n  - {ONE}\n",
    "a block list with a comment on the key": f"history:   # done so far\n  - {ONE}\n",
    "a comment after the item": f"history:\n  - {ONE}   # wet\n",
    "comments below": f"history:\n  - {ONE}\n  # more to come\n# the end\n",
    "comments between": f"history:\n  # first\n  - {ONE}\n\n  # second\n  - {ONE}\n",
    "blank lines below": f"history:\n  - {ONE}\n\n\n",
    "dashes under the key": f"history:\n- {ONE}\n- {ONE}\n",
    "deep dashes": f"history:\n      - {ONE}\n",
    "items over several lines": (
        "history:\n  - date: 2026-11-20\n    place: beds\n    material: straw\n    amount: 2 barrow\n"
    ),
    "an item that ends in quotes": (
        f"history:\n  - {{date: 2026-11-20, place: 'beds', note: \"a # b\"}}\n  - {ONE}\n"
    ),
    "a quoted key": f'"history":\n  - {ONE}\n',
    "in the middle": f"history:\n  - {ONE}\n{TAIL}",
    "in the middle with comments": f"history:\n  - {ONE}\n  # was it two?\n{TAIL}",
    "in the middle over several lines": f"{TESTED}{TAIL}",
    "an item folded over two lines": (
        "history:\n  - {date: 2026-11-20, place: beds,\n     material: straw, amount: 2 barrow}\n"
    ),
    "a note in a block of its own": (f"{TESTED}    note: |\n      wet\n      and cold\n"),
    "a note in a block of its own in the middle": (f"{TESTED}    note: >-\n      wet\n{TAIL}"),
    "a folded note in quotes": (f"{TESTED}    note: 'wet\n      and cold'\n"),
}


def lines_of(data: bytes) -> list[bytes]:
    """Return the lines with their ends."""
    return data.splitlines(keepends=True)


def added_line(before: bytes, after: bytes) -> bytes:
    """Return the one line that was added; every other byte must be as it was."""
    old, new = lines_of(before), lines_of(after)
    assert len(new) == len(old) + 1
    at = next((index for index, line in enumerate(old) if new[index] != line), len(old))
    assert new[:at] + new[at + 1 :] == old
    return new[at]


def entry_is_there(found: Any, count: int) -> None:
    """Hold that the history has one entry more, with what was said, and the places are those of the head."""
    entry_is_there_among(found, count)
    assert [place.name for place in found.site.places] == ["beds", "young trees"]


def entry_is_there_among(found: Any, count: int) -> None:
    """Hold that the history has one entry more, with what was said."""
    assert found.code == 0, found.said
    history = found.site.history
    assert len(history) == count
    one = next(one for one in history if one.day == date(2027, 4, 12))
    assert (one.place, one.loose) == ("beds", pytest.approx(1.44))
    assert one.material is not None
    assert one.material.name == "straw"


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "BOM"])
@pytest.mark.parametrize("shape", ADDS_A_LINE)
def test_one_line_is_added_to_a_block_list(log: Log, head: str, shape: str, mark: bytes, end: str) -> None:
    """Comments, order, blank lines, quotes, line ends and a byte order mark stay as they are."""
    text = (head + ADDS_A_LINE[shape]).replace("\n", end)
    found = log(mark + text.encode())
    entry_is_there(found, ADDS_A_LINE[shape].count("2026-11-20") + 1)
    line = added_line(found.before, found.after)
    assert line.decode().strip() == f"- {ADDED}"
    assert line.endswith(end.encode())


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize(
    "shape", [shape for shape, text in ADDS_A_LINE.items() if TAIL not in text and "# the end" not in text]
)
def test_a_file_that_does_not_end_with_a_line_end(log: Log, head: str, shape: str, end: str) -> None:
    """The last line is ended first, and then the entry is added under it."""
    text = (head + ADDS_A_LINE[shape].rstrip("\n")).replace("\n", end)
    found = log(text)
    entry_is_there(found, ADDS_A_LINE[shape].count("2026-11-20") + 1)
    assert added_line(found.before + end.encode(), found.after).decode().strip() == f"- {ADDED}"


@pytest.mark.parametrize("tail", ["", TAIL, "# the end\n", "\n\n"], ids=["bare", "ways", "comment", "blank"])
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_a_file_without_a_history_gets_one_at_its_end(log: Log, head: str, tail: str, end: str) -> None:
    """The key and the entry are put below all that is there."""
    text = (head + tail).replace("\n", end)
    found = log(text)
    entry_is_there(found, 1)
    assert found.after.decode() == f"{text}history:{end}  - {ADDED}{end}"


def test_a_file_without_a_history_nor_a_last_line_end(log: Log, head: str) -> None:
    """The last line is ended before the key is added."""
    found = log(head.rstrip("\n"))
    entry_is_there(found, 1)
    assert found.after.decode() == f"{head}history:\n  - {ADDED}\n"


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize("empty", ["history: []", "history: [ ]", "history:   []", "history: [\n]"])
@pytest.mark.parametrize("tail", ["\n", "\n" + TAIL, ""], ids=["end", "middle", "no line end"])
def test_an_empty_history(log: Log, head: str, empty: str, tail: str, end: str) -> None:
    """An empty list becomes a list of one; the rest stays."""
    text = (head + empty + tail).replace("\n", end)
    found = log(text)
    entry_is_there(found, 1)
    after, rest = found.after.decode(), tail.removeprefix("\n").replace("\n", end)
    assert after == f"{head}history:\n  - {ADDED}\n".replace("\n", end) + rest


@pytest.mark.parametrize("tail", ["\n", "\n" + TAIL], ids=["end", "middle"])
def test_a_history_key_with_nothing_after_it(log: Log, head: str, tail: str) -> None:
    """A key with nothing after it, as in a file just begun, takes its first entry too."""
    found = log(f"{head}history:{tail}")
    entry_is_there(found, 1)
    assert found.after.decode() == f"{head}history:\n  - {ADDED}\n{tail.removeprefix(chr(10))}"


def test_the_comment_of_an_empty_history_stays(log: Log, head: str) -> None:
    """What was written beside the empty brackets stands there still."""
    found = log(f"{head}history: []   # nothing yet\n{TAIL}")
    entry_is_there(found, 1)
    assert b"# nothing yet\n" in found.after
    assert found.after.endswith(TAIL.encode())
    assert found.after.startswith(head.encode())


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize(
    "flow",
    [
        f"[{ONE}]",
        f"[ {ONE} ]",
        f"[{ONE}, {ONE}]",
        f"[\n  {ONE},\n  {ONE}\n]",
        f"[\n  {ONE},   # wet\n  {ONE},   # dry\n]",
        f"[\n  {ONE}   # wet\n]",
        f"[\n  {ONE},\n  # one more, perhaps\n]",
        f"[{ONE} ,]",
    ],
)
@pytest.mark.parametrize("tail", ["\n", "   # done\n" + TAIL], ids=["end", "middle"])
def test_a_list_in_brackets(log: Log, head: str, flow: str, tail: str, end: str) -> None:
    """The entry goes inside the brackets; what stood there, comments too, stands there in its order."""
    text = (f"{head}history: {flow}{tail}").replace("\n", end)
    found = log(text)
    entry_is_there(found, flow.count("2026-11-20") + 1)
    before, after = found.before.decode(), found.after.decode()
    kept = iter(after)
    assert all(letter in kept for letter in before)
    assert after.count(ADDED) == 1
    assert len(after) - len(before) <= len(ADDED) + 6
    assert after.startswith(head.replace("\n", end))
    assert after.endswith(tail.replace("\n", end))


PLACES = "places: [{name: beds, kind: bed, shape: {area: 10 m2}}]"
KEYS = "site: Field\ncurrency: EUR\nstart: 2027-03-01\nmeasures: {barrow: 80 L}\n"
IN_BRACES = "{site: Field, currency: EUR, start: 2027-03-01, measures: {barrow: 80 L}, "

#: Whole files written in an unusual way -> the lines or pieces that stand there afterwards; {} is the entry.
UNUSUAL = {
    "in braces, empty": (
        IN_BRACES + f"history: [],\n {PLACES}}}\n",
        IN_BRACES + f"history: [{{}}],\n {PLACES}}}\n",
    ),
    "in braces, one": (
        IN_BRACES + f"history: [{ONE}],\n {PLACES}}}\n",
        IN_BRACES + f"history: [{ONE}, {{}}],\n {PLACES}}}\n",
    ),
    "in braces, none": (IN_BRACES + f"{PLACES}}}\n", IN_BRACES + f"{PLACES}, history: [{{}}]}}\n"),
    "in braces, none, no line end": (IN_BRACES + f"{PLACES} }}", IN_BRACES + f"{PLACES}, history: [{{}}] }}"),
    "in braces, none, a comma and a comment": (
        IN_BRACES + f"\n  {PLACES}, # beds, ]\n  # and, }}\n}}\n",
        IN_BRACES + f"\n  {PLACES}, # beds, ]\n  # and, }}\n  history: [{{}}]\n}}\n",
    ),
    "in braces, none, a comment": (
        IN_BRACES + f"\n  {PLACES} # beds, ]\n}}\n",
        IN_BRACES + f"\n  {PLACES}, # beds, ]\n  history: [{{}}]\n}}\n",
    ),
    "in braces, nothing": (
        IN_BRACES + f"history: , {PLACES}}}\n",
        IN_BRACES + f"history: [{{}}] , {PLACES}}}\n",
    ),
    "in braces, only the key": (
        IN_BRACES + f"history, {PLACES}}}\n",
        IN_BRACES + f"history: [{{}}], {PLACES}}}\n",
    ),
    "in braces, null": (
        IN_BRACES + f"history: ~, {PLACES}}}\n",
        IN_BRACES + f"history: [{{}}], {PLACES}}}\n",
    ),
    "indented": (
        f"  {KEYS}{PLACES}\n".replace("\n", "\n  ").rstrip(" "),
        f"  {KEYS}{PLACES}\nhistory:\n  - {{}}\n".replace("\n", "\n  ").rstrip(" "),
    ),
    "head and end mark": (
        f"---\n{KEYS}{PLACES}\n... # the end\n# of it\n",
        f"---\n{KEYS}{PLACES}\nhistory:\n  - {{}}\n... # the end\n# of it\n",
    ),
    "end mark below the history": (
        f"{KEYS}{PLACES}\nhistory:\n- {ONE}\n...\n",
        f"{KEYS}{PLACES}\nhistory:\n- {ONE}\n- {{}}\n...\n",
    ),
    "a directive": (
        f"%YAML 1.1\n---\n{KEYS}{PLACES}\n",
        f"%YAML 1.1\n---\n{KEYS}{PLACES}\nhistory:\n  - {{}}\n",
    ),
    "keys with question marks": (
        f"? site\n: Field\n{KEYS[12:]}{PLACES}\n? history\n: - {ONE}\n",
        f"? site\n: Field\n{KEYS[12:]}{PLACES}\n? history\n: - {ONE}\n  - {{}}\n",
    ),
    "an empty list behind a colon alone": (
        f"{KEYS}{PLACES}\n? history\n: []   # none\n",
        f"{KEYS}{PLACES}\n? history\n: - {{}}   # none\n",
    ),
    "an empty list on its own line": (
        f"{KEYS}history:\n  []   # none, yet\n{PLACES}\n",
        f"{KEYS}history:\n  - {{}}   # none, yet\n{PLACES}\n",
    ),
    "an empty list with a comment in it": (
        f"{KEYS}history: [ # none, yet ]\n]\n{PLACES}\n",
        f"{KEYS}history: [ # none, yet ]\n  {{}}\n]\n{PLACES}\n",
    ),
    "an empty list with a comment in it, closed behind": (
        f"{KEYS}history: [\n # none, yet ]\n  ]\n{PLACES}\n",
        f"{KEYS}history: [\n # none, yet ]\n    {{}}\n  ]\n{PLACES}\n",
    ),
    "null": (f"{KEYS}history: ~  # a: b\n{PLACES}\n", f"{KEYS}history:  # a: b\n  - {{}}\n{PLACES}\n"),
    "null in letters": (f"{KEYS}history: null\n{PLACES}\n", f"{KEYS}history:\n  - {{}}\n{PLACES}\n"),
    "null on its own line": (f"{KEYS}history:\n   ~\n{PLACES}\n", f"{KEYS}history:\n   - {{}}\n{PLACES}\n"),
    "nothing, a comment and no line end": (
        f"{KEYS}{PLACES}\nhistory:  # a: b",
        f"{KEYS}{PLACES}\nhistory:  # a: b\n  - {{}}\n",
    ),
    "a quoted key, set off": (
        f'{KEYS}{PLACES}\n"history"  :   [  ]\n',
        f'{KEYS}{PLACES}\n"history"  :\n  - {{}}\n',
    ),
    "brackets with commas in comments": (
        f"{KEYS}{PLACES}\nhistory: [\n  {ONE} # wet, cold ]\n  , # and, so\n  {ONE} # x, ]\n  # z, y\n] # w, v\n",
        f"{KEYS}{PLACES}\nhistory: [\n  {ONE} # wet, cold ]\n  , # and, so\n  {ONE}, # x, ]\n  # z, y\n  {{}}\n] # w, v\n",
    ),
    "brackets, a comment straight behind": (
        f"{KEYS}{PLACES}\nhistory: [{ONE},# wet, ]\n  {ONE}# dry, ]\n  ]# w, v\n",
        f"{KEYS}{PLACES}\nhistory: [{ONE},# wet, ]\n  {ONE},# dry, ]\n  {{}}\n  ]# w, v\n",
    ),
    "brackets indented by tabs": (
        f"{KEYS}{PLACES}\nhistory:\t[\n\t{ONE},\n\t{ONE}\n\t]\n",
        f"{KEYS}{PLACES}\nhistory:\t[\n\t{ONE},\n\t{ONE},\n\t{{}}\n\t]\n",
    ),
    "dashes on lines of their own": (
        f"{KEYS}{PLACES}\nhistory:\n  -\n    date: 2026-11-20\n    place: beds\n    note: wet\n      and, cold\n     # c\n",
        f"{KEYS}{PLACES}\nhistory:\n  -\n    date: 2026-11-20\n    place: beds\n    note: wet\n      and, cold\n  - {{}}\n     # c\n",
    ),
    "a note in a block that keeps its blank lines": (
        f"{KEYS}history:\n  - date: 2026-11-20\n    place: beds\n    note: |+\n      wet\n\n\n{PLACES}\n",
        f"{KEYS}history:\n  - date: 2026-11-20\n    place: beds\n    note: |+\n      wet\n\n\n  - {{}}\n{PLACES}\n",
    ),
    "a block of text at the end": (
        f"{KEYS[12:]}{PLACES}\nsite: >\n  Far\n  Field\n\n",
        f"{KEYS[12:]}{PLACES}\nsite: >\n  Far\n  Field\n\nhistory:\n  - {{}}\n",
    ),
    "line ends of one letter": (
        f"{KEYS}{PLACES}\n".replace("\n", "\r"),
        f"{KEYS}{PLACES}\rhistory:\r  - {{}}\r".replace("\n", "\r"),
    ),
}


@pytest.mark.parametrize(("text", "wanted"), UNUSUAL.values(), ids=UNUSUAL)
def test_an_unusual_file_gets_the_entry(log: Log, text: str, wanted: str) -> None:
    """A sound file written in another way gets the entry where it belongs, and keeps its every letter."""
    found = log(text)
    entry_is_there_among(found, text.count("2026-11-20") + 1)
    assert found.after.decode() == wanted.replace("{{}}", "{}").replace("{}", ADDED)


def test_json_stays_json(log: Log) -> None:
    """A site file written as JSON is JSON afterwards, with the entry at the end of its history."""
    site = {
        "site": "Field",
        "currency": "EUR",
        "start": "2027-03-01",
        "measures": {"barrow": "80 L"},
        "places": [{"name": "beds", "kind": "bed", "shape": {"area": "10 m2"}}],
    }
    added = {"date": "2027-04-12", "place": "beds", "material": "straw", "amount": "18 barrow"}
    first = {"date": "2026-11-20", "place": "beds", "note": 'wet, "cold"'}
    for history in (None, [], [first]):
        whole = site if history is None else {**site, "history": history}
        for indent in (None, 2):
            found = log(json.dumps(whole, indent=indent))
            assert found.code == 0, found.said
            assert json.loads(found.after) == {**site, "history": [*(history or []), added]}


#: Sound files to which the entry cannot be added -> what is said of it.
REFUSED = {
    "a key without its colon": (f"{KEYS}{PLACES}\n? history\n", "unusual shape"),
    "a text whose last line has no end": (f"{KEYS}{PLACES}\nhemisphere: |\n  north", "the rest of the file"),
}


@pytest.mark.parametrize(("text", "reason"), REFUSED.values(), ids=REFUSED)
def test_an_odd_file_is_left_alone(log: Log, text: str, reason: str) -> None:
    """Where the entry cannot be added, the reason is true, the line to add by hand is given, nothing is written."""
    found = log(text)
    assert (found.code, found.after, found.beside) == (2, found.before, [])
    assert reason in found.said
    assert f"add it by hand: - {ADDED}" in found.said


def test_a_place_called_history_is_no_history(log: Log, head: str) -> None:
    """Only the key at the top is the history; a place or a note of that name is not."""
    text = head.replace("name: beds", "name: history") + "# history: []\n"
    found = log(text, "--date", "2027-04-12", "--place", "history", "--material", "straw", "--depth", "3 cm")
    assert found.code == 0
    assert found.site.history[0].place == "history"
    assert found.after.startswith(text.encode())


def test_entry_after_entry(log: Log, head: str, entry: tuple[str, ...]) -> None:
    """Ten entries one after another stand below each other in that order, each line as it was written."""
    found = log(head)
    for number in range(1, 10):
        found = log(None, *entry, "--note", f"number {number}")
    assert [one.note for one in found.site.history] == ["", *(f"number {number}" for number in range(1, 10))]
    assert found.after.startswith(head.encode())
    assert len(lines_of(found.after)) == len(lines_of(head.encode())) + 11
