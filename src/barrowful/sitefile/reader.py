"""From a document to checked values: the only door into a site file."""

from __future__ import annotations

from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.products.outline import at_home
from barrowful.sitefile.text.nodes import Document


def read(document: Document, context: ReadContext) -> Section:
    """Return the checked values of a document; problems and warnings are noted in the context.

    Where there are problems the values may have holes: None stands for what could not be read.
    """
    context.at_home = at_home
    values: Section | None = SITE.read(document.top, context, "")
    return Section(document.top.mark) if values is None else values
