"""A stock ledger in which what came in is what went out and what is on hand, to the cent."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from decimal import Decimal
from random import Random

from parts.fits.models import Part
from parts.stock.domain import fifo
from parts.stock.models import Bin, CostLayer, LayerUse, Shelf, StockMove
from shop.front.filling.plan import DAYS, Plan, chunks, noon

MOVES_A_PART = 20
BINS = 200
PARTS_AT_ONCE = 100
MOST_AT_ONCE = 12


@dataclass
class Story:
    """What happened to one part: the rows, not yet written, that name one another."""

    shelf: Shelf
    moves: list[StockMove] = field(default_factory=list)
    layers: list[CostLayer] = field(default_factory=list)
    uses: list[LayerUse] = field(default_factory=list)


def fill_ledger(plan: Plan) -> None:
    bins = [Bin.objects.get_or_create(name=f"M{at:03}")[0] for at in range(BINS)]
    done = 0
    for stories in chunks(_stories(plan, bins), PARTS_AT_ONCE):
        _write(stories)
        done += sum(len(story.moves) for story in stories)
        plan.tell(str(StockMove._meta.verbose_name_plural), done)


def _write(stories: list[Story]) -> None:
    Shelf.objects.bulk_create([story.shelf for story in stories])
    StockMove.objects.bulk_create([move for story in stories for move in story.moves])
    # Each row names by object what was written just before it and takes its key from there.
    layers = [layer for story in stories for layer in story.layers]
    for layer in layers:
        layer.move_id = layer.move.pk
    CostLayer.objects.bulk_create(layers)
    uses = [use for story in stories for use in story.uses]
    for use in uses:
        use.layer_id, use.move_id = use.layer.pk, use.move.pk
    LayerUse.objects.bulk_create(uses)


def _stories(plan: Plan, bins: list[Bin]) -> Iterator[Story]:
    chance = plan.chance("ledger")
    if not plan.moves:
        return
    parts = list(Part.objects.order_by("pk"))
    wanted = max(1, min(len(parts), plan.moves // MOVES_A_PART))
    chosen = parts[:: len(parts) // wanted][:wanted]
    for at, part in enumerate(chosen):
        count = plan.moves // wanted + (at < plan.moves % wanted)
        yield _story(plan, chance, part, bins[at % len(bins)], count)


def _story(plan: Plan, chance: Random, part: Part, bin_: Bin, count: int) -> Story:
    story = Story(Shelf(part=part, bin=bin_, on_hand=Decimal(0)))
    days = sorted(chance.randrange(DAYS) for _ in range(count))
    price = Decimal(chance.randrange(300, 40_000)).scaleb(-2)
    for days_in in days:
        day = plan.on - timedelta(days=DAYS - 1 - days_in)
        if not story.shelf.on_hand or chance.random() < 0.25:
            _receive(plan, story, day, Decimal(chance.randrange(1, MOST_AT_ONCE)), price)
            price += Decimal(chance.randrange(-20, 31)).scaleb(-2)
        else:
            most = min(3, int(story.shelf.on_hand))
            _use(plan, story, day, Decimal(chance.randrange(1, most + 1)))
    return story


def _receive(plan: Plan, story: Story, day, quantity: Decimal, unit_cost: Decimal) -> None:
    cost = fifo.cost_of(quantity, unit_cost)
    move = _move(plan, story, day, quantity, cost, StockMove.Reason.RECEIVED)
    story.layers.append(
        CostLayer(
            part=move.part,
            move=move,
            unit_cost=unit_cost,
            quantity_left=quantity,
            cost_left=cost,
        )
    )


def _use(plan: Plan, story: Story, day, quantity: Decimal) -> None:
    left = [
        fifo.Layer(at, layer.quantity_left, layer.cost_left)
        for at, layer in enumerate(story.layers)
        if layer.quantity_left
    ]
    taken = fifo.take(left, quantity)
    cost = sum(piece.cost for piece in taken)
    move = _move(plan, story, day, -quantity, -cost, StockMove.Reason.USED)
    for piece in taken:
        layer = story.layers[piece.key]
        layer.quantity_left -= piece.quantity
        layer.cost_left -= piece.cost
        story.uses.append(
            LayerUse(layer=layer, move=move, quantity=piece.quantity, cost=piece.cost)
        )


def _move(plan: Plan, story: Story, day, quantity: Decimal, cost: Decimal, reason) -> StockMove:
    shelf = story.shelf
    shelf.on_hand += quantity
    move = StockMove(
        part=shelf.part,
        bin=shelf.bin,
        reason=reason,
        quantity=quantity,
        cost=cost,
        moved_on=day,
        document="MEASURE",
        recorded_at=noon(day),
        recorded_by=plan.by,
    )
    story.moves.append(move)
    return move
