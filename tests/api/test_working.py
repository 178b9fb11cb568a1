"""The working copy over HTTP: read, edit, refuse, undo, redo, options, conditions, lines."""

import json

import pytest
from refits import SALTMARROW

from hullchange.cache import Recent
from hullchange.start.invented import starting_document
from hullchange_api.working_copy import working_copies
from hullchange_api.working_copy.working_copies import View

MOTOR = "changes.drive.adds.motor.mass_kg"
HOUSE = "changes.deckhouse.parts.house"
STATE = "survey-state"


def kilograms(response):
    return response.json()["assessment"]["changes"][0]["added_kg"]


def test_reading_says_everything_and_its_edit(page):
    answer = page.read(full=True)
    body = answer.json()
    assert answer.headers["etag"] == '"1"'
    assert body["edit"] == 1
    assert body["refit"] == "dot"
    assert body["kept_in"] == "refit.yaml"
    assert (body["can_undo"], body["can_redo"], body["saved"], body["trouble"]) == (
        False,
        False,
        True,
        "",
    )
    assert body["document"]["boat"]["name"] == "Dot"
    assert body["condition"] == body["assessment"]["reference_condition"] == STATE
    assert body["partial"] is False
    assert body["scene"][0]["id"] == "hull"
    assert body["profile"]["length_waterline_m"] == 8.0


def test_a_number_is_changed_and_answered(page):
    before = kilograms(page.read())
    answer = page.put({MOTOR: 55}, "motor 55 kg")
    assert answer.status_code == 200
    assert answer.headers["etag"] == '"2"'
    body = answer.json()
    assert (body["edit"], body["partial"]) == (2, True)
    assert (body["can_undo"], body["undo_label"]) == (True, "motor 55 kg")
    assert kilograms(answer) - before == pytest.approx(10)
    assert body["document"]["changes"]["drive"]["adds"]["motor"]["mass_kg"] == 55
    assert [c["id"] for c in body["assessment"]["conditions"]] == [STATE] * 2
    assert page.read().json()["document"] == body["document"]


def test_an_edit_made_on_an_old_number_is_overtaken(page, refused):
    assert page.put({MOTOR: 55}).status_code == 200
    lost = page.put({MOTOR: 65}, expected=1)
    problem = refused(lost, 412, "overtaken")
    assert "2" in problem["detail"]
    assert page.read().json()["document"]["changes"]["drive"]["adds"]["motor"]["mass_kg"] == 55


@pytest.mark.parametrize("header", [None, "", "twelve", "*", '"²"', '"' + "9" * 5000 + '"'])
def test_a_write_names_the_edit_it_was_made_on(page, refused, header):
    headers = {} if header is None else {"If-Match": header.encode("latin-1")}
    body = {"label": "x", "steps": []}
    response = page.client.patch(page.address, json=body, headers=headers)
    refused(response, 428, "edit-number-missing")
    for way in ("undo", "redo"):
        answer = page.client.post(f"{page.address}/{way}", headers=headers)
        refused(answer, 428, "edit-number-missing")
    assert page.read().json()["edit"] == 1


@pytest.mark.parametrize("header", ['"1"', "1", 'W/"1"'])
def test_a_number_may_be_quoted_or_weak(page, header):
    body = {"label": "x", "steps": [{"op": "set", "path": MOTOR, "value": 50}]}
    answer = page.client.patch(page.address, json=body, headers={"If-Match": header})
    assert answer.status_code == 200


def test_a_window_taller_than_its_wall_leaves_everything_as_it_was(serve, refused):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    before = page.read().json()
    steps = {MOTOR.replace("drive", "electric-drive"): 95, f"{HOUSE}.side_height_m": 0.2}
    problem = refused(page.put(steps), 422, "window-taller-than-wall")
    (fault, *_) = problem["faults"]
    assert fault["place"].startswith(HOUSE)
    assert "wall" in fault["sentence"]
    assert page.read().json() == before
    assert page.saved() == SALTMARROW.read_text(encoding="utf-8")
    # and the page goes on from where it was
    assert page.put({f"{HOUSE}.side_height_m": 0.6}).json()["edit"] == 2


MARKS = ("forward", "midships", "aft")
WRONG = {
    "unknown path": ({"changes.drive.ads.motor.mass_kg": 5}, "unknown-path"),
    "text for a number": ({MOTOR: "heavy"}, "not-a-number"),
    "negative mass": ({MOTOR: -5}, "out-of-range"),
    "unknown name": ({"targets.level.condition": "nowhere"}, "unknown-name"),
    "not there": ({"changes.drive.adds.stove": None}, "unknown-path"),
    "she sinks": ({MOTOR: 90_000}, "sinks"),
    "marks at one place": ({f"survey.marks.{m}.x_m": 4 for m in MARKS}, "too-few-freeboards"),
}


@pytest.mark.parametrize(("steps", "code"), WRONG.values(), ids=WRONG)
def test_what_cannot_be_is_refused_and_nothing_has_changed(page, steps, code):
    before = page.read().json()
    answer = page.put({MOTOR: 50, **steps})
    assert answer.status_code == 422
    problem = answer.json()
    assert code in {f["code"] for f in problem["faults"]}
    assert all(f["sentence"].endswith((".", "?")) for f in problem["faults"])
    assert page.read().json() == before
    assert page.saved() == starting_document("Dot")
    assert page.undo().status_code == 409


def test_an_edit_that_sinks_her_at_sea_only_is_kept_and_reported(page):
    answer = page.put({"conditions.cruising.loads.crew.mass_kg": 90_000}).json()
    assert answer["edit"] == 2
    whole = page.read(full="true").json()
    rows = {(c["id"], c["stage"]): c for c in whole["assessment"]["conditions"]}
    sunk = rows["cruising", "refit"]
    assert (sunk["code"], sunk["gm_m"], sunk["criteria"]) == ("sinks", None, None)
    assert rows["survey-state", "refit"]["gm_m"] > 0.0
    places = {(f["code"], f["place"], f["severity"]) for f in whole["assessment"]["findings"]}
    assert ("sinks", "conditions.cruising", "fail") in places
    looked = page.read(condition="cruising").json()
    assert looked["condition"] == "cruising"
    assert looked["profile"]["centre_of_flotation_x_m"] > 0.0


def test_a_refused_edit_does_not_answer_for_the_next(page, refused):
    refused(page.put({MOTOR: 90_000}), 422, "sinks")
    answer = page.put({MOTOR: 46})
    assert answer.json()["edit"] == 2
    assert kilograms(answer) < 1000


@pytest.mark.parametrize(
    "body",
    [
        {"steps": []},
        {"label": "x"},
        {"label": "x", "steps": [{"op": "turn", "path": "a"}]},
        {"label": "x", "steps": [], "more": 1},
        [],
    ],
)
def test_a_body_that_is_no_edit_is_one_problem(page, refused, body):
    problem = refused(page.write("PATCH", json=body), 422, "bad-request")
    assert problem["faults"]
    assert page.read().json()["edit"] == 1


def test_junk_is_a_problem_too(page, refused):
    headers = {"If-Match": '"1"', "Content-Type": "application/json"}
    answer = page.client.patch(page.address, content=b"{nothing", headers=headers)
    refused(answer, 422, "bad-request")


def test_things_are_added_and_taken_away(page):
    stove = {"mass_kg": 40, "at_m": [5, 0.4, 0.2], "from": "weighed"}
    path = "changes.drive.adds.stove"
    before = kilograms(page.read())
    assert kilograms(page.put({path: stove})) == pytest.approx(before + 40)
    items = page.read().json()["assessment"]["items"]
    assert path in {i["path"] for i in items}
    assert kilograms(page.put({path: None})) == pytest.approx(before)
    shelf = "changes.drive.parts.battery-shelf"
    answer = page.put({shelf: None})
    assert [p["id"] for p in answer.json()["assessment"]["parts"]] == []
    assert page.undo().json()["assessment"]["parts"][0]["id"] == "battery-shelf"


def test_undo_and_redo_answer_with_levers_where_they_are_looked_at(page):
    page.put({MOTOR: 55}, levers=True)
    for travel in (page.undo, page.redo):
        heeled = travel(levers=True).json()["assessment"]["conditions"]
        assert all(row["righting_levers"] for row in heeled)
    assert page.undo().json()["assessment"]["conditions"][0]["righting_levers"] is None


def test_a_read_is_heeled_where_that_is_looked_at_and_held_in_the_chosen_condition_alone(page):
    def held(**query):
        rows = page.read(**query).json()["assessment"]["conditions"]
        return {row["id"] for row in rows if row["held"]}

    assert held() == set()
    assert held(levers=True) == held(full=True) == {STATE}
    assert held(condition="cruising", levers=True) == {"cruising"}
    assert held(condition="cruising", full=True) == {"cruising"}


@pytest.mark.parametrize("condition", [None, "cruising"])
def test_the_first_answer_is_part_of_the_whole(page, condition):
    query = {} if condition is None else {"condition": condition}
    first, whole = page.read(**query).json(), page.read(full=True, **query).json()
    assert first["condition"] == whole["condition"] == condition or STATE
    assert first["partial"]
    assert not whole["partial"]
    one, all_of = first.pop("assessment"), whole.pop("assessment")
    first.pop("partial"), whole.pop("partial")
    assert first == whole
    chosen = [c for c in all_of["conditions"] if c["id"] == first["condition"]]
    heeled = {key for row in one["conditions"] for key in row if row[key] in (None, [], "")}
    assert "righting_levers" in heeled  # she is heeled round in the second answer
    for row in (*one["conditions"], *chosen):  # and shares of what is read off the levers
        del row["shares"]["vanishing_angle_deg"], row["shares"]["greatest_gz_m"]
    upright = [row | dict.fromkeys(heeled) for row in chosen]
    assert [row | dict.fromkeys(heeled) for row in one["conditions"]] == upright
    for key in ("hull", "survey", "changes", "replaced"):
        assert one[key] == all_of[key]
    assert one["parts"] == [part | {"effect_gross": None} for part in all_of["parts"]]
    assert one["waterfall"] == all_of["waterfall"] | {"steps": []}
    assert [i | {"effect": None} for i in all_of["items"]] == one["items"]


def test_undo_and_redo_lead_back_and_forth(page):
    start = page.read(full=True).json()
    one = page.put({MOTOR: 55}, "one").json()
    two = page.put({MOTOR: 65}, "two").json()
    assert two["undo_label"] == "two"
    back = page.undo().json()
    assert back["document"] == one["document"]
    assert (back["edit"], back["undo_label"], back["redo_label"]) == (4, "one", "two")
    assert back["partial"] is True
    again = page.undo().json()
    assert again["document"] == start["document"]
    assert page.read(full=True).json()["assessment"] == start["assessment"]
    assert (again["can_undo"], again["can_redo"], again["redo_label"]) == (False, True, "one")
    assert page.redo().json()["document"] == one["document"]
    assert page.redo().json()["document"] == two["document"]
    # a new edit forgets what was undone
    page.undo()
    answer = page.put({MOTOR: 75}, "three").json()
    assert (answer["can_redo"], answer["redo_label"]) == (False, "")


def test_nothing_to_undo_is_reported(page, refused):
    refused(page.undo(), 409, "nothing-to-undo")
    refused(page.redo(), 409, "nothing-to-undo")
    response = page.put({MOTOR: 55})
    assert response.json()["edit"] == 2  # the refused ones counted nothing
    refused(page.write("POST", "/undo", expected=1), 412, "overtaken")


def test_a_drag_is_one_step_of_undo(page):
    start = page.read().json()["document"]
    for mass in (46, 47, 48, 49):
        answer = page.put({MOTOR: mass}, f"motor {mass} kg", gesture="drag-1").json()
    assert answer["undo_label"] == "motor 49 kg"
    other = page.put({MOTOR: 52}, "another", gesture="drag-2").json()
    assert other["edit"] == 6
    back = page.undo().json()
    assert back["document"]["changes"]["drive"]["adds"]["motor"]["mass_kg"] == 49
    assert page.undo().json()["document"] == start
    assert page.redo().json()["undo_label"] == "motor 49 kg"
    # a drag after an undo does not join the one before
    joined = page.put({MOTOR: 60}, "again", gesture="drag-1").json()
    assert joined["can_undo"]
    assert page.undo().json()["document"]["changes"]["drive"]["adds"]["motor"]["mass_kg"] == 49


def test_unknown_conditions_and_options_are_refused_before_anything(page, refused):
    problem = refused(page.read(condition="nowhere"), 422, "unknown-condition")
    assert "nowhere" in problem["detail"]
    problem = refused(page.read(option="nothing"), 422, "unknown-option")
    assert "nothing" in problem["detail"]
    refused(page.put({MOTOR: 55}, condition="nowhere"), 422, "unknown-condition")
    refused(page.put({MOTOR: 55}, query={"option": "nothing"}), 422, "unknown-option")
    page.put({MOTOR: 50})
    refused(page.undo(condition="nowhere"), 422, "unknown-condition")
    refused(page.undo(option="nothing"), 422, "unknown-option")
    assert page.read().json()["edit"] == 2


def test_what_is_looked_at_may_be_taken_away(page):
    harbour = {"like": "cruising", "without": []}
    added = page.put({"conditions.harbour": harbour}, condition="harbour").json()
    assert added["condition"] == "harbour"
    back = page.undo(condition="harbour").json()
    assert back["condition"] == STATE
    page.redo()
    gone = page.put({"conditions.harbour": None}, condition="harbour").json()
    assert gone["condition"] == STATE
    light = {"set": {MOTOR: 40}}
    page.put({"options.light": light})
    seen = page.read(option="light").json()
    assert (seen["option"], seen["options"]) == ("light", ["light"])
    gone = page.put({"options.light": None}, query={"option": "light"}).json()
    assert gone["option"] is None


def motor(answer):
    return answer.json()["document"]["changes"]["drive"]["adds"]["motor"]["mass_kg"]


def test_the_document_is_answered_as_the_option_says_it(page):
    page.put({"options.light": {"set": {MOTOR: 40}}})
    plain, light = page.read(), page.read(option="light")
    assert (motor(plain), motor(light)) == (45, 40)
    plain, light = plain.json(), light.json()
    masses = [t["assessment"]["changes"][0]["added_kg"] for t in (plain, light)]
    assert masses[0] - masses[1] == pytest.approx(5)
    assert light["assessment"]["option"] == "light"


def test_an_edit_under_an_option_lands_in_it_and_is_undone_like_any_other(page):
    ballast = {"adds": {"iron": {"mass_kg": 300, "at_m": [3, 0, -0.4], "from": "drawn"}}}
    page.put({"options.light": {"adds": {"ballast": ballast}}})
    under = {"query": {"option": "light"}}
    iron = "changes.ballast.adds.iron"
    answer = page.put({f"{iron}.mass_kg": 250}, **under).json()
    assert answer["document"]["changes"]["ballast"]["adds"]["iron"]["mass_kg"] == 250
    written = answer["document"]["options"]["light"]
    assert written["adds"]["ballast"]["adds"]["iron"]["mass_kg"] == 250
    assert "ballast" not in page.read().json()["document"]["changes"]
    assert motor(page.put({MOTOR: 40}, **under)) == 40
    assert motor(page.read()) == 45
    gone = page.put({iron: None}, **under).json()
    assert gone["document"]["changes"]["ballast"]["adds"] == {}
    back = page.undo(option="light").json()
    assert back["document"]["changes"]["ballast"]["adds"]["iron"]["mass_kg"] == 250
    assert "mass_kg: 250" in page.saved()


def test_an_edit_under_an_option_that_was_renamed_goes_nowhere(page, refused):
    page.put({"options.light": {"set": {MOTOR: 40}}})
    page.put({"options.light": None, "options.lighter": {"set": {MOTOR: 40}}})
    problem = refused(page.put({MOTOR: 50}, query={"option": "light"}), 422, "unknown-option")
    assert "lighter" in problem["detail"]
    assert motor(page.read()) == 45


def test_what_something_depends_on_is_not_left_out_and_the_refusal_names_it(serve, refused):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    problem = refused(page.put({"changes.deckhouse": None}), 422, "still-needed")
    for words in ("rig (stands on)", "opening side windows (leads to)", "fore dorade"):
        assert words in problem["detail"]
    problem = refused(page.put({"conditions.departure": None}), 422, "still-needed")
    assert "condition arrival (like)" in problem["detail"]
    assert "and 2 more" in problem["detail"]
    wrong = page.put({"rig.stands_on": "changes.deckhouse.parts.hose"})
    assert wrong.json()["code"] == "unknown-name"


def test_an_edit_under_an_option_must_leave_it_buildable(serve):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    height = f"{HOUSE}.side_height_m"
    page.put({"options.tall": {"set": {height: 0.6}}})
    answer = page.put({height: 0.2}, query={"option": "tall"})
    assert answer.status_code == 422
    assert page.read().status_code == 200


LINES = "line,kind,x_m,y_m,z_m\n" + "".join(
    f"{name},{kind},{x},{y},{z}\n"
    for name, kind, y, z in (
        ("centreline", "fair", 0.0, -0.6),
        ("bilge", "chine", 1.1, -0.5),
        ("sheer", "sheer", 1.3, 0.9),
    )
    for x in (0.0, 4.0, 8.0)
)


def test_lines_from_a_table(page, refused):
    answer = page.write("POST", "/lines", json={"csv": LINES})
    body = answer.json()
    assert answer.status_code == 200
    assert (body["edit"], body["undo_label"]) == (2, "lines from a table")
    assert body["assessment"]["hull"]["length_m"] == pytest.approx(8.0)
    assert list(body["document"]["hull"]["lines"]) == ["centreline", "bilge", "sheer"]
    wrong = LINES.replace("sheer,sheer,4.0", "sheer,sheer,four")
    refused(page.write("POST", "/lines", json={"csv": wrong}), 422, "bad-row")
    refused(page.write("POST", "/lines", json={"csv": "nothing"}), 422, "not-a-lines-table")
    assert page.read().json()["edit"] == 2
    assert page.undo().json()["assessment"]["hull"]["length_m"] == pytest.approx(9.1)


def test_the_answer_is_the_command_lines(saltmarrow):
    from refits import demo, demo_answer

    from hullchange.assess.held import held_in

    answer = saltmarrow.read(full=True).json()["assessment"]
    looked_at = held_in(demo_answer(), demo()[0], STATE)
    expected = json.loads(looked_at.model_dump_json())
    assert answer == expected


def test_who_reads_after_a_drag_is_told_every_effect(serve):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    dragged = page.put({f"{HOUSE}.side_height_m": 0.6}, gesture="drag").json()["assessment"][
        "changes"
    ]
    assert not all(change["effect"] for change in dragged)  # most are as they were
    read = page.read().json()["assessment"]["changes"]
    assert all(change["effect"] for change in read)


def test_readers_of_an_unchanged_refit_share_one_answer(serve, monkeypatch):
    page = serve()
    page.put({"changes.drive.adds.motor.mass_kg": 91.5})
    page.saved()
    first = page.read(full=True)
    added, keep = [], Recent.keep

    def counting(self, key, value):
        added.append(key)
        keep(self, key, value)

    monkeypatch.setattr(Recent, "keep", counting)
    monkeypatch.setattr(working_copies, "Working", None)  # none is made
    assert [page.read(full=True).content for _ in range(3)] == [first.content] * 3
    assert added == []
    copies = page.client.app.state.copies
    one, other = (copies.answer_text(page.copy, View(), full=True)[1] for _ in range(2))
    assert one is other


def test_steel_in_steel_is_sought_again_when_a_drag_rests(serve):
    def plate(x):
        corners = [[x, 0.2, 1.1], [x + 0.5, 0.2, 1.1], [x, 0.2, 1.6]]
        return {"kind": "plating", "corners_m": corners, "thickness_mm": 6, "mirrored": True}

    def collides(response):
        found = response.json()["assessment"]["findings"]
        return "pieces-collide" in [one["code"] for one in found]

    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    one, other = (f"changes.arch.parts.{name}" for name in ("one", "other"))
    assert collides(page.put({one: plate(11.0), other: plate(11.1)}))
    for x in (11.6, 11.8):  # as it was before the drag
        assert collides(page.put({other: plate(x)}, gesture="drag"))
    assert not collides(page.read(full=True))
    for x in (11.5, 11.2):
        assert not collides(page.put({other: plate(x)}, gesture="back"))
    assert collides(page.read(full=True))
