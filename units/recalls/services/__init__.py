from units.recalls.services.checks import record_check
from units.recalls.services.decisions import decide_match, record_remedy
from units.recalls.services.errors import RecallError
from units.recalls.services.loading import load_recalls

__all__ = ["RecallError", "decide_match", "load_recalls", "record_check", "record_remedy"]
