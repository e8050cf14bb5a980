"""What goes on paper or on a page: the section through the stack, the plan, the work instruction."""

from midframe.publish.contents import Instruction
from midframe.publish.instruction import instruction
from midframe.publish.plan import plan_drawing
from midframe.publish.render import PAPERS, to_html, to_markdown
from midframe.publish.section import stack_drawing
from midframe.publish.svg import standalone, style
from midframe.ways.backward import BackMove, backward

__all__ = [
    "PAPERS",
    "BackMove",
    "Instruction",
    "backward",
    "instruction",
    "plan_drawing",
    "stack_drawing",
    "standalone",
    "style",
    "to_html",
    "to_markdown",
]
