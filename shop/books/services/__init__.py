from shop.books.services.accounts import load_reference, posting_rules
from shop.books.services.errors import BooksError
from shop.books.services.periods import read_period
from shop.books.services.posting import post_pending
from shop.books.services.workbook import make_book

__all__ = [
    "BooksError",
    "load_reference",
    "make_book",
    "post_pending",
    "posting_rules",
    "read_period",
]
