class RecallError(ValueError):
    """A check, a decision or a list that cannot stand; the text is a sentence to show.

    ``field`` names what is wrong with it.
    """

    def __init__(self, sentence: str, field: str):
        super().__init__(sentence)
        self.field = field
