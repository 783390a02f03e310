"""What so many loads, bags or sacks are: the way they came by tells how large one is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from barrowful.catalogue.rates import rate
from barrowful.ground.sizes import Size
from barrowful.measures.text import written_amount
from barrowful.sitefile.keys.amounts import SOLD_STUFF
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.language.sellers import PIECES, Counted

#: The measure that what is spread is told in, where it is the grower's own.
BARROW = "barrow"
#: What may stand for each other: a sack is a bag, and no load.
BAGS = frozenset({"bag", "sack"})


class _Holder(NamedTuple):
    """Where an amount may be counted in pieces: the section and key, the way whose pieces, and its name."""

    section: Section
    key: str
    way: Section | None
    named: str | None


def size_pieces(values: Section, context: ReadContext) -> None:
    """Put the size of every amount that is counted in loads, bags or sacks in its place.

    ``values`` may have holes where the reader noted problems of its own.
    """
    for holder in _holders(values):
        counted = holder.section.get(holder.key)
        if isinstance(counted, Counted):
            holder.section[holder.key] = _sized(counted, holder, context)


def ask_own_measures(values: Section, context: ReadContext) -> None:
    """Ask about an own measure called as what a way comes by, of another size: it could be either."""
    for word, own in context.measures.items():
        mine = Size(**{own.dimension: own.size}) if own.dimension in {"volume", "mass"} else None
        others = [
            f"{way['name']} comes by the {piece} of {_told(size)}"
            for way in values.get("ways") or ()
            for piece, size in _pieces(way)
            if piece == word.removesuffix("s") and size != mine
        ]
        if others:
            more = f", and of other ways {len(others) - 1} more differ" if others[1:] else ""
            context.warning(
                values["measures"].place(word),
                "ambiguous-unit",
                f'measures.{word}: {others[0]}{more}; "1 {word}" of it could mean either, and is'
                " refused. Give your own measure another name",
            )


def ask_own_barrow(values: Section, context: ReadContext) -> None:
    """Ask about an own measure called like the barrow, where what is spread is told in another than that."""
    if context.own_volume(BARROW) is not None:
        return
    usual = rate(BARROW)
    for word, own in context.measures.items():
        if BARROW in word.casefold() and own.dimension == "volume" and own.size != usual:
            context.warning(
                values["measures"].place(word),
                "own-barrow",
                f"measures.{word}: barrows are told of {_told(Size(volume=usual))} each, as there is no"
                f' measure "{BARROW}"; if {word} is what you push, call it "{BARROW}"',
            )


def _holders(values: Section) -> Iterator[_Holder]:
    """Yield what is left of what each way sold, and what each entry of the history tells of a way."""
    ways = {way.get("name"): way for way in values.get("ways") or () if isinstance(way, Section)}
    for name, way in ways.items():
        if isinstance(buy := way.get("buy"), Section):
            yield _Holder(buy, "left", way, name)
    for entry in values.get("history") or ():
        if isinstance(entry, Section):
            yield _Holder(entry, "amount", ways.get(named := entry.get("way")), named)


def _sized(counted: Counted, holder: _Holder, context: ReadContext) -> Size | None:
    """Return what a counted amount is, or None after noting why it is nothing."""
    section, key, way, _ = holder
    where, path = section.place(key), f"{section.path}.{key}"
    sizes = {} if way is None else dict(_pieces(way))
    one = sizes.get(counted.piece)
    if one is None and counted.own is not None:
        return counted.own
    if one is None and context.follows("unknown-unit", counted.text):
        return None
    if one is None:
        code = counted.misread.code if counted.misread and way is None else "not-a-piece"
        context.problem(where, code, f"{path}: {_right_form(counted, holder, sizes)}")
        return None
    size = _times(one, counted.number)
    if counted.own not in (None, size):
        sentence = (
            f'"{counted.text}" is {_told(size)} by the way, and another by the {counted.piece} under'
            f' "measures:"; write "{_told(size)}", or give your own measure another name'
        )
        context.problem(where, "ambiguous-unit", f"{path}: {sentence}")
        return None
    if size.volume and not _in_limits(size.volume):
        context.problem(where, "out-of-range", f'{path}: "{counted.text}" is {_told(size)}, beyond reason')
        return None
    return size


def _in_limits(volume: float) -> bool:
    least, most, *_ = SOLD_STUFF.limits
    return (least or 0.0) <= volume <= (most or volume)


def _times(one: Size, number: float) -> Size:
    return Size(
        volume=None if one.volume is None else one.volume * number,
        mass=None if one.mass is None else one.mass * number,
    )


def _pieces(way: Section) -> Iterator[tuple[str, Size]]:
    """Yield the words for what a way is sold by, with the size of one: a sack is a bag told by weight."""
    buy = way.get("buy")
    if not isinstance(buy, Section):
        return
    load, bag, truck = buy.get("load"), buy.get("bag"), buy.get("truck")
    if load is not None or truck is not None:
        yield "load", load or Size(volume=truck)
    if bag is not None:
        yield "bag", bag
        if bag.mass is not None:
            yield "sack", bag


def _right_form(counted: Counted, holder: _Holder, sizes: dict[str, Size]) -> str:
    """Return what is wrong with a counted amount, and how it is written."""
    if holder.named is None:
        hint = f'; or name the way it came by, whose {counted.piece} is known, with "way:"'
        return f"{counted.misread}{hint if counted.piece in PIECES else ''}"
    name, number = holder.named, f"{counted.number:g}"
    forms = [
        f'the {word} of {_told(one)}: write "{number} {word}", or "{_told(_times(one, counted.number))}"'
        for word, one in sizes.items()
        if word != "sack" and {word, counted.piece} <= BAGS
    ]
    if forms:
        return f'"{counted.text}": {name} comes by {"; or by ".join(forms)}'
    comes = [f"the {word} of {_told(one)}" for word, one in sizes.items() if word != "sack"]
    by = f"comes by {' or by '.join(comes)}, and " if comes else ""
    return (
        f'"{counted.text}": {name} {by}has no {counted.piece} of a known size; write a volume or a mass, such'
        ' as "2 m3", "120 L" or "25 kg", or a measure of your own, such as a barrow'
    )


def _told(size: Size) -> str:
    return written_amount(size.volume, size.mass)
