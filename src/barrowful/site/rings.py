"""Rings round trees: how far from the bark they begin."""

from __future__ import annotations

from barrowful.catalogue.judgements import judgement_figure
from barrowful.measures.telling import DEPTH, measured
from barrowful.site.needs import Cover, Feed
from barrowful.site.records import Place
from barrowful.sitefile.language.context import ReadContext, Section

#: What a length told in a sentence may be rounded by [m].
ROUNDED = 0.002


def check_ring(place: Place, section: Section, context: ReadContext) -> None:
    """Ask about mulch up to the trunk of a tree, and refuse a ring that begins within one."""
    if place.kind == "tree" and place.need(Cover.kind) and section["shape"].get("circle"):
        sentence = (
            "a circle reaches to the trunk, where mulch rots the bark; write a ring of the same radius, which"
            " leaves a bare collar, e.g. ring: {radius: 90 cm, collar: 15 cm}"
        )
        context.warning(section.place("shape"), "unusual", f"{section.path}.shape: {sentence}")
    _check_collar(place, section, context)


def _check_collar(place: Place, section: Section, context: ReadContext) -> None:
    """Refuse a ring that begins within the trunk told, and ask about mulch that lies too near its bark."""
    fed = place.need(Feed.kind)
    trunk = fed.trunk if isinstance(fed, Feed) else None
    if place.ring is None or trunk is None:
        return
    collar, bark, clear = place.ring[1], trunk / 2, judgement_figure("clear_of_bark")
    if collar >= bark and (collar >= bark + clear.low - ROUNDED or not place.need(Cover.kind)):
        return
    told, at, more, due = (
        measured(of, DEPTH, ".1f") for of in (collar, bark, clear.likely, bark + clear.likely)
    )
    lies = "ends inside it" if collar < bark else "leaves too little bare, and mulch on bark rots it"
    sentence = (
        f"a collar of {told}, from the middle of the trunk, {lies}: its bark is {at} from there;"
        f' leave {more} more, "collar: {due}"'
    )
    note = context.problem if collar < bark else context.warning
    note(section.place("shape"), "collar", f"{section.path}.shape: {sentence}")
