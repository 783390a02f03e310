"""Materials of the site file: figures of the grower's own over those of the catalogue."""

from __future__ import annotations

from barrowful.catalogue.figures import SITE_GRADE, Figure
from barrowful.catalogue.materials import Material, material, names
from barrowful.ground import nutrients
from barrowful.measures.letters import difference, looks
from barrowful.measures.problems import Mark, hint, nearest
from barrowful.measures.units import Ranged, si
from barrowful.site.builder import Builder
from barrowful.sitefile.desk import Section
from barrowful.sitefile.materials import FIGURES

_OXIDES = {
    "phosphate": ("phosphorus", nutrients.phosphorus.si),
    "potash": ("potassium", nutrients.potassium.si),
}
_OF_DRY_MASS = ("organic_matter", "carbon", "nitrogen", "phosphorus", "potassium")


def build_materials(values: Section, builder: Builder) -> None:
    """Read the ``materials`` section into the builder, in the order of the file."""
    for name, section in values.items():
        if isinstance(section, Section):
            _check_looks(name, values.place(name), builder)
            found = _one(name, section, values.place(name), builder)
            if found:
                builder.materials[name] = found


def _check_looks(name: str, mark: Mark, builder: Builder) -> None:
    """Refuse a name that an eye takes for a material of the catalogue, and that is none."""
    known = looks(name)
    if known != name and material(known) is not None:
        builder.problem(
            mark,
            "look-alike-name",
            f'materials: "{name[:40]}" looks like "{known}" of the catalogue, but {difference(name, known)};'
            " write it alike, or give a name that differs to the eye",
        )


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
    found = base.with_figures(figures)
    if section["basis"] == "as received":
        found = _to_dry_basis(found, figures, mark, builder)
    _check(found, mark, builder)
    return found


def _base(name: str, section: Section, mark: Mark, builder: Builder) -> Material | None:
    like = section.get("like")
    if like is not None:
        known = builder.materials.get(str(like)) or material(str(like))
        if known is None:
            close = nearest(str(like), names())
            builder.problem(
                section.place("like"),
                "unknown-material",
                f'materials.{name}: "{like}" is not in the catalogue{close}',
            )
            return None
        return Material(name, str(section.get("class", known.class_)), known.about, known.figures)
    known = material(name)
    if known is not None:
        return known
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
        dimension, low, middle, high, (texts[0], texts[1], texts[2]), unit, "stated in the site file",
        (), place, SITE_GRADE,
    )  # fmt: skip


def _converted(figure: Figure, factor: float, what: str) -> Figure:
    return Figure(
        figure.dimension, figure.low * factor, figure.likely * factor, figure.high * factor,
        tuple(f"{100 * one * factor:.6g}" for one in (figure.low, figure.likely, figure.high)),  # type: ignore[arg-type]
        "%", f"stated in the site file as {what}", (), figure.place, SITE_GRADE,
    )  # fmt: skip


def _to_dry_basis(found: Material, stated: dict[str, Figure], mark: Mark, builder: Builder) -> Material:
    if "moisture" not in found.figures:
        builder.problem(
            mark, "missing-key", f"materials.{found.name}: figures as received need the moisture beside them"
        )
        return found
    shares = {
        key: _converted(stated[key], 1 / found.dry_share, f"{key} as received")
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
    if carbon is not None and matter is not None and carbon > 0.7 * matter:
        builder.warning(
            mark, "unusual",
            f"materials.{found.name}: carbon is over 70 % of the organic matter; usually it is 50 to 58 %",
        )  # fmt: skip
