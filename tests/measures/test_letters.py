"""Letters that cannot be seen: what looks alike, in which letter it differs, and which letters are let be."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrowful.measures.letters import difference, looks, stray, twin
from barrowful.measures.problems import did_you_mean

#: Pairs that an eye cannot tell apart.
ALIKE = {
    "zero width space": ("long beds", "long\u200b beds"),
    "zero width joiner": ("beds", "be\u200dds"),
    "zero width non-joiner": ("beds", "beds\u200c"),
    "word joiner": ("beds", "\u2060beds"),
    "byte order mark": ("beds", "\ufeffbeds"),
    "soft hyphen": ("Komposthaufen", "Kompost\u00adhaufen"),
    "variation selector": ("beds", "beds\ufe0f"),
    "selector of a later plane": ("beds", "beds\U000e0101"),
    "letter of a tag": ("beds", "beds\U000e0062"),
    "grapheme joiner": ("beds", "be\u034fds"),
    "filler": ("beds", "beds\u3164"),
    "invisible times": ("beds", "beds\u2062"),
    "no-break space": ("long beds", "long\u00a0beds"),
    "thin space": ("long beds", "long\u2009beds"),
    "ideographic space": ("long beds", "long\u3000beds"),
    "two spaces": ("long beds", "long  beds"),
    "a space at the end": ("beds", "beds "),
    "a tab": ("long beds", "long\tbeds"),
    "composed and not": ("caf\u00e9", "cafe\u0301"),
    "composed in parts": ("\u1ec7", "\u00ea\u0323"),
    "sign for a letter": ("\u03bcg", "\u00b5g"),
    "sign for kelvin": ("K bed", "\u212a bed"),
    "ligature": ("field", "\ufb01eld"),
    "no-break hyphen": ("a\u2010b", "a\u2011b"),
}
#: Pairs that an eye tells apart.
UNLIKE = {
    "capital": ("beds", "Beds"),
    "squared": ("bed\u00b2", "bed2"),
    "in a circle": ("bed \u2460", "bed 1"),
    "a half": ("\u00bd bed", "1/2 bed"),
    "wide": ("\uff22ed", "Bed"),
    "accent": ("cafe", "caf\u00e9"),
    "no space": ("longbeds", "long beds"),
    "hyphen": ("long-beds", "long beds"),
}


@pytest.mark.parametrize(("one", "other"), ALIKE.values(), ids=ALIKE)
def test_what_looks_alike(one: str, other: str) -> None:
    """Texts that differ in what cannot be seen look the same, and each is the twin of the other."""
    assert one != other
    assert looks(one) == looks(other)
    assert twin(one, ["straw", other, "hay"]) == other
    assert twin(other, ["straw", one, "hay"]) == one


@pytest.mark.parametrize(("one", "other"), UNLIKE.values(), ids=UNLIKE)
def test_what_an_eye_tells_apart(one: str, other: str) -> None:
    """Texts that differ to the eye do not."""
    assert looks(one) != looks(other)
    assert twin(one, [other]) is None
    assert twin(other, [one]) is None


@pytest.mark.parametrize("text", [text for pair in ALIKE.values() for text in pair])
def test_nothing_is_its_own_twin(text: str) -> None:
    """A text among others is not held against itself."""
    assert twin(text, [text]) is None


@given(st.text())
def test_looks_are_steady(text: str) -> None:
    """What is seen of what is seen is the same, and holds no unseen letter."""
    assert looks(looks(text)) == looks(text)
    assert stray(looks(text)) == ""


def test_unseen_letters_are_those_of_format() -> None:
    """Every letter of category Cf that shows nothing is left out; those that show something are not."""
    shown = ("ARABIC", "SYRIAC", "KAITHI", "EGYPTIAN", "INTERLINEAR")
    for code in range(0x110000):
        letter = chr(code)
        if unicodedata.category(letter) == "Cf":
            assert (looks(f"a{letter}b") == "ab") == (
                not unicodedata.name(letter).startswith(shown) or code == 0x061C
            ), hex(code)


@pytest.mark.parametrize(
    ("here", "there", "said"),
    [
        ("long beds", "long\u00a0beds", "letter 5 is U+0020 here and U+00A0 there"),
        ("beds", "beds\u200b", "letter 5 is none here and U+200B there"),
        ("be\u200dds", "beds", 'letter 3 is U+200D here and "d" there'),
        ("caf\u00e9", "cafe\u0301", 'letter 4 is U+00E9 here and "e" there'),
    ],
)
def test_the_letter_that_differs(here: str, there: str, said: str) -> None:
    """The first letter in which two texts differ is told by its place and its number."""
    assert difference(here, there) == said


@pytest.mark.parametrize("letter", ["\u00ad", "\u200b", "\u2060", "\u2064", "\ufeff"])
def test_stray_letters(letter: str) -> None:
    """A letter that shows nothing and shapes nothing has no business in a name, wherever it stands."""
    for name, at in ((f"{letter}beds", 1), (f"long{letter} beds", 5), (f"beds{letter}", 5)):
        assert stray(name) == f"letter {at} is U+{ord(letter):04X}, which cannot be seen"


@pytest.mark.parametrize(
    "name",
    [
        "\u0646\u0627\u0645\u0647\u200c\u0627\u06cc",  # Persian, with a non-joiner
        "\u0915\u094d\u200d\u0937",  # Devanagari, with a joiner
        "\u0db6\u0dca\u200d\u0dbb",  # Sinhala, with a joiner
        "\U0001f469\u200d\U0001f33e",  # a farmer, joined
        "\u2764\ufe0f bed",  # a heart with its selector
        "\u0e2a\u0e27\u0e19\u200b\u0e1c\u0e31\u0e01",  # Thai words parted
        "\u179f\u17bd\u1793\u200b\u1794\u1793\u17d2\u179b\u17c2",  # Khmer words parted
        "long\u00a0beds",
        "caf\u00e9",
        "cafe\u0301",
        "\u83dc\u5712",
    ],
)
def test_letters_that_are_let_be(name: str) -> None:
    """Joiners, selectors and parted words are part of how people write."""
    assert stray(name) == ""


def test_a_hint_tells_the_letter() -> None:
    """A word that looks just like a known one gets no riddle for a hint."""
    assert did_you_mean("long beds", ["long\u00a0beds"]) == (
        '; "long\u00a0beds" looks the same, but letter 5 is U+0020 here and U+00A0 there: write both alike'
    )
    assert did_you_mean("long bed", ["long\u00a0beds", "long beds"]) == '; did you mean "long beds"?'
