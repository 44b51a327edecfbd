from parts.stock.views.clearing import stock_move, stock_scrap
from parts.stock.views.donors import (
    DonorList,
    donor,
    donor_labels,
    donor_scrap,
    donor_take,
    strip_page,
)
from parts.stock.views.shelves import (
    ShelfPage,
    costing_choose,
    costing_page,
    stock_count,
    stock_part,
)

__all__ = [
    "DonorList",
    "ShelfPage",
    "costing_choose",
    "costing_page",
    "donor",
    "donor_labels",
    "donor_scrap",
    "donor_take",
    "stock_count",
    "stock_move",
    "stock_part",
    "stock_scrap",
    "strip_page",
]
