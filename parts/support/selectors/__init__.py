"""What can be had for a model or a machine, and whom to ask next."""

from parts.support.selectors.calling import Call, Standing, call_list, standing_of
from parts.support.selectors.coverage import ModelCoverage, coverage_of, holds_of
from parts.support.selectors.keeping import keep_ready

__all__ = [
    "Call",
    "ModelCoverage",
    "Standing",
    "call_list",
    "coverage_of",
    "holds_of",
    "keep_ready",
    "standing_of",
]
