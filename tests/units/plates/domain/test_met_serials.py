"""What a maker's confirmed serials say of a new one."""

from random import Random

import pytest

from tests.platemaker.makers import CHECK
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.met_serials import Serials

MAKER = "Ostramill"


def serials(*confirmed):
    return Serials(Knowledge(serials=tuple((MAKER, one) for one in confirmed)), MAKER)


@pytest.mark.parametrize(("with_zero", "with_o"), [("AB0427", "ABO427"), ("K04271", "KO4271")])
def test_where_nothing_is_known_a_zero_is_likelier_than_the_letter(with_zero, with_o):
    """Source: makers shun I, O and Q in serials, as ISO 3779 does in the numbers of vehicles."""
    known = serials()

    assert known.prior(with_zero) > known.prior(with_o)


def against_o(known):
    return known.prior("K04271") - known.prior("KO4271")


def test_initials_are_hardly_shunned():
    """Common practice, no published source: a name's letters are not chosen one by one."""
    known = serials("XY123-ZZ")

    assert known.prior("LOI04271") > known.prior("L0I04271") + 2
    assert known.prior("LOI04271") > known.prior("LI-O-04271")


def test_a_group_begins_with_a_letter_as_naturally_as_with_a_figure():
    known = serials()

    assert known.prior("75348-B38") > known.prior("75348B38")
    assert known.prior("75348-B38") == known.prior("B75348-38")


def test_a_maker_that_never_used_the_letter_makes_it_less_likely_still():
    few, many = serials("XY123-ZZ"), serials(*(f"XY12{at}-{at:c}Z" for at in range(65, 75)))

    assert against_o(many) > against_o(few) > against_o(serials())


def test_letters_that_never_change_say_little_of_the_letters_a_maker_shuns():
    one, many = (serials(*(f"XY12{at}" for at in range(count))) for count in (1, 10))

    assert against_o(one) == against_o(many)


def test_a_maker_that_uses_the_letter_nearly_lets_it_stand():
    known = serials(*(f"O20{at}4B771" for at in range(10)))

    assert against_o(known) == pytest.approx(0, abs=0.4)


def test_other_letters_are_not_shunned():
    assert serials().prior("ABS427") == serials().prior("ABC427")


def test_only_many_chosen_letters_tell_that_a_maker_never_chose_one():
    few = serials(*(f"{chr(65 + at % 8)}12{at:02}" for at in range(20)))
    many = serials(*(f"{chr(65 + at % 8)}12{at:02}" for at in range(40)))

    assert (few.never_chose("O"), many.never_chose("O"), many.never_chose("A")) == (
        False,
        True,
        False,
    )


# Each place a letter or a figure, without the three letters that look like figures.
_rng = Random(11)
MIXED = tuple("".join(_rng.choices(f"0123456789{CHECK}", k=10)) for _serial in range(40))


def test_a_maker_that_mixes_letters_and_figures_is_known_by_the_length():
    known = serials(*MIXED)

    assert known.resembles("K7Q2B4M1X5")
    assert not known.resembles("K7Q2B4M1X")
    assert known.prior("K7A2B4M1X5") > known.prior("K7A2B4M1X")


def test_what_all_serials_of_such_a_maker_have_must_stand_there():
    known = serials(*(f"DM{one}" for one in MIXED))

    assert known.resembles("DMK7A2B4M1X5")
    assert not known.resembles("DWK7A2B4M1X5")


def test_a_letter_that_no_mixed_serial_has_is_hardly_believed():
    """Source: makers shun I, O and Q in serials, as ISO 3779 does in the numbers of vehicles."""
    known = serials(*MIXED)

    assert known.prior("K7A0BCM1X5") - known.prior("K7AOBCM1X5") > 3
    assert abs(known.prior("K7A5BCM1X5") - known.prior("K7ASBCM1X5")) < 2


def test_makers_of_one_shape_mix_nothing():
    assert not serials(*(f"CV2014{at:05}" for at in range(40))).resembles("CV201400011")


def test_another_style_of_the_maker_stays_one_of_its_own():
    known = serials(*MIXED, *(f"CV2014{at:05}" for at in range(12)))

    assert known.resembles("K7Q2B4M1X5")
    assert not known.resembles("CV201400011")
