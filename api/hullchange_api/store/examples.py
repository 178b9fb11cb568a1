"""The example boats: in the source tree's examples, else in the copy packed into the wheel."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from itertools import takewhile
from pathlib import Path

from hullchange.cache import cached
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange_api.wire.working_copy import ExampleCard

DEMO = "saltmarrow"


@cached(1)
def examples() -> tuple[ExampleCard, ...]:
    """The example boats, the demo first."""
    found = sorted(
        (file for file in _folder().iterdir() if file.name.endswith(".yaml")),
        key=lambda file: (file.name != f"{DEMO}.yaml", file.name),
    )
    return tuple(_card(file) for file in found)


def example_text(name: str) -> str:
    """The document of an example.

    Raises:
        ModelError: ``unknown-refit``.
    """
    if all(name != card.id for card in examples()):
        raise ModelError("unknown-refit", f"There is no example {name}.")
    return _folder().joinpath(f"{name}.yaml").read_text(encoding="utf-8")


def _folder() -> Traversable:
    source = Path(__file__).parents[3] / "examples"
    return source if source.is_dir() else files("hullchange_api") / "examples"


def _card(file: Traversable) -> ExampleCard:
    """Its name, and what the comment at its head says: up to the first full stop."""
    text = file.read_text(encoding="utf-8")
    boat = parsed(text).document()["boat"]
    assert isinstance(boat, dict)
    lines = takewhile(lambda line: line.startswith("# "), text.splitlines())
    about, *_ = " ".join(line.removeprefix("# ") for line in lines).split(". ")
    return ExampleCard(id=file.name.removesuffix(".yaml"), name=str(boat["name"]), about=about)
