"""What the shop is tried on: Saltmarrow's new steel, and plates placed by hand."""

import pytest
from refits import demo

from hullchange.shop.piece import steel_of
from hullchange.shop.seams import seams_of


@pytest.fixture(scope="session")
def steel():
    parts = {name: built.part.plates for name, built in demo()[0].parts.items()}
    return steel_of(parts, seams_of([plate for plates in parts.values() for plate in plates]))


@pytest.fixture(scope="session")
def pieces(steel):
    return {piece.id: piece for piece in steel.pieces}
