"""A published recall notice, as it was read from any of its forms."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date


@dataclass(frozen=True)
class Product:
    """``units`` is text, as published: “About 19,900 (in addition, about 17 in Canada)”."""

    name: str = ""
    description: str = ""
    model: str = ""
    units: str = ""


@dataclass(frozen=True)
class Notice:
    """Plain text throughout; ``parties`` are makers, importers and distributors.

    ``raw`` is the record as it was published. It is kept, and not compared.
    """

    number: str
    title: str
    announced_on: date | None = None
    url: str = ""
    description: str = ""
    products: tuple[Product, ...] = ()
    parties: tuple[str, ...] = ()
    hazard: str = ""
    remedy: str = ""
    contact: str = ""
    sold_at: str = ""
    raw: Mapping = field(default_factory=dict, compare=False, repr=False)

    @property
    def key(self) -> str:
        """The number's digits: ``18-764``, ``18764`` and “Release #18-764” are one notice."""
        return digits(self.number)

    @property
    def digest(self) -> str:
        """SHA-256 of what the notice says."""
        said = asdict(self) | {"raw": None}
        text = json.dumps(said, sort_keys=True, default=str, ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that may name a model or a serial number, the title last."""
        products = [text for one in self.products for text in (one.description, one.name)]
        return tuple(filter(None, [self.description, *products, self.title]))


def digits(text: str) -> str:
    return "".join(letter for letter in text if letter.isascii() and letter.isdigit())


def joined(first: Notice, second: Notice) -> Notice:
    """Two records of one file under one number: nothing that either says is lost."""
    if first == second:
        return first
    return Notice(
        number=first.number,
        title=_both(first.title, second.title, " · "),
        announced_on=max(filter(None, (first.announced_on, second.announced_on)), default=None),
        url=first.url or second.url,
        description=_both(first.description, second.description, "\n"),
        products=tuple(dict.fromkeys(first.products + second.products)),
        parties=tuple(dict.fromkeys(first.parties + second.parties)),
        hazard=_both(first.hazard, second.hazard, "\n"),
        remedy=_both(first.remedy, second.remedy, "\n"),
        contact=_both(first.contact, second.contact, "\n"),
        sold_at=_both(first.sold_at, second.sold_at, "\n"),
        raw={"records": [first.raw, second.raw]},
    )


def _both(first: str, second: str, between: str) -> str:
    return between.join(dict.fromkeys(filter(None, (first, second))))
