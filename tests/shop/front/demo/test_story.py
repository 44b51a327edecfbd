"""The invented shop as told: how much there is, of what month, and what its pages ask of the
database. The story is told once a session; it is only read here."""

import json
from datetime import date, timedelta

import pytest

from tests.conftest import DEMO_DAY

COUNTED = """
import json
from collections import Counter
from parts.buying.models import Receipt
from shop.lots.models import LotLine
from shop.people.models import Customer
from shop.resale.models import Sale
from shop.till.models import Invoice, Payment
from shop.work.models import WorkOrder
from units.catalogue.models import MachineModel, Unit

def days(model, field):
    return [day.isoformat() for day in model.objects.values_list(field, flat=True)]

print(json.dumps({
    "machines": Unit.objects.count(),
    "owners": Customer.objects.filter(jobs__isnull=False).distinct().count(),
    "customers": list(Customer.objects.values_list("name", flat=True)),
    "models": Counter(MachineModel.objects.values_list("kind", flat=True)),
    "with_parts": MachineModel.objects.filter(fits__isnull=False).distinct().count(),
    "jobs": Counter(WorkOrder.objects.values_list("state", flat=True)),
    "came_back": WorkOrder.objects.filter(purpose="warranty").count(),
    "own_jobs": WorkOrder.objects.filter(purpose="own").count(),
    "outcomes": Counter(WorkOrder.objects.values_list("outcome", flat=True)),
    "opened": days(WorkOrder, "opened_on"),
    "offered": LotLine.objects.filter(sort="machine").count(),
    "goods": LotLine.objects.filter(sort="goods").count(),
    "waiting": LotLine.objects.filter(state="proposed").count(),
    "sales": Sale.objects.count(),
    "invoices": days(Invoice, "issued_on"),
    "payments": days(Payment, "paid_on"),
    "receipts": days(Receipt, "received_on"),
}))
"""

# Every list and one detail of each sort, opened as each seat that may.
ASKED = """
import json
from django.contrib.auth import get_user_model
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import NoReverseMatch, get_resolver, reverse
from django.utils import timezone
from parts.buying.models import Receipt
from parts.buying.models import Exchange, PriceList, PurchaseOrder
from parts.fits.models import Part
from parts.stock.models import Donor, StockMove
from parts.support.selectors import keep_ready
from shop.floor.models import Stay
from shop.front import access
from shop.lots.models import Lot
from shop.people.models import Customer
from shop.resale.models import Disposal, Reservation
from shop.till.models import Invoice, Payment
from shop.work.models import Estimate, WorkOrder
from units.catalogue.models import MachineModel
from units.inspections.models import Inspection, Protocol

open_job = WorkOrder.objects.filter(state="in-work", purpose="customer").first()
offered = Estimate.objects.filter(job__state="estimated").first()
ready = Stay.objects.here().ours().filter(prices__isnull=False).first()
closed = WorkOrder.objects.filter(state="closed", purpose="customer").first()
unsafe = WorkOrder.objects.filter(outcome="unsafe").first()
priced = Part.objects.get(number="HO-14101")
order = PurchaseOrder.objects.filter(lines__part=priced).first()
donor = Donor.objects.get()
lot = Lot.objects.first()
examples = {
    "machine": [open_job.unit_id], "model": [open_job.unit.model_id], "job": [open_job.number],
    "ticket": [open_job.number], "estimate": [offered.job.number, offered.version],
    "estimate-answer": [offered.job.number, offered.version],
    "part-take": [open_job.number], "time-add": [open_job.number], "job-close": [open_job.number],
    "job-cancel": [offered.job.number], "hand-back": [closed.number], "notice": [unsafe.number],
    "inspection": [Inspection.objects.first().pk], "protocol": [Protocol.objects.first().pk],
    "part": [priced.pk], "receipt": [Receipt.objects.first().number],
    "part-had": [priced.pk], "stock-part": [StockMove.objects.last().part_id],
    "order": [order.number], "order-paper": [order.number], "order-receive": [order.number],
    "donor": [donor.pk], "donor-labels": [donor.pk], "supplier-list": [PriceList.objects.last().pk],
    "exchange-step": [Exchange.objects.first().number], "model-sisters": [open_job.unit.model_id],
    "model-parts": [open_job.unit.model_id], "call": [open_job.unit.model_id],
    "customer": [open_job.owner_id], "customer-edit": [open_job.owner_id],
    "invoice": [Invoice.objects.first().number], "readiness": [ready.pk], "price-set": [ready.pk],
    "grading-add": [ready.pk], "machine-sell": [ready.pk],
    "reservation": [ready.pk], "hang-tag": [ready.pk], "written": [ready.pk], "stand": [ready.pk],
    "stand-code": [ready.pk], "way-out": [ready.pk, "as-is"],
    "machine-sell-by": [ready.pk, "as-is"], "machine-dispose": [ready.pk, "scrapped"],
    "reservation-paper": [Reservation.objects.get().pk],
    "disposal": [Disposal.objects.get().number],
    "disclosure-add": [ready.pk, "as-is"], "disclosure": [ready.disclosures.first().pk],
    "lot": [lot.pk], "lot-check": [lot.pk], "lot-walk": [lot.pk], "lot-load": [lot.pk],
    "lot-worth": [lot.pk], "lot-take-in": [lot.pk], "valuation": [lot.valuations.first().pk],
    "valuation-paper": [lot.valuations.first().pk],
    "lot-list-add": [lot.pk], "lot-line-add": [lot.pk], "lot-line": [lot.pk, lot.lines.last().pk],
    "model-edit": [open_job.unit.model_id], "answer-add": [open_job.unit.model_id],
    "plate-add": [open_job.unit_id], "photo-add": [open_job.unit_id],
    "recall-check-add": [open_job.unit_id], "machine-recalls": [open_job.unit_id],
}
keep_ready(timezone.localdate())  # as the server does beside its pages
connection.features.supports_json_field  # which Django asks SQLite once a process
found = {}
for user in get_user_model().objects.all():
    client = Client()
    client.force_login(user)
    seats = list(user.groups.values_list("name", flat=True))
    for (name, method), _ in access.table().items():
        if method != "GET" or not access.may_open(seats, name):
            continue
        try:
            address = reverse(name, args=examples.get(name, []))
        except NoReverseMatch:
            continue
        with CaptureQueriesContext(connection) as asked:
            answer = client.get(address, HTTP_HOST="localhost")
        found[f"{user.username} {address}"] = [answer.status_code, len(asked)]
print(json.dumps(found))
"""


@pytest.fixture(scope="module")
def told(demo_template) -> dict:
    return json.loads(demo_template.made.python(COUNTED))


def test_there_are_120_machines_of_ours_and_of_60_customers(told):
    assert told["machines"] == 120
    named = set(told["customers"]) - {"Millrace Athletic"}
    assert len(named) == 60
    assert {"Larkmoor Hotel", "Tessaly Flats, the manager"} <= named


def test_there_are_eight_models_of_each_kind_all_with_parts(told):
    assert set(told["models"].values()) == {8}
    assert len(told["models"]) == 8
    assert told["with_parts"] == 64


def test_there_are_90_jobs_in_every_state_over_14_months_and_one_came_back(told):
    assert (sum(told["jobs"].values()), told["came_back"]) == (91, 1)
    states = {"logged", "estimated", "approved", "in-work", "closed", "handed-back", "cancelled"}
    assert states <= set(told["jobs"])
    assert {"repaired", "declined", "unsafe", "no-fault"} <= set(told["outcomes"])
    opened = sorted(date.fromisoformat(day) for day in told["opened"])
    assert (opened[-1] - opened[0]).days > 13 * 30


def test_the_club_offers_46_machines_and_goods_and_some_lines_wait_for_a_person(told):
    assert (told["offered"], told["goods"], told["waiting"]) == (46, 5, 5)


def test_the_month_before_has_invoices_payments_and_receipts_whatever_the_day(told):
    """The days of the story move with the anchor, so each sort is tried against 4 years of them."""
    told_for = date.fromisoformat(DEMO_DAY)
    for sort in ("invoices", "payments", "receipts"):
        ages = {(told_for - date.fromisoformat(day)).days for day in told[sort]}
        for ahead in range(4 * 366):
            anchor = date(2026, 1, 1) + timedelta(days=ahead)
            last = anchor.replace(day=1) - timedelta(days=1)
            months = {anchor - timedelta(days=age) for age in ages}
            assert any((day.year, day.month) == (last.year, last.month) for day in months), (
                sort,
                anchor,
            )


def test_no_page_asks_more_than_12_queries_of_the_told_shop(demo_template):
    found = json.loads(demo_template.made.python(ASKED).splitlines()[-1])
    assert len(found) > 120
    wrong = {page: got for page, got in found.items() if got[0] != 200 or got[1] > 12}
    assert not wrong
