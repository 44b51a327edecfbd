"""OWASP, CSV injection; ASVS 5.0, 1.2.10 (NUL)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.books.domain.cells import RUNS, UNWRITABLE, safe_text


@pytest.mark.parametrize("start", list("=+-@\t\r\n"))
def test_text_that_would_run_is_quoted(start):
    assert safe_text(f"{start}1+1") == f"'{start}1+1"


@pytest.mark.parametrize("text", ["", "Ada Marsh", "R00001", "a=b", "5 - 3", "’tis"])
def test_other_text_stays_as_it_is(text):
    assert safe_text(text) == text


def test_a_nul_does_not_hide_a_formula():
    assert safe_text("\x00=1+1") == "'=1+1"


@given(st.text())
def test_no_text_runs_and_all_of_it_can_be_written(text):
    safe = safe_text(text)
    assert not safe.startswith(RUNS)
    assert not UNWRITABLE.search(safe)
