"""A published recall notice, as it was read from any of its forms."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from datetime import date

KEPT = (
    "title", "announced_on", "published_on", "url", "description", "parties", "hazard", "remedy",
    "contact", "sold_at",
)  # fmt: skip


@dataclass(frozen=True)
class Product:
    """``units`` is text, as published: “About 19,900 (in addition, about 17 in Canada)”."""

    name: str = ""
    description: str = ""
    model: str = ""
    units: str = ""

    @property
    def told(self) -> tuple[str, str]:
        """What tells it from other products; the CSV form leaves this empty."""
        return self.description, self.model


@dataclass(frozen=True)
class Notice:
    """Plain text throughout; ``parties`` are makers, importers and distributors.

    ``published_on`` is the day of this wording, where the form gives one; ``raw`` is the record as
    it was published. Both are kept, and not compared.
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
    published_on: date | None = field(default=None, compare=False)
    raw: Mapping = field(default_factory=dict, compare=False, repr=False)

    @property
    def key(self) -> str:
        """The number's digits: ``18-764``, ``18764`` and “Release #18-764” are one notice."""
        return digits(self.number)

    @property
    def digest(self) -> str:
        """SHA-256 of what the notice says."""
        said = asdict(self) | {"raw": None}
        del said["published_on"]
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
        return max(first, second, key=lambda one: one.published_on or date.min)
    return Notice(
        number=first.number,
        title=_both(first.title, second.title, " · "),
        announced_on=max(filter(None, (first.announced_on, second.announced_on)), default=None),
        published_on=max(filter(None, (first.published_on, second.published_on)), default=None),
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


def is_older(notice: Notice, known: date | None) -> bool:
    """Whether a later wording is known. Without a day nobody can tell."""
    return bool(notice.published_on and known and notice.published_on < known)


def completed(notice: Notice, known: Notice) -> Notice:
    """The notice, with what its form leaves empty as it was known before."""
    kept = {name: getattr(notice, name) or getattr(known, name) for name in KEPT}
    return replace(notice, products=_completed(notice.products, known.products), **kept)


def _completed(products: tuple[Product, ...], known: tuple[Product, ...]) -> tuple[Product, ...]:
    if not products or any(any(one.told) for one in products):
        return products or known
    names = {one.name.casefold(): one for one in reversed(known)}
    filled = tuple(_filled(one, names.get(one.name.casefold(), one)) for one in products)
    told = {("", ""), *(one.told for one in filled)}
    return filled + tuple(one for one in known if one.told not in told)


def _filled(product: Product, known: Product) -> Product:
    units = product.units or known.units
    return replace(product, description=known.description, model=known.model, units=units)
