"""Marks of a photograph over HTTP: kept in the document, laid in, looked at by a reviewer."""

import numpy as np

from hullchange.photograph.camera import Camera

WIDTH, HEIGHT = 2000, 1500
NAMES = (
    *("stem-head", "transom-starboard", "mark-forward-starboard", "mark-aft-starboard"),
    *("old-house-forward-roof-port", "old-house-after-roof-starboard", "keel-after"),
)


def looking(at, towards):
    ahead = np.subtract(towards, at) / np.linalg.norm(np.subtract(towards, at))
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    turn = np.array([right, np.cross(ahead, right), ahead])
    return Camera(np.array(at, float), turn, 1800.0, np.array([WIDTH, HEIGHT]) / 2.0)


CAMERA = looking([-4.0, 12.0, 3.0], [5.0, 0.0, 0.5])


def marked(saltmarrow, names=NAMES, camera=CAMERA, more=None):
    """Keeps marks of a photograph with the boat."""
    places = saltmarrow.client.get(saltmarrow.address + "/photograph/places").json()
    known = {place["id"]: place["at_m"] for place in places}
    marks = {name: {"at_percent": percent(camera, known[name])} for name in names}
    saltmarrow.read()
    about = {"file": "quay.jpg", "width_px": WIDTH, "height_px": HEIGHT}
    return saltmarrow.put({"photographs.quay": about | {"marks": marks | (more or {})}})


def percent(camera, at):
    return (camera.pixels(np.array([at]))[0] / [WIDTH, HEIGHT] * 100.0).tolist()


def laid(saltmarrow, **query):
    address = saltmarrow.address + "/photograph"
    return saltmarrow.client.get(address, params={"name": "quay"} | query)


def test_marks_are_kept_with_the_boat_and_the_refit_is_laid_in(saltmarrow):
    hatch = [1.0, 0.3, 1.4]
    own = {"hatch": {"at_percent": percent(CAMERA, hatch), "place_m": hatch}}
    assert marked(saltmarrow, more=own).status_code == 200
    answer = laid(saltmarrow, condition="departure").json()
    assert answer["off_px"] < 0.05
    assert [mark["id"] for mark in answer["marks"]] == [*NAMES, "hatch"]
    assert answer["marks"][0]["name"] == "stem head, on the centreline"
    assert {face["role"] for face in answer["faces"]} == {"part", "glass", "hides"}
    assert [line["id"] for line in answer["waterlines"]] == ["as_found", "refit"]
    assert all(line["pieces_px"] for line in answer["waterlines"])
    assert [weight["mass_kg"] for weight in answer["weights"]][-1] == 148.0


def test_what_cannot_be_solved_is_refused(saltmarrow, refused):
    refused(laid(saltmarrow, name="none"), 422, "unknown-name")
    marked(saltmarrow, NAMES[:5])
    refused(laid(saltmarrow), 422, "too-few-marks")
    marked(saltmarrow, camera=looking([-40.0, 220.0, 3.0], [5.0, 0.0, 0.5]))
    refused(laid(saltmarrow), 422, "marks-clustered")
    marked(saltmarrow, more={NAMES[0]: {"at_percent": [3.0, 90.0]}})
    refused(laid(saltmarrow), 422, "marks-disagree")
    refused(laid(saltmarrow, condition="none"), 422, "unknown-condition")
