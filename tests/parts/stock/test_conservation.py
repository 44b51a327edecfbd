"""Whatever is done to a shelf, ledger, bins and layers agree on pieces and cents."""

from decimal import Decimal

from hypothesis import given
from hypothesis import settings as effort
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from parts.stock.models import StockMove
from parts.stock.services import NotEnoughStockError
from tests.factories.parts import BinFactory
from tests.parts.stock.keeper import Keeper

deeds = st.lists(
    st.tuples(
        st.sampled_from(["receive", "issue", "back", "count"]),
        st.integers(1, 9000).map(lambda steps: Decimal(steps) / 1000),
        st.integers(0, 9_999_999).map(lambda steps: Decimal(steps) / 1_000_000),
        st.sampled_from(["A1", "B2"]),
    ),
    max_size=10,
)


class Conservation(TestCase):
    @effort(max_examples=40)
    @given(deeds)
    def test_pieces_and_cents_in_the_ledger_are_those_on_the_shelf_and_in_the_layers(self, run):
        keeper, taken = Keeper(), []
        for deed, quantity, cost, name in run:
            place = BinFactory(name=name)
            try:
                if deed == "receive":
                    keeper.receive(quantity, cost, place=place)
                elif deed == "issue":
                    taken.append(keeper.issue(quantity))
                elif deed == "count":
                    keeper.count(quantity, place=place)
                elif taken:
                    keeper.give_back(taken.pop(0))
            except NotEnoughStockError:
                pass
            self.check(keeper)

    def check(self, keeper):
        moves = StockMove.objects.filter(part=keeper.part)
        pieces = sum((move.quantity for move in moves), Decimal(0))
        cents = sum((move.cost for move in moves), Decimal(0))
        assert pieces == keeper.on_hand == sum((left for left, _ in keeper.layers), Decimal(0))
        assert cents == sum((cost for _, cost in keeper.layers), Decimal(0))
        assert all(cost == 0 for left, cost in keeper.layers if not left)
