"""A reorder point and its safety stock, against a worked example.

REFERENCE, section 14: 1,000 a day with a standard deviation of 100, two days to come, 98 % of lead
times without a shortage; safety stock 290, reorder point 2,290 (a secondary page).
"""

from decimal import Decimal

from parts.buying.domain.reorder import Use, reorder_point, safety_stock

USE, LEAD_DAYS, SERVICE = Use(mean=1000, deviation=100), 2, 0.98


def test_the_safety_stock_is_290():
    assert round(safety_stock(USE, LEAD_DAYS, SERVICE)) == 290


def test_the_reorder_point_is_2290():
    assert reorder_point(USE, LEAD_DAYS, SERVICE).quantize(Decimal(1)) == Decimal(2290)
