"""Refusals of the till."""


class TillError(ValueError):
    """The till refuses; the text is a sentence to show."""
