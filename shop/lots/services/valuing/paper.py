"""A bid on one page, to take along."""

from io import BytesIO

from django.utils.translation import gettext as _
from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from shop.lots.domain.pictures import FOOT, LEFT, RIGHT, TOP, Picture
from shop.lots.selectors.bids import BidPage
from units.show.words import moment, money

MARGIN = 48.0
WIDE = A4[0] - 2 * MARGIN
FACE, BOLD, SMALL, LINE = "Helvetica", "Helvetica-Bold", 8.5, 12.0
MODELS, CALLS, REFUSALS = 14, 8, 5
WORDS = 96  # characters of a line of text


class _Page:
    """One sheet, written from its top down."""

    def __init__(self, title: str):
        self.file = BytesIO()
        self.canvas = Canvas(self.file, pagesize=A4, invariant=True)
        self.canvas.setTitle(title)
        self.y = A4[1] - MARGIN

    def text(self, words: str, *, face: str = FACE, size: float = 9.5, drop: float = LINE):
        self.canvas.setFont(face, size)
        for line in _wrapped(words):
            self.canvas.drawString(MARGIN, self.y, line)
            self.y -= drop

    def heading(self, words: str) -> None:
        self.y -= 6
        self.text(words, face=BOLD, size=11, drop=14)

    def row(self, *cells: tuple[float, str]) -> None:
        """Cells each at a share of the width; numbers stand to the right of theirs."""
        self.canvas.setFont(FACE, SMALL)
        for share, words in cells:
            if share < 0:
                self.canvas.drawRightString(MARGIN - share * WIDE, self.y, words)
            else:
                self.canvas.drawString(MARGIN + share * WIDE, self.y, words)
        self.y -= LINE - 1

    def picture(self, picture: Picture, tall: float) -> None:
        """Bars, upright marks and ticks, as wide as the page."""
        across = WIDE / (RIGHT - LEFT)
        up = tall / (FOOT - TOP)
        foot = self.y - tall
        for bar in picture.bars:
            self.canvas.setFillGray(0.25 if bar.share >= 1 else 0.72)
            x = MARGIN + (bar.x - LEFT) * across
            self.canvas.rect(x, foot, bar.width * across, bar.height * up, stroke=0, fill=1)
        self.canvas.setFillGray(0)
        for mark in picture.marks:
            self.canvas.setDash(*((4, 3) if mark.name == "margin" else (1, 0)))
            x = MARGIN + (mark.at - LEFT) * across
            self.canvas.line(x, foot, x, self.y)
        self.canvas.setDash(1, 0)
        self.canvas.line(MARGIN, foot, MARGIN + WIDE, foot)
        self.canvas.setFont(FACE, SMALL)
        for tick in picture.ticks:
            x = MARGIN + (tick.at - LEFT) * across
            self.canvas.drawCentredString(x, foot - 10, f"{tick.value:,.0f}")
        self.y = foot - 26

    def done(self) -> BytesIO:
        self.canvas.showPage()
        self.canvas.save()
        self.file.seek(0)
        return self.file


def bid_paper(page: BidPage) -> BytesIO:
    """The PDF: the prices, what stands behind them, whom to call, and the models by worth."""
    valuation, figures = page.valuation, page.valuation.figures
    sheet = _Page(f"{_('Bid')}: {valuation.lot.title}")
    sheet.text(f"{_('Bid')}: {valuation.lot.title}"[:70], face=BOLD, size=15, drop=20)
    sheet.text(f"{valuation.lot.seller}, {moment(valuation.wanted_at)}")
    _warnings(sheet, page)
    _prices(sheet, page)
    sheet.heading(_("Profit at %(price)s") % {"price": money(figures["price"])})
    sheet.picture(page.profit, 84)
    _calls(sheet, page)
    _refusals(sheet, page)
    _models(sheet, figures)
    sheet.y = max(sheet.y, MARGIN + 30)
    sheet.text(
        _(
            "Lifting hurts people and machines tip. Dealer law, taxes, leases and liens come before"
            " any offer. Every figure rests on the assumptions kept with the valuation."
        ),
        size=SMALL,
    )
    return sheet.done()


def _warnings(sheet: _Page, page: BidPage) -> None:
    if page.valuation.priors_only:
        sheet.text(_("All odds are still stated ones: no machine like these was looked at yet."))
    if page.valuation.figures["not_even_as_a_gift"]:
        sheet.text(_("Not even as a gift would it meet the margin as surely as it has to."))
    if by_odds := page.valuation.figures["by_odds"]:
        sheet.text(
            _("%(money)s of the most to pay rests on machines not run, at the owner's choice.")
            % {"money": money(by_odds)}
        )
    if page.valuation.left_out:
        names = "; ".join(page.valuation.left_out)[:150]
        sheet.text(_("Not valued: %(names)s") % {"names": names})


def _prices(sheet: _Page, page: BidPage) -> None:
    figures = page.valuation.figures
    named = {key: money(figures[key]) for key in ("most_to_pay", "opening", "break_even", "price")}
    named |= {share: money(value) for share, value in figures["profit"].items()}
    named["met"] = page.met
    sheet.y -= 4
    sheet.text(_("Most to pay: %(most_to_pay)s") % named, face=BOLD, size=13, drop=17)
    offer = _("Opening offer: %(opening)s") % named
    none = _("Opening offer: none, nothing up to the most to pay is likely to be taken")
    sheet.text(offer if figures["opening_taken"] else none, size=11, drop=15)
    sheet.text(_("Break-even: %(break_even)s (expected profit nothing; no advice)") % named)
    sheet.text(_("At %(price)s the margin is met in %(met)d of 100.") % named)
    sheet.text(
        _("Profit there: %(p50)s in the middle; 1 in 10 below %(p10)s, 1 in 10 above %(p90)s")
        % named
    )


def _calls(sheet: _Page, page: BidPage) -> None:
    sheet.heading(_("Calls and looks first"))
    if not page.first:
        sheet.text(_("None whose worth can be told from nothing."))
    for one in page.first[:CALLS]:
        looks = _("Look at %(count)d") % one
        what = _("Call %(about)s") % one if one["kind"] == "call" else looks
        minutes = _("%(minutes)d minutes") % one
        sheet.row(
            (0, what[:40]), (0.4, one["model"][:34]), (-0.84, money(one["worth"])), (-1, minutes)
        )


def _refusals(sheet: _Page, page: BidPage) -> None:
    if page.refuse:
        sheet.heading(_("Better without"))
    for one in page.refuse[:REFUSALS]:
        name = f"{one['name']}, {_('line %(line)s') % one}"
        sheet.row((0, name[:60]), (-0.7, _("%(money)s more") % {"money": money(one["change"])}))


def _models(sheet: _Page, figures: dict) -> None:
    sheet.heading(_("Machines by worth"))
    for one in figures["machines"][:MODELS]:
        right = round(100 * one["fates"]["repair"])
        said = _("%(share)d of 100 put right") % {"share": right}
        name = f"{one['count']} × {one['model']}"[:52]
        sheet.row((0, name), (-0.7, money(one["worth"])), (-1, said))
    if len(figures["machines"]) > MODELS:
        sheet.row((0, _("and others of less worth")))


def _wrapped(words: str) -> list[str]:
    """Lines of at most ``WORDS`` characters, broken between words."""
    lines, line = [], ""
    for word in words.split():
        if line and len(line) + len(word) >= WORDS:
            lines.append(line)
            line = ""
        line = f"{line} {word}".strip()
    return [*lines, line]
