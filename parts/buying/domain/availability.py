"""What the words of a supplier's list mean for whether a part can be had."""

SUPPORTED, LIMITED, BACK_ORDERED = "supported", "limited", "back-ordered"
ENDED, NO_ANSWER = "ended", "no-answer"

SAYS = {
    SUPPORTED: ["in stock", "stock", "yes", "y", "available", "ok", "ready"],
    LIMITED: ["limited", "low", "low stock", "few", "few left", "last pieces"],
    BACK_ORDERED: [
        *["back order", "back ordered", "backorder", "backordered", "bo", "b o", "on order"],
        *["out of stock", "no stock", "sold out", "not in stock", "awaiting", "no", "n", "none"],
    ],
    ENDED: ["discontinued", "ended", "no longer available", "nla", "obsolete", "withdrawn"],
    NO_ANSWER: ["ask", "call", "on request", "unknown"],
}
MEANING = {word: status for status, words in SAYS.items() for word in words}


def availability(text: str) -> str:
    """The status of an answer, or ``""`` for a word that nobody knows.

    An empty cell means that the part is offered; a number is how many lie there.
    """
    words = " ".join("".join(c if c.isalnum() else " " for c in text.casefold()).split())
    if not text.strip():
        return SUPPORTED
    if words.isdecimal():
        return SUPPORTED if int(words) else BACK_ORDERED
    return MEANING.get(words, "")
