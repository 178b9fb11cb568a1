"""What part of a kind fits a hull: tried and built, or the reason why there is none."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from hullchange.errors import ModelError
from hullchange.parts.fields import PartDimensions
from hullchange.parts.part import Part, Site
from hullchange.parts.registry import KINDS
from hullchange.proposals.cockpit import cockpit
from hullchange.proposals.deckhouse import deckhouse
from hullchange.proposals.ends import bow_platform, bulwark, transom_extension
from hullchange.proposals.inside import hull_plate, mast_support, plating
from hullchange.proposals.surroundings import Surroundings

TRIES = 14


@dataclass(frozen=True)
class Proposer:
    """How parts of one kind are proposed.

    Attributes:
        name: what such a part is called in a document.
        choose: dimensions and a sentence that says how they were chosen, given where the part
            goes and what was refused so far; raises ``ModelError`` where there is no place.
    """

    name: str
    choose: Callable[[Surroundings, tuple[ModelError, ...]], tuple[Any, str]]


PROPOSERS: dict[str, Proposer] = {
    "deckhouse": Proposer("house", deckhouse),
    "cockpit": Proposer("cockpit", cockpit),
    "transom_extension": Proposer("extension", transom_extension),
    "bow_platform": Proposer("platform", bow_platform),
    "mast_support": Proposer("mast-support", mast_support),
    "hull_plate": Proposer("hull-plate", hull_plate),
    "bulwark": Proposer("bulwark", bulwark),
    "plating": Proposer("plate", plating),
}
"""Every kind that can be proposed: a new kind is one entry."""


@dataclass(frozen=True, eq=False)
class Proposal:
    """A part that fits.

    Attributes:
        dimensions: that are built on this hull.
        sentence: how they were chosen.
        part: built.
        tries: how often the hull refused before.
    """

    dimensions: PartDimensions
    sentence: str
    part: Part
    tries: int


def proposal(kind: str, around: Surroundings) -> Proposal:
    """The part of a kind that is proposed for a hull.

    Raises:
        ModelError: why there is none: ``no-transom``, ``no-free-deck``, ``no-depth``,
            ``place-taken``, ``nothing-to-stand-on``; ``nothing-fits`` where none was found.
    """
    refusals: tuple[ModelError, ...] = ()
    while len(refusals) < TRIES:
        given, sentence = PROPOSERS[kind].choose(around, refusals)
        try:
            part = KINDS[kind].build(given, Site(around.host, around.roofs.get(given.stand)))
        except ModelError as error:
            refusals = (*refusals, error)
            continue
        return Proposal(given, sentence, part, len(refusals))
    last = f"None was found that fits this hull: {refusals[-1].sentence}"
    raise ModelError("nothing-fits", last)
