"""The one reader of the tables of standard parts."""

import tomllib
from decimal import Decimal
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[3] / "fixtures" / "reference" / "standard"


@cache
def table(name: str) -> dict:
    """A table as it stands in its file; figures with a point are ``Decimal``."""
    text = (FOLDER / f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text, parse_float=Decimal)
