from shop.lots.models.figures import ShopFigure
from shop.lots.models.lines import Goods, GoodsFound, LotLine, LotMachine, MakerAlias, Measure
from shop.lots.models.lots import Lot, LotMatter, LotStep
from shop.lots.models.shares import LotShare
from shop.lots.models.sources import LotSource, SourceRow
from shop.lots.models.valuations import Valuation

__all__ = [
    "Goods",
    "GoodsFound",
    "Lot",
    "LotLine",
    "LotMachine",
    "LotMatter",
    "LotShare",
    "LotSource",
    "LotStep",
    "MakerAlias",
    "Measure",
    "ShopFigure",
    "SourceRow",
    "Valuation",
]
