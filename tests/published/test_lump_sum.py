"""A lump-sum purchase by relative value: accountingtools.com, “lump-sum purchase”, and
xplaind.com, 746066 (figures only), in the domain and through a donor's pieces."""

from decimal import Decimal

import pytest

from parts.stock.domain.sharing import share_by_value
from tests.parts.stock.stripping import COMPONENTS, strip, take

EXAMPLES = [
    pytest.param(1_000_000, [250_000, 800_000], [238_095, 761_905], id="accountingtools"),
    pytest.param(500_000, [44_000, 32_000, 324_000], [55_000, 40_000, 405_000], id="xplaind"),
    pytest.param(90_000, [30_000, 70_000], [27_000, 63_000], id="two things"),
]


@pytest.mark.parametrize(("price", "values", "published"), EXAMPLES)
def test_each_gets_its_share_of_the_price(price, values, published):
    shares = share_by_value(Decimal(price), [Decimal(value) for value in values])
    assert [round(share) for share in shares] == published
    assert sum(shares) == price


@pytest.mark.django_db
@pytest.mark.parametrize(("price", "values", "published"), EXAMPLES)
def test_the_pieces_of_a_donor_come_onto_the_shelf_at_these_shares(price, values, published):
    lines = [take(slug, value=value) for slug, value in zip(COMPONENTS, values, strict=False)]
    donor = strip(*lines, cost=price)
    moved = [piece.move.cost for piece in donor.pieces.order_by("id")]
    assert sorted(round(cost) for cost in moved) == sorted(published)
    assert sum(moved) == price
