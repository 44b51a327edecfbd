from parts.fits.selectors.chains import Chain, chain_of
from parts.fits.selectors.fitting import Fitting, Sisters, fittings, sister_links
from parts.fits.selectors.parts import fits_of, fitting_parts, part_page, part_rows
from parts.fits.selectors.sisters import sisters_of
from parts.fits.selectors.standard import Known, known_of, standard_of

__all__ = [
    "Chain",
    "Fitting",
    "Known",
    "Sisters",
    "chain_of",
    "fits_of",
    "fitting_parts",
    "fittings",
    "known_of",
    "part_page",
    "part_rows",
    "sister_links",
    "sisters_of",
    "standard_of",
]
