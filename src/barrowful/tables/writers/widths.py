"""How many columns of a screen text takes, and text broken into lines of so many."""

from __future__ import annotations


def columns_of(text: str) -> int:
    """Return how many columns text takes: a wide letter two, a mark on a letter none.

    >>> columns_of("leaf"), columns_of("木の葉"), columns_of("e\\u0301")
    (4, 6, 1)
    """
    if text.isascii():
        return len(text)
    from wcwidth import wcswidth

    return wcswidth(text)


def wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Return text broken at spaces into lines of at most so many columns; longer words break inside.

    The first line begins with ``first``, every other with ``rest``, which is as long or longer.

    >>> wrapped("brings 2 m3, 1 m3 short", 15, first="1  ", rest="   ")
    ['1  brings 2 m3,', '   1 m3 short']
    """
    if columns_of(first + text) <= width:
        return [first + text]
    room = max(1, width - columns_of(rest))
    lines: list[str] = []
    for word in filter(None, text.split(" ")):
        for place, piece in enumerate(_pieces(word, room)):
            if lines and not place and columns_of(f"{lines[-1]} {piece}") <= width:
                lines[-1] += f" {piece}"
            else:
                lines.append((rest if lines else first) + piece)
    return lines or [first]


def _pieces(word: str, room: int) -> list[str]:
    """Return a word whole, or in pieces of at most so many columns, each of a letter at least.

    A letter stays with its marks.
    """
    if columns_of(word) <= room:
        return [word]
    from wcwidth import iter_graphemes

    pieces = [""]
    for letter in iter_graphemes(word):
        if pieces[-1] and columns_of(pieces[-1] + letter) > room:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def longest_word(text: str) -> int:
    """Return how many columns the longest word of text takes.

    >>> longest_word("green compost"), longest_word("")
    (7, 0)
    """
    return max(map(columns_of, text.split(" ")))
