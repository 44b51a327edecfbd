from units.inspections.forms.steps import StepForm, kept_answer

__all__ = ["StepForm", "kept_answer"]
