from parts.fits.domain.designations import read_standard
from parts.fits.models import Part, Sister, Supersession


def test_no_number_becomes_an_earlier_one_so_no_chain_bites_its_tail(filled):
    pairs = list(Supersession.objects.values_list("part", "replaced_by"))
    assert pairs
    assert all(part < other for part, other in pairs)


def test_sisters_are_of_one_kind_and_two_makers(filled):
    for sister in Sister.objects.select_related("model", "other"):
        assert sister.model.kind_id == sister.other.kind_id
        assert sister.model.maker_id != sister.other.maker_id


def test_designations_are_spelled_as_the_domain_spells_them(filled):
    parts = Part.objects.exclude(designation="")
    assert parts
    assert all(read_standard(part.designation).designation == part.designation for part in parts)
