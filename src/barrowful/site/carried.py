"""What becomes of a need or a way in the file of the next season."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

#: Digits in which what is left of a need or a way is written.
DIGITS = 4


class Carried(NamedTuple):
    """Keys of a section with their new texts, None for those to leave out; or that all of it goes.

    ``told`` is a sentence for the grower where nothing in the file says it.
    """

    keys: Mapping[str, str | None] = MappingProxyType({})
    gone: bool = False
    told: str = ""


#: Nothing changes.
AS_IT_IS = Carried()
