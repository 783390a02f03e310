"""A whole list in the place of the one a site file has, or below all there is; the rest of the text stays."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from barrowful.measures.problems import Mark
from barrowful.sitefile.text.nodes import Listing, Mapping, parse
from barrowful.sitefile.text.page import LINE_END, NULL, OddShape, Page


class Sheet(Page):
    """A page on which the list of a key is replaced as a whole."""

    def with_items(self, top: Mapping, items: Sequence[str]) -> str:
        """Return the text with these items for all that the list holds.

        Comments between the items that were there go with them, and so does one behind the last.
        """
        if self.key not in top.entries:
            return self._new(top, items)
        key, there = top.entries[self.key]
        start = self.at(there.mark)
        filled = isinstance(there, Listing) and bool(there.items)
        if self.text[start : start + 1] == "[":
            end = self._end_of(start)
            plain = not (filled or self.in_braces or "#" in self.text[start:end])
            return self._instead(key, start, end, items, below=plain)
        if isinstance(there, Listing) and filled:
            return self._instead_of_lines(key, start, there.items[-1].mark, items)
        word = NULL.match(self.text, start)
        return self._instead(key, start, word.end() if word else start, items, below=not self.in_braces)

    def _new(self, top: Mapping, items: Sequence[str]) -> str:
        """Add the key with its items; in braces it is put there empty first, so that it has its line."""
        if not self.in_braces or not items:
            return self._with_key(top, *items) if items else self.text
        text = self._with_key(top)
        return replace(self, text=text).with_items(parse(text.encode(), "the site file").top, items)

    def _instead(self, key: Mark, start: int, end: int, items: Sequence[str], *, below: bool) -> str:
        """Put items in the place of brackets, of a word for nothing or of nothing; or below the key."""
        if below and items:
            return self._first_below(key, start, end, *items)
        value = self._in_brackets(start, items)
        return self.text[:start] + value + self.text[end:] if start < end else self._behind_key(key, value)

    def _instead_of_lines(self, key: Mark, start: int, last: Mark, items: Sequence[str]) -> str:
        """Put items in the place of those of a block list, from its first dash to its last letter."""
        if self.text[start : start + 1] != "-":
            raise OddShape
        stop = self.next_line(self._end_of(self.at(last), last.column - 1))
        end = start + len(self.text[start:stop].rstrip())
        line = self.line_start(start)
        if items:
            return self.text[:start] + self._dashed(start - line, items) + self.text[end:]
        if self.text[line:start].strip():
            return f"{self.text[:start]}[]{self.text[end:]}"
        rest = self.text[self.next_line(end) :] if end < len(self.text) else ""
        return replace(self, text=self.text[:line] + rest)._behind_key(key, "[]")

    def _in_brackets(self, index: int, items: Sequence[str]) -> str:
        """Return items in brackets for an index: a line each, unless all the file is one line in braces."""
        one_line = self.in_braces and not LINE_END.search(self.text[self.at(self.top) :].rstrip())
        if one_line or not items:
            return f"[{', '.join(items)}]"
        lead = re.match(r"[ \t]*", self.text[self.line_start(index) : index])
        pad = self.newline + (lead.group() if lead else "")
        return f"[{','.join(f'{pad}  {item}' for item in items)}{pad}]"
