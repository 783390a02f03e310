"""Materials of the site file: figures of the grower's own over those of the catalogue."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from barrowful.catalogue.figures import SITE_GRADE, Figure
from barrowful.catalogue.judgements import judged_text, judgement
from barrowful.catalogue.materials import Material, material, names
from barrowful.catalogue.rates import rates
from barrowful.catalogue.vocabulary import FIGURES
from barrowful.ground import nutrients
from barrowful.measures.problems import Mark, did_you_mean, hint
from barrowful.measures.units import Ranged, si
from barrowful.site.builder import Builder
from barrowful.sitefile.language.context import Section

_OXIDES = {
    "phosphate": ("phosphorus", nutrients.phosphorus),
    "potash": ("potassium", nutrients.potassium),
}
_OF_DRY_MASS = ("organic_matter", "carbon", "nitrogen", "phosphorus", "potassium")


def build_materials(values: Section, builder: Builder) -> None:
    """Read the ``materials`` section into the builder, in the order of the file."""
    for name, section in values.items():
        if isinstance(section, Section):
            found = _one(name, section, values.place(name), builder)
            if found:
                builder.materials[name] = found


def _one(name: str, section: Section, mark: Mark, builder: Builder) -> Material | None:
    base = _base(name, section, mark, builder)
    if base is None:
        return None
    figures = {
        key: _stated(section, key, figure.dimension)
        for key, figure in FIGURES.items()
        if section.get(key) is not None
    }
    for oxide, (element, convert) in _OXIDES.items():
        if section.get(oxide) is not None:
            if element in figures:
                builder.problem(
                    section.place(oxide), "one-of", f"materials.{name}: give {element} or {oxide}, not both"
                )
            figures[element] = _converted(_stated(section, oxide, "share"), convert(1.0), oxide)
    more = cast("list[str]", section.get("flags") or [])
    found = replace(base.with_figures(figures), flags=base.flags.union(more))
    if section["basis"] == "as received":
        found = _to_dry_basis(found, figures, mark, builder)
    _check(found, mark, builder)
    return found


def _base(name: str, section: Section, mark: Mark, builder: Builder) -> Material | None:
    like = section.get("like")
    if like is not None:
        known = builder.materials.get(str(like)) or material(str(like))
        if known is None:
            close = did_you_mean(str(like), names())
            builder.problem(
                section.place("like"),
                "unknown-material",
                f'materials.{name}: "{like}" is not in the catalogue{close}',
            )
            return None
        class_ = str(section.get("class", known.class_))
        return Material(name, class_, known.about, known.figures, known.flags)
    known = material(name)
    if known is not None:
        return replace(known, class_=str(section.get("class", known.class_)))
    if section.get("class") is None:
        builder.problem(
            mark,
            "missing-key",
            f"materials.{name}: not in the catalogue{hint(name, names())}"
            ' Give "like: " a catalogue material, or "class: "',
        )
        return None
    return Material(name, str(section["class"]), "Described in the site file.", {})


def _stated(section: Section, key: str, dimension: str) -> Figure:
    value = section[key]
    spread = value if isinstance(value, Ranged) else Ranged(value, value, value)
    low, middle, high = (float(si(one, dimension)) for one in (spread.low, spread.likely, spread.high))
    texts = tuple(f"{one.magnitude:.6g}" for one in (spread.low, spread.likely, spread.high))
    place = f"line {section.place(key).line}"
    unit = "%" if f"{spread.likely.units}" == "percent" else f"{spread.likely.units}"
    return Figure(
        dimension=dimension,
        low=low,
        likely=middle,
        high=high,
        texts=(texts[0], texts[1], texts[2]),
        unit=unit,
        basis="stated in the site file",
        sources=(),
        place=place,
        grade=SITE_GRADE,
    )


def _converted(figure: Figure, factor: float, what: str) -> Figure:
    low, middle, high = (end * factor for end in (figure.low, figure.likely, figure.high))
    return replace(
        figure,
        low=low,
        likely=middle,
        high=high,
        texts=(f"{100 * low:.6g}", f"{100 * middle:.6g}", f"{100 * high:.6g}"),
        unit="%",
        basis=f"stated in the site file as {what}",
    )


def _to_dry_basis(found: Material, stated: dict[str, Figure], mark: Mark, builder: Builder) -> Material:
    if "moisture" not in found.figures:
        builder.problem(
            mark, "missing-key", f"materials.{found.name}: figures as received need the moisture beside them"
        )
        return found
    shares = {
        key: _converted(stated[key], found.wet_of(1.0), f"{key} as received")
        for key in _OF_DRY_MASS
        if key in stated
    }
    return found.with_figures(shares)


def _check(found: Material, mark: Mark, builder: Builder) -> None:
    """Refuse shares that cannot be, and warn of those that hardly can."""
    carbon, matter = found.get("carbon"), found.get("organic_matter")
    for key in _OF_DRY_MASS:
        if (found.get(key) or 0.0) > 1.0:
            builder.problem(
                mark, "out-of-range", f"materials.{found.name}: {key} is over 100 % of the dry mass"
            )
    if carbon is not None and matter is not None and carbon > judgement("most_carbon") * matter:
        builder.warning(mark, "unusual", f"materials.{found.name}: {_much_carbon()}")


def _much_carbon() -> str:
    """Return what is wrong with much carbon; the usual shares are those of the humus model."""
    usual = rates()["matter_per_carbon"]
    most, least = 100 / usual.low, 100 / usual.likely
    limit = judged_text("most_carbon")
    return f"carbon is over {limit} of the organic matter; usually it is {least:.0f} to {most:.0f} %"
