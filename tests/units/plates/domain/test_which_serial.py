"""What a maker's confirmed serials say of a new one."""

import pytest

from units.plates.domain.knowledge import Knowledge
from units.plates.domain.which_serial import Serials

MAKER = "Ostramill"


def serials(*confirmed):
    return Serials(Knowledge(serials=tuple((MAKER, one) for one in confirmed)), MAKER)


@pytest.mark.parametrize(("with_zero", "with_o"), [("AB0427", "ABO427"), ("K04271", "KO4271")])
def test_where_nothing_is_known_a_zero_is_likelier_than_the_letter(with_zero, with_o):
    """Source: makers shun I, O and Q in serials, as ISO 3779 does in the numbers of vehicles."""
    known = serials()

    assert known.prior(with_zero) > known.prior(with_o)


def test_a_maker_that_never_used_the_letter_makes_it_less_likely_still():
    few, many = serials("XY123-ZZ"), serials(*(f"XY12{at}-ZZ" for at in range(10)))

    def against(known):
        return known.prior("AB0427") - known.prior("ABO427")

    assert against(many) > against(few) > against(serials())


def test_a_maker_that_uses_the_letter_lets_it_stand():
    known = serials(*(f"O20{at}4B771" for at in range(10)))

    assert known.prior("AB0427") == pytest.approx(known.prior("ABO427"))


def test_other_letters_are_not_shunned():
    assert serials().prior("ABS427") == serials().prior("ABC427")
