"""What limes the ground, much or little, and where that does harm: before potatoes, and on acid ground."""

from __future__ import annotations

from barrowful.catalogue.judgements import judgement
from barrowful.site.needs import Lime
from barrowful.soil.application import Application


def limed_for_scab(dose: Application) -> bool:
    """Say whether a dose limes ground for a crop that gets scab there; not one of lime that stays below."""
    need = dose.need
    over = [
        crop.scab
        for crop in dose.place.grown
        if crop.scab is not None and not (isinstance(need, Lime) and need.ph <= crop.scab)
    ]
    return bool(over) and dose.material.has("alkaline")


def limes_acid_ground(dose: Application) -> bool:
    """Say whether a dose limes acid ground for which no lime is asked: what wants it acid may grow there."""
    acid = dose.place.soil.ph is not None and dose.place.soil.ph <= judgement("acid_ground")
    return acid and dose.place.need(Lime.kind) is None and dose.material.limes
