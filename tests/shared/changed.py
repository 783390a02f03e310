"""What a command that writes a file did to it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from barrowful.site.load import load
from barrowful.site.records import Site


@dataclass(frozen=True)
class Changed:
    """What was done to a file: the exit code, what was said, and the file before and after."""

    code: int
    said: str
    before: bytes
    after: bytes
    path: Path

    @property
    def site(self) -> Site:
        """Return the site the file holds now."""
        return load(self.after, self.path.name).site

    @property
    def beside(self) -> list[str]:
        """Return the names of the other files in the folder."""
        return sorted(each.name for each in self.path.parent.iterdir() if each != self.path)
