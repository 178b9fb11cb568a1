"""One strip packed by the packing library, in a process of its own: it may end by itself.

Reads one JSON object from standard input and writes one to standard output.
"""

import json
import sys

import spyrrow


def packed(asked: dict) -> dict:  # type: ignore[type-arg]
    """Width of the strip and placements of its items."""
    items = [
        spyrrow.Item(item["id"], [tuple(p) for p in item["points"]], 1, item["turns_deg"])
        for item in asked["items"]
    ]
    instance = spyrrow.StripPackingInstance("strip", asked["height"], items)
    config = spyrrow.StripPackingConfig(
        early_termination=True,
        min_items_separation=asked["gap"],
        total_computation_time=asked["seconds"],
        num_workers=asked["workers"],
        seed=asked["seed"],
    )
    solution = instance.solve(config)
    places = [
        {"id": p.id, "turn_deg": p.rotation, "shift": list(p.translation)}
        for p in solution.placed_items
    ]
    return {"width": solution.width, "places": places}


if __name__ == "__main__":
    json.dump(packed(json.load(sys.stdin)), sys.stdout)
