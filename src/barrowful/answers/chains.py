"""Ways one after another for a kind of need, where one does not serve all of its places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

#: Chains of ways times places that are tried for one kind of need: a setting of the search.
MOST_CHAINED = 2_000


class Chains:
    """Ways one after another for a kind of need: each for the places that those before it do not serve.

    ``names`` are the places, ``met`` those each way serves by itself, ``may`` those it may, ``cash`` what it
    costs by itself.
    """

    def __init__(
        self,
        names: set[str],
        met: Mapping[str, set[str]],
        may: Mapping[str, set[str]],
        cash: Mapping[str, Decimal],
    ) -> None:
        self.names, self.met, self.may, self.cash = names, met, may, cash
        self.numbers = {name: number for number, name in enumerate(met)}

    def found(self, beside_all: bool) -> list[tuple[str, ...]]:
        """Return the ways one by one, and those that serve some places but not all with others for the rest.

        Chains grow while few; the last of many are each filled up. With ``beside_all`` one that serves all
        grows by one more.
        """
        chains: list[tuple[str, ...]] = [(name,) for name in self.met if self.may[name]]
        longer = [chain for chain in chains if self.met[chain[0]] and (beside_all or self._left(chain))]
        while longer and (len(chains) + len(longer)) * len(self.names) <= MOST_CHAINED:
            grown = [(*chain, name) for chain in longer for name in self._next(chain)]
            chains += grown
            longer = [chain for chain in grown if self.met[chain[-1]] and self._left(chain)]
        return list(dict.fromkeys([*chains, *longer, *map(self._filled_up, longer)]))

    def _left(self, chain: Sequence[str]) -> set[str]:
        """Return the places that none of a chain serves by itself."""
        return self.names.difference(*(self.met[way] for way in chain))

    def _next(self, chain: Sequence[str]) -> Iterator[str]:
        """Yield the ways that may serve what a chain leaves, or anything where it leaves nothing."""
        left = self._left(chain) or self.names
        for name, may in self.may.items():
            if name not in chain and may & left and not self._is_known(chain[-1], name):
                yield name

    def _is_known(self, last: str, name: str) -> bool:
        """Say whether two ways serve no place in common, so that they come the other way round too."""
        apart = self.may[last].isdisjoint(self.may[name])
        return apart and bool(self.met[name]) and self.numbers[name] < self.numbers[last]

    def _filled_up(self, chain: tuple[str, ...]) -> tuple[str, ...]:
        """Return a chain with those ways after it that serve most of what is left; the cheapest of such."""
        while left := self._left(chain):
            more = {
                name: len(met & left) for name, met in self.met.items() if name not in chain and met & left
            }
            if not more:
                break
            best = min(more, key=lambda name: (-more[name], self.cash[name], self.numbers[name]))
            chain = (*chain, best)
        return self._in_order(chain)

    def _in_order(self, chain: tuple[str, ...]) -> tuple[str, ...]:
        """Return a chain as it is known: what serves no place in common in the order of ways."""
        ways = list(chain)
        for end in range(len(ways) - 1, 0, -1):
            for at in range(end):
                if self._is_known(ways[at], ways[at + 1]):
                    ways[at], ways[at + 1] = ways[at + 1], ways[at]
        return tuple(ways)
