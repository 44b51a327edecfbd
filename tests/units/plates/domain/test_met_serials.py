"""What a maker's confirmed serials say of a new one."""

import pytest

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
    return known.prior("AB0427") - known.prior("ABO427")


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
