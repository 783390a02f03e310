"""Places: shapes to areas, needs to records, soils with the site's own behind them."""

from __future__ import annotations

from typing import Any, cast

from barrowful.catalogue.judgements import judged_text, judgement
from barrowful.catalogue.rates import rate
from barrowful.ground import area, soil
from barrowful.measures.problems import Mark
from barrowful.measures.units import si
from barrowful.site.builder import Builder, number, sure
from barrowful.site.feeding import build_feed
from barrowful.site.records import Cover, Dress, Fill, Need, Place, Raise, Soil
from barrowful.sitefile.language.context import Section

#: The least bulk density of a soil [kg/m3]: that of the key.
LEAST_BULK_DENSITY = 50.0
#: Material dug in unless the need says otherwise (common practice, no source).
DUG = {"cover": False, "dress": False, "raise": True, "feed": False, "fill": False}


def build_soil(values: Section | None, behind: Soil) -> Soil:
    """Return a soil from its section, with ``behind`` for what it does not say."""
    if values is None:
        return behind
    said = {
        "organic_matter": number(values, "organic_matter", "share"),
        "bulk_density": number(values, "bulk_density", "density"),
        "clay": number(values, "clay", "share"),
        "stones": number(values, "stones", "share"),
        "phosphorus_test": values.get("phosphorus_test"),
        "tested": values.get("tested"),
    }
    return Soil(**cast(Any, {k: getattr(behind, k) if v is None else v for k, v in said.items()}))


def build_places(values: list[Any], behind: Soil, builder: Builder) -> tuple[Place, ...]:
    """Return the places of a checked list of sections."""
    return tuple(_place(section, behind, builder) for section in values)


def _place(values: Section, behind: Soil, builder: Builder) -> Place:
    name = str(values["name"])
    where = f"places.{name}"
    count = cast(int, values["count"])
    own = cast(Section | None, values.get("soil"))
    ground = build_soil(own, behind)
    _check_soil(ground, builder, values.place("soil"), where)
    only = cast("list[str] | None", values.get("ways"))
    one = _area(cast(Section, values["shape"]), count, builder, where)
    needs = _needs(
        cast("list[Section]", values.get("needs") or []), one, ground, builder, where, str(values["kind"])
    )
    return Place(
        name, str(values["kind"]), one, count, needs, ground, frozenset(only) if only else None,
        number(values, "layer_now", "length") or 0.0, bool(values.get("near_water")),
        _ring(cast(Section, values["shape"])),
    )  # fmt: skip


def _check_soil(ground: Soil, builder: Builder, mark: Mark, where: str) -> None:
    """Refuse a soil so rich that the line for its bulk density, which falls with carbon, runs out."""
    if ground.bulk_density is not None or ground.organic_matter is None:
        return
    if soil.bulk_density_from_carbon(ground.organic_matter / 2) < LEAST_BULK_DENSITY:
        builder.problem(
            mark, "missing-key",
            f"{where}: the bulk density of a soil with {ground.organic_matter:.0%} organic matter cannot be"
            ' reckoned; give it under "soil:", e.g. bulk_density: 0.2 g/cm3',
        )  # fmt: skip


def _area(shape: Section, count: int, builder: Builder, where: str) -> float:
    kind, value = next(iter(shape.items()))
    try:
        return _of_shape(kind, value, count)
    except ValueError as error:
        builder.problem(shape.place(kind), "bad-shape", f"{where}.shape.{kind}: {error}")
        return 0.0


def _of_shape(kind: str, value: Any, count: int) -> float:
    """Return the area of one; of a row of rings, the row's area shared by its count."""
    if kind == "area":
        return float(si(value, "area"))
    if kind == "ring":
        radius, collar = _radius(value), sure(value, "collar", "length")
        spacing = number(value, "spacing", "length")
        if spacing is None:
            return area.ring(radius, collar)
        return area.row_of_rings(radius, collar, spacing, count) / count
    if kind == "circle":
        return area.circle(_radius(value))
    if kind == "strip":
        return area.rectangle(sure(value, "length", "length"), sure(value, "width", "length"))
    if kind == "trapezoid":
        first, second = (si(side, "length") for side in value["sides"])
        return area.trapezoid(first, second, sure(value, "height", "length"))
    if kind == "polygon":
        return area.polygon([(si(x, "length"), si(y, "length")) for x, y in value])
    sides = [si(side, "length") for side in value]
    by_sides: dict[str, Any] = {
        "rectangle": area.rectangle,
        "ellipse": area.ellipse,
        "triangle": area.triangle,
    }
    return float(by_sides[kind](*sides))


def _ring(shape: Section) -> tuple[float, float] | None:
    """Return radius and collar of a ring [m]."""
    ring = shape.get("ring")
    return (_radius(ring), sure(ring, "collar", "length")) if isinstance(ring, Section) else None


def _radius(value: Section) -> float:
    radius = number(value, "radius", "length")
    return radius if radius is not None else sure(value, "diameter", "length") / 2


def _needs(
    values: list[Section], one: float, ground: Soil, builder: Builder, where: str, place_kind: str
) -> tuple[Need, ...]:
    needs: dict[str, Need] = {}
    for item in values:
        kind, section = next(iter(item.items()))
        mark = item.place(kind)
        if kind in needs:
            builder.problem(
                mark, "duplicate-need", f'{where}.needs: a second "{kind}"; a place has one need of a kind'
            )
            continue
        need = _need(kind, cast(Section, section), one, builder, f"{where}.needs.{kind}")
        if isinstance(need, Raise):
            _check_raise(need, ground, builder, mark, f"{where}.needs.raise")
        if isinstance(need, Cover) and place_kind == "tree" and need.depth > judgement("deep_on_roots"):
            message = f"over {judged_text('deep_on_roots')} lies too deep on tree roots"
            builder.warning(mark, "unusual", f"{where}.needs.cover: {message}")
        if need is not None:
            needs[kind] = need
    return tuple(needs.values())


def _need(kind: str, values: Section, one: float, builder: Builder, where: str) -> Need | None:
    dug = values.get("dug")
    common: dict[str, Any] = {
        "dug": DUG[kind] if dug is None else dug,
        "allowance": sure(values, "allowance", "share"),
        "most_per_application": number(values, "most_per_application", "length"),
    }
    if kind == "cover":
        smother = bool(values.get("smother"))
        depth = number(values, "depth", "length") or (rate("smother_depth") if smother else 0.0)
        keep = sure(values, "keep", "share")
        return Cover(depth=depth, settled=values["settled"], keep=keep, smother=smother, **common)  # type: ignore[arg-type]
    if kind == "dress":
        return Dress(
            depth=number(values, "depth", "length"), dose=number(values, "dose", "dose"),
            settled=cast(bool, values["settled"]), **common,
        )  # fmt: skip
    if kind == "raise":
        return Raise(
            organic_matter=sure(values, "organic_matter", "share"), depth=sure(values, "depth", "length"),
            by=cast(Any, values.get("by")), **common,
        )  # fmt: skip
    if kind == "fill":
        return Fill(
            depth=number(values, "depth", "length"), volume=number(values, "volume", "volume"),
            settled=cast(bool, values["settled"]), **common,
        )  # fmt: skip
    return build_feed(values, one, common, builder, where)


def _check_raise(need: Raise, ground: Soil, builder: Builder, mark: Mark, where: str) -> None:
    if ground.organic_matter is None:
        builder.problem(
            mark, "missing-key", f'{where}: the soil\'s "organic_matter" is needed; say it under "soil:"'
        )
    elif need.organic_matter <= ground.organic_matter:
        builder.warning(mark, "met-already", f"{where}: the soil has {ground.organic_matter:.1%} already")
    if ground.bulk_density is None and ground.organic_matter is not None:
        assumed = soil.bulk_density_from_carbon(ground.organic_matter / 2)
        builder.warning(
            mark, "assumed",
            f"{where}: no bulk density of the soil is given; {assumed / 1000:.2f} g/cm3 is reckoned from its"
            " organic matter (Manrique & Jones 1991)",
        )  # fmt: skip
