"""Letters that cannot be seen, and names that only such letters tell apart."""

from __future__ import annotations

import re
from collections.abc import Iterable
from unicodedata import decomposition, name, normalize

#: Letters that show nothing: the property Default_Ignorable_Code_Point of the Unicode Character Database
#: (DerivedCoreProperties.txt).
_IGNORED = re.compile(
    "[\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u202a-\u202e\u2060-\u206f\u3164"
    "\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufff8\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)
#: Those of them that no name needs: soft hyphen, zero width space, word joiner and its kin, byte order mark.
#: Joiners shape the letters beside them, and selectors choose how one is drawn, so they are let be.
_STRAY = re.compile("[\u00ad\u200b\u2060-\u2064\ufeff]")
#: Scripts written without spaces (line breaking class SA of Unicode Standard Annex 14), in which a zero
#: width space parts words.
_WITHOUT_SPACES = ("THAI ", "LAO ", "MYANMAR ", "KHMER ", "TAI ", "NEW TAI LUE ", "AHOM ")
#: Letters of other scripts that are drawn like Latin ones (after confusables.txt of Unicode Technical
#: Standard 39; from memory): first Cyrillic ones, then Greek.
_LIKE_LATIN = str.maketrans(
    "\u0430\u0435\u043e\u0440\u0441\u0443\u0445\u0456\u0458\u0455\u04bb\u0501\u051b\u051d"
    "\u0410\u0412\u0415\u041a\u041c\u041d\u041e\u0420\u0421\u0422\u0423\u0425\u0406\u0408\u0405"
    "\u03bf\u03bd\u0391\u0392\u0395\u0396\u0397\u0399\u039a\u039c\u039d\u039f\u03a1\u03a4\u03a5\u03a7",
    "aeopcyxijshdqwABEKMHOPCTYXIJSovABEZHIKMNOPTYX",
)
#: Kinds of compatibility letters that an eye tells from what they stand for, such as ² and 2.
_VISIBLY_OTHER = ("<super>", "<sub>", "<circle>", "<square>", "<fraction>", "<wide>", "<narrow>", "<font>")


def looks(text: str) -> str:
    """Return what an eye sees of a text: the same for texts that only unseen letters or spaces tell apart, or
    letters of two scripts that are drawn alike.

    >>> looks("long\\u00a0 beds\\u200b") == looks("long beds")
    True
    >>> looks("bed\\u00b2") == looks("bed2"), looks("b\\u0435d") == looks("bed")
    (False, True)
    """
    if not text.isascii():
        text = normalize("NFC", "".join(map(_drawn, _IGNORED.sub("", text)))).translate(_LIKE_LATIN)
    return " ".join(text.split())


def _drawn(letter: str) -> str:
    """Return the letters one stands for, where it is drawn like them."""
    kind = decomposition(letter)
    return letter if kind.startswith(_VISIBLY_OTHER) else normalize("NFKC", letter)


def twin(text: str, others: Iterable[str]) -> str | None:
    """Return the other text that looks the same and is not."""
    if _plain(text):
        others = (other for other in others if not _plain(other))
    seen = looks(text)
    return next((other for other in others if other != text and looks(other) == seen), None)


def _plain(text: str) -> bool:
    """Say whether a text can only look like one that is not plain."""
    one_line = text.isascii() and text.isprintable()
    return one_line and "  " not in text and text[:1] != " " != text[-1:]


def difference(here: str, there: str) -> str:
    """Return in words where two texts that look the same first differ.

    >>> difference("long beds", "long\\u00a0beds")
    'letter 5 is U+0020 here and U+00A0 there'
    """
    pairs = enumerate(zip(here, there, strict=False))
    at = next((index for index, (one, other) in pairs if one != other), min(len(here), len(there)))
    return f"letter {at + 1} is {_named(here[at : at + 1])} here and {_named(there[at : at + 1])} there"


def _named(letter: str) -> str:
    """Return a letter so that it can be told."""
    if not letter:
        return "none"
    return f'"{letter}"' if letter.isascii() and letter.isalnum() else f"U+{ord(letter):04X}"


def stray(text: str) -> str:
    """Return in words which unseen letter of a name has no business there, or nothing.

    >>> stray("long\\u200b beds")
    'letter 5 is U+200B, which cannot be seen'
    >>> stray("\\u0e2a\\u0e27\\u0e19\\u200b\\u0e1c\\u0e31\\u0e01")
    ''
    """
    for found in _STRAY.finditer(text):
        around = text[: found.start()][-1:] + text[found.end() :][:1]
        parts_words = any(name(letter, "").startswith(_WITHOUT_SPACES) for letter in around)
        if found.group() != "\u200b" or not parts_words:
            return f"letter {found.start() + 1} is {_named(found.group())}, which cannot be seen"
    return ""
