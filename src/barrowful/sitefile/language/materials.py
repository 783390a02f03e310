"""Materials of the site file: figures of the grower's own over those of the catalogue."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judged_text, judgement
from barrowful.catalogue.materials import TREATED, Material, material, names, of_class
from barrowful.catalogue.rates import rates
from barrowful.catalogue.vocabulary import FIGURES
from barrowful.ground import nutrients
from barrowful.measures.letters import difference, looks
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.language.lists import Named
from barrowful.sitefile.text.nodes import Mapping, Node, Scalar

#: Oxides that some reports give -> the element they stand for, and the share of it in them.
OXIDES: dict[str, tuple[str, Callable[[float], float]]] = {
    "phosphate": ("phosphorus", nutrients.phosphorus),
    "potash": ("potassium", nutrients.potassium),
}
#: What a label declares -> the element, the share of it in what is declared, and the least there is alone.
LABEL = {
    "nitrogen": ("nitrogen", 1.0, "least_nitrogen"),
    "phosphate": ("phosphorus", nutrients.PHOSPHORUS_IN_PHOSPHATE, "least_phosphate"),
    "potash": ("potassium", nutrients.POTASSIUM_IN_POTASH, "least_potash"),
}
#: Elements of the dry mass, and what rounding may add to them.
ELEMENTS = ("carbon", "nitrogen", "phosphorus", "potassium")
DUST = 1e-6
#: Figures that are shares of the dry mass.
OF_DRY_MASS = tuple(name for name, figure in FIGURES.items() if figure.of_dry_mass)


class Materials(Named):
    """Materials by name, each as the catalogue holds one; from here on the file may name them."""

    def in_order(self, node: Mapping, context: ReadContext, path: str) -> Iterator[str]:
        """Yield the names, each after that which it is like; a circle of such is a problem, and left out."""
        read: set[str] = set()
        for first in node.entries:
            name, chain = first, dict[str, Node]()
            while name in node.entries and name not in read and name not in chain:
                chain[name] = _like(node.entries[name][1])
                name = _text(chain[name]) if _text(chain[name]) != name else ""
            read |= chain.keys()
            if name not in chain:
                yield from reversed(chain)
                continue
            context.refused |= chain.keys()
            names = [*chain]
            told = " is like ".join(f'"{one[:40]}"' for one in [*names[names.index(name) :], name])
            sentence = f"{told}, a circle; give one of them figures of its own, or another to be like"
            context.problem(chain[name].mark, "circle", f"{path}.{name[:40]}.like: {sentence}")

    def item(self, name: str, node: Node, context: ReadContext, path: str) -> Material | None:
        before = len(context.problems)
        section = super().item(name, node, context, path)
        described = None if section is None else _described(name, section, context)
        if described is None or len(context.problems) > before:
            context.refused.add(name)
            return None
        context.materials[name] = described
        return described


def _like(node: Node) -> Node:
    """Return what stands behind "like" of a material, the material itself where nothing does."""
    return node.entries["like"][1] if isinstance(node, Mapping) and "like" in node.entries else node


def _text(node: Node) -> str:
    return node.text.strip() if isinstance(node, Scalar) else ""


def _described(name: str, section: Section, context: ReadContext) -> Material | None:
    _check_looks(name, section, context)
    base = _base(name, section, context)
    if base is None:
        return None
    stated = _stated(section, context)
    flags = base.flags.union(section.get("flags") or ())
    described = replace(base.with_figures(stated), flags=flags)
    if section["basis"] == "as received":
        described = described.with_figures(_on_dry_basis(stated, described, section, context))
    _check(described, section, context)
    _check_treated(described, section, context)
    return _with_usual_nitrogen(described, section, context)


def _with_usual_nitrogen(described: Material, section: Section, context: ReadContext) -> Material:
    """Return a material with what its class usually gives of its nitrogen, said, where that is not stated."""
    name = described.sort.available_nitrogen
    if not name or not described.get("nitrogen") or not described.lacks("available_nitrogen"):
        return described
    usual = rates()[name]
    context.warning(
        section.mark,
        "assumed",
        f"{section.path}: how much of its nitrogen counts in the first season is not stated; it is"
        f" reckoned at {usual.typed}, as of organic fertilisers. Give"
        ' "available_nitrogen: 100 %" for a mineral one, or what the maker says',
    )
    return described.with_figures({"available_nitrogen": usual})


def _check_looks(name: str, section: Section, context: ReadContext) -> None:
    """Refuse a name that an eye takes for a material of the catalogue, and that is none."""
    known = looks(name)
    if known != name and material(known) is not None:
        sentence = (
            f'"{name[:40]}" looks like "{known}" of the catalogue, but {difference(name, known)};'
            " write it alike, or give a name that differs to the eye"
        )
        context.problem(section.mark, "look-alike-name", f"materials: {sentence}")


def _base(name: str, section: Section, context: ReadContext) -> Material | None:
    """Return what the figures are laid over: the material it is like, its namesake, or none but a class."""
    like, class_ = section.get("like"), section.get("class")
    if like is not None:
        if like in context.refused:
            return None
        known = context.material(like)
        if known is None:
            sentence = (
                f'"{like}" is not in the catalogue{context.nearest(like, [*context.materials, *names()])}'
            )
            context.problem(section.place("like"), "unknown-material", f"{section.path}: {sentence}")
            return None
        return replace(known, name=name, class_=class_ or known.class_)
    namesake = material(name)
    if namesake is not None:
        return replace(namesake, class_=class_ or namesake.class_)
    if class_ is None:
        sentence = f"not in the catalogue{context.nearest(name, names()) or '.'}"
        context.problem(
            section.mark,
            "missing-key",
            f'{section.path}: {sentence} Give "like: " a catalogue material, or "class: "',
        )
        return None
    return of_class(name, class_)


def _stated(section: Section, context: ReadContext) -> dict[str, Figure]:
    """Return the figures a section states, oxides turned into their elements."""
    stated: dict[str, Figure] = {key: section[key] for key in FIGURES if section.get(key) is not None}
    for oxide, (element, convert) in OXIDES.items():
        figure = section.get(oxide)
        if figure is None:
            continue
        if element in stated:
            sentence = f"give {element} or {oxide}, not both"
            context.problem(section.place(oxide), "one-of", f"{section.path}: {sentence}")
        stated[element] = _converted(figure, convert(1.0), oxide)
    return stated


def _converted(figure: Figure, factor: float, what: str) -> Figure:
    low, likely, high = (end * factor for end in (figure.low, figure.likely, figure.high))
    return figure._replace(
        low=low,
        likely=likely,
        high=high,
        texts=(_percent(low), _percent(likely), _percent(high)),
        unit="%",
        basis=f"stated in the site file as {what}",
    )


def _percent(share: float) -> str:
    return f"{100 * share:.6g}"


def _on_dry_basis(
    stated: dict[str, Figure], received: Material, section: Section, context: ReadContext
) -> dict[str, Figure]:
    """Return shares of the wet mass as shares of the dry mass."""
    if "moisture" not in received.figures:
        sentence = "figures as received need the moisture beside them"
        context.problem(section.mark, "missing-key", f"{section.path}: {sentence}")
        return {}
    return {
        key: _converted(stated[key], received.wet_of(1.0), f"{key} as received")
        for key in OF_DRY_MASS
        if key in stated
    }


def _check(described: Material, section: Section, context: ReadContext) -> None:
    """Refuse shares that cannot be, and warn of those that hardly can."""
    over = [key for key in OF_DRY_MASS if (described.get(key) or 0.0) > 1.0]
    for key in over:
        sentence = f"{key} is over 100 % of the dry mass"
        context.problem(section.mark, "out-of-range", f"{section.path}: {sentence}")
    if not over:
        _check_sum(described, section, context)
    carbon, matter = described.get("carbon"), described.get("organic_matter")
    if carbon is not None and matter is not None and carbon > judgement("most_carbon") * matter:
        context.warning(section.mark, "unusual", f"{section.path}: {_much_carbon()}")
    _check_label(described, section, context)


def _check_sum(described: Material, section: Section, context: ReadContext) -> None:
    """Refuse shares that together are more than all: elements of the dry mass, or a label's of the bag."""
    held = {name: described.get(name) or 0.0 for name in ELEMENTS}
    whole = "the dry mass"
    if described.sort.as_sold and not described.lacks("moisture"):
        told = {name: _as_sold(described, element, share) for name, (element, share, _) in LABEL.items()}
        if sum(told.values()) > sum(held.values()):
            held, whole = told, "what is in the bag"
    if sum(held.values()) > 1 + DUST:
        parts = ", ".join(f"{name} {_short(share)}" for name, share in held.items() if share)
        context.problem(
            section.mark,
            "out-of-range",
            f"{section.path}: {parts} add up to {_short(sum(held.values()))} of {whole}, and 100 % is all"
            " there is; look at the label, its units and its basis",
        )


def _check_treated(described: Material, section: Section, context: ReadContext) -> None:
    """Refuse "treated" of wood, of which it may mean the very opposite of what the flag does."""
    if not described.sort.asks_origin or TREATED not in (section.get("flags") or ()):
        return
    context.problem(
        section.place("flags"),
        "treated-timber",
        f'{section.path}.flags: "treated" says that stuff was heated or composted to a standard, as manure'
        ' is; leave it out of clean wood, and write "treated_timber" for wood that is painted or treated'
        " against rot, which is put on nothing",
    )


def _check_label(described: Material, section: Section, context: ReadContext) -> None:
    """Warn of a fertiliser that holds less than the law asks of any, where its nutrients are stated."""
    if not described.sort.declares or described.lacks("moisture"):
        return
    sold = {name: _as_sold(described, element, share) for name, (element, share, _) in LABEL.items()}
    enough = any(sold[name] >= judgement(least) for name, (_, _, least) in LABEL.items())
    whole = sum(sold.values())
    if enough or not whole or whole >= judgement("least_together"):
        return
    holds = ", ".join(f"{name} {_short(share)}" for name, share in sold.items())
    asks = " or ".join(f"{judged_text(least)} {name}" for name, (_, _, least) in LABEL.items())
    context.warning(
        section.mark,
        "weak-fertiliser",
        f"{section.path}: it holds {holds} as sold, and can hardly be a fertiliser: one has at least {asks},"
        f" or {judged_text('least_together')} of them together (Regulation (EU) 2019/1009)."
        " Look at the label and its units",
    )


def _as_sold(described: Material, element: str, share: float) -> float:
    """Return what is declared of a nutrient: the share of the mass in the bag that an element stands for."""
    return 0.0 if described.lacks(element) else described.in_each_wet(element) / share


def _short(share: float) -> str:
    """Return a share as percent, to two figures; to three from 100 % on."""
    return f"{100 * share:.{2 if share < 1 else 3}g} %"


def _much_carbon() -> str:
    """Return what is wrong with much carbon; the usual shares are those of the humus model."""
    usual = rates()["matter_per_carbon"]
    most, least = 100 / usual.low, 100 / usual.likely
    limit = judged_text("most_carbon")
    return f"carbon is over {limit} of the organic matter; usually it is {least:.0f} to {most:.0f} %"
