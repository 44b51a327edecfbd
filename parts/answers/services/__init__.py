from parts.answers.services.listing import Listing, record_listings
from parts.answers.services.recording import record_answer, withdraw_answer
from parts.answers.services.reference import load_reference, set_freshness
from parts.answers.services.sense import AnswerError

__all__ = [
    "AnswerError",
    "Listing",
    "load_reference",
    "record_answer",
    "record_listings",
    "set_freshness",
    "withdraw_answer",
]
