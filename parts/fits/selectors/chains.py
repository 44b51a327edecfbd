"""The chain of numbers in which a part stands."""

from dataclasses import dataclass

from parts.fits.domain.supersession import earlier, ends, later
from parts.fits.models import Part, Supersession


@dataclass(frozen=True)
class Chain:
    """Numbers from the oldest to the newest; ``now`` are those to be had today, and ``links`` say
    since when and on whose word, the standing before the withdrawn."""

    earlier: list[Part]
    later: list[Part]
    now: list[Part]
    links: list[Supersession]


def chain_of(part: Part) -> Chain:
    """Every number that became this part or that this part became. One query."""
    links = Supersession.objects.select_related("part", "replaced_by", "recorded_by")
    links = links.select_related("withdrawn_by").order_by("on", "pk")
    around = list(links.from_parts([part.pk]) | links.up_to_parts([part.pk]))
    standing = [link for link in around if not link.withdrawn_at]
    pairs = [(link.part_id, link.replaced_by_id) for link in standing]
    known = {one.pk: one for link in around for one in (link.part, link.replaced_by)}
    known[part.pk] = part
    ways = {part.pk, *later(pairs, part.pk), *earlier(pairs, part.pk)}
    own = [link for link in around if _belongs(link, ways)]
    return Chain(
        earlier=[known[pk] for pk in reversed(earlier(pairs, part.pk))],
        later=[known[pk] for pk in later(pairs, part.pk)],
        now=[known[pk] for pk in ends(pairs, part.pk)],
        links=sorted(own, key=lambda link: link.withdrawn_at is not None),
    )


def _belongs(link: Supersession, ways: set[int]) -> bool:
    """A link inside the chain; of those withdrawn, one that would have led into it or out."""
    both = {link.part_id, link.replaced_by_id}
    return bool(both & ways) if link.withdrawn_at else both <= ways
