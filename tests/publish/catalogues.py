"""What the tests of the catalogues read: messages with their variables, and who says them."""

from __future__ import annotations

import ast
from functools import cache

from fluent.syntax import ast as ftl
from fluent.syntax import visitor
from jinja2 import nodes

from house.tree import PACKAGE, modules, tree
from midframe.publish.language import resources
from midframe.publish.templating import environment

TEMPLATES = PACKAGE / "publish" / "templates"


class Reader(visitor.Visitor):
    """Collects the variables of a message, those that choose, the messages it takes in, texts, forms."""

    def __init__(self):
        self.variables, self.inner, self.texts, self.forms, self.selectors = set(), set(), [], [], set()

    def visit_VariableReference(self, node):  # noqa: N802 - named by the library
        self.variables.add(node.id.name)

    def visit_MessageReference(self, node):  # noqa: N802 - named by the library
        self.inner.add(node.id.name)

    def visit_TextElement(self, node):  # noqa: N802 - named by the library
        self.texts.append(node.value)

    def visit_SelectExpression(self, node):  # noqa: N802 - named by the library
        self.selectors.add(node.selector.id.name)
        self.forms.append({getattr(v.key, "name", None) or v.key.value for v in node.variants})
        self.generic_visit(node)


@cache
def read(code):
    """Every message of a language by key: its file, and what `Reader` finds in it."""
    found = {}
    for name, resource in resources(code).items():
        for entry in resource.body:
            if isinstance(entry, ftl.Message):
                reader = Reader()
                reader.visit(entry.value)
                found[entry.id.name] = (name, reader)
    return found


def variables(code, key):
    """The variables that a message wants, with those of the messages it takes in."""
    _, reader = read(code)[key]
    return reader.variables.union(*(variables(code, inner) for inner in reader.inner))


def selectors(code, key):
    """The variables that choose between the forms of a message; other values may stand in some forms only."""
    _, reader = read(code)[key]
    return reader.selectors.union(*(selectors(code, inner) for inner in reader.inner))


def templates():
    """Every template of the package: name and parsed tree."""
    made = environment(markup=True)
    for path in sorted(TEMPLATES.rglob("*")):
        if path.suffix in (".html", ".md") or path.name == "running.css":
            yield path.relative_to(TEMPLATES).as_posix(), made.parse(path.read_text(encoding="utf-8"))


def constants(node):
    """The keys that the first argument of a call may be."""
    if isinstance(node, nodes.Const):
        return {node.value}
    if isinstance(node, nodes.CondExpr):
        return constants(node.expr1) | constants(node.expr2)
    return set()


def said_in_templates():
    """Keys that templates say, with the values they give: (where, key, names)."""
    for name, parsed in templates():
        for call in parsed.find_all(nodes.Call):
            if isinstance(call.node, nodes.Name) and call.node.name == "say":
                for key in constants(call.args[0]):
                    yield name, key, {word.key for word in call.kwargs}
        for call in parsed.find_all(nodes.Filter):
            if call.name == "joined":
                yield name, call.args[0].value, set()


@cache
def calls_of_say():
    """Every `.say(key, …)` and `say(key, …)` of the package: file and call."""
    speaking = (path for path in modules() if "say(" in path.read_text(encoding="utf-8"))
    return tuple(
        (path, node)
        for path in speaking
        for node in ast.walk(tree(path))
        if isinstance(node, ast.Call)
        and getattr(node.func, "attr", getattr(node.func, "id", "")) == "say"
        and node.args
    )


def said_in_code():
    """The same for code, where the key stands there."""
    for path, call in calls_of_say():
        if isinstance(call.args[0], ast.Constant):
            yield path.name, call.args[0].value, {word.arg for word in call.keywords}


def begun_in_code():
    """How keys begin that code puts together: `say(f"caution-{key}-title")`."""
    for _, call in calls_of_say():
        if isinstance(call.args[0], ast.JoinedStr) and isinstance(call.args[0].values[0], ast.Constant):
            yield call.args[0].values[0].value


def chosen_in_code():
    """Strings of the modules that say what a name holds: one of them is the key."""
    for path in {path for path, call in calls_of_say() if isinstance(call.args[0], ast.Name)}:
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield node.value
