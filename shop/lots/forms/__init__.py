from shop.lots.forms.checking import AnswerForm, ColumnsForm, chosen_models
from shop.lots.forms.floor import LookForm, ScanForm
from shop.lots.forms.lines import LineForm
from shop.lots.forms.lots import AgreeForm, ListForm, LotForm, MatterForm, StepForm, WalkAwayForm

__all__ = [
    "AgreeForm",
    "AnswerForm",
    "ColumnsForm",
    "LineForm",
    "ListForm",
    "LookForm",
    "LotForm",
    "MatterForm",
    "ScanForm",
    "StepForm",
    "WalkAwayForm",
    "chosen_models",
]
