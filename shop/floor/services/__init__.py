"""How machines and goods come, where they stand, how they leave, and what our own cost us."""

from shop.floor.services.goods import Heap, Leaving, put_goods, shelve_goods, take_goods
from shop.floor.services.machines import (
    FIRST_YEAR,
    FloorError,
    add_cost,
    add_spot,
    begin_stay,
    close_spot,
    end_stay,
    move_machine,
    note_year,
    strip_machine,
)
from shop.floor.services.sellers import pay_purchase

__all__ = [
    "FIRST_YEAR",
    "FloorError",
    "Heap",
    "Leaving",
    "add_cost",
    "add_spot",
    "begin_stay",
    "close_spot",
    "end_stay",
    "move_machine",
    "note_year",
    "pay_purchase",
    "put_goods",
    "shelve_goods",
    "strip_machine",
    "take_goods",
]
