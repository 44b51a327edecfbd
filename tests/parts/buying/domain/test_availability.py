import pytest

from parts.buying.domain.availability import availability


@pytest.mark.parametrize(
    ("words", "status"),
    [
        ("", "supported"),
        ("  ", "supported"),
        ("In Stock", "supported"),
        ("in-stock", "supported"),
        ("YES", "supported"),
        ("12", "supported"),
        ("0", "back-ordered"),
        ("Back-order", "back-ordered"),
        ("B/O", "back-ordered"),
        ("out of stock", "back-ordered"),
        ("no", "back-ordered"),
        ("few left", "limited"),
        ("LIMITED", "limited"),
        ("Discontinued", "ended"),
        ("N.L.A.", ""),
        ("NLA", "ended"),
        ("call", "no-answer"),
        ("on request", "no-answer"),
        ("purple", ""),
        ("-3 or so", ""),
    ],
)
def test_what_a_word_says(words, status):
    assert availability(words) == status
