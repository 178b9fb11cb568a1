"""The refit made ready for the cutter, as values."""

import pytest
import shapely
from refits import barge_document, boat, changed, demo_document, weight, with_all

from hullchange.errors import DocumentError, ModelError
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.nest import require_sound
from hullchange.shop.quantities import mass_of, paint_area
from hullchange.study.cutting import QUICK, cut_pack
from hullchange.study.reading import document_of

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def pack():
    return cut_pack(boat(demo_document()), QUICK)


def test_every_kilogram_of_the_model_is_cut(pack):
    cut = sum(mass_of(piece) for piece in pack.pieces)
    bars = sum(bar.plate.mass(STEEL_DENSITY) for bar in pack.steel.bars)
    model = sum(part.steel.mass for part in boat(demo_document()).parts.values())
    assert cut + bars == pytest.approx(model, rel=1e-3)


def test_every_piece_lies_in_a_nest_that_holds(pack):
    placed = [p.id for rows in pack.plates for nest in rows.nests for p in nest.places]
    assert sorted(placed) == sorted(piece.id for piece in pack.pieces)
    for rows in pack.plates:
        require_sound(rows.nests, rows.shapes, pack.spacing)


def test_bought_is_used_left_over_and_scrap(pack):
    for rows in pack.plates:
        account = rows.account
        own = [p for p in pack.pieces if p.thickness == pytest.approx(rows.thickness)]
        assert account.used == pytest.approx(sum(mass_of(p) for p in own), rel=1e-4)
        assert account.scrap > 0.0
        assert account.left >= 0.0
        assert account.bought == pytest.approx(account.used + account.left + account.scrap)
    four = next(rows for rows in pack.plates if rows.thickness == pytest.approx(4e-3))
    assert four.account.used / four.account.bought > 0.75


def test_the_leftover_in_the_yard_is_used_before_anything_is_bought(pack):
    ten = next(rows for rows in pack.plates if rows.thickness == pytest.approx(0.010))
    assert [nest.sheet.name for nest in ten.nests] == ["plate-10 leftover 1"]
    assert ten.account.price == 0.0


def test_bars_are_proven(pack):
    for section in pack.sections:
        assert section.plan.proven
    flats = next(s for s in pack.sections if s.section == "flat 40 x 4")
    assert len(flats.bars) == 52
    assert len(flats.plan.cuts) == flats.plan.bound


def test_the_roof_is_spliced_and_its_seam_welded(pack):
    (said,) = [f for f in pack.findings if f.code == "spliced"]
    assert said.place == "house.roof"
    seam = pack.welds[-1]
    assert (seam.kind, seam.first) == ("butt", ("house", "roof"))
    assert f"{seam.length:.2f} m" in said.sentence


def test_a_flat_pad_on_a_cambered_roof_is_a_fit_to_mind(pack):
    (said,) = {f.sentence for f in pack.findings if f.code == "partial-contact"}
    assert "mast-support.pad touches house.roof over 130 mm" in said


def test_marks_of_every_piece_lie_on_it_halves_too(pack):
    for piece in pack.pieces:
        grown = piece.region.buffer(1e-4)
        for line in pack.marks[piece.id].lines:
            assert grown.contains(shapely.LineString(line.points)), piece.id
        for words in pack.marks[piece.id].words:
            assert piece.region.contains(shapely.Polygon(words.box)), (piece.id, words.text)


def test_weld_metal_of_a_tee_by_hand(pack):
    weld = next(
        w for w in pack.welds if w.first == ("cockpit", "sole-flat-1") and w.kind == "tee"
    )
    # two fillets of 3 mm over 0.8 m, 15 % over their triangles
    assert weld.leg == pytest.approx(3e-3)
    assert weld.metal == pytest.approx(2 * 1.15 * 4.5e-6 * weld.length * 7850.0)


def test_paint_covers_both_sides(pack):
    faces = 2.0 * sum(plate.area_mid for plate in pack.steel.plates)
    assert faces < paint_area(pack.steel) < 1.02 * faces


def test_the_stamp_says_whose_it_is(pack):
    stamp = pack.stamp
    assert stamp.state == "unsigned"
    assert stamp.words == f"WORKING {stamp.document[:8].upper()} UNSIGNED"


def test_without_stock_nothing_is_nested_and_that_is_said():
    plain = with_all(demo_document(), {"stock": None})
    pack = cut_pack(boat(plain), QUICK)
    assert pack.plates == ()
    assert pack.sections == ()
    places = [f.place for f in pack.findings if f.code == "no-stock"]
    assert places.count("stock.plates") == 7
    assert places.count("stock.bars") == 2


def test_what_only_comes_off_has_a_pack_of_its_own():
    engine = {"stage": "proposed", "removes": {"diesel": weight(200, (5, 0, 0))}}
    plain = barge_document(10.0, 3.0, 1.0, 2.0, 0.0, changes={"engine": engine})
    pack = cut_pack(boat(plain), QUICK)
    assert [off.change for off in pack.comes_off] == ["engine"]
    assert (pack.pieces, pack.plates, pack.welds) == ((), (), ())


def test_without_a_new_part_and_with_nothing_off_there_is_nothing_to_cut():
    with pytest.raises(ModelError) as refusal:
        cut_pack(boat(barge_document(10.0, 3.0, 1.0, 2.0, 0.0)), QUICK)
    assert refusal.value.code == "nothing-to-cut"


@pytest.mark.parametrize(
    ("path", "value", "code"),
    [
        ("stock__bars__odd", {"length_m": 6.0}, "bar-section"),
        ("cutting__layers", {"CUT": "no layer"}, "layer-name"),
        ("cutting__layers", {"MARK": "Defpoints"}, "layer-name"),
    ],
)
def test_stock_and_cutting_are_read_with_care(path, value, code):
    with pytest.raises(DocumentError) as refusal:
        document_of(changed(demo_document(), **{path: value}))
    assert refusal.value.code == code


LEFTOVERS = "stock.plates.plate-10.leftovers_m"


@pytest.mark.parametrize(
    ("corners", "code"),
    [
        ([[0, 0], [1, 1], [1, 0], [0, 1]], "outline-crosses-itself"),
        ([[0, 0], [1, 0], [1, 1], [1, 0], [0, 1]], "outline-crosses-itself"),
        ([[0, 0], [1, 0], [2, 0]], "leftover-without-area"),
        ([[0, 0], [1, 1], [0, 0]], "leftover-without-area"),
        ([[1, 1], [1, 1], [1, 1]], "leftover-without-area"),
    ],
)
def test_a_leftover_that_is_no_plate_is_refused_where_it_stands(corners, code):
    sound = [[0, 0], [1, 0], [1, 1], [0, 0]]  # closed by hand: that is no fault
    plain = with_all(demo_document(), {LEFTOVERS: [sound, corners]})
    with pytest.raises(DocumentError) as refusal:
        document_of(plain)
    (fault,) = refusal.value.faults
    assert (fault.code, fault.place) == (code, f"{LEFTOVERS}.1")
    assert "give" in fault.sentence


@pytest.mark.parametrize(
    ("layers", "place", "said"),
    [
        ({"MARK": "CUT"}, "MARK", "MARK is called CUT, and so is CUT"),
        ({"CUT": "text"}, "CUT", "CUT is called text, and so is TEXT"),
        ({"MARK": "A", "BEND": "a"}, "BEND", "BEND is called a, and so is MARK"),
        ({"CUT": "Snij", "INFO": "SNIJ"}, "INFO", "INFO is called SNIJ, and so is CUT"),
    ],
)
def test_two_layers_of_one_name_are_refused(layers, place, said):
    with pytest.raises(DocumentError) as refusal:
        document_of(with_all(demo_document(), {"cutting.layers": layers}))
    (fault,) = refusal.value.faults
    assert (fault.code, fault.place) == ("layer-twice", f"cutting.layers.{place}")
    assert said in fault.sentence


def test_layers_may_change_names_with_one_another():
    layers = {"MARK": "CUT", "CUT": "MARK", "TEXT": "0"}
    assert document_of(with_all(demo_document(), {"cutting.layers": layers})).cutting.layers
