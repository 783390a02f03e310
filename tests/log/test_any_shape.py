"""Sound files of any shape: the entry is added at the end of the history and nothing else is touched."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import yaml
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from barrowful.cli.log import adder
from barrowful.site.load import load

Draw = Callable[[st.SearchStrategy[Any]], Any]
ENTRY = {"date": "2027-04-12", "place": "it's, a [bed]", "material": "straw", "amount": "18 barrow"}

#: Comments that look like what they are not.
COMMENTS = (
    "# wet, cold",
    "#, ] }",
    "# history: []",
    "# it's",
    '# "',
    "# {a: [b",
    "#",
    "# - {}",
    "# ... ---",
    "# a: b",
    "#\tc",
    "# übers Jahr",
)
#: Keys a file may have or not, with values of every style; the name of the place is in need of quotes.
PLACES = (
    "[{name: 'it''s, a [bed]', kind: bed, shape: {area: 10 m2}}]",
    '[{"name": "it\'s, a [bed]", "kind": "bed", "shape": {"area": "10 m2"}}]',
)
VALUES: dict[str, tuple[str, ...]] = {
    "site": ("Field", "'Far, \"Field\": #1'", '"Far\\nField"', "Far # Field", "history"),
    "currency": ("EUR", "'EUR'", '"EUR"'),
    "start": ("2027-03-01", '"2027-03-01"'),
    "measures": ("{barrow: 80 L}", "{ 'barrow' : 80 L , }", '{"barrow": "80 L"}'),
    "places": PLACES,
}
MORE: dict[str, tuple[str, ...]] = {
    "climate": ("{annual_mean: 12 degC}",),
    "soil": ("{organic_matter: 2 %, bulk_density: 1.3 g/cm3}",),
    "labour": ("{push: 40 m}", "{ }"),
    "ways": ("[]", "[{name: yard, buy: {material: green compost, price: 40 EUR/m3}}]"),
    "hemisphere": ("north", "'north'"),
}
#: Values over several lines, for keys of a file without braces; they are indented with the file.
BLOCKS: dict[str, tuple[str, ...]] = {
    "site": (
        "|\n  Far\n  Field",
        ">-\n  Far\n\n  Field",
        "|+\n  Far\n\n",
        "Far\n  Field",
        "'Far\n\n  Field'",
        "\n  Field",
    ),
    "measures": ("\n  barrow: 80 L", "\n    'barrow'  :  80 L   # of mine, ]"),
    "places": (
        '\n- name: "it\'s, a [bed]"\n  kind: bed\n  shape:\n    area: 10 m2',
        "\n  - {name: 'it''s, a [bed]', kind: bed,   # here, too\n   shape: {area: 10 m2}}",
    ),
    "climate": ("\n  annual_mean: 12 degC",),
}
NOTES = ("x", "'# wet, ]'", '"it\'s, {"', "history", "'...'", "0", "a b # c")


def comments(draw: Draw, most: int = 2) -> list[str]:
    """Draw some comments and blank lines."""
    return draw(st.lists(st.sampled_from((*COMMENTS, "", "  ")), max_size=most))


def behind(draw: Draw) -> str:
    """Draw what may stand behind a value on its line."""
    return draw(st.sampled_from(("", "", "", " ", "\t", *(f"  {comment}" for comment in COMMENTS))))


def key_of(draw: Draw, key: str) -> str:
    """Draw a way to write a key with its colon."""
    return draw(st.sampled_from((f"{key}:", f"{key}:", f"{key} :", f"{key}  : ", f'"{key}":', f"'{key}' :")))


def flow_entry(draw: Draw) -> str:
    """Draw an entry in braces."""
    note = draw(st.sampled_from(NOTES)).split(" #")[0]
    return draw(
        st.sampled_from(
            (
                f"{{date: 2026-11-20, place: 'it''s, a [bed]', note: {note}}}",
                f"{{ date: '2026-11-20' , note: {note} , place: \"it's, a [bed]\" , }}",
                f"{{date: 2026-11-20, # on, a ]\n    place: 'it''s, a [bed]',\n    note: {note}   # }}\n    }}",
            )
        )
    )


def flow_history(draw: Draw) -> str:
    """Draw a history in brackets, with any number of entries."""
    gap = st.sampled_from(("", " ", "\n  ", "  # so, ] it\n    ", "\n  # is }\n\n  "))
    count = draw(st.integers(0, 3))
    text = "[" + draw(gap)
    for number in range(count):
        text += flow_entry(draw) + draw(gap)
        if number < count - 1 or draw(st.booleans()):
            text += "," + draw(gap)
    return text + "]"


def block_entry(draw: Draw, pad: str) -> str:
    """Draw an entry as lines under a dash."""
    dash = draw(st.sampled_from(("- ", "-   ", f"-\n{pad}  ")))
    inner = pad + " " * (2 if "\n" in dash else len(dash))
    note = draw(
        st.sampled_from(
            (*NOTES, "|\n{}  wet\n\n{}  cold", ">-\n{}  wet\n\n", "|+\n{}  wet\n\n", "wet\n{} and, cold")
        )
    )
    lines = ["date: 2026-11-20", "place: 'it''s, a [bed]'", "note: " + note.replace("{}", inner)]
    return pad + dash + f"\n{inner}".join(lines)


def block_history(draw: Draw) -> str:
    """Draw a history as a list of lines, for a file that is not indented."""
    pad = " " * draw(st.sampled_from((0, 2, 2, 5)))
    text = behind(draw)
    for _ in range(draw(st.integers(1, 3))):
        text += "".join(f"\n{pad}{line}" for line in comments(draw))
        if draw(st.booleans()):
            text += "\n" + block_entry(draw, pad)
        else:
            text += f"\n{pad}- " + flow_entry(draw).replace("\n", f"\n{pad}") + behind(draw)
    return text


def history(draw: Draw, braces: bool) -> str:
    """Draw the value of a history: any list, or nothing."""
    nothing = draw(st.sampled_from((" []", " [ ]", " " * braces, " ~", " null", " [\n ]")))
    shape = draw(
        st.sampled_from(("nothing", "flow", "flow") if braces else ("nothing", "flow", "block", "block"))
    )
    return (
        nothing
        if shape == "nothing"
        else block_history(draw)
        if shape == "block"
        else " " + flow_history(draw)
    )


@st.composite
def sites(draw: Draw) -> str:
    """Draw the text of a sound site file."""
    braces = draw(st.booleans()) and draw(st.booleans())
    more = draw(st.lists(st.sampled_from(sorted(MORE)), unique=True))
    keys = draw(st.permutations([*VALUES, *more, *draw(st.sampled_from(([], ["history"], ["history"])))]))
    parts = [part_of(draw, key, braces) for key in keys]
    body = in_braces(draw, parts) if braces else in_lines(draw, parts)
    head = draw(
        st.sampled_from(("", "", "---\n", "--- # it, is ]\n", "%YAML 1.1\n---\n", "# history: []\n\n"))
    )
    end = draw(
        st.sampled_from(
            ("", "", "\n", "\n\n", "\n# the, end ]", "\n# the\n  # end\n", "\n...\n", "\n... # a, b\n# c\n")
        )
    )
    return head + body + end


def part_of(draw: Draw, key: str, braces: bool) -> str:
    """Draw a key with its value."""
    if key == "history":
        value = history(draw, braces)
        event(
            "history: "
            + (
                "block"
                if "\n" in value and "[" not in value.split("\n")[0]
                else value.strip()[:1] or "nothing"
            )
        )
        return key_of(draw, key) + value
    values = VALUES.get(key) or MORE[key]
    if braces:
        return key_of(draw, key) + " " + draw(st.sampled_from(values)).split(" # ")[0]
    chosen = draw(st.sampled_from((*values, *BLOCKS.get(key, ()))))
    return key_of(draw, key) + ("" if chosen.startswith("\n") else " ") + chosen


def in_lines(draw: Draw, parts: list[str]) -> str:
    """Draw a file of lines from its parts, the whole of it perhaps indented."""
    lines: list[str] = []
    for part in parts:
        lines += comments(draw, 1)
        plain = "\n" not in part and "#" not in part
        lines.append(part + (behind(draw) if plain else ""))
    pad = " " * draw(st.sampled_from((0, 0, 0, 1, 4)))
    return "\n".join(pad + line for line in "\n".join(lines).split("\n"))


def in_braces(draw: Draw, parts: list[str]) -> str:
    """Draw a file in braces from its parts."""
    gap = st.sampled_from(("", " ", "\n", "\n  ", "  # a, b ]\n  ", "\n# c }\n "))
    body = "".join(f"{draw(gap)}{part}{draw(gap)}, " for part in parts[:-1]) + draw(gap) + parts[-1]
    return "{" + body + draw(st.sampled_from((" ", ", ", "\n", " ,\n  ", " # d, }\n", ", # e ]\n  "))) + "}"


def plain(text: str) -> Any:
    """Return what YAML makes of a text, every value as text and without the line ends at its ends."""

    def trimmed(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: trimmed(inner) for key, inner in value.items()}
        return [trimmed(inner) for inner in value] if isinstance(value, list) else value.strip()

    return trimmed(yaml.load(text, Loader=yaml.CBaseLoader))


def kept(old: str, new: str) -> bool:
    """Say whether every letter of a text is in another, in order; nothing may be written out as an empty list."""
    old = re.sub(r"(history[\"']?\s*:)\s*(\[\s*\]|~|null)", r"\1", old)
    letters = iter(re.sub(r"\s", "", new))
    return all(letter in letters for letter in re.sub(r"\s", "", old))


@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sites(), st.sampled_from(("\n", "\n", "\r\n", "\r")), st.booleans())
def test_any_sound_file_gets_the_entry(text: str, newline: str, mark: bool) -> None:
    """The file holds one entry more, reads back the same otherwise, and every comment and line is there still."""
    data = (b"\xef\xbb\xbf" if mark else b"") + text.replace("\n", newline).encode()
    new = adder("field.yaml", ENTRY)(data)
    after = new.decode("utf-8")
    assert after.startswith("\ufeff") is mark
    after = after.removeprefix("\ufeff")
    assert newline == "\n" or "\n" not in after.replace(newline, "")
    after = after.replace(newline, "\n")
    before, grown = plain(text), plain(after)
    history = before.pop("history", "")
    assert grown.pop("history") == [*(history if isinstance(history, list) else []), ENTRY]
    assert grown == before
    assert kept(text, after)
    for comment in COMMENTS:
        assert after.count(comment) >= text.count(comment)
    site = load(new, "field.yaml").site
    assert replace(site, history=()) == replace(site_without_history(before), history=())


def site_without_history(keys: dict[str, Any]) -> Any:
    """Return the site of plain keys and values."""
    return load(yaml.safe_dump(keys).encode(), "field.yaml").site
