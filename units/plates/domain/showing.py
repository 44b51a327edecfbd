"""What a person has to know of a proposal before he confirms it."""

from enum import StrEnum

from rapidfuzz.distance import Levenshtein

from units.catalogue.domain.keys import match_key
from units.plates.domain.proposal import IDENTITY, Barcode, FieldName, Outcome, Proposal, ReadField

NEARLY = 3  # characters by which a code may differ and still be meant for the same serial
SHORTEST = 6


class Likelihood(StrEnum):
    """How likely one of several readings is, for the eye rather than to the percent."""

    HIGH = "high"
    GOOD = "good"
    SOME = "some"
    LOW = "low"


STEPS = ((0.9, Likelihood.HIGH), (0.6, Likelihood.GOOD), (0.2, Likelihood.SOME))


def likelihood(probability: float) -> Likelihood:
    return next((word for least, word in STEPS if probability >= least), Likelihood.LOW)


def is_settled(field: ReadField | None) -> bool:
    """Whether a field is sure enough to be taken by one tap."""
    return field is not None and field.outcome == Outcome.SURE and bool(field.text)


def settled(proposal: Proposal) -> dict[FieldName, str]:
    """The texts that are sure."""
    return {name: field.text for name, field in proposal.fields.items() if is_settled(field)}


def unsettled(proposal: Proposal) -> list[ReadField]:
    """The fields of the machine's identity at which a person must look, in their order."""
    fields = [proposal.fields.get(name, ReadField(name)) for name in IDENTITY]
    return [field for field in fields if not is_settled(field)]


def is_blank(proposal: Proposal) -> bool:
    """Whether the photo shows nothing that could be a machine's plate."""
    return proposal.plate is None and not any(proposal.text_of(name) for name in IDENTITY)


def contradicting(proposal: Proposal) -> list[Barcode]:
    """Codes that nearly say the serial that the print says, but not quite: one of them is wrong."""
    serial = match_key(proposal.text_of(FieldName.SERIAL))
    if len(serial) < SHORTEST:
        return []
    keys = [(code, match_key(code.text)) for code in proposal.barcodes]
    if any(serial in key for _code, key in keys):
        return []
    return [
        code
        for code, key in keys
        if abs(len(key) - len(serial)) <= 1
        and Levenshtein.distance(serial, key, score_cutoff=NEARLY) <= NEARLY
    ]
