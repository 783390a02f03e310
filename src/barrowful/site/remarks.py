"""What a record says of itself beside other sections: what is wrong, or can hardly be meant."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, eq=False)
class Remark:
    """A sentence about one key of a section, or about the section itself where none is named."""

    key: str = ""
    code: str
    sentence: str
    problem: bool = False
