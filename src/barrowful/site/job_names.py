"""Names of jobs: what is done where, for what, of which way, and a number; and words that they begin with."""

from __future__ import annotations

#: What stands between the parts of a name.
JOINT = ", "
#: The words that the job of an entry begins with where something came of a way.
BROUGHT = frozenset(
    ["delivery", "deliver", "delivered", "collect", "collected", "collection", "brought", "fetched"]
)
#: The words that it begins with where something was only asked for or ordered: nothing was moved yet.
ORDERED = frozenset(["order", "ordered", "ordering", "ask", "asked"])
#: The words that it begins with where what is grown was planted or sown.
PLANTED = frozenset(["plant", "planted", "planting", "sow", "sown", "sowing"])
#: What is done to a heap, by the word that the job of an entry of the history begins with.
BUILT, TURNED = "built", "turned"
DEEDS = {BUILT: BUILT, TURNED: TURNED, "build": BUILT, "turn": TURNED}
#: What the job of an entry begins with where it filled a place, and other words for it.
FILL = "fill"
FILLED = frozenset([FILL, "filled", "filling"])


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


def first_word(job: str) -> str:
    """Return the first word of a job of the history, in small letters.

    >>> first_word("Delivery, lane chip, 1"), first_word("")
    ('delivery', '')
    """
    return job.split()[0].rstrip(":,;").lower() if job else ""


def is_fill(job: str) -> bool:
    """Say whether a job of the history tells that a place was filled.

    >>> is_fill("fill, tubs, fill, loam, 1"), is_fill("mulch"), is_fill("")
    (True, False, False)
    """
    return first_word(job) in FILLED
