"""The sentence of every condition, and where it is mended."""

from django.utils.translation import gettext_lazy as _

# For every condition: the sentence, the URL that mends it, and what that URL is about.
WORDS = {
    "reserved": (
        _("It is reserved for %(reserved)s until %(until)s, against a deposit."),
        "reservation",
        "stay",
    ),
    "plate": (_("Its serial plate is not confirmed by a photo."), "plate-add", "unit"),
    "recall-open": (
        _("Recall %(names)s may mean it, and nobody has decided yet. Until then it is not sold."),
        "machine-recalls",
        "unit",
    ),
    "recall-confirmed": (
        _("Recall %(names)s means it. It may not be sold; nothing overrides this."),
        "machine-recalls",
        "unit",
    ),
    "recall-unread": (
        _("Nobody has read the list of recalls for it yet."),
        "recall-check-add",
        "unit",
    ),
    "recall-fits": (
        _("A recall fits it. A recalled machine may not be sold; nothing overrides this."),
        "recall-check-add",
        "unit",
    ),
    "recall-unsure": (
        _("It is not settled whether a recall fits it. Find out from the maker."),
        "recall-check-add",
        "unit",
    ),
    "recall-old": (
        _("The list of recalls was read more than %(days)s days ago. Read it again."),
        "recall-check-add",
        "unit",
    ),
    "holding": (
        _("It is held through %(held)s: local law makes a dealer wait after a purchase."),
        "holding-period",
        "",
    ),
    "inspection": (_("It was not inspected since it came."), "machine", "unit"),
    "open-job": (_("Job %(names)s on it is still open."), "job", "job"),
    "safety": (
        _("Not safe to use: %(names)s. Put it right, or choose an exit that is no use of it."),
        "machine",
        "unit",
    ),
    "findings": (_("Not put right yet: %(names)s."), "machine", "unit"),
    "test": (_("It has no final test since it came."), "machine", "unit"),
    "test-failed": (_("It did not pass its final test."), "machine", "unit"),
    "test-old": (
        _("Work was done after its final test. Test it again."),
        "machine",
        "unit",
    ),
    "support": (
        _("Nobody knows whether its maker still supplies parts. Ask."),
        "answer-add",
        "model",
    ),
    "support-stale": (
        _("What its maker said about parts is too old. Ask again."),
        "answer-add",
        "model",
    ),
    "supply": (
        _("The supply and plug of its model are not written down."),
        "model-edit",
        "model",
    ),
    "grading": (_("It is not graded."), "grading-add", "stay"),
    "cleaned": (_("It is not cleaned."), "grading-add", "stay"),
    "safety-key": (_("Its safety key is not with it."), "grading-add", "stay"),
    "photo": (_("It has no photo for sale."), "photo-add", "unit"),
    "price": (_("It has no asking price."), "price-set", "stay"),
    "price-below": (
        _("Its price is below the least price, and nobody said why."),
        "price-set",
        "stay",
    ),
    "terms": (
        _("Its terms and disclosures are not attached."),
        "disclosure-add",
        "exit",
    ),
    "terms-old": (
        _("What its paper tells the buyer is no longer what we know. Attach it anew."),
        "disclosure-add",
        "exit",
    ),
}
