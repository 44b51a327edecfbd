from decimal import Decimal

from parts.stock.domain.average import Averaged, moving_average


def test_nothing_moved_costs_nothing():
    assert moving_average([]) == Averaged(Decimal("0.00"), Decimal("0.00"), ())


def test_an_issue_goes_out_at_the_average_of_what_lies_there():
    run = moving_average([(Decimal(1), Decimal(10)), (Decimal(1), Decimal(20)), (Decimal(1), None)])
    assert run == Averaged(Decimal("15.00"), Decimal("15.00"), (Decimal(10), Decimal(15)))
