"""The words of the catalogue: names of figures, classes of material, nutrients."""

from __future__ import annotations

from dataclasses import dataclass

NUTRIENTS = ("nitrogen", "phosphorus", "potassium")
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

#: Name of a plant's figure -> its dimension.
PLANT_FIGURES = {
    "dry_yield_per_plant": "mass rate", "dry_yield_per_metre": "row yield",
    "dry_yield_per_area": "area yield", "spacing": "length", "cuts_per_year": "count",
    "cut_interval": "time", "first_cut": "time", "full_yield": "time", "strike_rate": "share",
    "cuttings_per_plant": "count", "cycle": "time", "height": "length",
    "killed_below": "temperature", "stops_below": "temperature", "life": "time",
    "shade_diameter": "length", "dry_matter": "dose", "full_term": "time", "seed_rate": "feed",
    "fixed_share": "share", "plant_back": "time", "late_loss": "share",
    "roots_in_water": "time",
}  # fmt: skip
