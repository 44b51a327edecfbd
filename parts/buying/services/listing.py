"""Take in a supplier's whole price list."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.core.files.uploadedfile import UploadedFile
from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from parts.answers.services import Listing, record_listings
from parts.buying.domain.pricelist import Offered
from parts.buying.models import PriceList
from parts.buying.selectors import Chosen, read_list
from parts.buying.services.refusing import BuyingError, require_come
from parts.buying.services.suppliers import add_supplier
from parts.fits.models import Part
from units.catalogue.domain.keys import match_key
from units.catalogue.services import find_or_add_maker
from units.sheets.services import SheetRefusedError, read_tables

BATCH = 1000


@dataclass(frozen=True)
class Loaded:
    """How many of a list's rows were good and bad, and what they added."""

    good: int
    bad: int
    new_parts: int
    new_answers: int


@transaction.atomic
def keep_list(*, supplier: str, upload: UploadedFile, given_on: date, by, at) -> PriceList:
    """Keep a list as it came. The same file of a supplier, given on the same day, is the one kept
    before; given again on another day it says again that its prices hold."""
    require_come(given_on, at, "given_on")
    try:
        read_tables(upload)
    except SheetRefusedError as error:
        raise BuyingError(str(error), "file") from error
    upload.seek(0)
    content = upload.read()
    return PriceList.objects.get_or_create(
        supplier=add_supplier(name=supplier),
        digest=hashlib.sha256(content).hexdigest(),
        given_on=given_on,
        defaults={
            "name": (upload.name or "")[:200],
            "content": content,
            "sent_at": at,
            "sent_by": by,
        },
    )[0]


@transaction.atomic
def load_list(*, price_list: PriceList, chosen: Chosen, only_good: bool, by, at) -> Loaded:
    """Add the parts that are new and write each row down as an answer of the supplier.

    With a bad row nothing is loaded, unless ``only_good``. What was loaded before adds nothing;
    of two who load a list in the same moment the second waits, and finds it loaded.
    """
    PriceList.objects.select_for_update(of=("self",)).get(pk=price_list.pk)
    reading = read_list(price_list, chosen)
    if reading.missing:
        raise BuyingError(
            _("Say which column holds: %(titles)s.") % {"titles": ", ".join(reading.missing)}
        )
    bad = len(reading.faults)
    if not reading.offered:
        raise BuyingError(_("No row of this sheet can be loaded. Check the columns."))
    if bad and not only_good:
        raise BuyingError(
            ngettext(
                "%(bad)d row is wrong. Mend the file, or load only the good rows.",
                "%(bad)d places are wrong. Mend the file, or load only the good rows.",
                bad,
            )
            % {"bad": bad}
        )
    parts, new_parts = _parts(reading.offered)
    name = price_list.supplier.name
    listings = [
        Listing(parts[place], name, offered.status, offered.cost, offered.lead_days)
        for place, offered in enumerate(reading.offered)
    ]
    new_answers = record_listings(
        rows=listings, given_on=price_list.given_on, given_by=name, by=by, at=at
    )
    return Loaded(len(reading.offered), bad, new_parts, new_answers)


def _parts(offered: Sequence[Offered]) -> tuple[list[Part], int]:
    """The part of each row, and how many of them are new."""
    names = {match_key(one.maker): one.maker for one in offered if not one.part and one.maker}
    makers = {key: find_or_add_maker(name=name) for key, name in names.items() if key}
    new = {}
    for one in offered:
        if one.part is None:
            maker = makers.get(match_key(one.maker))
            new[one.key, maker] = Part(
                maker=maker,
                number=" ".join(one.number.split()),
                key=one.key,
                name=" ".join(one.name.split()),
                component_id=one.component,
            )
    try:
        with transaction.atomic():
            Part.objects.bulk_create(new.values(), batch_size=BATCH)
    except IntegrityError as error:  # another list, or a person, added one of them just now
        raise BuyingError(
            _("Some of these parts were added in the same moment. Load the list again.")
        ) from error
    parts = [
        Part(pk=one.part) if one.part else new[one.key, makers.get(match_key(one.maker))]
        for one in offered
    ]
    return parts, len(new)
