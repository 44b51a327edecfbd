from parts.fits.views.links import (
    fit_withdraw,
    model_sisters,
    part_designation,
    part_supersede,
    sister_withdraw,
    supersession_withdraw,
)
from parts.fits.views.parts import PartList, fit_add, part, part_add
from parts.fits.views.standard import standard_parts

__all__ = [
    "PartList",
    "fit_add",
    "fit_withdraw",
    "model_sisters",
    "part",
    "part_add",
    "part_designation",
    "part_supersede",
    "sister_withdraw",
    "standard_parts",
    "supersession_withdraw",
]
