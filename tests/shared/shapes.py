"""Site files of any shape, drawn, for tests of what is written into one of their lists."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import yaml
from hypothesis import event
from hypothesis import strategies as st

Draw = Callable[[st.SearchStrategy[Any]], Any]

#: Comments that look like what they are not.
COMMENTS = (
    "# wet, cold",
    "#, ] }",
    "# history: []",
    "# plan: []",
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
    "[{name: 'it''s, a [bed]', kind: bed, shape: {area: 10 m2}, needs: [{cover: {depth: 5 cm}}]}]",
    '[{"name": "it\'s, a [bed]", "kind": "bed", "shape": {"area": "10 m2"}, "needs": [{"cover": {"depth": "5 cm"}}]}]',
)
VALUES: dict[str, tuple[str, ...]] = {
    "site": ("Field", "'Far, \"Field\": #1'", '"Far\\nField"', "Far # Field", "history"),
    "currency": ("EUR", "'EUR'", '"EUR"'),
    "start": ("2027-03-01", '"2027-03-01"'),
    "measures": ("{barrow: 80 L}", "{ 'barrow' : 80 L , }", '{"barrow": "80 L"}'),
    "places": PLACES,
    "ways": (
        "[{name: 'yes', buy: {material: green compost, price: 40 EUR/m3}}]",
        '[{"name": "yes", "buy": {"material": "green compost", "price": "40 EUR/m3"}}]',
    ),
}
MORE: dict[str, tuple[str, ...]] = {
    "climate": ("{annual_mean: 12 degC}",),
    "soil": ("{organic_matter: 2 %, bulk_density: 1.3 g/cm3}",),
    "labour": ("{push: 40 m}", "{ }"),
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
        '\n- name: "it\'s, a [bed]"\n  kind: bed\n  shape:\n    area: 10 m2\n  needs: [cover: {depth: 5 cm}]',
        "\n  - {name: 'it''s, a [bed]', kind: bed,   # here, too\n   shape: {area: 10 m2}, needs: [{cover: {depth: 5 cm}}]}",
    ),
    "climate": ("\n  annual_mean: 12 degC",),
}
#: A list of a site file: its key, what each item says of the day or the need, and the key of its words.
Words = tuple[str, str, str]
HISTORY: Words = ("history", "date: 2026-11-20", "note")
PLAN: Words = ("plan", "need: cover", "way")
#: Stands before and behind the list with its key in the drawn text, and behind all where there is none.
EDGE = "\0"
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


def flow_entry(draw: Draw, said: Words) -> str:
    """Draw an entry in braces."""
    note = draw(st.sampled_from(NOTES)).split(" #")[0]
    _, first, word = said
    quoted = first.replace(": ", ": '") + "'"
    return draw(
        st.sampled_from(
            (
                f"{{{first}, place: 'it''s, a [bed]', {word}: {note}}}",
                f'{{ {quoted} , {word}: {note} , place: "it\'s, a [bed]" , }}',
                f"{{{first}, # on, a ]\n    place: 'it''s, a [bed]',\n    {word}: {note}   # }}\n    }}",
            )
        )
    )


def flow_list(draw: Draw, said: Words) -> str:
    """Draw a list in brackets, with any number of entries."""
    gap = st.sampled_from(("", " ", "\n  ", "  # so, ] it\n    ", "\n  # is }\n\n  "))
    count = draw(st.integers(0, 3))
    text = "[" + draw(gap)
    for number in range(count):
        text += flow_entry(draw, said) + draw(gap)
        if number < count - 1 or draw(st.booleans()):
            text += "," + draw(gap)
    return text + "]"


def block_entry(draw: Draw, pad: str, said: Words) -> str:
    """Draw an entry as lines under a dash."""
    dash = draw(st.sampled_from(("- ", "-   ", f"-\n{pad}  ")))
    inner = pad + " " * (2 if "\n" in dash else len(dash))
    note = draw(
        st.sampled_from(
            (*NOTES, "|\n{}  wet\n\n{}  cold", ">-\n{}  wet\n\n", "|+\n{}  wet\n\n", "wet\n{} and, cold")
        )
    )
    lines = [said[1], "place: 'it''s, a [bed]'", f"{said[2]}: " + note.replace("{}", inner)]
    return pad + dash + f"\n{inner}".join(lines)


def block_list(draw: Draw, said: Words) -> str:
    """Draw a list as a list of lines, for a file that is not indented."""
    pad = " " * draw(st.sampled_from((0, 2, 2, 5)))
    text = behind(draw)
    for _ in range(draw(st.integers(1, 3))):
        text += "".join(f"\n{pad}{line}" for line in comments(draw))
        if draw(st.booleans()):
            text += "\n" + block_entry(draw, pad, said)
        else:
            text += f"\n{pad}- " + flow_entry(draw, said).replace("\n", f"\n{pad}") + behind(draw)
    return text


def list_of(draw: Draw, braces: bool, said: Words) -> str:
    """Draw the value of the key: any list, or nothing."""
    nothing = draw(st.sampled_from((" []", " [ ]", " " * braces, " ~", " null", " [\n ]")))
    shape = draw(
        st.sampled_from(("nothing", "flow", "flow") if braces else ("nothing", "flow", "block", "block"))
    )
    return (
        nothing
        if shape == "nothing"
        else block_list(draw, said)
        if shape == "block"
        else " " + flow_list(draw, said)
    )


@st.composite
def sites(draw: Draw, said: Words) -> str:
    """Draw the text of a sound site file, with or without the list; edges stand about it."""
    braces = draw(st.booleans()) and draw(st.booleans())
    more = draw(st.lists(st.sampled_from(sorted(MORE)), unique=True))
    keys = draw(st.permutations([*VALUES, *more, *draw(st.sampled_from(([], [said[0]], [said[0]])))]))
    parts = [part_of(draw, key, braces, said) for key in keys]
    body = in_braces(draw, parts) if braces else in_lines(draw, parts)
    head = draw(
        st.sampled_from(("", "", "---\n", "--- # it, is ]\n", "%YAML 1.1\n---\n", "# history: []\n\n"))
    )
    end = draw(
        st.sampled_from(
            ("", "", "\n", "\n\n", "\n# the, end ]", "\n# the\n  # end\n", "\n...\n", "\n... # a, b\n# c\n")
        )
    )
    return head + body + (EDGE * 2 if EDGE not in body else "") + end


def part_of(draw: Draw, key: str, braces: bool, said: Words) -> str:
    """Draw a key with its value."""
    if key == said[0]:
        value = list_of(draw, braces, said)
        event(
            "list: "
            + (
                "block"
                if "\n" in value and "[" not in value.split("\n")[0]
                else value.strip()[:1] or "nothing"
            )
        )
        return EDGE + key_of(draw, key) + value + EDGE
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
        after = behind(draw) if plain else ""
        lines.append(part[:-1] + after + EDGE if part.endswith(EDGE) else part + after)
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
