"""The description of a material's figures: names, dimensions and limits, used by the catalogue too."""

from __future__ import annotations

from barrowful.catalogue.classes import flag_meanings
from barrowful.catalogue.vocabulary import CLASSES, FIGURES, FigureName
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Choice
from barrowful.sitefile.language.lists import SetOf
from barrowful.sitefile.language.names import MaterialWord
from barrowful.sitefile.language.quantity import Stated
from barrowful.sitefile.language.rules import at_most_one


def _field(name: str, figure: FigureName) -> Field:
    kind = Stated(figure.dimension, least=figure.least, most=figure.most)
    return Field(name, kind, help=figure.help, example=figure.example)


_OXIDE = Stated("share", least="0 %", most="70 %")

MATERIAL = Group(
    title="A material",
    rules=(at_most_one("phosphate", "phosphorus"), at_most_one("potash", "potassium")),
    fields=(
        Field(
            "like",
            MaterialWord(60),
            help="A material of the catalogue or of this file whose other figures are taken over.",
            example="kitchen waste",
        ),
        Field(
            "class",
            Choice(CLASSES),
            help="What sort of stuff it is; needed without `like`.",
            example="kitchen",
        ),
        Field(
            "flags",
            SetOf(Choice(tuple(flag_meanings())), 1, 20),
            help="What it is besides its class and what it is like; rules and cautions choose by these.",
            example="[fine_wood]",
        ),
        Field(
            "basis",
            Choice(("dry", "as received")),
            help="What the shares below refer to, as the laboratory report says.",
            example="dry",
            default="dry",
        ),
        *(_field(name, figure) for name, figure in FIGURES.items()),
        Field(
            "phosphate",
            _OXIDE,
            help="Phosphate (P2O5), instead of phosphorus, as some reports give it.",
            example="1.2 %",
        ),
        Field(
            "potash",
            _OXIDE,
            help="Potash (K2O), instead of potassium, as some reports give it.",
            example="1.4 %",
        ),
    ),
)
