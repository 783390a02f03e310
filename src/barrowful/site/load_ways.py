"""Ways: sellers' terms, stock, heaps and plants, with their materials found and sizes in SI."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any, cast

from barrowful.catalogue.materials import Material
from barrowful.catalogue.plants import plant
from barrowful.catalogue.rates import rate
from barrowful.ground.amount import dose
from barrowful.measures.dates import Step
from barrowful.measures.money import Price
from barrowful.measures.problems import did_you_mean
from barrowful.site.builder import Builder, cash, number, selling, size, sure
from barrowful.site.records import Place
from barrowful.site.ways import Buy, Grow, Have, Ingredient, Make, Reading, Sample, Selling, Size, Way
from barrowful.sitefile.language.context import Section


def build_ways(
    values: list[Any], start: date, places: tuple[Place, ...], builder: Builder
) -> tuple[Way, ...]:
    """Return the ways of a checked list of sections; heaps last, for they draw on others."""
    for section in values:
        _check_around(section.get("grow"), str(section["name"]), places, builder)
    found: dict[str, Way] = {}
    builder.heaps = {str(section["name"]) for section in values if "make" in section}
    for heaps in (False, True):
        for section in values:
            name = str(section["name"])
            kind = next(key for key in ("buy", "have", "make", "grow") if key in section)
            if (kind == "make") is heaps:
                way = _one(name, kind, section[kind], start, found, builder)
                if way is not None:
                    found[name] = way
    return tuple(found[section["name"]] for section in values if section["name"] in found)


def _check_around(values: Section | None, name: str, places: tuple[Place, ...], builder: Builder) -> None:
    """A living cover stands round trees: the place must be there and have rings."""
    around = None if values is None else values.get("around")
    if values is None or around is None:
        return
    rings = [place.name for place in places if place.ring is not None]
    if around not in rings:
        builder.problem(
            values.place("around"), "unknown-place",
            f'ways.{name}.grow.around: "{around}" is not a place with rings'
            f"{did_you_mean(str(around), rings)}",
        )  # fmt: skip


def _one(
    name: str, kind: str, values: Section, start: date, others: dict[str, Way], builder: Builder
) -> Way | None:
    where = f"ways.{name}.{kind}"
    if kind == "grow":
        return _grow(name, values, start, builder, where)
    stuff = cast(Material, builder.known(str(values["material"])))
    if kind == "make":
        return _make(name, values, stuff, others, builder, where)
    if kind == "have":
        amount = cast(Size, size(values, "amount"))
        if amount.volume is None:
            _need_density(stuff, values, builder, where)
        return Have(
            name, stuff, amount, cast(bool, values["per_year"]),
            str(values.get("origin") or ""), cast(bool, values["from_site"]),
        )  # fmt: skip
    return _buy(name, values, stuff, builder, where)


def _buy(name: str, values: Section, stuff: Material, builder: Builder, where: str) -> Buy | None:
    price = cast(Price, values["price"])
    sold = _selling(price, values, builder, where)
    if sold is None:
        return None
    lead = cast(Step, values.get("lead") or Step())
    said = " ".join(str(values.get(key) or "") for key in ("origin", "notes"))
    bag = size(values, "bag")
    way = Buy(
        name, stuff, price.amount, sold, cast(bool, values["whole_loads"]), size(values, "step"),
        size(values, "minimum"), cash(values, "delivery"), number(values, "truck", "volume"),
        number(values, "payload", "mass"), number(values, "box", "volume"),
        number(values, "tax", "share") or 0.0, lead, str(values["drop"]),
        bag.wet(stuff.get("density")) if bag and (bag.mass or stuff.get("density")) else None, said.strip(),
    )  # fmt: skip
    _check_density(way, values, builder, where)
    return way


def _check_density(way: Buy, values: Section, builder: Builder, where: str) -> None:
    """Without a density, mass and volume cannot be turned into each other."""
    by_mass = way.selling.mass is not None or way.payload is not None or any(
        one is not None and one.mass is not None for one in (way.step, way.minimum)
    )  # fmt: skip
    if by_mass:
        _need_density(way.material, values, builder, where)


def _need_density(stuff: Material, values: Section, builder: Builder, where: str) -> None:
    if stuff.get("density") is None:
        builder.problem(
            values.place("material"), "missing-figure",
            f'{where}: the density of {stuff.name} is needed; state it under "materials:"',
        )  # fmt: skip


def _selling(price: Price, values: Section, builder: Builder, where: str) -> Selling | None:
    """Return what the price is for; a price by bag or load needs the size of one."""
    if price.per not in {"bag", "load"}:
        return selling(price, builder.context)
    held = size(values, price.per)
    if held is None:
        example = "40 L" if price.per == "bag" else "10 m3"
        builder.problem(
            values.place("price"), "missing-key",
            f'{where}.price: a price by the {price.per} needs its size;'
            f' add "{price.per}: {example}"',
        )  # fmt: skip
        return None
    return Selling(price.per, held.volume, held.mass)


def _make(
    name: str, values: Section, stuff: Material, others: dict[str, Way], builder: Builder, where: str
) -> Make | None:
    parts = [
        _ingredient(item, index, others, builder, where)
        for index, item in enumerate(cast("list[Section]", values["from"]), 1)
    ]
    if stuff.lacks("moisture"):
        message = f'{where}: {stuff.name} needs its moisture; state it under "materials:"'
        builder.problem(values.place("material"), "missing-figure", message)
        return None
    if None in parts:
        return None
    readings = tuple(
        Reading(cast(date, one["date"]), sure(one, "temperature", "temperature"), cast(bool, one["turned"]))
        for one in cast("list[Section]", values.get("readings") or [])
    )
    return Make(
        name, stuff, cast(int, values["bays"]), sure(values, "bay", "volume"),
        number(values, "height", "length"), float(cast(float, values["target_cn"])),
        sure(values, "target_moisture", "share"), cast(Step | None, values.get("turn_every")),
        cast(bool, values["chopped"]), tuple(cast("list[Ingredient]", parts)), readings,
    )  # fmt: skip


def _ingredient(
    item: Section, index: int, others: dict[str, Way], builder: Builder, where: str
) -> Ingredient | None:
    where = f"{where}.from.{index}"
    way = str(item.get("way") or "")
    if way:
        source = others.get(way)
        if source is None or isinstance(source, Make):
            if way in builder.heaps:
                message = (
                    f'{where}.way: there is no such way "{way}" to draw from: a heap is not made of heaps'
                )
                builder.problem(item.place("way"), "unknown-way", message)
            return None
        stuff: Material = cast(Any, source).material
    else:
        stuff = cast(Material, builder.known(str(item["material"])))
    lots = [size(item, key) for key in ("mass", "volume", "amount") if item.get(key) is not None]
    weekly = size(item, "weekly")
    if len(lots) + (weekly is not None) > 1 or (not way and not lots and weekly is None):
        builder.problem(
            item.mark,
            "one-of",
            f"{where}: give exactly one of mass, volume, amount, weekly, or draw it from a way",
        )
        return None
    if not _can_blend(stuff, item, builder, where):
        return None
    price = cast(Price | None, item.get("price"))
    return Ingredient(
        stuff, way, lots[0] if lots else None, weekly,
        frozenset(cast("list[int]", item.get("months") or range(1, 13))),
        price.amount if price else Decimal(0), selling(price, builder.context) if price else None,
        _grew_here(item, stuff),
    )  # fmt: skip


def _can_blend(stuff: Material, item: Section, builder: Builder, where: str) -> bool:
    """Refuse a material without the figures a blend needs; say what density is assumed."""
    lacking = stuff.lacks("moisture", "carbon", "nitrogen")
    if lacking:
        builder.problem(
            item.place("material"), "missing-figure",
            f'{where}: {stuff.name} needs {", ".join(lacking)} to be blended; state it under "materials:"',
        )  # fmt: skip
        return False
    if stuff.get("density") is None:
        builder.warning(
            item.place("material"), "assumed",
            f'{where}: the density of {stuff.name} is not known; it is reckoned at '
            f'{rate("unknown_density"):g} kg/m3 in the heap. State it under "materials:"',
        )  # fmt: skip
    return True


def _grew_here(item: Section, stuff: Material) -> bool:
    """Say whether an ingredient grew on the site: as stated, else cut greens and leaves did."""
    stated = item.get("from_site")
    if stated is not None:
        return bool(stated)
    return stuff.sort.grows_here and item.get("price") is None


def _grow(name: str, values: Section, start: date, builder: Builder, where: str) -> Grow | None:
    wanted = str(values["plant"])
    grown = plant(wanted)
    assert grown is not None, "names are checked before"
    stuff = cast(Material, builder.known(grown.material))
    fixed = number(values, "fixed_share", "share")
    if fixed and not grown.fixes_nitrogen:
        builder.problem(
            values.place("fixed_share"), "not-a-fixer",
            f"{where}: {wanted} does not fix nitrogen; what it holds comes from the soil."
            " Leave fixed_share out",
        )  # fmt: skip
    seed = cast(Price | None, values.get("seed"))
    priced = selling(seed, builder.context).mass if seed else None
    return Grow(
        name, grown, stuff, cast(int | None, values.get("start_with")), number(values, "area", "area"),
        number(values, "row", "length"), cast(date, values.get("planted") or start),
        number(values, "spacing", "length"), frozenset(cast("list[int]", values.get("rests") or [])),
        cast("date | None", values.get("ended")), cast("date | None", values.get("next_planting")),
        str(values.get("around") or ""), cash(values, "cost"),
        seed.amount / Decimal(str(priced)) if seed and priced else Decimal(0),
        _sample(cast(Section | None, values.get("sample")), stuff, builder, where),
        (grown.get("fixed_share") or 0.0) if fixed is None else fixed,
        cast(bool, values["in_place"]), cash(values, "displaces"),
    )  # fmt: skip


def _dried(fresh: float, share: float | None, stuff: Material) -> float:
    return stuff.dry_of(fresh) if share is None else fresh * share


def _sample(values: Section | None, stuff: Material, builder: Builder, where: str) -> Sample | None:
    """Return dry mass for each area of a weighed cut."""
    if values is None:
        return None
    area, fresh, dry = (
        sure(values, "area", "area"),
        number(values, "fresh", "mass"),
        number(values, "dry", "mass"),
    )
    if (fresh is None) == (dry is None):
        builder.problem(values.mark, "one-of", f"{where}.sample: give exactly one of fresh and dry")
        return None
    share = number(values, "dry_share", "share")
    mass = dry if dry is not None else _dried(fresh or 0.0, share, stuff)
    return Sample(dose(mass, area), number(values, "nitrogen", "share"))
