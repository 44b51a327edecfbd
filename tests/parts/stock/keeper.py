"""One part on the shelf and who moves it, for the tests of the ledger."""

import uuid
from decimal import Decimal

from parts.stock.models import CostLayer
from parts.stock.selectors import on_hand
from parts.stock.services import (
    choose_costing,
    count_stock,
    issue_stock,
    receive_stock,
    return_stock,
    scrap_stock,
    transfer_stock,
)
from tests.factories.parts import BinFactory, PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory


class Keeper:
    """One part, moved by one person, so that a test names only what matters to it."""

    def __init__(self):
        self.part, self.place, self.by = PartFactory(), BinFactory(), PersonFactory()

    def entry(self, on, document, place=None):
        place = place or self.place
        said = {"part": self.part, "bin": place, "on": on, "document": document}
        return said | {"by": self.by, "at": MORNING}

    def receive(self, quantity, cost="10", on=TODAY, place=None):
        entry = self.entry(on, "D00001", place)
        return receive_stock(quantity=Decimal(quantity), unit_cost=Decimal(cost), **entry)

    def issue(self, quantity, on=TODAY, place=None, reason="used"):
        entry = self.entry(on, "J00001") | {"bin": place}
        return issue_stock(quantity=Decimal(quantity), reason=reason, **entry)

    def give_back(self, move, on=TODAY):
        return return_stock(move=move, on=on, by=self.by, at=MORNING)

    def count(self, counted, on=TODAY, place=None, **more):
        entry = self.entry(on, "", place)
        del entry["document"]
        return count_stock(counted=Decimal(counted), note="", **entry, **more)

    def scrap(self, quantity, on=TODAY, place=None, note="cracked", key=None):
        entry = self.entry(on, "", place) | {"note": note, "key": key or uuid.uuid4()}
        del entry["document"]
        return scrap_stock(quantity=Decimal(quantity), **entry)

    def carry(self, quantity, to, on=TODAY, place=None, key=None):
        entry = self.entry(on, "", place) | {"to_bin": to, "key": key or uuid.uuid4()}
        del entry["document"]
        return transfer_stock(quantity=Decimal(quantity), **entry)

    def cost_by(self, method):
        return choose_costing(method=method, reason="as advised", by=self.by, at=MORNING)

    @property
    def on_hand(self):
        return on_hand([self.part])[self.part.pk]

    @property
    def layers(self):
        return list(
            CostLayer.objects.filter(part=self.part)
            .oldest_first()
            .values_list("quantity_left", "cost_left")
        )
