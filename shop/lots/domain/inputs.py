"""What a valuation is made of. Money in floats of the shop's currency."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from shop.lots.domain.assumptions import Assumptions
from shop.lots.domain.haul import Load, Site

REPAIR, AS_IS, DONOR, SCRAP = FATES = ("repair", "as-is", "donor", "scrap")
EMPTY: Mapping = MappingProxyType({})
A_MACHINE = Load(100.0, 1.5)  # where nobody knows its mass and floor
NO_LOAD = Load(0.0, 0.0)
AT_HAND = Site(0.0, 0)


@dataclass(frozen=True)
class Odds:
    """Beta(alpha, beta) of needing replacement. One ``key`` shares its every draw."""

    key: str
    alpha: float
    beta: float


@dataclass(frozen=True)
class Route:
    """One way to put a component right: had with ``chance``, then for ``cost``.

    Routes with one ``key`` are had or not together, in whatever machine they stand. ``call`` names
    the call that would settle it, if any. A mending that needs no part, or leaving a lesser fault
    and taking less for the machine, is a route with the chance 1.
    """

    key: str
    chance: float
    cost: float
    call: str = ""


@dataclass(frozen=True)
class Component:
    """A place in a model: its odds, the bench minutes and the routes of putting it right.

    While it fails and no route is had the machine cannot be repaired. A failed ``safety`` component
    keeps a machine from being sold as it is. ``spare`` is what a sound one is worth on our shelf.
    """

    slug: str
    odds: Odds
    minutes: float
    routes: tuple[Route, ...]
    safety: bool = False
    spare: float = 0.0


@dataclass(frozen=True)
class Rule:
    """Where everything in ``when`` has to be replaced, ``then`` has to be as well."""

    when: tuple[str, ...]
    then: str


@dataclass(frozen=True)
class Price:
    """A lognormal price: machines of a model share ``level_sd``, ``own_sd`` is each one's own.

    Both are standard deviations of the logarithm; ``mean`` is the mean of the price itself.
    """

    mean: float
    level_sd: float = 0.0
    own_sd: float = 0.0


@dataclass(frozen=True)
class Market:
    """What a model sells for once it is put right, and how fast.

    Each further like machine brings ``falls`` times the one before and takes ``slows`` times the
    first one's ``months`` longer. ``months_sd`` is that of the logarithm.
    """

    price: Price
    months: float
    falls: float = 1.0
    slows: float = 0.0
    months_sd: float = 0.0


@dataclass(frozen=True)
class Model:
    """A model of machine as to its worth. ``key`` says which machines are alike to buyers.

    ``scrap`` is what the metal brings, ``disposal`` what getting rid of the rest costs, and
    ``strip_minutes`` the bench time that taking a donor apart costs. Rules apply in their order.
    """

    key: str
    kind: str
    components: tuple[Component, ...]
    market: Market
    rules: tuple[Rule, ...] = ()
    scrap: float = 0.0
    disposal: float = 0.0
    strip_minutes: float = 0.0
    load: Load = A_MACHINE


@dataclass(frozen=True)
class Machine:
    """One machine of a lot. ``found`` says of a component slug whether it has to be replaced.

    One that did not run (or stood taken apart) is worth a donor or scrap, unless the owner
    expressly says ``by_odds``.
    """

    key: str
    model: Model
    found: Mapping[str, bool] = field(default_factory=lambda: EMPTY)
    ran: bool = True
    by_odds: bool = False

    @property
    def may_sell(self) -> bool:
        """Whether it may be repaired or sold as it is at all."""
        return self.ran or self.by_odds


@dataclass(frozen=True)
class Goods:
    """Goods without serials: so many measures (pieces, sets, kilograms) at a price each.

    They are carried in so many ``pieces`` (crates, benches), each of one ``load``.
    """

    key: str
    quantity: float
    price: Price
    months: float = 0.0
    storage: float = 0.0
    pieces: int = 0
    load: Load = NO_LOAD


@dataclass(frozen=True)
class Lot:
    """What a seller offers. ``other_costs`` are those that no machine changes: permits, insurance.

    The machines are given their fates in the order in which they stand here.
    """

    machines: tuple[Machine, ...]
    assumptions: Assumptions
    goods: tuple[Goods, ...] = ()
    site: Site = AT_HAND
    other_costs: float = 0.0

    def __post_init__(self):
        for things in (self.machines, self.goods):
            keys = [thing.key for thing in things]
            if len(set(keys)) < len(keys):
                raise ValueError("two things of a lot have one key")
