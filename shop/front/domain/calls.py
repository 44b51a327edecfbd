"""What hangs on an answer today."""

from dataclasses import dataclass

# Weights of one machine each: common practice, no published source; a job in hand presses more
# than a machine that waits to be sold, and that more than one which a seller only offers.
JOB, OWN, OFFERED = 3.0, 1.0, 0.5


@dataclass(frozen=True)
class Stake:
    """Open jobs on machines of a model, machines of ours that are to be sold, and machines in lots
    that sellers offer."""

    jobs: int = 0
    own: int = 0
    offered: int = 0

    @property
    def weight(self) -> float:
        return JOB * self.jobs + OWN * self.own + OFFERED * self.offered
