"""What can be had for a model or a machine, and whom to ask next."""

from parts.support.selectors.coverage import ModelCoverage, coverage_of, holds_of

__all__ = ["ModelCoverage", "coverage_of", "holds_of"]
