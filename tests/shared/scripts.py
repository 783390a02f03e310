"""Files of code that are part of no package, loaded to be asked."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

DOCS = Path(__file__).resolve().parents[2] / "docs"


def load_file(path: Path) -> ModuleType:
    """Load a file of code under a name of its own."""
    spec = importlib.util.spec_from_file_location(f"{path.parent.name}_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module
