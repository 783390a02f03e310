"""Whatever bytes come in, what comes out is a site or problems that are fit to print."""

from __future__ import annotations

import random
from collections.abc import Callable

from draws import draws
from hypothesis import HealthCheck, example, given
from hypothesis import strategies as st

from barrowful.measures.problems import Problem

Load = Callable[[bytes | str], tuple[Problem, ...]]
Judge = Callable[[tuple[Problem, ...], bytes | str], None]

STEADY = draws(150, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
SIGNS = "-?:,[]{}#&*!|>'\"%@`~<=.\\ \n\t"
TOKENS = [
    "- ", "? ", ": ", ", ", "[", "]", "{", "}", "#", "&a ", "*a", "!t ", "|\n", ">\n", "'", '"', "%",
    "@", "`", "~",
    "<<: ", "---\n", "...\n", "\n", "\n  ", "\n    ", "\t", "site: ", "currency: EUR\n",
    "start: 2027-03-01\n",
    "places: ", "name: ", "kind: bed", "shape: ", "area: 3 m2", "needs: ", "cover: ", "depth: ", "8 cm",
    "ways: ",
    "buy: ", "price: ", "4 EUR/m3", "no", "1:30", "010", "1e3", ".inf", "9**9**9 L", "=", "null", "\r\n",
    "\ufeff",
    "\u2028", "\x85",
]  # fmt: skip
VALUES = [
    "", "~", "null", "no", "on", "1:30", "010", "1e3", ".inf", ".nan", "-1", "0", "1e400", "9**9**9 L",
    "4 ft 6 in",
    "1,5 m", "1 000 m", "3 kg", "3 m", "3 m2", "3 L", "3 EUR", "3 EUR/kg", "5 weeks", "2027-02-30", "[]",
    "{}", "[a]",
    "{a: b}", "{low: 1 m, likely: 2 m, high: 3 m}", "{low: 1 kg, likely: 2 L, high: 3 kg}", "&a x", "*a",
    "!t x",
    "'x", '"x', "=", "beds", "x" * 100, "\u202e", "\x07",
]  # fmt: skip
SOUND = (
    "site: x\ncurrency: EUR\nstart: 2027-03-01\n"
    "places: [{name: a, kind: bed, shape: {area: 3 m2}, needs: [{cover: {depth: 3 cm}}]}]\n"
)


def spoilt(text: str, seed: int, times: int) -> str:
    """Return a text with some lines or letters deleted, doubled, moved or replaced."""
    luck = random.Random(seed)
    lines = text.splitlines(keepends=True)
    for _ in range(times):
        at = luck.randrange(len(lines))
        line = lines[at]
        where = luck.randrange(len(line)) if line else 0
        match luck.randrange(8):
            case 0:
                lines[at] = ""
            case 1:
                lines.insert(at, line)
            case 2:
                lines[at] = lines[luck.randrange(len(lines))]
            case 3:
                lines[at] = line[:where] + line[where + 1 :]
            case 4:
                lines[at] = line[:where] + luck.choice(SIGNS) + line[where + 1 :]
            case 5:
                lines[at] = (
                    line[:where] + chr(luck.choice([32, 65, 97, 48, 233, 0x2028, 0x202E, 1])) + line[where:]
                )
            case 6:
                key, colon, _ = line.partition(": ")
                lines[at] = f"{key}{colon}{luck.choice(VALUES)}\n"
            case _:
                words = line.split(" ")
                words[luck.randrange(len(words))] = luck.choice(VALUES)
                lines[at] = " ".join(words)
    return "".join(lines)


@draws(300, STEADY)
@given(st.integers(0, 2**32), st.integers(1, 6), st.integers(0, 1))
def test_spoilt_demo_files(
    problems_of: Load, well_formed: Judge, demos: list[str], seed: int, times: int, which: int
) -> None:
    """A demo file with a few lines or letters changed loads or is refused in good order."""
    text = spoilt(demos[which], seed, times)
    well_formed(problems_of(text), text)


@STEADY
@given(st.text(max_size=200))
@example("site: x\u2028nope: 1")
def test_any_text(problems_of: Load, well_formed: Judge, text: str) -> None:
    """Any text at all is answered in good order."""
    well_formed(problems_of(text), text)


@draws(400, STEADY)
@given(st.lists(st.sampled_from(TOKENS), max_size=40).map("".join))
@example("...\n")
@example("site: &a\n- *a")
def test_token_soup(problems_of: Load, well_formed: Judge, text: str) -> None:
    """The signs and words of site files in any order are answered in good order."""
    well_formed(problems_of(text), text)
    well_formed(problems_of(SOUND + text), SOUND + text)


@STEADY
@given(st.binary(max_size=120), st.booleans())
@example(b"\xff\xfe", False)
@example(b"\xed\xa0\x80", True)
def test_any_bytes(problems_of: Load, well_formed: Judge, data: bytes, behind: bool) -> None:
    """Any bytes at all, alone or behind a sound file, are answered in good order."""
    data = SOUND.encode() + data if behind else data
    well_formed(problems_of(data), data)


@draws(400, STEADY)
@given(st.lists(st.sampled_from(VALUES), min_size=12, max_size=12))
@example(["{low: {low: 1 m, likely: 2 m, high: 3 m}, likely: 4 m, high: 5 m}", *["3 m"] * 11])
@example(["3 m"] * 7 + ["80 cm"] + ["3 m"] * 4)
def test_any_value_anywhere(problems_of: Load, well_formed: Judge, values: list[str]) -> None:
    """Values meant for one field are answered in good order in every other."""
    a, b, c, d, e, f, g, h, i, j, k, m = values
    text = (
        f"site: {a}\ncurrency: EUR\nstart: 2027-03-01\nhorizon: {b}\n"
        f"places:\n"
        f"  - name: beds\n    kind: bed\n    shape: {{area: 3 m2}}\n    count: {c}\n    layer_now: {d}\n"
        f"    needs:\n      - cover:\n          depth: {e}\n          dug: {f}\n"
        f"soil:\n  clay: {g}\n"
        f"measures:\n  barrow: {h}\n"
        f"ways:\n  - name: yard\n    buy:\n      material: {i}\n      price: {j}\n      truck: {k}\n"
        f"materials:\n  straw:\n    density: {m}\n"
    )
    well_formed(problems_of(text), text)
