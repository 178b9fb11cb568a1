"""Every kind of part proposed for many hulls, and wrong dimensions of each tried."""

from collections import Counter
from dataclasses import dataclass, field

from every_hull import every_hull
from pydantic import ValidationError

from hullchange.errors import ModelError
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS
from hullchange.proposals.measures import at, measures_of, with_value
from hullchange.proposals.offers import offers
from hullchange.proposals.proposing import PROPOSERS, proposal
from hullchange.proposals.surroundings import Surroundings

REASONS = ("no-transom", "no-free-deck", "no-depth")
"""Why a hull has no place for a kind."""
PANES = ("side_windows", "front_windows", "door")


@dataclass
class ProposalTrial:
    """What came of it.

    Attributes:
        hulls: how many.
        built: proposals by kind.
        reasons: why there is none, by kind and code.
        wrong: what was neither built nor has a reason, in words.
        lost: houses without windows or door, by what they lack.
        houses: side height of each house [m].
    """

    hulls: int = 0
    built: Counter = field(default_factory=Counter)
    reasons: Counter = field(default_factory=Counter)
    wrong: list = field(default_factory=list)
    lost: Counter = field(default_factory=Counter)
    houses: list = field(default_factory=list)


def proposed_on(host):
    """(kind, proposal or refusal, surroundings) of every kind, each beside those before it."""
    neighbours, roofs = {}, {}
    for kind, proposer in PROPOSERS.items():
        around = Surroundings(host, dict(neighbours), dict(roofs))
        try:
            found = proposal(kind, around)
        except ModelError as error:
            yield kind, error, around
            continue
        neighbours[proposer.name] = found.dimensions
        if found.part.roof is not None:
            roofs[proposer.name] = found.part
        yield kind, found, around


def proposal_trial(count, first=0):
    """Every kind proposed for hulls from a seed on."""
    trial = ProposalTrial()
    for name, host in every_hull(count, first):
        trial.hulls += 1
        for kind, found, _ in proposed_on(host):
            if not isinstance(found, ModelError):
                trial.built[kind] += 1
            elif found.code in REASONS:
                trial.reasons[kind, found.code] += 1
            else:
                trial.wrong.append(f"{name} {kind}: {found}")
            if kind == "deckhouse" and not isinstance(found, ModelError):
                trial.houses.append(found.dimensions.side_height_m)
                trial.lost.update(p for p in PANES if getattr(found.dimensions, p) is None)
    return trial


def strayed(dimensions, draw, count):
    """Dimensions with some of their numbers anywhere; None where these are refused alone."""
    plain = dimensions.model_dump(mode="json", exclude_none=True)
    measures = measures_of(type(dimensions))
    leaves = [leaf for leaf in measures if isinstance(at(plain, leaf), int | float)]
    for place in draw.choice(len(leaves), count):
        leaf = leaves[place]
        step = measures[leaf].step
        value = at(plain, leaf) * draw.uniform(0.3, 2.5) + 3.0 * draw.normal() * step
        plain = with_value(plain, leaf, measures[leaf].on_grid(value))
    try:
        return type(dimensions).model_validate(plain)
    except ValidationError:
        return None


def refusal_of(kind, dimensions, around):
    """Why dimensions are refused; None where they build."""
    stand = around.roofs.get(dimensions.stand or "")
    try:
        KINDS[kind].build(dimensions, Site(around.host, stand))
    except ModelError as error:
        return error
    return None


def offered(kind, refused, error, around, goods):
    """(offer, dimensions with it, why these are refused) of each offer."""

    def builds(dimensions):
        stand = around.roofs.get(dimensions.stand or "")
        return KINDS[kind].build(dimensions, Site(around.host, stand))

    for offer in offers(refused, error.place, goods, builds):
        changed = with_offer(refused, offer)
        yield offer, changed, refusal_of(kind, changed, around)


def with_offer(dimensions, offer):
    """Dimensions with the values of an offer set."""
    plain = dimensions.model_dump(mode="json", exclude_none=True)
    for path, value in offer.values:
        *groups, last = path.split(".")
        inside = plain
        for key in groups:
            inside = inside[key]
        inside[last] = value
    return type(dimensions).model_validate(plain)
