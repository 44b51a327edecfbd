from shop.floor.models.goods import Goods, GoodsOut, Measure
from shop.floor.models.machines import MachineCost, Move, Spot, Stay

__all__ = ["Goods", "GoodsOut", "MachineCost", "Measure", "Move", "Spot", "Stay"]
