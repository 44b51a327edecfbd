from parts.stock.models.costing import CostingChoice
from parts.stock.models.donors import Donor, DonorComponent
from parts.stock.models.ledger import CostLayer, LayerUse, StockMove
from parts.stock.models.shelves import Bin, Shelf

__all__ = [
    "Bin",
    "CostLayer",
    "CostingChoice",
    "Donor",
    "DonorComponent",
    "LayerUse",
    "Shelf",
    "StockMove",
]
