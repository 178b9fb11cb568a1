"""How long the parts of the demo take: while a dimension is dragged, and for the record."""

from pathlib import Path
from statistics import median
from time import perf_counter

from hullchange.boat.hull import hull_from
from hullchange.document.reading import read_document
from hullchange.geometry.surface import joined, mass_properties
from hullchange.materials import STEEL_DENSITY
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS
from hullchange.parts.weigh import weigh

DEMO = Path(__file__).parents[2] / "examples" / "saltmarrow.yaml"
ROUNDS = 25


def milliseconds(action, rounds=ROUNDS):
    """Median time of an action that is given the number of its round, after one to warm up."""
    times = []
    for k in range(rounds + 1):
        start = perf_counter()
        action(k)
        times.append(1e3 * (perf_counter() - start))
    return median(times[1:])


def main():
    document = read_document(DEMO).document
    site = Site(hull_from(document))
    planned = {
        name: given
        for change in document.changes.values()
        for name, given in change.parts.items()
    }
    house = planned["house"]

    def raised(k):
        """The house a little higher each round, so that nothing is remembered."""
        return house.model_copy(update={"side_height_m": 0.58 + 0.0007 * (k + 1)})

    built = [KINDS["deckhouse"].build(raised(k), site) for k in range(ROUNDS + 1)]
    meshes = []
    rows = {
        "house: plates": milliseconds(
            lambda k: KINDS["deckhouse"].build(raised(k + 100), site)
        ),
        "house: meshes": milliseconds(lambda k: [p.surface() for p in built[k].plates]),
        "house: one mesh": milliseconds(
            lambda k: meshes.append(joined(tuple(p.surface() for p in built[k].plates)))
        ),
        "house: weighed by trimesh": milliseconds(
            lambda k: mass_properties(meshes[k], STEEL_DENSITY)
        ),
        "house: edges to draw": milliseconds(lambda k: [p.edges for p in built[k].plates]),
        "house: all of it": milliseconds(
            lambda k: weigh(KINDS["deckhouse"].build(raised(k + 200), site), STEEL_DENSITY)
        ),
    }
    stand = Site(site.host, built[0])
    parts = {name: KINDS[given.kind].build(given, stand) for name, given in planned.items()}
    from hullchange.cad import solids

    for name, part in parts.items():
        rows[f"{name}: CAD record of {len(part.plates)} plates"] = milliseconds(
            lambda _, part=part: solids.record_of(part.plates), 3
        )
    print("Parts of the demo, warm medians in ms")
    for label, value in rows.items():
        print(f"  {label:38} {value:8.1f}")


if __name__ == "__main__":
    main()
