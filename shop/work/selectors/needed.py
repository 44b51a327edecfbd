"""Whether what an estimate needs can be had, and what of its machine is gone for good."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.core import signing

from parts.support.domain.coverage import GONE, HAD, Covered
from parts.support.selectors import coverage_of
from parts.support.selectors.words import Row, rows, sentence
from shop.till.models import LineClass
from shop.work.models import Estimate, EstimateLine, WorkOrder

SALT, A_DAY = "work.needed", 24 * 60 * 60


@dataclass(frozen=True)
class Word:
    """What was found of an estimate's parts, handed on to whoever weighs them: slugs of needed
    components, and by slug the names of all that wear or decide and can no longer be had."""

    cannot: Sequence[str] = ()
    unsure: Sequence[str] = ()
    gone: Mapping[str, str] | None = None

    def sealed(self, estimate: int) -> str:
        """As a word of an address that nobody else can write."""
        said = {"cannot": self.cannot, "unsure": self.unsure, "gone": self.gone or {}}
        return signing.dumps({"estimate": estimate, **said}, salt=SALT, compress=True)


def opened(sealed: str, estimate: int) -> Word | None:
    """A word that was sealed for this estimate within a day, or None."""
    try:
        said = signing.loads(sealed, salt=SALT, max_age=A_DAY)
    except signing.BadSignature:
        return None
    return Word(**said) if said.pop("estimate") == estimate else None


@dataclass(frozen=True)
class NeededPage:
    """``rows`` are components that the estimate replaces; ``gone`` is all that cannot be had."""

    job: WorkOrder
    estimate: Estimate
    sentence: str
    rows: Sequence[Row]
    gone: Sequence[Covered]

    @property
    def sealed(self) -> str:
        words = {row.covered.place.slug: row.covered.word for row in self.rows}
        word = Word(
            cannot=[slug for slug, one in words.items() if one == GONE],
            unsure=[slug for slug, one in words.items() if one not in (HAD, GONE)],
            gone={one.place.slug: one.place.name for one in self.gone},
        )
        return word.sealed(self.estimate.pk)


def needed_page(number: str, version: int, on: date) -> NeededPage | None:
    """None for an estimate without lines or machine. Nine queries, with those of the coverage."""
    lines = EstimateLine.objects.filter(estimate__job__number=number, estimate__version=version)
    joined = ("part", "estimate__job__owner", "estimate__job__unit__model__maker")
    lines = list(lines.select_related(*joined, "estimate__job__unit__model__kind"))
    if not lines or lines[0].estimate.job.unit is None:
        return None
    estimate = lines[0].estimate
    model = estimate.job.unit.model
    coverage = coverage_of([model], on)[model.pk].coverage
    needed = components_needed(lines)
    return NeededPage(
        job=estimate.job,
        estimate=estimate,
        sentence=sentence(coverage),
        rows=[row for row in rows(coverage) if row.covered.place.slug in needed],
        gone=coverage.of(GONE, counting=True),
    )


def components_needed(lines: Iterable[EstimateLine]) -> set[str]:
    """Components for which a line brings a part."""
    brought = (line for line in lines if line.line_class == LineClass.PART)
    found = (line.component_id or (line.part and line.part.component_id) for line in brought)
    return {one for one in found if one}
