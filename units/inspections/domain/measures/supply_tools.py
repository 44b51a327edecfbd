"""The tools for the drive belt's tension, the supply and extension cords."""

from units.inspections.domain.measures.conductors import cord_drop, cord_resistance
from units.inspections.domain.measures.facts import limit
from units.inspections.domain.measures.odds import beyond
from units.inspections.domain.measures.outcome import Chance, Figure, Outcome, Saying, Tool
from units.inspections.domain.measures.ribbed import mass, tension
from units.inspections.domain.measures.supply import (
    SupplyReadings,
    Suspect,
    sag,
    source_resistance,
    suspects,
)
from units.inspections.domain.tables import gettext_noop as _

LIKELY = 0.5


def belt_tension(given) -> Outcome:
    newtons = tension(mass(given["section"], given["ribs"]), given["span"], given["sound"])
    saying = Saying(
        _(
            "What it should be stands in the maker’s papers. A belt that squeals or slips is often"
            " too loose; an over-tight one wears the bearings."
        )
    )
    return Outcome(Figure(_("Tension of the free span"), newtons, "force"), (), (saying,))


def cord(given) -> Outcome:
    where = (given["gauge"], given["length"], given["warmth"])
    drop = cord_drop(where[0], where[1], given["amps"], where[2])
    share = drop / given["volts"]
    others = (
        Figure(_("Of the voltage at the outlet"), share, "share"),
        Figure(_("Resistance of both conductors"), cord_resistance(*where), "resistance"),
    )
    most, chance = limit("drop-cord"), beyond(share, limit("drop-cord"))
    places = {"limit": Figure("", most, "share"), "chance": Chance(chance)}
    if chance < LIKELY:
        sentence = _("That the cord takes more than %(limit)s is %(chance)s.")
        saying = Saying(sentence, places, "good")
    else:
        sentence = _(
            "That the cord takes more than %(limit)s is %(chance)s: use none, or a shorter one of"
            " thicker conductors, if the maker allows a cord at all."
        )
        saying = Saying(sentence, places, "watch")
    return Outcome(Figure(_("The cord takes"), drop, "voltage"), others, (saying,))


def supply(given) -> Outcome:
    readings = SupplyReadings(
        given["open_volts"],
        given["loaded_volts"],
        given["amps"],
        given.get("machine_volts"),
        given.get("gauge"),
        given.get("length"),
        given.get("rated_amps"),
        given["nominal"],
    )
    behind = source_resistance(readings.open_volts, readings.loaded_volts, readings.amps)
    taken = sag(readings.open_volts, readings.loaded_volts)
    told = tuple(
        saying for suspect in suspects(readings) for saying in _suspicion(suspect) if saying
    )
    return Outcome(
        Figure(_("Resistance behind the outlet"), behind, "resistance"),
        (Figure(_("Sag under load"), taken, "share"), *_at_the_machine(readings)),
        told,
    )


def _at_the_machine(readings: SupplyReadings) -> tuple[Figure, ...]:
    if readings.machine_volts is None:
        return ()
    return (Figure(_("The cord takes"), readings.loaded_volts - readings.machine_volts, "voltage"),)


BLAMED = {
    "service": _(
        "The service, low before the machine draws anything: %(chance)s. That is the electricity"
        " company’s or a licensed electrician’s to look at."
    ),
    "outlet": _(
        "The outlet and the wiring behind it, which lose too much under load: %(chance)s. That is a"
        " licensed electrician’s work, not ours."
    ),
    "cord": _(
        "The extension cord, which takes too much: %(chance)s. Measure again without it; most"
        " makers allow none."
    ),
    "contacts": _(
        "The cord’s contacts or strands, for it takes more than its copper explains: %(chance)s. Do"
        " not use it, it can burn."
    ),
    "reaches": _(
        "Less reaches the machine under load than a supply should give: %(chance)s. Drives that are"
        " starved draw more current and trip."
    ),
    "machine": _(
        "The machine, which draws more than its plate says: %(chance)s. Look at belt and deck for"
        " friction first."
    ),
}
CLEARED = {
    "service": _("The service: that its voltage is low is %(chance)s."),
    "outlet": _("The outlet: that it loses too much under load is %(chance)s."),
    "cord": _("The extension cord: that it takes too much is %(chance)s."),
    "contacts": _("The cord’s contacts: that they are bad is %(chance)s."),
    "reaches": _("That too little reaches the machine under load is %(chance)s."),
    "machine": _("The machine: that it draws more than its plate says is %(chance)s."),
}


def _suspicion(suspect: Suspect) -> tuple[Saying, ...]:
    if suspect.odds is None:
        return ()
    blamed = suspect.odds >= LIKELY
    words = BLAMED if blamed else CLEARED
    places = {"chance": Chance(suspect.odds)}
    return (Saying(words[suspect.name], places, "watch" if blamed else "good"),)


TOOLS = (
    Tool(
        "belt-tension",
        "drive-belt-tension",
        _("Tension of the drive belt"),
        _("Tension of a ribbed belt"),
        _("Pluck the free span and read its sound in hertz, with a telephone’s tuner."),
        belt_tension,
        ("maker-first", "unplug", "moving-parts"),
        steps=("drive-belt",),
    ),
    Tool(
        "supply",
        "source-resistance",
        _("Resistance behind the outlet"),
        _("Outlet, cord or machine?"),
        _("The voltage with the machine still and under load tells which of them is to blame."),
        supply,
        ("maker-first", "wiring"),
        ("voltage-service", "sag-outlet", "drop-cord", "voltage-outlet"),
    ),
    Tool(
        "cord",
        "cord-drop",
        _("An extension cord takes"),
        _("Extension cord"),
        _("What a cord of this gauge and length takes of the voltage."),
        cord,
        ("maker-first", "wiring"),
        ("drop-cord",),
    ),
)
