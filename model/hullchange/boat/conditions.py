"""Loading conditions with what they are like merged in, so that each stands alone."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from hullchange.answer.wire import Stage
from hullchange.boat.weights import Weight, WeightSum, sum_of_weight, total
from hullchange.document.document import Document, DocumentCondition
from hullchange.document.items import Load
from hullchange.document.matching import last_step
from hullchange.errors import ModelError
from hullchange.materials import PROVENANCE


@dataclass(frozen=True, eq=False)
class LoadingCondition:
    """One loading condition, complete.

    Attributes:
        id: its name.
        water_density: [kg/m^3].
        without: names of things the survey had aboard that are left out.
        fills: tank to volume [m^3]; replaces the survey's.
        loads: weights that come on top.
        floods: names of wells that fill to their lowest spill point, whatever path they had.
        compartments: names of compartments that stand open to the sea.
        boards_in: whether the companionway is shut, so that a well fills to its coaming.
        stages: the boats it is run for, as found first.
    """

    id: str
    water_density: float
    without: frozenset[str]
    fills: Mapping[str, float]
    loads: tuple[Weight, ...]
    floods: tuple[str, ...]
    stages: tuple[Stage, ...]
    boards_in: bool = False
    compartments: tuple[str, ...] = ()

    @property
    def is_flooded(self) -> bool:
        """Whether water stands in her."""
        return bool(self.floods or self.compartments)

    @cached_property
    def key(self) -> str:
        """Equal keys, equal conditions."""
        fills = sorted(self.fills.items())
        content = (self.id, self.water_density, sorted(self.without), fills, self.loads)
        flooded = (self.floods, self.compartments)
        return repr((*content, *flooded, self.stages, self.boards_in))

    @cached_property
    def load(self) -> WeightSum:
        """All loads together."""
        return total(sum_of_weight(load) for load in self.loads)


def conditions_of(document: Document) -> dict[str, LoadingCondition]:
    """All loading conditions by name, in the document's order.

    Raises:
        ModelError: ``load-incomplete`` where a load lacks its mass or its place.
    """
    return {name: _complete(document, name) for name in document.conditions}


def _complete(document: Document, name: str) -> LoadingCondition:
    chain = _chain(document, name)
    water = next((c.water for c in reversed(chain) if c.water is not None), document.water)
    fills = {tank: litres for c in chain for tank, litres in c.fills.items()}
    merged: dict[str, dict[str, object]] = {}
    for condition in chain:
        for load, fields in condition.loads.items():
            given = _given(fields)
            so_far = merged.setdefault(load, {})
            if "mass_kg" in given:
                so_far.pop("plus_minus_kg", None)  # it belonged to the mass that is replaced
            so_far.update(given)
    boat = next((c.boat for c in reversed(chain) if c.boat is not None), None)
    stages: tuple[Stage, ...] = ("as_found", "refit") if boat is None else (boat,)
    return LoadingCondition(
        name,
        water.density_kg_m3,
        frozenset(w for c in chain for w in c.without),
        {tank: litres / 1000.0 for tank, litres in fills.items()},
        tuple(
            _weight(f"conditions.{name}.loads.{load}", Load.model_validate(fields))
            for load, fields in merged.items()
        ),
        _flooded(chain, hull=False),
        stages,
        next((c.boards for c in reversed(chain) if c.boards is not None), "out") == "in",
        _flooded(chain, hull=True),
    )


def _flooded(chain: list[DocumentCondition], *, hull: bool) -> tuple[str, ...]:
    """Names of what is flooded: compartments of the hull, or else wells."""
    paths = dict.fromkeys(path for c in chain for path in c.floods)
    return tuple(last_step(path) for path in paths if ("compartments." in path) is hull)


def _chain(document: Document, name: str) -> list[DocumentCondition]:
    """The condition and those it is like, the furthest first."""
    chain = [document.conditions[name]]
    while chain[0].like is not None:
        chain.insert(0, document.conditions[chain[0].like])
    return chain


def _given(load: Load) -> dict[str, object]:
    return load.model_dump(by_alias=True, exclude_unset=True)


def _weight(path: str, load: Load) -> Weight:
    if load.mass_kg is None or load.at_m is None:
        sentence = "This load needs mass_kg and at_m, here or in the condition it starts from."
        raise ModelError("load-incomplete", sentence, path)
    provenance = load.from_ or "guessed"
    known = PROVENANCE[provenance]
    given = load.plus_minus_kg
    return Weight(
        path,
        load.mass_kg,
        load.at_m,
        known.mass_fraction * load.mass_kg if given is None else given,
        load.plus_minus_m or (known.sd_along, known.sd_across, known.sd_up),
        provenance,
    )
