from parts.stock.selectors.costing import costing, costing_choices
from parts.stock.selectors.donors import (
    DonorHeld,
    cost_left_on,
    donor_components,
    donors,
    strip_list,
    with_pieces,
)
from parts.stock.selectors.shelves import (
    bins_of,
    daily_use,
    layers_of,
    moves_of,
    newest_move_id,
    next_unit_costs,
    oldest_layers,
    on_hand,
    parts_on_shelf,
    shelf_worth,
)

__all__ = [
    "DonorHeld",
    "bins_of",
    "cost_left_on",
    "costing",
    "costing_choices",
    "daily_use",
    "donor_components",
    "donors",
    "layers_of",
    "moves_of",
    "newest_move_id",
    "next_unit_costs",
    "oldest_layers",
    "on_hand",
    "parts_on_shelf",
    "shelf_worth",
    "strip_list",
    "with_pieces",
]
