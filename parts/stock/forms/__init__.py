from parts.stock.forms.donors import ScrapPieceForm, StripForm, StripLineForm, TakeOffForm
from parts.stock.forms.shelves import CostingForm, CountForm, ScrapForm, TransferForm

__all__ = [
    "CostingForm",
    "CountForm",
    "ScrapForm",
    "ScrapPieceForm",
    "StripForm",
    "StripLineForm",
    "TakeOffForm",
    "TransferForm",
]
