from parts.fits.services.parts import (
    add_fit,
    add_part,
    find_or_add_part,
    take_back_fit,
    withdraw_fit,
)
from parts.fits.services.refusing import PartError, RefusedError
from parts.fits.services.sisters import link_sisters, withdraw_sister
from parts.fits.services.standard import set_designation
from parts.fits.services.supersession import (
    supersede_by_number,
    supersede_part,
    withdraw_supersession,
)

__all__ = [
    "PartError",
    "RefusedError",
    "add_fit",
    "add_part",
    "find_or_add_part",
    "link_sisters",
    "set_designation",
    "supersede_by_number",
    "supersede_part",
    "take_back_fit",
    "withdraw_fit",
    "withdraw_sister",
    "withdraw_supersession",
]
