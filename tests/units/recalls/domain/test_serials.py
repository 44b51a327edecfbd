import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.recalls.domain.serials import Begins, Between, Coded, Ends, Exactly, verdict

YES, NO, CANNOT_TELL = True, False, None


@pytest.mark.parametrize(
    ("pattern", "serial", "said"),
    [
        (Exactly("CV12"), "CV12", YES),
        (Exactly("CV12"), "CV13", NO),
        (Exactly("CV12"), "CV123", CANNOT_TELL),
        (Begins("CV12"), "CV123", YES),
        (Begins("CV12"), "CV13", NO),
        (Begins("CV12"), "CV1", CANNOT_TELL),
        (Ends("89"), "CV0089", YES),
        (Ends("89"), "CV8900", NO),
        (Ends("89"), "CV0089A", CANNOT_TELL),
        (Ends("89"), "9", CANNOT_TELL),
        (Between("CV120000", "CV129999"), "CV120000", YES),
        (Between("CV120000", "CV129999"), "CV129999", YES),
        (Between("CV120000", "CV129999"), "CV130000", NO),
        (Between("CV120000", "CV129999"), "HG125000", NO),
        (Between("CV120000", "CV129999"), "CV12500", CANNOT_TELL),
        (Between("CV98", "CV1200"), "CV1000", YES),
        (Between("CV98", "CV1200"), "CV97", NO),
        (Between("CV98", "CV1200"), "CV1A0", CANNOT_TELL),
        (Between("TRA1301", "TRC1406"), "TRB0001", YES),
        (Between("TRA1301", "TRC1406"), "TRC1407", NO),
        (Between("CV1201", "CV1212", leading=True), "CV1206000123", YES),
        (Between("CV1201", "CV1212", leading=True), "CV1213000123", NO),
        (Coded("1305", "1420", start=0), "1401777", YES),
        (Coded("1305", "1420", start=0), "1421777", NO),
        (Coded("1305", "1420", start=2), "CV1401777", YES),
        (Coded("1305", "1420", start=2), "CV77714", NO),
        (Coded("1305", "1420", start=-4), "CV1401", YES),
        (Coded("1305", "1420", start=-4), "401", CANNOT_TELL),
        (Coded("1305", "1420", start=0), "CV14", CANNOT_TELL),
        (Coded("1305", "1420"), "XX1401YY", YES),
        (Coded("1305", "1420"), "XX9901YY", NO),
        (Coded("5213", "0414", swapped=True), "5213", YES),
        (Coded("5213", "0414", swapped=True), "0314", YES),
        (Coded("5213", "0414", swapped=True), "0514", NO),
        (Coded("1305", "1420", inside=False), "1401", CANNOT_TELL),
    ],
)
def test_a_pattern_says_yes_no_or_that_it_cannot_tell(pattern, serial, said):
    assert pattern.holds(serial) is said


@pytest.mark.parametrize(
    "pattern",
    [
        Exactly("CV120500"),
        Begins("CV12"),
        Between("CV120000", "CV129999"),
        Between("CV9800", "CV129999"),
        Between("CV1201", "CV1212", leading=True),
    ],
)
@pytest.mark.parametrize("typed", ["120500", "SNCV120500", "SN120500", "SERIALNOCV120500"])
def test_a_serial_typed_without_its_letters_or_with_a_label_is_no_certain_no(pattern, typed):
    assert pattern.holds(typed) is CANNOT_TELL


def test_a_serial_that_begins_as_a_label_does_is_compared_with_its_like():
    assert Between("SN100", "SN199").holds("SN200") is NO
    assert Begins("SN1").holds("SN200") is NO


@given(st.integers(0, 99_999), st.integers(0, 99_999), st.integers(0, 99_999))
def test_of_serials_built_alike_a_range_holds_exactly_those_between(one, two, asked):
    low, high = sorted((one, two))
    pattern = Between(f"CV{low:05}", f"CV{high:05}")
    assert pattern.holds(f"CV{asked:05}") is (low <= asked <= high)


@given(st.integers(1, 99_999), st.integers(1, 99_999), st.integers(1, 99_999))
def test_figures_without_leading_zeros_are_compared_as_figures(one, two, asked):
    low, high = sorted((one, two))
    said = Between(f"CV{low}", f"CV{high}").holds(f"CV{asked}")
    assert said is CANNOT_TELL or said is (low <= asked <= high)


@given(st.text("ABCV0123456789", max_size=10), st.integers(0, 9999), st.integers(0, 9999))
def test_no_serial_between_two_others_is_ever_refused(serial, one, two):
    low, high = sorted((one, two))
    inside = f"CV{(low + high) // 2:04}"
    assert Between(f"CV{low:04}", f"CV{high:04}").holds(inside) is YES
    assert Begins(inside).holds(inside + serial) is YES


@pytest.mark.parametrize(
    ("patterns", "serial", "said"),
    [
        ([], "CV1", CANNOT_TELL),
        ([Exactly("CV1")], "", CANNOT_TELL),
        ([Exactly("CV1"), Exactly("CV2")], "CV2", YES),
        ([Exactly("CV1"), Exactly("CV2")], "CV3", NO),
        ([Exactly("CV1"), Coded("1305", "1420", inside=False)], "CV3", CANNOT_TELL),
    ],
)
def test_any_yes_counts_and_only_every_no_is_a_no(patterns, serial, said):
    assert verdict(patterns, serial) is said
