"""What a reader may make of a drawn plate: proposals whose every part a test chooses."""

from tests.factories.units import MORNING, PlateReadingFactory
from units.plates.domain.proposal import Box, Candidate, FieldName, Outcome, Proposal, ReadField


def box(left: float, top: float, right: float, bottom: float) -> Box:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


# Where the drawn plates of the demo (900 by 520 pixels) have their texts.
PLATE = box(60 / 900, 50 / 520, 840 / 900, 470 / 520)
PLACES = {
    FieldName.MAKER: box(140 / 900, 84 / 520, 520 / 900, 150 / 520),
    FieldName.MODEL: box(140 / 900, 200 / 520, 520 / 900, 242 / 520),
    FieldName.SERIAL: box(140 / 900, 272 / 520, 640 / 900, 314 / 520),
}


def said(name: str, text: str, outcome: str = "sure", others: dict | None = None) -> ReadField:
    """One field as read; ``others`` are further candidates with their probabilities."""
    first = {"sure": 0.995, "look": 0.65, "type": 0.3}[outcome]
    candidates = {text: first} | (others or {})
    return ReadField(
        name=FieldName(name),
        text=text,
        confidence=first,
        outcome=Outcome(outcome),
        box=PLACES.get(FieldName(name)),
        candidates=tuple(Candidate(*one) for one in candidates.items()),
    )


def a_proposal(*fields: ReadField, **more) -> Proposal:
    """A plate of Corvane TM-9 CV100, all of it sure, but for the ``fields`` given."""
    sure = [said("maker", "Corvane"), said("model", "TM-9"), said("serial", "CV100")]
    found = {field.name: field for field in [*sure, *fields]}
    order = list(Outcome)
    worst = max((found[name].outcome for name in PLACES), key=order.index)
    facts = {"plate": PLATE, "plates": 1, "version": "test 1", "outcome": worst}
    return Proposal(fields=found, **(facts | more))


def blank() -> Proposal:
    """Of a photo that shows no plate."""
    return Proposal(fields={}, version="test 1")


def a_reading(*fields: ReadField, proposal: Proposal | None = None, **more):
    """The row of a photo that was read so."""
    proposal = proposal or a_proposal(*fields)
    return PlateReadingFactory(
        state="read",
        outcome=str(proposal.outcome),
        proposal=proposal.as_json(),
        ended_at=MORNING,
        **more,
    )
