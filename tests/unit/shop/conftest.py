"""What the shop is tried on: Saltmarrow's new steel, and plates placed by hand."""

import pytest
from refits import demo

from hullchange.geometry.seams import contacts_of
from hullchange.shop.piece import steel_of


@pytest.fixture(scope="session")
def steel():
    parts = {name: built.part.plates for name, built in demo()[0].parts.items()}
    plates = [plate for row in parts.values() for plate in row]
    return steel_of(parts, contacts_of(plates).seams)


@pytest.fixture(scope="session")
def pieces(steel):
    return {piece.id: piece for piece in steel.pieces}
