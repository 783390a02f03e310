"""Files made to tire a reader: each is answered after little work, whatever it holds."""

from __future__ import annotations

from collections.abc import Callable

import pytest
import yaml

from barrowful.measures.problems import Problem
from barrowful.sitefile.text.nodes import MOST_NODES

HEAD = "site: x\ncurrency: EUR\nstart: 2027-03-01\n"
#: Calls a refusal may take, however large the file; the sample that comes with the package takes eleven
#: thousand.
MOST_CALLS = 20_000


def bomb() -> str:
    """Return ten levels of references, which would unfold to three and a half thousand million words."""
    levels = "".join(f"l{n}: &l{n} [{', '.join([f'*l{n - 1}'] * 9)}]\n" for n in range(1, 10))
    return "l0: &l0 [x, x, x, x, x, x, x, x, x]\n" + levels


def stairs(steps: int) -> str:
    """Return sections in sections, each on its own line."""
    return "".join(" " * step + "a:\n" for step in range(steps))


def needs(count: int) -> str:
    """Return a place with a polygon and so many wrong needs."""
    return HEAD + f"places: [{{name: a, kind: bed, shape: {{area: 1 m2}}, needs: [{'b, ' * count}]}}]\n"


TIRING: dict[str, tuple[str | bytes, str]] = {
    "an alias bomb": (bomb(), "alias"),
    "a list that holds itself": (HEAD + "places: &a [*a]\n", "alias"),
    "100,000 brackets": ("[" * 100_000, "too-deep"),
    "100,000 braces": ("{" * 100_000, "too-deep"),
    "41 brackets": (HEAD + "places: " + "[" * 41 + "]" * 41 + "\n", "too-deep"),
    "100,000 dashes": ("- " * 100_000 + "x", "too-deep"),
    "100,000 question marks": ("? " * 100_000, "too-deep"),
    "100,000 colons": ("a: " * 100_000, "not-yaml"),
    "stairs": (stairs(2_000), "too-deep"),
    "a byte over 16 MB": (b"#" * 16_000_001, "too-large"),
    "16 MB of comment": (b"#" * 16_000_000, "empty"),
    "16 MB of blanks": (b" " * 16_000_000, "empty"),
    "a word of 15 MB": (b"site: " + b"x" * 15_000_000, "too-long"),
    "a quoted word of 15 MB": (b'site: "' + b"x\\n" * 5_000_000 + b'"', "too-long"),
    "a key of 100,000 letters": ('? "' + "x" * 100_000 + '"\n: 1\n', "too-long"),
    "100,000 tags": (HEAD + "places: [" + "!t a," * 100_000 + "]", "tag"),
    "1,000 needs": (needs(1_000), "wrong-number"),
    "a number of 1,900 digits": (HEAD + f"places: []\nhorizon: {'9' * 1_900} years\n", "too-many-digits"),
    "a unit of 2,000 words": (HEAD + f"places: []\nlabour: {{push: 3 {'m*' * 900}m}}\n", "unknown-unit"),
    "a day of 1,900 digits": (f"site: x\ncurrency: EUR\nplaces: []\nstart: {'2' * 1_900}\n", "not-a-date"),
}


@pytest.mark.parametrize(("data", "code"), TIRING.values(), ids=TIRING)
def test_tiring_files(
    data: bytes | str,
    code: str,
    problems_of: Callable[[bytes | str], tuple[Problem, ...]],
    well_formed: Callable[[tuple[Problem, ...], bytes | str], None],
    work_of: Callable[..., int],
) -> None:
    """The file is refused for what it is, and so soon that little is done for it."""
    assert 0 < work_of(data, MOST_CALLS) <= MOST_CALLS
    problems = problems_of(data)
    told = {one.code for one in problems}
    assert code in told, [str(one) for one in problems[:3]]
    assert told <= ({code, "anchor"} if code == "alias" else {code}), told
    well_formed(problems, data)


def test_no_more_parts_are_taken_than_the_limit(
    problems_of: Callable[[bytes], tuple[Problem, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a list of twice as many parts as a file may have, the parser is asked for one more than it may have."""
    asked = 0

    class Counting(yaml.CBaseLoader):
        def get_event(self) -> object:
            nonlocal asked
            asked += 1
            return super().get_event()

    monkeypatch.setattr(yaml, "CBaseLoader", Counting)
    assert [one.code for one in problems_of(b"places: [" + b"a," * (2 * MOST_NODES) + b"]")] == ["too-long"]
    assert asked == 2 + MOST_NODES + 1  # the stream and the document start before the first part


def test_forty_levels_are_taken(problems_of: Callable[[str], tuple[Problem, ...]]) -> None:
    """The limit of depth is 40 with the file's own section counted: one bracket less is only a wrong list."""
    text = HEAD + "places: " + "[" * 39 + "]" * 39 + "\n"
    assert {one.code for one in problems_of(text)} == {"not-a-section"}


def test_sixteen_million_bytes_are_taken(problems_of: Callable[[bytes], tuple[Problem, ...]]) -> None:
    """A sound file of just 16 MB, mostly a comment, loads."""
    sound = (HEAD + "places: []\n#").encode()
    assert problems_of(sound + b"x" * (16_000_000 - len(sound))) == ()


def unknown_keys(count: int) -> str:
    """Return a file of nothing but keys that are none."""
    return "".join(f"places{number}: 1\n" for number in range(count))


def unknown_places(count: int) -> str:
    """Return so many places, and a history of as many places that are not there."""
    places = "".join(f"- {{name: p{n}, kind: bed, shape: {{area: 1 m2}}}}\n" for n in range(count))
    done = "".join(f"- {{date: 2026-01-01, place: q{n}, organic_matter: 3 %}}\n" for n in range(count))
    return f"{HEAD}places:\n{places}history:\n{done}"


def unknown_everything(count: int) -> str:
    """Return so many plans for places and by ways that are not there, and as many materials and crops."""
    plans = "".join(f"- {{place: p{n}, need: cover, way: w{n}}}\n" for n in range(count))
    ways = "".join(f"- {{name: y{n}, buy: {{material: m{n}, price: 4 EUR/m3}}}}\n" for n in range(count))
    needs = "".join(
        f"- {{name: q{n}, kind: bed, shape: {{area: 1 m2}}, needs: [{{feed: {{for: c{n}}}}}]}}\n"
        for n in range(count)
    )
    return f"{HEAD}places:\n{needs}ways:\n{ways}plan:\n{plans}"


@pytest.mark.parametrize("flood", [unknown_keys, unknown_places, unknown_everything])
def test_floods_of_problems(
    flood: Callable[[int], str],
    problems_of: Callable[[str], tuple[Problem, ...]],
    work_of: Callable[..., int],
) -> None:
    """In a file where everything is wrong, twice as many problems make twice the work and no more."""
    assert len(problems_of(flood(200))) >= 200
    once, more = work_of(flood(200)), work_of(flood(400))
    assert more - once <= 1.1 * (once - work_of(flood(0)))
    assert work_of(flood(1_200)) <= 6.8 * once
