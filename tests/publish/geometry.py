"""What a PDF draws, read from its content streams: lines and closed curves in millimetres on paper."""

from __future__ import annotations

import io

from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 25.4 / 72
IDENTITY = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def times(inner, outer):
    """The matrix that applies `inner`, then `outer`."""
    a, b, c, d, e, f = inner
    g, h, i, j, k, m = outer
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def at(matrix, x, y):
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


PAINT = (b"S", b"s", b"f", b"f*", b"B", b"B*", b"b", b"b*")


def extend(paths, operator, values, matrix):
    """Take one operator of path construction to the subpaths."""
    if operator == b"re":
        x, y, wide, high = values
        corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        paths.append([at(matrix, *corner) for corner in corners])
    elif operator == b"m":
        paths.append([at(matrix, *values)])
    else:
        paths[-1].append(at(matrix, *values[-2:]))


class Drawn:
    """Painted subpaths of one page, points in millimetres from the top left corner of the paper."""

    def __init__(self, page, reader):
        self.high = float(page.mediabox.height)
        self.size_mm = (float(page.mediabox.width) * MM, self.high * MM)
        self.paths = []
        self.walk(ContentStream(page.get_contents(), reader), page["/Resources"], IDENTITY, reader)

    def walk(self, stream, resources, matrix, reader):
        """Follow the operators; forms are walked in their place."""
        kept, current = [], []
        for operands, operator in stream.operations:
            if operator == b"q":
                kept.append(matrix)
            elif operator == b"Q":
                matrix = kept.pop()
            elif operator == b"cm":
                matrix = times(list(map(float, operands)), matrix)
            elif operator in (b"m", b"l", b"c", b"re"):
                extend(current, operator, list(map(float, operands)), matrix)
            elif operator in PAINT:
                self.paths += [[(x * MM, (self.high - y) * MM) for x, y in path] for path in current]
                current = []
            elif operator == b"n":
                current = []
            elif operator == b"Do":
                self.enter(resources["/XObject"][operands[0]].get_object(), resources, matrix, reader)

    def enter(self, form, resources, matrix, reader):
        """Walk a form in its place; images are passed over."""
        if form["/Subtype"] == "/Form":
            inner = times([float(v) for v in form.get("/Matrix", IDENTITY)], matrix)
            self.walk(ContentStream(form, reader), form.get("/Resources", resources), inner, reader)

    @property
    def lines(self):
        """Straight lines as pairs of points."""
        return [(path[0], path[1]) for path in self.paths if len(path) == 2]

    @property
    def centres(self):
        """Centres of all closed paths: the middle of their points' extent."""
        return [middle(path) for path in self.paths if len(path) > 3]


def middle(path):
    xs, ys = zip(*path, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def pages(pdf):
    """Every page of a PDF, read."""
    reader = PdfReader(io.BytesIO(pdf))
    return [Drawn(page, reader) for page in reader.pages]
