class CatalogueError(ValueError):
    """The catalogue refuses a write. Its text is a sentence that says how to mend it."""
