"""What is done with a job, from the counter to the hand-back."""

from shop.work.services.closing import cancel_job, close_job
from shop.work.services.closing_facts import Ending
from shop.work.services.errors import JobError, OverLimitError, UndoneError
from shop.work.services.estimate_lines import Wanted, add_line, change_line, drop_line
from shop.work.services.estimates import answer_estimate, make_estimate, offer_estimate
from shop.work.services.hand_back import Leaving, Money, hand_back
from shop.work.services.inspecting import inspect_job
from shop.work.services.intake import (
    Errand,
    Machine,
    Person,
    buy_machine,
    log_in,
    open_own_job,
)
from shop.work.services.labour import add_time, start_work
from shop.work.services.parts_used import put_back_part, take_part
from shop.work.services.reference import load_reference
from shop.work.services.steps import take_step

__all__ = [
    "Ending",
    "Errand",
    "JobError",
    "Leaving",
    "Machine",
    "Money",
    "OverLimitError",
    "Person",
    "UndoneError",
    "Wanted",
    "add_line",
    "add_time",
    "answer_estimate",
    "buy_machine",
    "cancel_job",
    "change_line",
    "close_job",
    "drop_line",
    "hand_back",
    "inspect_job",
    "load_reference",
    "log_in",
    "make_estimate",
    "offer_estimate",
    "open_own_job",
    "put_back_part",
    "start_work",
    "take_part",
    "take_step",
]
