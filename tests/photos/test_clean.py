from __future__ import annotations

import hashlib
import io
import random
import struct
import zlib

import pytest
from PIL import Image, ImageChops, ImageStat

from midframe.faults import BadPhoto, TooLarge
from midframe.photos import adopt, clean, segments
from photos.pictures import SECRET, exif, laden, opened, saved, scene, srgb

KINDS = ("JPEG", "PNG", "WEBP")
NEEDED = {"start", "jfif", "quantisation", "huffman", "frame", "scan", "end"}


def sizes(photo):
    return (photo.full, photo.medium, photo.small)


@pytest.mark.parametrize("kind", KINDS)
def test_no_size_carries_anything_but_the_picture(kind):
    data = laden(kind)
    assert SECRET in data or kind == "PNG"
    for made in sizes(clean(data)):
        assert set(segments(made)) == NEEDED
        assert SECRET not in made
        assert opened(made).getexif() == {}
        assert {"icc_profile", "comment", "exif", "xmp"}.isdisjoint(opened(made).info)


def test_the_segments_told_agree_with_those_that_the_image_library_reads():
    image = opened(laden("JPEG"))
    applications = [f"application {name[3:]}" for name, _ in image.applist if name.startswith("APP")]
    told = [name for name in segments(laden("JPEG")) if name.startswith(("application", "jfif"))]
    assert [name.replace("jfif", "application 0") for name in told] == applications
    assert "comment" in segments(laden("JPEG"))


def test_the_hash_is_the_sha256_of_the_full_picture_and_the_same_bytes_give_the_same():
    one, two = clean(laden()), clean(laden())
    assert one == two
    assert one.hash == hashlib.sha256(one.full).hexdigest()
    assert (one.width, one.height) == opened(one.full).size


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_comes_out_upright(kind, orientation):
    wanted = scene()
    # The turn that a camera held that way would have recorded: the inverse of what the tag asks for.
    turn = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }.get(orientation)
    recorded = wanted if turn is None else wanted.transpose(turn)
    made = opened(clean(laden(kind, recorded, orientation)).full)
    assert made.size == wanted.size
    for place in ((40, 30), (280, 30), (40, 200)):
        assert max(abs(a - b) for a, b in zip(made.getpixel(place), wanted.getpixel(place), strict=True)) < 12


def test_sizes_are_bounded_and_nothing_is_enlarged():
    large = clean(saved(scene(4800, 1200)))
    assert [opened(made).size for made in sizes(large)] == [(4096, 1024), (1600, 400), (320, 80)]
    tiny = clean(saved(scene(20, 10), "PNG"))
    assert {opened(made).size for made in sizes(tiny)} == {(20, 10)}


def test_a_strip_one_pixel_high_keeps_a_pixel():
    assert opened(clean(saved(Image.new("RGB", (5000, 1)), "PNG")).small).size == (320, 1)


def test_colours_are_moved_from_the_profile_of_the_file_to_srgb():
    # A profile whose red and green primaries are exchanged: its pure green is what sRGB calls red.
    profile = srgb().replace(b"rXYZ", b"----", 1).replace(b"gXYZ", b"rXYZ", 1).replace(b"----", b"gXYZ", 1)
    green = Image.new("RGB", (16, 16), (0, 255, 0))
    for kind in ("PNG", "JPEG", "WEBP"):
        red, other, blue = opened(clean(saved(green, kind, icc_profile=profile)).full).getpixel((8, 8))
        assert (red > 245, other < 12, blue < 12) == (True, True, True), kind


def test_a_broken_profile_does_not_cost_the_picture():
    made = opened(clean(saved(scene(), icc_profile=b"no profile at all")).full)
    assert made.getpixel((40, 30))[0] > 150


@pytest.mark.filterwarnings("ignore:Corrupt EXIF")
def test_a_broken_orientation_tag_does_not_cost_the_picture():
    assert opened(clean(saved(scene(), exif=b"Exif\x00\x00MM\x00*\xff\xff\xff\xff")).full).size == (320, 240)


def test_transparency_is_laid_on_white():
    image = Image.new("RGBA", (16, 16), (255, 0, 0, 0))
    assert opened(clean(saved(image, "PNG")).full).getpixel((8, 8)) == (255, 255, 255)


def test_a_palette_with_one_transparent_colour_is_laid_on_white():
    image = Image.new("P", (16, 16), 3)
    image.putpalette([value for index in range(256) for value in (index, 0, 0)])
    assert opened(clean(saved(image, "PNG", transparency=3)).full).getpixel((8, 8)) == (255, 255, 255)


def test_sixteen_bits_of_grey_are_scaled_not_cut_off():
    image = Image.new("I;16", (16, 16), 32_896)
    assert abs(opened(clean(saved(image, "PNG")).full).getpixel((8, 8))[0] - 128) <= 1


def test_cyan_magenta_yellow_and_black_are_turned_into_red_green_blue():
    image = Image.new("CMYK", (16, 16), (0, 255, 255, 0))
    red, green, blue = opened(clean(saved(image)).full).getpixel((8, 8))
    assert red > 200 > 60 > max(green, blue)


def test_a_file_of_several_pictures_gives_its_first():
    target = io.BytesIO()
    scene().save(target, format="MPO", save_all=True, append_images=[Image.new("RGB", (320, 240), "white")])
    made = clean(target.getvalue())
    assert set(segments(made.full)) == NEEDED
    assert opened(made.full).getpixel((40, 30))[0] > 150
    moving = saved(scene(), "WEBP", save_all=True, append_images=[Image.new("RGB", (320, 240))])
    assert opened(clean(moving).full).getpixel((40, 30))[0] > 150


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("kept", [0.3, 0.6, 0.9])
def test_a_file_that_breaks_off_is_refused(kind, kept):
    data = saved(scene(), kind)
    with pytest.raises(BadPhoto, match=r"found a broken picture|found a file that is no picture"):
        clean(data[: int(len(data) * kept)])


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "an empty file"),
        (b"GIF89a" + b"\x00" * 40, "no picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "no picture"),
        (b"%PDF-1.7", "no picture"),
        (b"\xff\xd8\xff\xe0 not really", "picture"),
        (b"\x89PNG\r\n\x1a\n" + b"lies" * 20, "picture"),
        (b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00", "HEIF picture"),
    ],
)
def test_what_is_no_photo_is_refused_and_told(data, said):
    with pytest.raises(BadPhoto, match=said) as fault:
        clean(data)
    assert "right:" in str(fault.value)


@pytest.mark.parametrize("kind", ["GIF", "TIFF", "BMP", "PPM"])
def test_pictures_of_other_formats_are_refused(kind):
    with pytest.raises(BadPhoto, match="right: a JPEG, PNG or WebP file"):
        clean(saved(scene(), kind))


def test_too_many_pixels_are_refused_with_their_number():
    with pytest.raises(TooLarge, match="found 320 × 240 pixels; right: at most 1,000 pixels"):
        clean(saved(scene()), most_pixels=1_000)


@pytest.mark.parametrize("side", [9_000, 12_000, 30_000])
def test_a_small_file_of_many_pixels_is_refused_before_it_is_decoded(side):
    def chunk(name, content):
        return (
            struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
        )

    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    bomb = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")
    with pytest.raises(TooLarge, match="pixels"):
        clean(bomb)


@pytest.mark.parametrize("kind", KINDS)
def test_damaged_bytes_give_a_photo_or_a_fault_and_nothing_else(kind):
    rng = random.Random(7)
    data = laden(kind, scene(64, 48))
    refused = 0
    for _ in range(150):
        damaged = bytearray(data)
        for _ in range(rng.randrange(1, 6)):
            damaged[rng.randrange(len(damaged))] = rng.randrange(256)
        try:
            made = clean(bytes(damaged[: rng.randrange(len(damaged) // 2, len(damaged) + 1)]))
        except (BadPhoto, TooLarge):
            refused += 1
        else:
            assert all(set(segments(one)) == NEEDED for one in sizes(made))
    assert refused > 20


def test_a_photo_of_our_own_is_adopted_byte_for_byte():
    photo = clean(laden())
    assert adopt(photo.full) == photo


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda full: laden(), "application 1"),
        (lambda full: saved(scene(), comment=b"note"), "comment"),
        (lambda full: saved(scene(), icc_profile=srgb()), "application 2"),
        (lambda full: saved(scene(), exif=exif()), "application 1"),
        (lambda full: full + b"PK\x03\x04", "trailing bytes"),
        (lambda full: full[:-200], "breaks off"),
        (lambda full: full[:30], "breaks off"),
        (lambda full: saved(scene(), "PNG"), "no JPEG"),
    ],
)
def test_a_picture_with_anything_attached_is_not_adopted(spoil, said):
    with pytest.raises(BadPhoto, match=said):
        adopt(spoil(clean(laden()).full))


def test_a_thumbnail_within_the_first_segment_is_found():
    full = clean(laden()).full
    # Length 0x13: the 14 bytes of the segment, and one pixel of thumbnail behind them.
    hidden = full[:4] + b"\x00\x13" + full[6:18] + b"\x01\x01" + b"\x00\x00\x00" + full[20:]
    assert "jfif with a thumbnail" in segments(hidden)
    with pytest.raises(BadPhoto, match="thumbnail"):
        adopt(hidden)


def test_the_small_sizes_show_the_same_picture():
    photo = clean(saved(scene(800, 600), quality=95))
    small = opened(photo.full).resize(opened(photo.small).size, Image.Resampling.LANCZOS)
    assert max(ImageStat.Stat(ImageChops.difference(small, opened(photo.small))).mean) < 2
