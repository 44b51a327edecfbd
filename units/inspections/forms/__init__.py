from units.inspections.forms.keeping import KeepForm, WithdrawReadingForm
from units.inspections.forms.measuring import FORMS
from units.inspections.forms.outbox import EntryForm
from units.inspections.forms.steps import StepForm, kept_answer

__all__ = ["FORMS", "EntryForm", "KeepForm", "StepForm", "WithdrawReadingForm", "kept_answer"]
