"""Lots to test with, through the services."""

import uuid
from datetime import timedelta
from decimal import Decimal

from django.core.files.base import ContentFile

from shop.lots.models import LotSource
from shop.lots.services import (
    Answer,
    Facts,
    Offered,
    add_line,
    add_source,
    agree_price,
    answer_matter,
    confirm_list,
    open_lot,
)
from shop.lots.services.sources import begin_reading
from shop.lots.services.tasks import read_now
from tests.factories.shop import CustomerFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    KindFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
)
from tests.shop.lots.domain.lists.layouts import workbook

HEAD = ["Model", "Qty", "Serial", "Hours", "Condition"]
MATTERS = ["authority", "lease", "lien", "landlord"]


def act():
    return {"by": PersonFactory(), "at": MORNING}


def a_lot(title="Closing sale", seller=None, **changes):
    said = {"title": title, "offered_on": TODAY, "asked": Decimal("9000.00")}
    seller = seller or CustomerFactory(name="Millrace Athletic")
    return open_lot(seller=seller, offered=Offered(**said | changes), key=uuid.uuid4(), **act())


def models():
    """HG 7100 and HG 7250 of Holmgate, treadmills, and KR 8 of Kestrow, a rower."""
    holmgate, kestrow = MakerFactory(name="Holmgate"), MakerFactory(name="Kestrow")
    rower = KindFactory(slug="rower", name="rower")
    return [
        MachineModelFactory(maker=holmgate, number="HG 7100", key="HG7100"),
        MachineModelFactory(maker=holmgate, number="HG 7250", key="HG7250"),
        MachineModelFactory(maker=kestrow, number="KR 8", key="KR8", kind=rower),
    ]


def a_list(*rows, lot=None, head=HEAD, name="list.xlsx", content=None):
    """A list of a lot, read."""
    lot = lot or a_lot()
    content = content or workbook([head, *rows])
    source = add_source(lot=lot, upload=ContentFile(content, name=name), **act())
    read_now(begin_reading(pk=source.pk, at=MORNING), at=MORNING)
    return LotSource.objects.get(pk=source.pk)


def a_listed_lot(*facts, **changes):
    """A confirmed lot, of one treadmill or of what is said."""
    lot = a_lot(**changes)
    for one in facts or [Facts("treadmill", kind=KindFactory(), serials=["ML100200"])]:
        add_line(lot=lot, facts=one, **act())
    return confirm_list(lot=lot, on=TODAY, **act())


def an_agreed_lot(*facts, price="4000.00", answered=MATTERS, **changes):
    lot = a_listed_lot(*facts, **changes)
    for matter in answered:
        answer_matter(lot=lot, answer=Answer(matter, "clear", "Dana Reed"), **act())
    return agree_price(lot=lot, price=Decimal(price), on=TODAY, **act())


def later(days):
    return TODAY + timedelta(days=days)
