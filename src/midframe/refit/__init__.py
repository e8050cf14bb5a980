"""Refit: bonds from outlines, adhesives, the weighing before and after."""

from midframe.refit.adhesives import Adhesive, adhesive
from midframe.refit.bonds import Bond, bond
from midframe.refit.weigh import Scale, WeighCheck, weigh_check

__all__ = ["Adhesive", "Bond", "Scale", "WeighCheck", "adhesive", "bond", "weigh_check"]
