"""The refit made ready for the cutter, as values."""

import pickle
from collections import Counter
from math import pi

import pytest
import shapely
from refits import (
    barge_document,
    boat,
    changed,
    demo_answer,
    demo_document,
    weight,
    with_all,
)

from hullchange.cutting.answer import purchases
from hullchange.cutting.pack import QUICK, cut_pack, nested_anew
from hullchange.cutting.placements import placements, with_placements
from hullchange.document.reading import document_of
from hullchange.errors import DocumentError, ModelError
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.nest import require_sound
from hullchange.shop.quantities import mass_of, paint_area

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def pack():
    return cut_pack(boat(demo_document()), QUICK)


def test_every_kilogram_of_the_model_is_cut(pack):
    cut = sum(mass_of(piece) for piece in pack.pieces)
    bars = sum(bar.plate.mass(STEEL_DENSITY) for bar in pack.steel.bars)
    model = sum(part.steel.mass for part in boat(demo_document()).parts.values())
    assert cut + bars == pytest.approx(model, rel=1e-3)


def test_the_answer_knows_what_is_sawn_and_what_is_cut_from_plate(pack):
    listed = [plate for part in demo_answer().parts for plate in part.plates]
    bars = Counter(plate.sawn_from for plate in listed if plate.sawn_from)
    assert bars == Counter(bar.section for bar in pack.steel.bars)
    sheets = Counter(round(p.thickness_mm, 3) for p in listed if p.sawn_from == "")
    assert sheets == Counter(round(1e3 * piece.thickness, 3) for piece in pack.steel.pieces)


def test_a_pack_can_be_sent_by_the_process_that_makes_it(pack):
    assert [one.id for one in pack.opened] == ["house", "cockpit"]
    assert pickle.loads(pickle.dumps(pack)).stamp == pack.stamp


def test_every_piece_lies_in_a_nest_that_holds(pack):
    placed = [p.id for rows in pack.plates for nest in rows.nests for p in nest.places]
    assert sorted(placed) == sorted(piece.id for piece in pack.pieces)
    for rows in pack.plates:
        require_sound(rows.nests, rows.shapes, pack.spacing)


def test_bought_is_used_or_left_over_and_the_rest_scrap(pack):
    for rows in pack.plates:
        account = rows.account
        own = [p for p in pack.pieces if p.thickness == pytest.approx(rows.thickness)]
        assert account.used == pytest.approx(sum(mass_of(p) for p in own), rel=1e-4)
        assert account.left >= 0.0
        assert account.used + account.left < account.bought + account.from_yard
        sheets = sum(n.sheet.region.area for n in rows.nests if not n.sheet.leftover)
        assert account.bought == pytest.approx(sheets * rows.thickness * STEEL_DENSITY)
    four = next(rows for rows in pack.plates if rows.thickness == pytest.approx(4e-3))
    assert four.account.used / four.account.bought > 0.75


def test_the_leftover_in_the_yard_is_used_before_anything_is_bought(pack):
    ten = next(rows for rows in pack.plates if rows.thickness == pytest.approx(0.010))
    assert [nest.sheet.name for nest in ten.nests] == ["plate-10 leftover 1"]
    account = ten.account
    assert (account.bought, account.price, account.sheets) == (0.0, 0.0, {})
    assert account.leftovers == ("plate-10 leftover 1",)
    # an L of 1.2 x 0.45 and 0.5 x 0.35 m
    assert account.from_yard == pytest.approx((0.54 + 0.175) * 0.010 * STEEL_DENSITY)


def test_what_is_printed_of_the_purchase_adds_up(pack):
    rows = list(purchases(pack))
    assert [row.material for row in rows][-2:] == ["flat 40 x 4", "tube 89 x 6"]
    for row in rows:
        spent = row.used_kg + row.left_over_kg + row.scrap_kg
        assert row.bought_kg + row.from_leftovers_kg == pytest.approx(spent, abs=1e-6)
        assert (row.not_covered, row.not_covered_kg) == ("", 0.0)
    steel = sum(p.plate.mass(STEEL_DENSITY) for p in pack.steel.bars)
    steel += sum(map(mass_of, pack.pieces))
    assert sum(row.used_kg for row in rows) == pytest.approx(steel, abs=0.05 * len(rows))


def test_bars_are_proven(pack):
    for section in pack.sections:
        assert section.plan.proven
    flats = next(s for s in pack.sections if s.section == "flat 40 x 4")
    assert len(flats.bars) == 52
    assert flats.plan.cost == pytest.approx(flats.plan.least)
    assert flats.bound == "proven to be the fewest"


def test_the_roof_is_spliced_and_its_seam_welded(pack):
    (finding,) = [f for f in pack.findings if f.code == "spliced"]
    assert finding.place == "house.roof"
    seam = pack.welds[-1]
    assert (seam.kind, seam.first) == ("butt", ("house", "roof"))
    assert f"{seam.length:.2f} m" in finding.sentence


def test_every_edge_of_the_demo_fits_but_one(pack):
    """The flat bow platform on her cambered deck, which the answer says; the pack's all fit."""
    assert not [f for f in pack.findings if f.code in ("edge-apart", "pieces-collide")]


def test_which_welds_the_mast_support_has(pack):
    """Post to floor, roof plate and both halves of the beam; none through the roof."""
    support = {
        (w.first, w.second): round(1e3 * w.length)
        for w in pack.welds
        if "mast-support" in (w.first[0], w.second[0])
    }
    post, house = ("mast-support", "post"), "house"
    assert support.pop((post, ("mast-support", "floor"))) == pytest.approx(20, abs=2)
    assert support.pop((post, (house, "roof"))) == pytest.approx(1e3 * pi * 0.083, abs=3)
    assert support.pop((("mast-support", "pad"), (house, "roof"))) == pytest.approx(1280, abs=3)
    halves = {(house, f"roof-beam-2-{side}") for side in ("starboard", "port")}
    assert {first for first, second in support if second == post} == halves
    assert set(support.values()) == {50}


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


def test_without_stock_nothing_is_nested_and_that_is_reported():
    plain = with_all(demo_document(), {"stock": None})
    pack = cut_pack(boat(plain), QUICK)
    assert [rows.nests for rows in pack.plates] == [()] * 7
    assert [plan.plan.bars for plan in pack.sections] == [()] * 2
    findings = [f for f in pack.findings if f.code == "no-stock"]
    places = [f.place for f in findings]
    assert places.count("stock.plates") == 7
    assert places.count("stock.bars") == 2
    words = " ".join(f.sentence for f in findings)
    assert all(row.id in words for row in (*pack.pieces, *pack.steel.bars))
    accounted(pack)


def accounted(pack):
    """Every piece and bar lies in a nest or plan, or is listed as not covered: none is lost."""
    placed = [p.id for rows in pack.plates for nest in rows.nests for p in nest.places]
    sawn = [bar.id for plan in pack.sections for bar in plan.bars]
    for rows in pack.plates:
        require_sound(rows.nests, rows.shapes, pack.spacing)
    rows = list(purchases(pack))
    missing = [name for row in rows for name in row.not_covered.split(", ") if name]
    every = sorted(row.id for row in (*pack.pieces, *pack.steel.bars))
    assert sorted([*placed, *sawn, *missing]) == every
    sentences = " ".join(f.sentence for f in pack.findings)
    assert all(name in sentences for name in missing)
    steel = sum(plate.mass(STEEL_DENSITY) for plate in pack.steel.plates)
    listed = sum(row.used_kg + row.not_covered_kg for row in rows)
    assert listed == pytest.approx(steel, rel=1e-3, abs=0.1 * len(rows))
    return missing


def packed_with(**by_path):
    return cut_pack(boat(changed(demo_document(), **by_path)), QUICK)


def test_what_the_leftovers_do_not_take_is_found_and_listed():
    four = {"thickness_mm": 4, "leftovers_m": [[[0, 0], [2, 0], [2, 1], [0, 1]]]}
    pack = packed_with(**{"stock__plates__plate-4": four})
    missing = accounted(pack)
    (finding,) = [f for f in pack.findings if f.code == "not-placed"]
    assert all(name in finding.sentence for name in missing)
    assert "The 4 mm leftovers" in finding.sentence
    assert "among the plates in stock" in finding.sentence
    row = next(r for r in purchases(pack) if r.material == "plate 4")
    assert (row.buy, row.leftovers, row.bought_kg) == ("", "plate-4 leftover 1", 0.0)
    assert row.not_covered_kg > 300.0
    assert row.used_kg > 20.0
    again = with_placements(pack, placements(pack))
    assert accounted(again) == missing
    assert again.findings == pack.findings
    assert accounted(nested_anew(pack, QUICK)) == missing


def test_a_roof_of_many_parts_where_two_do_not_do():
    pack = packed_with(**{"stock__plates__plate-2-5__sizes_m": [[2.0, 1.5]]})
    assert accounted(pack) == []
    (finding,) = [f for f in pack.findings if f.place == "house.roof" and f.code == "spliced"]
    assert "drawn in four, with butts of" in finding.sentence
    parts = [p for p in pack.pieces if p.plate.id == "roof"]
    assert [p.mark for p in parts] == [f"HOUSE-04-{letter}" for letter in "ABCD"]
    for part in parts:
        grown = part.region.buffer(1e-4)
        lines = pack.marks[part.id].lines
        assert all(grown.contains(shapely.LineString(line.points)) for line in lines)
    seam = next(w for w in pack.welds if w.first == w.second == ("house", "roof"))
    assert f"{seam.length:.2f} m" in finding.sentence


def test_a_plate_no_seams_bring_onto_a_sheet_is_reported_and_listed():
    pack = packed_with(**{"stock__plates__plate-2-5__sizes_m": [[0.6, 0.3]]})
    missing = accounted(pack)
    assert missing
    large = [f for f in pack.findings if f.code == "larger-than-stock"]
    assert {f.sentence.split(",")[0] for f in large} == set(missing)
    assert all("2.5 mm" in f.sentence and "list a larger sheet" in f.sentence for f in large)


def test_a_leftover_that_takes_a_plate_whole_saves_its_splice():
    left = [[[0, 0], [4, 0], [4, 2.4], [0, 2.4]]]
    pack = packed_with(**{"stock__plates__plate-2-5__leftovers_m": left})
    assert accounted(pack) == []
    assert [f for f in pack.findings if f.code == "spliced"] == []
    rows = next(r for r in pack.plates if r.thickness == pytest.approx(2.5e-3))
    roof = next(p.id for p in pack.pieces if p.plate.id == "roof")
    (nest,) = [n for n in rows.nests if roof in {p.id for p in n.places}]
    assert nest.sheet.leftover


def test_all_lengths_of_a_section_in_stock_are_used():
    short = {"flat_mm": [40, 4], "length_m": 4.0, "price": 1.6}
    pack = packed_with(**{"stock__bars__short": short})
    assert accounted(pack) == []
    flats = next(s for s in pack.sections if s.section == "flat 40 x 4")
    # 17.6 m with the saw's: of 6 m and 4 m no sum lies between that and 18 m
    assert sum(bar.stock.length for bar in flats.plan.bars) == 18.0
    assert flats.plan.proven
    tube = {"tube_mm": [89, 6], "length_m": 2.5, "price": 2.4}
    pack = packed_with(**{"stock__bars__a-short": tube})
    tubes = next(s for s in pack.sections if s.section == "tube 89 x 6")
    assert [bar.stock.length for bar in tubes.plan.bars] == [2.5]
    assert tubes.bound == "proven to be the shortest"
    dearer = {"tube_mm": [89, 6], "length_m": 2.5, "price": 9.0}
    pack = packed_with(**{"stock__bars__a-short": dearer})
    tubes = next(s for s in pack.sections if s.section == "tube 89 x 6")
    assert tubes.bound == "proven to be the cheapest"


def test_bars_longer_than_any_in_stock_are_listed_and_the_others_planned():
    pack = packed_with(stock__bars={"short": {"flat_mm": [40, 4], "length_m": 0.5}})
    missing = accounted(pack)
    flats, tubes = pack.sections
    assert flats.plan.bars
    assert all(bar.length > 0.5 for bar in flats.not_placed)
    assert {bar.id for bar in (*flats.not_placed, *tubes.not_placed)} == set(missing)
    assert flats.account.price is None


def test_stock_without_a_price_is_reckoned_at_the_mean_and_that_is_reported():
    large = {"thickness_mm": 4, "sizes_m": [[12.0, 2.5]]}
    pack = packed_with(**{"stock__plates__large": large})
    four = next(rows for rows in pack.plates if rows.thickness == pytest.approx(4e-3))
    assert {nest.sheet.name for nest in four.nests} == {"plate-4"}
    (finding,) = [f for f in pack.findings if f.code == "price-missing"]
    assert finding.place == "stock.plates.large"
    assert "1.70 per kilogram" in finding.sentence


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
    ("layers", "place", "message"),
    [
        ({"MARK": "CUT"}, "MARK", "MARK is called CUT, and so is CUT"),
        ({"CUT": "text"}, "CUT", "CUT is called text, and so is TEXT"),
        ({"MARK": "A", "BEND": "a"}, "BEND", "BEND is called a, and so is MARK"),
        ({"CUT": "Snij", "INFO": "SNIJ"}, "INFO", "INFO is called SNIJ, and so is CUT"),
    ],
)
def test_two_layers_of_one_name_are_refused(layers, place, message):
    with pytest.raises(DocumentError) as refusal:
        document_of(with_all(demo_document(), {"cutting.layers": layers}))
    (fault,) = refusal.value.faults
    assert (fault.code, fault.place) == ("layer-twice", f"cutting.layers.{place}")
    assert message in fault.sentence


def test_layers_may_change_names_with_one_another():
    layers = {"MARK": "CUT", "CUT": "MARK", "TEXT": "0"}
    assert document_of(with_all(demo_document(), {"cutting.layers": layers})).cutting.layers
