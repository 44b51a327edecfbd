class BooksError(ValueError):
    """The books refuse; the text is a sentence to show."""
