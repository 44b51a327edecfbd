class JobError(ValueError):
    """A job cannot be done that way; its text is a sentence to show.

    ``job`` is the job to go to instead, where there is one. ``sentences`` holds every reason
    when there are several; the text is then all of them. ``field`` is the one it speaks of.
    """

    def __init__(self, sentence, *, job=None, sentences=(), field=None):
        super().__init__(sentence)
        self.job, self.field = job, field
        self.sentences = list(sentences) or [sentence]


class OverLimitError(JobError):
    """The work would cost more than was agreed: the payer has to be asked again."""


class UndoneError(JobError):
    """A job cannot be closed yet: each sentence names something that is missing."""


class ForgottenClockError(JobError):
    """A clock ran longer than anybody works: a person has to say how long it was."""
