"""Screws: the tally, kinds that are mistaken for each other, wrong-hole hazards, torque, mass."""

from midframe.screws.count_back import CountBack, Driven, EmptyHole, Found, KindCount
from midframe.screws.hazards import EFFECTS, WrongHole, wrong_holes
from midframe.screws.kinds import CoverLine, Group, Kind, KindLine, Tally, cover_of, groups, tally
from midframe.screws.mass import mass_g
from midframe.screws.mistaken import Mistaken, mistaken
from midframe.screws.torque import Torque, torque

__all__ = [
    "EFFECTS",
    "CountBack",
    "CoverLine",
    "Driven",
    "EmptyHole",
    "Found",
    "Group",
    "Kind",
    "KindCount",
    "KindLine",
    "Mistaken",
    "Tally",
    "Torque",
    "WrongHole",
    "cover_of",
    "groups",
    "mass_g",
    "mistaken",
    "tally",
    "torque",
    "wrong_holes",
]
