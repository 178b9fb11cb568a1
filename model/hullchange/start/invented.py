"""The document a new refit starts from."""

from importlib.resources import files

from hullchange.document.yaml_edit import flow_text


def starting_document(name: str) -> str:
    """A commented document that can be assessed as it is, its boat to be replaced by one's own.

    Args:
        name: of the boat.
    """
    text = files("hullchange.start").joinpath("invented.yaml").read_text(encoding="utf-8")
    return text.replace("@NAME@", flow_text(name))
