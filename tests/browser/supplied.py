"""A shop that asked, ordered, exchanged and took apart; called in a process of its own.

``make()`` prints, as JSON, the addresses of the pages on which that is read.
"""

import json
import uuid
from datetime import timedelta
from decimal import Decimal

from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from parts.answers.services import record_answer, withdraw_answer
from parts.buying.services import (
    ArrivedLine,
    OrderedLine,
    add_offer,
    keep_list,
    order_exchange,
    order_parts,
    receive_order,
    return_to_supplier,
    step_exchange,
)
from parts.fits.services import add_fit, add_part, supersede_by_number
from parts.stock.services import StripLine, strip_donor
from shop.floor.models import Stay
from shop.floor.services import begin_stay
from tests.browser.states import act, machines_diagnosed
from units.catalogue.models import Component, Kind
from units.catalogue.services import find_or_add_maker, find_or_add_model, find_or_add_unit
from units.recalls.models import Recall
from units.recalls.services import load_recalls

NUMBER, SERIAL, DONOR = "CO-2001", "CO26-00511", "CO26-00099"
LIST = (
    "Item no.;Description;Brand;Dealer price;Lead time (days);Availability\n"
    "CO-2001;Running belt T-310;Corvane;61,50;6;in stock\n"
    "CO-2002;Deck T-310, two-sided;Corvane;1.118,00;9;back order\n"
    "CO-2003;Something without a place;Corvane;ask us;;in stock\n"
)
NOTICE = {
    "RecallNumber": "26201",
    "RecallDate": "2026-07-30T00:00:00",
    "LastPublishDate": "2026-07-30T00:00:00",
    "Title": "Corvane Recalls Treadmills Due to Fall Hazard",
    "Description": "This recall involves Corvane treadmills with model number T-310. Serial "
    "numbers from CO26-00001 through CO26-00999 are included.",
    "URL": "https://recalls.example/26201",
    "ConsumerContact": "Corvane at 202-555-0142",
    "Products": [{"Name": "Corvane T-310 treadmills", "Model": "", "NumberOfUnits": "About 900"}],
    "Manufacturers": [{"Name": "Corvane", "CompanyID": ""}],
    "Hazards": [{"Name": "The belt can start by itself."}],
    "Remedies": [{"Name": "Ask for a free repair."}],
}


def today():
    return timezone.localdate()


def make() -> None:
    model = find_or_add_model(
        maker=find_or_add_maker(name="Corvane"),
        number="T-310",
        kind=Kind.objects.get(pk="treadmill"),
    )
    part = belt(model)
    own = machine(model, SERIAL)
    begin_stay(unit=own, owner=None, came=Stay.Came.PURCHASE, on=today(), by=act("owner")["by"])
    said(model, part)
    order, receipt = ordered(part)
    exchange = exchanged(model)
    donor = stripped(model)
    recall = recalled()
    upload = SimpleUploadedFile("spares.csv", LIST.encode())
    prices = keep_list(
        supplier="Aldermere Spares Depot", upload=upload, given_on=today(), **act("front desk")
    )
    line = receipt.lines.get()
    names = {
        "call-list": [], "call": [model.pk], "model": [model.pk], "model-parts": [model.pk],
        "model-sisters": [model.pk], "part": [part.pk], "part-had": [part.pk],
        "stock-part": [part.pk], "order": [order.number], "order-receive": [order.number],
        "order-list": [], "reorder-list": [], "parts-to-order": [], "receipt": [receipt.number],
        "part-return": [receipt.number, line.pk], "exchange-list": [],
        "exchange-step": [exchange.number], "exchange-offer-add": [],
        "exchange-add": [exchange.offer_id], "supplier-list": [prices.pk],
        "supplier-list-add": [], "supplier-price-list": [], "donor": [donor.pk],
        "donor-strip": [own.pk], "recall-match-list": [], "recall": [recall.pk],
        "recall-decide": [recall.pk, own.pk], "machine": [own.pk], "freshness": [],
        "answer-list": [],
    }  # fmt: skip
    print(json.dumps({name: reverse(name, args=args)[1:] for name, args in names.items()}))


def belt(model):
    part = add_part(
        maker=model.maker,
        number=NUMBER,
        name="running belt 3000 x 510",
        component=Component.objects.get(slug="running-belt"),
    )
    add_fit(
        part=part,
        model=model,
        quantity=Decimal(1),
        evidence="maker's parts list",
        **act("technician"),
    )
    supersede_by_number(
        part=part, maker=model.maker, number="CO-2001A", on=today(),
        evidence="maker's notice to dealers", **act("technician"),
    )  # fmt: skip
    return part


def machine(model, serial):
    return find_or_add_unit(model=model, serial=serial, **act("technician"))[0]


def said(model, part) -> None:
    """A year of answers, one of them withdrawn."""
    for days, status, about in (
        (370, "supported", {"model": model}),
        (40, "back-ordered", {"model": model}),
        (20, "limited", {"model": model, "component": Component.objects.get(slug="deck")}),
        (3, "ended", {"part": part}),
    ):
        answer = record_answer(
            status=status,
            given_on=today() - timedelta(days=days),
            given_by="parts desk, Odile",
            channel="phone",
            **about,
            **act("front desk"),
        )
    withdraw_answer(answer=answer, reason="The number was read out wrong.", **act("owner"))


def ordered(part):
    """Five ordered, three came, one of those went back."""
    on = today()
    order = order_parts(
        supplier="Aldermere Spares Depot",
        lines=[OrderedLine(part, Decimal(5), Decimal("61.5"), expected_on=on + timedelta(days=4))],
        on=on,
        key=uuid.uuid4(),
        **act("front desk"),
    )
    arrived = [ArrivedLine(order.lines.get(), "A1", Decimal(3), Decimal("61.5"))]
    receipt = receive_order(
        order=order, lines=arrived, reference="ASD 22817", on=on, key=uuid.uuid4(),
        **act("technician"),
    )  # fmt: skip
    return_to_supplier(
        receipt_line=receipt.lines.get(), quantity=Decimal(1), reason="faulty",
        note="torn at the seam", on=on, key=uuid.uuid4(), **act("technician"),
    )  # fmt: skip
    return order, receipt


def exchanged(model):
    """A board that came; the old one is still to go back."""
    offer = add_offer(
        supplier="Quill & Daughter, rewinding",
        core_charge=Decimal(60),
        core_days=30,
        model=model,
        component=Component.objects.get(slug="motor-control-board"),
        cost=Decimal(165),
        lead_days=6,
        given_on=today(),
        given_by="Wren Quill",
        channel="phone",
        **act("front desk"),
    )
    exchange = order_exchange(
        offer=offer, document="", on=today(), key=uuid.uuid4(), **act("front desk")
    )
    step_exchange(exchange=exchange, step="came", on=today(), **act("technician"))
    return exchange


def stripped(model):
    pieces = (("drive-motor", "good"), ("console-board", "new"))
    lines = [
        StripLine(Component.objects.get(slug=slug), grade, "leave", value=Decimal(1))
        for slug, grade in pieces
    ]
    return strip_donor(
        unit=machine(model, DONOR),
        lines=lines,
        cost=Decimal(40),
        on=today(),
        document="B00001",
        **act("technician"),
    )


def recalled():
    load_recalls(content=json.dumps([NOTICE]).encode(), name="recalls.json", **act("owner"))
    return Recall.objects.get()


def rowers_recalled() -> None:
    """Six rowers of our own, and a notice that names their model; nobody has decided yet."""
    machines_diagnosed()
    notice = NOTICE | {
        "Title": "Kestrow Recalls Rowers Due to Fall Hazard",
        "Description": "This recall involves Kestrow rowers with model number R-40.",
        "Products": [{"Name": "Kestrow R-40 rowers", "Model": "", "NumberOfUnits": "About 900"}],
        "Manufacturers": [{"Name": "Kestrow", "CompanyID": ""}],
    }
    load_recalls(content=json.dumps([notice]).encode(), name="recalls.json", **act("owner"))
