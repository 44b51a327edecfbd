from units.inspections.forms.measuring import FORMS, KeepForm, WithdrawReadingForm
from units.inspections.forms.steps import StepForm, kept_answer

__all__ = ["FORMS", "KeepForm", "StepForm", "WithdrawReadingForm", "kept_answer"]
