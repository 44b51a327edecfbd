"""Two who make the same month's book at once post each document once."""

from tests.ground import finished

PREPARE = """
from datetime import UTC, date, datetime
from decimal import Decimal
from django.conf import settings
from django.contrib.auth import get_user_model
from shop.books.services import load_reference
from shop.people.services import save_customer
from shop.till.domain.pricing import Line
from shop.till.services import issue_invoice
load_reference(settings.BASE_DIR / "fixtures" / "reference")
by, on = get_user_model().objects.create_user("robin"), date(2026, 10, 5)
customer = save_customer(
    name="Ada Marsh", sort="person", phone="", email="", note="", known_since=on
)
for number in range(40):
    issue_invoice(customer=customer, lines=[Line("fee", "a fee", Decimal(1), Decimal(10))],
        document="", key=f"bill {number}", on=on, by=by, at=datetime(2026, 10, 5, 9, tzinfo=UTC))
"""
POST = """
import django; django.setup()
from datetime import UTC, date, datetime
from shop.books.services import post_pending
print(post_pending(through=date(2026, 10, 31), by=None, at=datetime(2026, 11, 2, 9, tzinfo=UTC)))
"""
COUNT = """
from shop.books.models import JournalEntry, JournalLine
print(JournalEntry.objects.filter(sealed=True).count(), JournalLine.objects.count())
"""


def test_two_postings_at_once_write_each_document_once(real_database):
    real_database.python(PREPARE)
    both = [real_database.start("-c", POST) for _ in range(2)]
    posted = sorted(int(finished(process)) for process in both)
    assert posted == [0, 40]
    assert real_database.python(COUNT).split()[-2:] == ["40", "80"]
