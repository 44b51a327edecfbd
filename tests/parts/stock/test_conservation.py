"""Whatever is done to a shelf, and however it is costed, ledger, bins and layers agree on pieces
and cents."""

from contextlib import suppress
from decimal import Decimal

from hypothesis import given
from hypothesis import settings as effort
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from parts.stock.models import Shelf, StockMove
from parts.stock.services import NotEnoughStockError
from tests.factories.parts import BinFactory
from tests.parts.stock.keeper import Keeper
from tests.parts.stock.stripping import strip

DEEDS = ["receive", "issue", "back", "count", "scrap", "carry", "donor"]
deeds = st.lists(
    st.tuples(
        st.sampled_from(DEEDS),
        st.integers(1, 9000).map(lambda steps: Decimal(steps) / 1000),
        st.integers(0, 9_999_999).map(lambda steps: Decimal(steps) / 1_000_000),
        st.sampled_from(["A1", "B2"]),
    ),
    max_size=10,
)


class Story:
    """Deeds on one part; what the shelf refuses leaves it as it was."""

    def __init__(self):
        self.keeper, self.taken = Keeper(), []

    def tell(self, deed, quantity, cost, name):
        place = BinFactory(name=name)
        with suppress(NotEnoughStockError):
            getattr(self, deed)(quantity, cost, place)

    def receive(self, quantity, cost, place):
        self.keeper.receive(quantity, cost, place=place)

    def issue(self, quantity, _cost, _place):
        self.taken.append(self.keeper.issue(quantity))

    def back(self, _quantity, _cost, _place):
        if self.taken:
            self.keeper.give_back(self.taken.pop(0))

    def count(self, quantity, _cost, place):
        self.keeper.count(quantity, place=place)

    def scrap(self, quantity, _cost, place):
        self.keeper.scrap(quantity, place=place)

    def carry(self, quantity, _cost, place):
        other = BinFactory(name="B2" if place.name == "A1" else "A1")
        self.keeper.carry(quantity, other, place=place)

    def donor(self, quantity, cost, place):
        strip(cost=cost.quantize(Decimal("0.01")), part=self.keeper.part, bin_name=place.name)


class Conservation(TestCase):
    @effort(max_examples=40)
    @given(deeds, st.sampled_from(["fifo", "average"]))
    def test_pieces_and_cents_in_the_ledger_are_those_on_the_shelf_and_in_the_layers(
        self, run, method
    ):
        story = Story()
        if method == "average":
            story.keeper.cost_by(method)
        for deed in run:
            story.tell(*deed)
            self.check(story.keeper, method)

    def check(self, keeper, method):
        moves = list(StockMove.objects.filter(part=keeper.part))
        pieces = sum((move.quantity for move in moves), Decimal(0))
        cents = sum((move.cost for move in moves), Decimal(0))
        assert pieces == keeper.on_hand == sum((left for left, _ in keeper.layers), Decimal(0))
        assert cents == sum((cost for _, cost in keeper.layers), Decimal(0))
        assert all(cost == 0 for left, cost in keeper.layers if not left)
        if method == "average":
            assert len([left for left, _ in keeper.layers if left]) <= 1
        for shelf in Shelf.objects.filter(part=keeper.part):
            lying = sum((m.quantity for m in moves if m.bin_id == shelf.bin_id), Decimal(0))
            assert shelf.on_hand == lying
