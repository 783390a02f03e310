"""What a record says of itself beside other sections: what is wrong, or can hardly be meant."""

from __future__ import annotations

from barrowful.measures.fixed import fixed


@fixed
class Remark:
    """A sentence about one key of a section, or about the section itself where none is named."""

    key: str = ""
    code: str
    sentence: str
    problem: bool = False
