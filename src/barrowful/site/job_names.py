"""Names of jobs: what is done where, for what, of which way; at the end a number that tells them apart."""

from __future__ import annotations

#: What stands between the parts of a name.
JOINT = ", "


def base_of(name: str) -> str:
    """Return the name of a job without its number.

    >>> base_of("mulch, young trees, cover, lane chip, 2"), base_of("hoe the beds")
    ('mulch, young trees, cover, lane chip', 'hoe the beds')
    """
    head, joint, number = name.rpartition(JOINT)
    return head if joint and number.isdigit() else name


def number_of(name: str) -> int:
    """Return the number at the end of the name of a job; nothing where there is none.

    >>> number_of("mulch, young trees, cover, lane chip, 2"), number_of("hoe the beds")
    (2, 0)
    """
    return int(name.rpartition(JOINT)[2]) if base_of(name) != name else 0
