"""Marks: where the boat's lines cross a plate, what lands on it, how it is rolled."""

from math import cos

import numpy as np
import pytest
import shapely

from hullchange.shop.lettering import strokes, width
from hullchange.shop.marks import BEND_RUN, BEND_STEP, marks_of
from hullchange.shop.notes import CLEAR, NOTE, Note, placed
from hullchange.shop.room import Room, largest_circle


@pytest.fixture(scope="module")
def marks(steel):
    return {piece.id: marks_of(piece, steel, "R- 12345678 UNSIGNED") for piece in steel.pieces}


def test_every_word_and_line_lies_on_the_steel(steel, marks):
    for piece in steel.pieces:
        grown = piece.region.buffer(1e-4)
        for words in marks[piece.id].words:
            assert piece.region.contains(shapely.Polygon(words.box)), (piece.id, words.text)
        for line in marks[piece.id].lines:
            assert grown.contains(shapely.LineString(line.points)), piece.id


def test_every_piece_carries_its_own_mark_once(steel, marks):
    for piece in steel.pieces:
        heads = [w.text for w in marks[piece.id].words if w.text.startswith(f"{piece.id} ")]
        assert len(heads) == 1
        assert marks[piece.id].named


def test_no_words_lie_on_one_another(steel, marks):
    for piece in steel.pieces:
        boxes = [shapely.Polygon(words.box) for words in marks[piece.id].words]
        for k, box in enumerate(boxes):
            assert not any(box.intersects(other) for other in boxes[:k]), piece.id


def test_no_line_crosses_words_that_have_room_elsewhere(steel, marks):
    crossed = [
        words.text
        for piece in steel.pieces
        for words in marks[piece.id].words
        for line in marks[piece.id].lines
        if shapely.LineString(line.points).intersects(shapely.Polygon(words.box))
    ]
    # the mast's pad is ringed by rolling lines
    assert set(crossed) <= {"MAST-SUPPORT-01 FAR SIDE"}


def test_words_go_to_the_other_side_of_their_line_where_another_line_runs():
    steel = shapely.box(0.0, 0.0, 1.0, 0.2)
    level = np.array([[0.1, 0.10], [0.9, 0.10]])
    above = np.array([[0.1, 0.11], [0.9, 0.11]])
    (words,) = placed([Note(level, 0, "ST 4")], [level, above], steel)
    assert words.at == pytest.approx([0.1 + 2 * CLEAR, 0.10 - CLEAR - NOTE])
    (words,) = placed([Note(level, 0, "ST 4")], [level], steel)
    assert words.at == pytest.approx([0.1 + 2 * CLEAR, 0.10 + CLEAR])
    across = np.array([[0.12, 0.0], [0.12, 0.2]])
    (words,) = placed([Note(level, 0, "ST 4")], [level, across], steel)
    assert words.at == pytest.approx([0.15 + 2 * CLEAR, 0.10 + CLEAR])


def test_words_find_a_place_along_a_line_that_comes_back_to_its_start():
    round_the_pad = np.array([[0.3, 0.3], [0.7, 0.3], [0.7, 0.7], [0.3, 0.7], [0.3, 0.3]])
    (words,) = placed(
        [Note(round_the_pad, 0, "PAD-01")], [round_the_pad], shapely.box(0, 0, 1, 1)
    )
    assert words.text == "PAD-01"
    assert words.angle == pytest.approx(0.0)


def test_stations_are_where_their_words_say(pieces, marks):
    piece = pieces["COCKPIT-01"]
    ticks = [w for w in marks["COCKPIT-01"].words if w.text.startswith("ST ")]
    assert {w.text for w in ticks} == {"ST 7.5", "ST 8", "ST 8.5", "ST 9"}
    lines = [line.points for line in marks["COCKPIT-01"].lines if len(line.points) == 2]
    at = np.array([piece.plate.map.to_boat(piece.drawing.back(line))[:, 0] for line in lines])
    on_station = np.abs(at - np.round(at * 2.0) / 2.0).max(axis=1) < 1e-6
    assert on_station.sum() == 8


def test_a_beam_lands_on_the_roof_along_its_whole_edge(pieces, steel, marks):
    roof = pieces["HOUSE-04"]
    lines = [line.points for line in marks["HOUSE-04"].lines if line.role == "mark"]
    longest = sorted(
        (
            float(np.hypot(*np.diff(line, axis=0).T).sum())
            for line in lines
            if len(line) == 2 or np.hypot(*(line[0] - line[-1])) > 0.3
        ),
        reverse=True,
    )  # the pad's and the post's landings go round
    beams = sorted(
        (s.length for s in steel.seams if steel.plates[s.second] is roof.plate
         and s.kind == "tee" and "beam" in steel.names[s.first][1]), reverse=True
    )  # fmt: skip
    assert longest[: len(beams)] == pytest.approx(beams, abs=6e-3)


def test_rolling_lines_are_close_enough_and_say_their_radius(pieces, marks):
    roof, cone = pieces["HOUSE-04"], pieces["HOUSE-04"].plate.map
    bends = [line.points for line in marks["HOUSE-04"].lines if line.role == "bend"]
    azimuths = np.sort([cone.azimuth(roof.drawing.back(b)).mean() for b in bends])
    widest = max(cone.radius + cone.along(roof.drawing.back(b)).max() * np.sin(cone.half_angle)
                 for b in bends) / cos(cone.half_angle)  # fmt: skip
    assert np.diff(azimuths).max() <= min(BEND_STEP, BEND_RUN / widest) + 1e-9
    texts = [w.text for w in marks["HOUSE-04"].words if " R" in w.text and w.text[0].isdigit()]
    assert texts
    for text in texts:
        assert 5000 < float(text.split("R")[1]) < 20000
    assert any("ROLL HOLLOW ON THIS SIDE" in w.text for w in marks["HOUSE-04"].words)


def test_check_lines_are_a_tenth_of_a_metre(marks):
    rules = [line.points for m in marks.values() for line in m.lines if line.role == "check"]
    assert len(rules) > 50
    for rule in rules:
        assert np.hypot(*(rule[3] - rule[2])) == pytest.approx(0.100)


def test_the_arrow_points_forward(pieces, marks):
    piece = pieces["COCKPIT-01"]
    (arrow,) = (line.points for line in marks["COCKPIT-01"].lines if len(line.points) == 5)
    tail, tip = piece.plate.map.to_boat(piece.drawing.back(arrow[:2]))
    assert tip - tail == pytest.approx(np.array([-0.2, 0.0, 0.0]), abs=1e-9)


def test_letters_stay_within_their_line():
    lines = strokes("HOUSE-01-S 2.5 MM", np.zeros(2), 0.03, 0.0)
    points = np.concatenate(lines)
    assert points.min() >= 0.0
    assert points[:, 0].max() <= width("HOUSE-01-S 2.5 MM", 0.03) + 1e-12
    assert points[:, 1].max() == pytest.approx(0.03)


def test_room_is_found_beside_lines_that_cutting_left():
    square, line = shapely.box(0.0, 0.0, 1.0, 0.5), shapely.LineString([(2, 0), (3, 0)])
    for region in (square, shapely.GeometryCollection([line, square])):
        middle, radius = largest_circle(region)
        assert radius == pytest.approx(0.25, abs=2e-3)
        assert 0.0 < middle[1] < 0.5
        assert Room(region).box((0.8, 0.3), (0.0,)) is not None
    assert Room(shapely.GeometryCollection([line])).box((0.8, 0.3), (0.0,)) is None
