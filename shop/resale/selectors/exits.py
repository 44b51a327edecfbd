"""The table of exits, read once."""

import tomllib
from functools import cache

from django.conf import settings

from shop.resale.domain.exits import Exit, read_exits
from shop.resale.domain.readiness import KNOWN


@cache
def exits() -> dict[str, Exit]:
    """Every exit by its key, in the order of the table."""
    path = settings.BASE_DIR / "fixtures" / "reference" / "exits.toml"
    return read_exits(tomllib.loads(path.read_text(encoding="utf-8")), list(KNOWN))


def retail() -> Exit:
    return exits()["retail"]
