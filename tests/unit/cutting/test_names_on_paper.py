"""Names in any script on paper and in files that hold nothing but ASCII."""

from contextlib import closing
from io import BytesIO

import pypdfium2
import pytest

from hullchange.cutting import drawing
from hullchange.cutting.drawing import draw_text, font_and_text, new_canvas, width_of
from hullchange.latin import ascii_of
from hullchange.shop.dxf import dxf_of
from hullchange.shop.picture import Picture


@pytest.mark.parametrize(
    ("words", "shown", "face"),
    [
        ("Dot, 4 mm ± 0.5°", "Dot, 4 mm ± 0.5°", "Helvetica"),
        ("Åse, Été", "Åse, Été", "Helvetica"),
        ("Чайка, Łódź, Αιγαίο, −3 ≥ 2", "Чайка, Łódź, Αιγαίο, −3 ≥ 2", "DejaVuSans"),
        ("船 Łódź", "? Łódź", "DejaVuSans"),
    ],
)
def test_a_name_in_any_script_is_on_paper(words, shown, face):
    stream = BytesIO()
    canvas = new_canvas(stream, (210.0, 297.0), words)
    draw_text(canvas, (20.0, 20.0), words)
    canvas.save()
    with closing(pypdfium2.PdfDocument(stream.getvalue())) as paper:
        assert paper[0].get_textpage().get_text_range() == shown
        assert paper.get_metadata_value("Title") == words
    assert font_and_text(words)[0] == face


def test_where_no_wider_face_is_installed_a_name_is_read_in_latin(monkeypatch):
    monkeypatch.setattr(drawing, "_wider_face", lambda _: None)
    assert font_and_text("Чайка ≥ 船") == ("Helvetica", "Chayka ? ?")


def test_a_comment_of_a_dxf_reads_a_name_in_latin():
    assert dxf_of(Picture(), ("Чайка Åse",)).startswith("999\nChayka Ase\n")
    assert ascii_of("船 Ёж") == "? Ezh"


def test_a_label_is_fitted_by_the_face_it_is_written_in():
    assert width_of("Чайка", 9) > width_of("Чай", 9) > 0.0
