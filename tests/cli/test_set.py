"""--set on the commands that read a site: the answer is that of the file with the value typed in."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
ROOT = Path(__file__).parents[2]
ORCHARD = (ROOT / "demo" / "crooked-ladle-orchard.yaml").read_text("utf-8")
#: Each command, as it is asked.
ASKED = (
    "options", "options --by place", "sizes", "orders", "orders --partial", "heap", "heap --recipes", "course",
    "course --monthly --years 2", "ledger", "check",
)  # fmt: skip


def typed_in(*changes: tuple[str, str]) -> bytes:
    """Return the orchard with texts put in the place of others, each of which stands there once."""
    text = ORCHARD
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text.encode()


@pytest.mark.parametrize("form", ["table", "json"])
@pytest.mark.parametrize("asked", ASKED)
def test_the_answer_is_that_of_the_file_with_the_values(call: Call, asked: str, form: str) -> None:
    """Byte for byte, on standard output and standard error, for two values, which are not idle."""
    words = [*asked.split(), "-", "--format", form]
    file = typed_in(
        ("    count: 9\n", "    count: 14\n"), ("price: 44 EUR/m3, step", "price: 66 EUR/m3, step")
    )
    changes = ("--set", "places.old apples.count=14", "--set", "ways.yard compost.buy.price=66 EUR/m3")
    wanted = call(*words, stdin=file)
    done = call(*words, *changes, stdin=ORCHARD.encode())
    assert done == wanted
    assert done.code == 0, done.err
    if form == "json" and asked != "check" and "heap" not in asked:
        assert done.out != call(*words, stdin=ORCHARD.encode()).out


@pytest.mark.parametrize(
    ("change", "old", "new"),
    [
        ("start=2027-06-01", "start: 2027-03-01", "start: 2027-06-01"),
        ("places.1.needs.raise.depth=20 cm", "depth: 15 cm", "depth: 20 cm"),
        ("made_ground=true", "currency: EUR", "currency: EUR\nmade_ground: true"),
        ("ways.two-bay heap.make.bays=3", "bays: 2", "bays: 3"),
    ],
)
def test_values_of_any_sort(call: Call, ask: Call, change: str, old: str, new: str) -> None:
    """A day, one by the number of its item, one the file does not say, one of a heap."""
    wanted = call("options", "-", "--format", "csv", stdin=typed_in((old, new)))
    done = call("options", "-", "--format", "csv", "--set", change, stdin=ORCHARD.encode())
    assert done == wanted
    assert done.code == 0, done.err
    assert done != ask("options", "-", "--format", "csv", stdin=ORCHARD.encode())


@pytest.mark.parametrize(
    ("path", "old"),
    [
        (
            "ways.comfrey strip",
            "  - name: comfrey strip\n    grow: {plant: comfrey, start_with: 24, area: 16 m2, planted: 2026-04-10}\n",
        ),
        ("ways.two-bay heap.make.from.2", "        - {material: coffee grounds, weekly: 20 kg}\n"),
        ("places.old apples.count", "    count: 9\n"),
        ("ways.yard compost.buy.minimum", ", minimum: 2 m3"),
    ],
)
def test_what_is_none_is_taken_out(call: Call, ask: Call, path: str, old: str) -> None:
    """A way, an ingredient by its number, a count and a seller's term: the answer is that of the file without it."""
    words = "options", "-", "--format", "csv"
    wanted = call(*words, stdin=typed_in((old, "")))
    done = call(*words, "--set", f"{path}=none", stdin=ORCHARD.encode())
    assert (done.code, done.out) == (0, wanted.out), done.err
    assert done.out != ask(*words, stdin=ORCHARD.encode()).out


def test_a_need_is_taken_out_by_its_kind(call: Call) -> None:
    """Without their feed nothing feeds the beds; what else stands in the list stays."""
    words = "sizes", "-", "--format", "json", "--set", "places.kitchen beds.needs.feed=none"
    rows = call(*words, stdin=ORCHARD.encode()).json["tables"][0]["rows"]
    assert {row["need"] for row in rows if row["place"] == "kitchen beds"} == {"raise"}


def test_what_others_go_by_is_told_where_it_is_taken_out(call: Call) -> None:
    """Barrels name the yard compost: it cannot go without them, and the message says where."""
    done = call("options", "-", "--set", "ways.yard compost=none", stdin=ORCHARD.encode())
    assert (done.code, done.out) == (2, b"")
    assert 'places.half barrels.ways.1: there is no way "yard compost"' in done.err


def test_no_key_takes_the_word_that_takes_out() -> None:
    """No word of the site file's own is "none": nothing that may be set is lost by it."""
    schema = json.loads((ROOT / "docs" / "site.schema.json").read_text("utf-8"))

    def words(node: Any) -> Iterator[Any]:
        for key, of in node.items() if isinstance(node, dict) else enumerate(node):
            if key in ("enum", "const"):
                yield from of if isinstance(of, list) else [of]
            elif isinstance(of, (dict, list)):
                yield from words(of)

    every = set(words(schema))
    assert "bed" in every
    assert "none" not in every


def test_two_sets_of_one_value(call: Call) -> None:
    """Which of them is meant cannot be told."""
    twice = call("sizes", "--format", "json", "--set", "places.1.count=3", "--set", "places.1.count=2")
    assert (twice.code, twice.out) == (2, b"")
    assert twice.err == 'barrowful: --set says twice what "places.1.count" is; give it once\n'


@pytest.mark.parametrize("command", dict.fromkeys(asked.split()[0] for asked in ASKED))
def test_the_sample_takes_it_too(call: Call, command: str) -> None:
    """Without a file the value holds in the sample, which is the same as the file of it."""
    sample = ROOT / "src" / "barrowful" / "sample.yaml"
    words = (command, "--format", "json", "--set", "site=Elsewhere")
    done = call(*words)
    assert done.code == 0, done.err
    assert done.out == call(*words, sample).out
    assert command == "check" or b'"Elsewhere"' in done.out


@pytest.mark.parametrize("asked", ASKED)
def test_the_file_is_not_touched(
    call: Call, small: Path, asked: str, contents: Callable[[Path], dict[str, bytes | None]]
) -> None:
    """Whatever is set, no file is written."""
    before = contents(small.parent)
    assert call(*asked.split(), small, "--set", "places.beds.count=3").code in {0, 3}
    assert contents(small.parent) == before


@pytest.mark.parametrize("asked", ASKED)
@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("places.bedz.count=3", 'nothing here is called "bedz.count"; did you mean "beds"?'),
        ("places.beds.count.of=3", "below a single value"),
        ("places.beds.cuont=none", '"cuont" that could be taken out; did you mean "count"?'),
        ("places.bedz=none", 'nothing here is called "bedz"; did you mean "beds"?'),
        ("places.beds.count.of=none", "below a single value"),
        ("places.beds.count", 'write "PATH=VALUE"'),
        ("=3", 'write "PATH=VALUE"'),
        ("places.beds.count=[3", "--set places.beds.count:1:"),
        ("places.beds.count=&x 3", "an anchor"),
        ("places.beds.count=3\nsite: x", "an invisible control character (U+000A)"),
        ("places.be\x1b[31mds.count=3", "an invisible control character (U+001B)"),
    ],
)
def test_a_path_that_leads_nowhere(call: Call, small: Path, asked: str, change: str, says: str) -> None:
    """What cannot be set is wrong use, with the nearest name, and nothing is answered."""
    done = call(*asked.split(), small, "--set", change)
    assert (done.code, done.out) == (2, b"")
    assert says in done.err
    assert "\x1b" not in done.err


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("places.beds.cuont=3", '--set: places.beds: "cuont" is not a key here; did you mean "count"?'),
        ("places.beds.count=many", '--set: places.beds.count: "many" is not'),
        ("plces=[]", '--set: the file: "plces" is not a key here; did you mean "places"?'),
        (
            "places.beds.needs.cover={depth: 5 cm, dpeth: 3 cm}",
            '"dpeth" is not a key here; did you mean "depth"?',
        ),
    ],
)
@pytest.mark.parametrize("asked", ASKED)
def test_a_value_that_cannot_be(call: Call, small: Path, asked: str, change: str, says: str) -> None:
    """It is wrong use in the words for the file, said to stand in --set; check lists it as it lists problems."""
    done = call(*asked.split(), small, "--set", change)
    if asked == "check":
        assert done.code == 1
        assert says in done.out.decode()
    else:
        assert (done.code, done.out) == (2, b"")
        assert says in done.err


def test_problems_of_the_file_go_first(call: Call, spoilt: Path) -> None:
    """A file with problems of its own is told of with its lines, whatever is set beside."""
    for change in ("places.nowhere.count=3", "site=Field"):
        done = call("sizes", spoilt, "--set", change)
        assert (done.code, done.out) == (1, b"")
        assert f"{spoilt}:3:" in done.err
        assert f"{spoilt}:9:" in done.err


def test_a_set_may_mend_the_file(call: Call, spoilt: Path, small: Path) -> None:
    """A problem that is gone with what is set is no hindrance: the file that said so would have none."""
    text = spoilt.read_text("utf-8").replace("2027-02-30", "2027-03-01")
    fixed = call("check", "-", "--format", "json", stdin=text.encode())
    done = call("check", "-", "--format", "json", "--set", "start=2027-03-01", stdin=spoilt.read_bytes())
    assert (done.code, done.out) == (fixed.code, fixed.out)
    assert len(done.json["problems"]) == 1


def test_a_warning_says_that_it_stands_in_set(call: Call, small: Path) -> None:
    """A value that is hardly meant is warned of by its path; the answer carries the warning too."""
    done = call("sizes", small, "--format", "json", "--set", "places.beds.needs.cover.depth=61 cm")
    assert done.code == 0
    says = '--set: places.beds.needs.cover.depth: "61 cm" is more than the usual'
    assert f"warning: {says}" in done.err
    assert any(says in warning for warning in done.json["warnings"])
    strict = call("check", small, "--strict", "--set", "places.beds.needs.cover.depth=61 cm")
    assert strict.code == 4


def test_a_name_that_is_set_twice_over(call: Call, demos: dict[str, Path]) -> None:
    """A name that another place has is a problem that says where both stand."""
    done = call("check", demos["crooked-ladle-orchard"], "--set", "places.1.name=old apples")
    assert done.code == 1
    assert '"old apples" also stands on line' in done.out.decode()


def test_a_blend_takes_the_values_of_its_site(call: Call, small: Path) -> None:
    """A quick blend with a site has its measures as they are set; without a site there is nothing to set."""
    words = ("heap", "--format", "json", "--of", "10 tub straw")
    smaller = call(*words, small, "--set", "measures.tub=20 L")
    larger = call(*words, small, "--set", "measures.tub=40 L")
    assert (smaller.code, larger.code) == (0, 0), larger.err
    assert smaller.out != larger.out
    without = call("heap", "--of", "10 L straw", "--set", "site=x")
    assert (without.code, without.out) == (2, b"")
    assert "--set is for the values of a site" in without.err


@pytest.mark.parametrize("command", ["log", "begin", "figures", "explain"])
def test_others_do_not_know_it(call: Call, command: str) -> None:
    """Commands that write a file, or read none, have no --set."""
    done = call(command, "--set", "site=x")
    assert done.code == 2
    assert "--set" in done.err
