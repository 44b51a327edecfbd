from django.utils.translation import ngettext


class InspectionError(ValueError):
    """A refusal; its text is a sentence to show."""


class NotYoursError(InspectionError):
    """An entry of another person's outbox: it waits for that person."""


class MissingStepsError(InspectionError):
    """Finishing was refused; ``steps`` are the ones without a result, in order."""

    def __init__(self, steps: list):
        self.steps = steps
        sentence = ngettext(
            "One step has no result yet: %(titles)s. Do it, or say why it is not possible.",
            "%(count)d steps have no result yet: %(titles)s. Do them, or say why they are not"
            " possible.",
            len(steps),
        )
        titles = "; ".join(step.title for step in steps)
        super().__init__(sentence % {"count": len(steps), "titles": titles})
