"""The layers of what is drawn, and what each is for."""

from collections.abc import Iterator, Mapping
from typing import Literal

from hullchange.errors import Fault

Layer = Literal["CUT", "MARK", "BEND", "TEXT", "REF", "SHEET", "INFO"]

LAYERS: dict[Layer, str] = {
    "CUT": "outer and inner contours: cut",
    "MARK": "ticks, landings, arrows: mark",
    "BEND": "rolling lines: mark",
    "TEXT": "single-stroke lettering: mark",
    "REF": "lines to check the scale: mark or leave out",
    "SHEET": "the sheet: leave out",
    "INFO": "text beside the sheet: leave out",
}
"""What each layer is for."""


def layer_faults(given: Mapping[str, object]) -> Iterator[Fault]:
    """Layers that are called as another one is, large and small letters taken alike.

    Args:
        given: names of layers by the layer, as the document gives them.
    """
    called: dict[str, str] = {}
    # those that keep their own name first, so that the fault stands at the name that was given
    for layer in sorted(LAYERS, key=lambda layer: layer in given):
        name = str(given.get(layer, layer))
        other = called.setdefault(name.casefold(), layer)
        if other != layer:
            sentence = (
                f"{layer} is called {name}, and so is {other}: the cutter could not tell cuts "
                "from marks. Give each layer its own name."
            )
            yield Fault("layer-twice", f"cutting.layers.{layer}", sentence)
