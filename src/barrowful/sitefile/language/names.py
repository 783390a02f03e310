"""The kinds whose text is a name: of something in the same file, or in the catalogue."""

from __future__ import annotations

from typing import Any, ClassVar

from barrowful.catalogue.crops import CropDemand, crop, crop_names
from barrowful.catalogue.materials import Material, names
from barrowful.catalogue.plants import Plant, plant, plant_names
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import Mark, ParseError
from barrowful.sitefile.language.context import ReadContext, Reference
from barrowful.sitefile.language.kinds import Words


@fixed(kw_only=False)
class NameOf(Words):
    """The name of a way or place of the file, as text; whether it is there is asked when all is read.

    ``of`` says of what: ``way``, ``place``, or ``place with rings``.
    """

    of: str = ""

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> str:
        name: str = super().of_text(text, mark, context, path)
        context.references.append(Reference(of=self.of, name=name, mark=mark, path=path))
        return name


class MaterialWord(Words):
    """A name that one of the file or the catalogue may have, as text; an editor suggests the catalogue's."""

    @property
    def json(self) -> dict[str, Any]:
        return {"anyOf": [{"enum": list(names())}, super().json]}


class MaterialName(MaterialWord):
    """The name of a material of the file or the catalogue, as the material itself.

    Of one that the file describes unsoundly nothing more is told where it is named.
    """

    of_file: ClassVar[bool] = True

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Material | None:
        name: str = super().of_text(text, mark, context, path)
        if name in context.refused:
            return None
        material = context.material(name)
        if material is None:
            close = context.nearest(name, [*context.materials, *names()]) or "."
            raise ParseError(
                "unknown-material",
                f'"{name}" is not a material known here{close}'
                ' List them with "barrowful figures", or describe it under "materials:"',
            )
        return material


class PlantName(Words):
    """The name of a plant of the catalogue, as the plant itself."""

    @property
    def json(self) -> dict[str, Any]:
        return {"enum": list(plant_names())}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> Plant:
        name: str = super().of_text(text, mark, context, path)
        grown = plant(name)
        if grown is None:
            close = context.nearest(name, plant_names())
            raise ParseError("unknown-plant", f'"{name}" is not a plant known here{close}')
        return grown


class CropName(Words):
    """The name of a crop or fruit tree of the catalogue, as what it wants."""

    @property
    def json(self) -> dict[str, Any]:
        return {"enum": list(crop_names())}

    def of_text(self, text: str, mark: Mark, context: ReadContext, path: str) -> CropDemand:
        name: str = super().of_text(text, mark, context, path)
        demand = crop(name)
        if demand is None:
            close = context.nearest(name, crop_names(), sorts=True) or "."
            raise ParseError(
                "unknown-crop",
                f'"{name}" is not a crop known here{close} List them with "barrowful figures crops"',
            )
        return demand
