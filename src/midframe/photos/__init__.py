"""Photos: cleaned and shrunk, blacked out, measured in millimetres; bytes in, bytes out."""

from midframe.photos.black_out import black_out
from midframe.photos.clean import MOST_PIXELS, CleanPhoto, adopt, clean
from midframe.photos.covers import Cover, assume, covers
from midframe.photos.overlap import area_mm2, overlap_mm2
from midframe.photos.rectify import Rectify
from midframe.photos.segments import segments

__all__ = [
    "MOST_PIXELS",
    "CleanPhoto",
    "Cover",
    "Rectify",
    "adopt",
    "area_mm2",
    "assume",
    "black_out",
    "clean",
    "covers",
    "overlap_mm2",
    "segments",
]
