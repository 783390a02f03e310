"""The description of a material's figures: names, dimensions and limits, used by the catalogue too."""

from __future__ import annotations

from dataclasses import dataclass

from barrowful.sitefile.containers import Field, Group
from barrowful.sitefile.kinds import Choice, Words
from barrowful.sitefile.measured import Measure

CLASSES = ("compost", "manure", "wood", "straw", "leaves", "green", "kitchen", "soil", "paper")


@dataclass(frozen=True)
class FigureName:
    """The dimension, limits and meaning of one figure of a material."""

    dimension: str
    help: str
    example: str
    least: str = ""
    most: str = ""


SHARE_OF_DRY = "share of the dry mass"
FIGURES: dict[str, FigureName] = {
    "density": FigureName("density", "Bulk density as delivered, wet and loose.", "640 kg/m3", "1 kg/m3", "3000 kg/m3"),
    "moisture": FigureName("share", "Water as a share of the wet mass.", "45 %", "0 %", "98 %"),
    "organic_matter": FigureName("share", f"Organic matter, {SHARE_OF_DRY}.", "42 %", "0 %", "100 %"),
    "carbon": FigureName("share", f"Carbon, {SHARE_OF_DRY}.", "24 %", "0 %", "70 %"),
    "nitrogen": FigureName("share", f"Nitrogen (the element), {SHARE_OF_DRY}.", "1.4 %", "0 %", "50 %"),
    "phosphorus": FigureName("share", f"Phosphorus (the element, not phosphate), {SHARE_OF_DRY}.", "0.3 %", "0 %", "30 %"),
    "potassium": FigureName("share", f"Potassium (the element, not potash), {SHARE_OF_DRY}.", "0.9 %", "0 %", "60 %"),
    "in_place": FigureName("share", "Settled depth over spread depth.", "88 %", "5 %", "100 %"),
    "decay": FigureName("rate", "Fresh carbon lost each year at 15 degC, moist (k1).", "0.8 1/year", "0.001 1/year", "60 1/year"),
    "humus": FigureName("share", "Carbon turned to humus for each carbon decayed (h).", "70 %", "0 %", "100 %"),
    "available_nitrogen": FigureName("share", "Share of the total nitrogen plants can use in the first season; may be negative.", "5 %", "-100 %", "100 %"),
    "lasts": FigureName("time", "Time in which a settled layer loses half its depth, at 15 degC.", "2 years", "0.01 year", "100 years"),
}  # fmt: skip


def _field(name: str, figure: FigureName) -> Field:
    kind = Measure((figure.dimension,), least=figure.least, most=figure.most)
    return Field(name, kind, figure.help, figure.example)


_OXIDE = Measure(("share",), least="0 %", most="70 %")

MATERIAL = Group(
    title="A material",
    fields=(
        Field("like", Words(60), "A catalogue material whose other figures are taken over.", "kitchen waste"),
        Field("class", Choice(CLASSES), "What sort of stuff it is; needed without `like`.", "kitchen"),
        Field(
            "basis",
            Choice(("dry", "as received")),
            "What the shares below refer to, as the laboratory report says.",
            "dry",
            default="dry",
        ),
        *(_field(name, figure) for name, figure in FIGURES.items()),
        Field(
            "phosphate", _OXIDE, "Phosphate (P2O5), instead of phosphorus, as some reports give it.", "1.2 %"
        ),
        Field("potash", _OXIDE, "Potash (K2O), instead of potassium, as some reports give it.", "1.4 %"),
    ),
)
