"""What places are filled with where that is followed: what no row says, as their ways are mixed otherwise."""

from __future__ import annotations

from barrowful.answers.amounts import amounts, mixes_told, mixture
from barrowful.answers.choices import WholeSite
from barrowful.needs.fill import Filling


def fills_told(whole: WholeSite) -> list[str]:
    """Return the mix of each fill that is followed, where no row of the same ways has it word for word."""
    doses = [
        dose for part in whole.together.parts if part.need == Filling.kind for dose in part.decision.doses
    ]
    if len({(dose.place.name, dose.way) for dose in doses}) == len({dose.place.name for dose in doses}):
        return []
    told = mixes_told(doses, whole.together.answer.supplies)
    rows = {amounts(row, mixture(row)) for row in whole.rows(Filling.kind) if row.decision.doses}
    return [] if told in rows else [f"Fills, as followed: {told}."]
