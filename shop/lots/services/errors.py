class LotError(ValueError):
    """A lot is refused; the text is a sentence to show, ``field`` the field that it speaks of."""

    def __init__(self, sentence: str, field: str | None = None):
        super().__init__(sentence)
        self.field = field
