"""Names of layers that a cutter's file cannot keep apart."""

from collections.abc import Iterator, Mapping

from pydantic import JsonValue

from hullchange.document.matching import last_step, words_at
from hullchange.errors import Fault
from hullchange.shop.layers import LAYERS


def layer_faults(document: Mapping[str, JsonValue]) -> Iterator[Fault]:
    """Layers that are called as another one is, large and small letters taken alike."""
    plain = dict(document)
    given = {last_step(path): name for path, name in words_at(plain, "cutting.layers.*")}
    called: dict[str, str] = {}
    # those that keep their own name first, so that the fault stands at the name that was given
    for layer in sorted(LAYERS, key=lambda layer: layer in given):
        name = given.get(layer, layer)
        other = called.setdefault(name.casefold(), layer)
        if other != layer:
            sentence = (
                f"{layer} is called {name}, and so is {other}: the cutter could not tell cuts "
                "from marks. Give each layer its own name."
            )
            yield Fault("layer-twice", f"cutting.layers.{layer}", sentence)
