"""What is said of an entry that was not taken."""

import logging
from typing import Any

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError

LOG = logging.getLogger(__name__)
NOT_TAKEN = (
    "The server failed on this entry and stored nothing of it; the others stand. "
    "Note it on paper, and tell whoever runs the server: its log says why."
)


def refusal(error: Exception) -> dict[str, Any]:
    """Return status and faults; what is no fault of the entry is logged."""
    if isinstance(error, InputError):
        faults = [{"field": f.field, "message": f.message} for f in error.faults]
        return {"status": "refused", "faults": faults}
    if isinstance(error, NotFoundError):
        fault = {"field": "card_id", "message": f"There is {error}."}
        return {"status": "refused", "faults": [fault]}
    if isinstance(error, ConflictError | ForbiddenError):
        return {"status": "conflict", "faults": [{"field": "", "message": str(error)}]}
    LOG.error("an entry failed", exc_info=error)
    return {"status": "refused", "faults": [{"field": "", "message": NOT_TAKEN}]}
