from __future__ import annotations

import importlib.util
from io import BytesIO

import pytest
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from midframe.battery.reader import installed_engine, read_photo
from midframe.faults import BadSetting, LogFault

LINES = ("Nominal Voltage: 3.88V", "Rated Capacity: 4880mAh 18.93Wh", "Typical Capacity: 5000mAh 19.40Wh")
HAS_READER = importlib.util.find_spec("rapidocr") is not None


def picture(turn=0, size=(900, 300)):
    image = Image.new("RGB", size, "white")
    draw = ImageDraw.Draw(image)
    for number, line in enumerate(LINES):
        draw.text((30, 30 + 80 * number), line, "black", font=ImageFont.load_default(size=34))
    data = BytesIO()
    image.rotate(turn, expand=True).save(data, "PNG")
    return data.getvalue()


def upright_only(array):
    """A stand-in for the reader: reads well when the picture is wider than high and not upside down."""
    rows, columns, _ = array.shape
    if columns < rows:
        return [("|||", 0.2)]
    return (
        [(line, 0.9) for line in LINES]
        if array[: rows // 2].mean() < array[rows // 2 :].mean()
        else [("WAh", 0.3)]
    )


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_photo_is_read_in_the_turn_that_gives_most(turn):
    read = read_photo(picture(turn), upright_only)
    assert [(one.kind, one.value) for one in read.figures] == [
        ("nominal", 3.88),
        ("rated", 4880.0),
        ("rated", 18.93),
        ("typical", 5000.0),
        ("typical", 19.4),
    ]
    assert (read.turned_degrees + turn) % 360 == 0


def test_what_was_read_is_a_proposal_until_a_person_has_looked():
    read = read_photo(picture(), upright_only)
    assert not read.unconfirmed().confirmed
    assert read.confirmed().confirmed
    assert read.confirmed(read.figures[:1]).figures == read.figures[:1]


def test_a_photo_without_any_figure_gives_none():
    assert read_photo(picture(), lambda _: []).figures == ()


@pytest.mark.parametrize(("data", "words"), [(b"", "an empty file"), (b"\x00\x01 no picture", "no picture")])
def test_what_is_no_picture_is_refused_by_name(data, words):
    with pytest.raises(LogFault, match=rf"label\.jpg: found {words}"):
        read_photo(data, upright_only, name="label.jpg")


@pytest.mark.skipif(HAS_READER, reason="the reader is installed here")
def test_without_the_reader_the_message_says_how_to_install_it_or_to_type():
    with pytest.raises(BadSetting) as fault:
        installed_engine()
    assert "pip install rapidocr onnxruntime" in str(fault.value)


@pytest.mark.slow
@pytest.mark.skipif(not HAS_READER, reason="the extra reader (rapidocr, onnxruntime) is not installed")
@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_the_installed_reader_reads_a_printed_label_in_any_turn(turn):
    found = {(one.quantity, one.kind): one.value for one in read_photo(picture(turn)).figures}
    assert found["charge", "rated"] == 4880
    assert found["charge", "typical"] == 5000
    assert found["energy", "rated"] == 18.93
    assert found["voltage", "nominal"] == 3.88


@pytest.mark.slow
@pytest.mark.skipif(not HAS_READER, reason="the extra reader (rapidocr, onnxruntime) is not installed")
@pytest.mark.parametrize("spoil", ["blurred", "skewed", "pale", "askew"])
def test_the_installed_reader_reads_a_spoilt_photo_of_a_terse_label(spoil):
    lines = (
        "Li-ion Battery 3.88V",
        "Typ. 4492mAh 17.42Wh  Min. 4404mAh 17.08Wh",
        "Charging limit voltage 4.48V",
    )
    ink = (150, 149, 145) if spoil == "pale" else "black"
    image = Image.new("RGB", (1100, 420), (225, 224, 215))
    for number, line in enumerate(lines):
        ImageDraw.Draw(image).text((60, 60 + 90 * number), line, ink, font=ImageFont.load_default(size=36))
    if spoil == "blurred":
        image = image.filter(ImageFilter.GaussianBlur(2))
    if spoil == "skewed":
        corners = (0, 0, 60, 420, 1070, 370, 1100, 30)
        image = image.transform(image.size, Image.Transform.QUAD, corners)
    if spoil == "askew":
        image = image.rotate(8, expand=True, fillcolor=(60, 62, 66))
    data = BytesIO()
    image.save(data, "JPEG", quality=70)
    found = {(one.quantity, one.kind): one.value for one in read_photo(data.getvalue()).figures}
    assert found["charge", "rated"] == 4404
    assert found["charge", "typical"] == 4492
    assert found["energy", "rated"] == 17.08
    assert found["voltage", "limit"] == 4.48
