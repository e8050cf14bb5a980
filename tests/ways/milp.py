"""An independent model of one target for a constraint solver (CP-SAT), straight from the record.

It shares no code with the search and none with the referee. Limits, checked by
`fits`: every part sits on the body and every rigid joint holds the body, so
that every lift is a single part; each way of opening is one operation with a
tool, neither heating nor cleaning; a spare is no bundle. Readings are the default ones.

Work is cut into blocks. For steps a block is one step: it has one set of tools
and at most one removal, the last thing in it. For seconds a block is one
set-up: one set of tools and one side up; ranks order what is in it, so that
two parts cannot vouch for each other.
"""

from __future__ import annotations

from ortools.sat.python import cp_model

from midframe.ways.bench import CONSUMABLES, Bench, is_cleaning, is_heating

TICK = 1000


def fits(record):
    """Whether the record keeps to the limits of the model."""
    body = record.device.body
    seats = all(part.seat == body for part in record.parts if part.id != body)
    held = all(joint.tether or body in joint.holds for joint in record.joints)
    single = all(
        len(way) == 1 and way[0].tools and not is_heating(way[0]) and not is_cleaning(way[0])
        for joint in record.joints
        for way in Bench().operations(joint)
    )
    return seats and held and single and not any(part.bundle for part in record.parts)


class Action:
    """One move: what it makes true, groups of alternatives it needs, tools, side, seconds."""

    def __init__(self, name, gives, needs, tools, side, seconds):
        self.name, self.gives, self.needs = name, gives, needs
        real = [tool for tool in tools if tool not in CONSUMABLES] or list(tools)
        self.tools, self.side, self.ticks = frozenset(real), side, round(seconds * TICK)
        self.removal = gives[0] == "aside"
        self.extra = max(0, len(self.tools) - 1)


def actions(record, bench):
    """Every move of the record as an action."""
    body = record.device.body
    made = []
    for joint in record.joints:
        needs = [[[("aside", one) for one in way] for way in joint.behind]] if joint.behind else []
        for number, way in enumerate(bench.operations(joint)):
            step = way[0]
            gives = ("open", joint.id)
            made.append(Action((joint.id, number), gives, needs, step.tools, joint.face, step.seconds or 0.0))
    for part in record.parts:
        if part.id == body:
            continue
        rigid = [joint for joint in record.joints if part.id in joint.holds and not joint.tether]
        needs = [[[("open", joint.id)]] for joint in rigid]
        if part.under:
            needs.append([[("aside", one) for one in way] for way in part.under])
        side = part.face if part.face is not None else (rigid[-1].face if rigid else None)
        tools = part.lift.tools if part.lift is not None else ()
        seconds = bench.lift_seconds
        if part.lift is not None and part.lift.seconds is not None:
            seconds = part.lift.seconds
        made.append(Action((part.id, 0), ("aside", part.id), needs, tools, side, seconds))
    return made


def goals(record, target):
    """The facts that mean the target is out."""
    return [("aside", target), *(("open", joint.id) for joint in record.joints if target in joint.holds)]


def needed(made, goal):
    """Actions that any way to the goal could use, by following every condition backwards."""
    ahead, facts = list(goal), set(goal)
    chosen = []
    while ahead:
        fact = ahead.pop()
        for action in made:
            if action.gives == fact:
                chosen.append(action)
                for other in {one for group in action.needs for way in group for one in way} - facts:
                    facts.add(other)
                    ahead.append(other)
    return chosen


def some_order(made, goal):
    """Any order in which all that can be done is done, or None where the goal stays out of reach."""
    true, order, left = set(), [], list(made)
    while True:
        for action in left:
            if action.gives in true or all(
                any(true.issuperset(way) for way in group) for group in action.needs
            ):
                left.remove(action)
                if action.gives not in true:
                    order.append(action)
                    true.add(action.gives)
                break
        else:
            return order if true.issuperset(goal) else None


class Model:
    """The model of one target under one objective with a number of blocks; `solve` gives status and value."""

    def __init__(self, chosen, goal, bench, objective, blocks):
        self.chosen, self.bench, self.objective, self.blocks = chosen, bench, objective, blocks
        self.model = cp_model.CpModel()
        self.placed = [[self.model.new_bool_var("") for _ in range(blocks)] for _ in range(len(chosen))]
        self.done = [self.model.new_bool_var("") for _ in chosen]
        self.block = [self.model.new_int_var(0, blocks - 1, "") for _ in chosen]
        self.rank = [self.model.new_int_var(0, len(chosen), "") for _ in chosen]
        for index in range(len(chosen)):
            self.model.add(sum(self.placed[index]) == self.done[index])
            for number in range(blocks):
                self.model.add(self.block[index] == number).only_enforce_if(self.placed[index][number])
        self.makers = {}
        for index, action in enumerate(chosen):
            self.makers.setdefault(action.gives, []).append(index)
        for makers in self.makers.values():
            self.model.add_at_most_one(self.done[index] for index in makers)
        for fact in goal:
            self.model.add_at_least_one([self.done[index] for index in self.makers[fact]])
        for index, action in enumerate(chosen):
            for group in action.needs:
                self.require(index, group)
        (self.steps if objective == "steps" else self.seconds)()

    def require(self, index, group):
        """If the action is done, one alternative of the group is wholly done before it."""
        literals = []
        for way in group:
            if all(fact in self.makers for fact in way):
                literal = self.model.new_bool_var("")
                literals.append(literal)
                for fact in way:
                    self.before(literal, fact, index)
        self.model.add_bool_or([*literals, self.done[index].negated()])

    def before(self, literal, fact, index):
        """If the literal holds, the fact is made before the action, by block and, within one, by rank."""
        makers = self.makers[fact]
        self.model.add_at_least_one([*(self.done[one] for one in makers), literal.negated()])
        for one in makers:
            both = [literal, self.done[one], self.done[index]]
            if self.objective == "steps":
                gap = 1 if self.chosen[one].removal else 0
                self.model.add(self.block[one] + gap <= self.block[index]).only_enforce_if(both)
            else:
                self.model.add(self.block[one] <= self.block[index]).only_enforce_if(both)
                self.model.add(self.rank[one] + 1 <= self.rank[index]).only_enforce_if(both)

    def one_of(self, names):
        """A choice per block among names, nothing included."""
        chosen = [{name: self.model.new_bool_var("") for name in names} for _ in range(self.blocks)]
        for block in chosen:
            self.model.add_exactly_one(block.values())
        return chosen

    def steps(self):
        """A block is a step: one set of tools, one removal, used blocks first."""
        tools = self.one_of({action.tools for action in self.chosen if action.tools} | {frozenset()})
        used = [self.model.new_bool_var("") for _ in range(self.blocks)]
        for number in range(self.blocks):
            removals = [self.placed[i][number] for i, a in enumerate(self.chosen) if a.removal]
            self.model.add_at_most_one(removals)
            for index, action in enumerate(self.chosen):
                self.model.add_implication(self.placed[index][number], used[number])
                if action.tools:
                    self.model.add_implication(self.placed[index][number], tools[number][action.tools])
            if number:
                self.model.add_implication(used[number], used[number - 1])
        extra = sum(action.extra * done for action, done in zip(self.chosen, self.done, strict=True))
        self.model.minimize(TICK * (sum(used) + extra))

    def seconds(self):
        """A block is a set-up of tools and side; changes and turns cost what the bench says."""
        start = self.bench.start_face
        tools = self.one_of({action.tools for action in self.chosen if action.tools} | {frozenset()})
        sides = self.one_of({action.side for action in self.chosen if action.side} | {start})
        costs = []
        for number in range(self.blocks):
            for index, action in enumerate(self.chosen):
                if action.tools:
                    self.model.add_implication(self.placed[index][number], tools[number][action.tools])
                if action.side:
                    self.model.add_implication(self.placed[index][number], sides[number][action.side])
            for choice, first, each in (
                (tools, frozenset(), self.bench.change_seconds),
                (sides, start, self.bench.flip_seconds),
            ):
                costs.append(round(each * TICK) * self.changed(choice, number, first))
        work = sum(action.ticks * done for action, done in zip(self.chosen, self.done, strict=True))
        self.model.minimize(work + sum(costs))

    def changed(self, choice, number, first):
        """Whether the choice of a block differs from that of the block before."""
        differs = self.model.new_bool_var("")
        for name, here in choice[number].items():
            if number:
                self.model.add_bool_or([here.negated(), choice[number - 1][name], differs])
            elif name != first:
                self.model.add_implication(here, differs)
        return differs

    def solve(self, seconds, workers):
        """Status and value: `optimal`, `feasible` with the best so far, or `unknown`."""
        solver = cp_model.CpSolver()
        if seconds is None:
            # Work and not time, so that a loaded machine changes nothing.
            solver.parameters.max_deterministic_time = 30.0
        else:
            solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = workers
        status = solver.solve(self.model)
        names = {
            cp_model.OPTIMAL: "optimal",
            cp_model.FEASIBLE: "feasible",
            cp_model.INFEASIBLE: "infeasible",
        }
        name = names.get(status, "unknown")
        return name, round(solver.objective_value) if name in ("optimal", "feasible") else None


def lean(order, goal):
    """The order without what can be left out, the last first."""
    number = len(order) - 1
    while number >= 0:
        shorter = order[:number] + order[number + 1 :]
        true = set()
        for action in shorter:
            if not all(any(true.issuperset(way) for way in group) for group in action.needs):
                break
            true.add(action.gives)
        else:
            order = shorter if true.issuperset(goal) else order
        number -= 1
    return order


def forced_ticks(chosen, goal):
    """Least time of the work that every way holds: facts with one maker force what it needs in any case."""
    ahead, forced, ticks = list(goal), set(goal), 0
    while ahead:
        fact = ahead.pop()
        makers = [action for action in chosen if action.gives == fact]
        ticks += min(action.ticks for action in makers)
        for group in makers[0].needs if len(makers) == 1 else []:
            if len(group) == 1:
                ahead += set(group[0]) - forced
                forced |= set(group[0])
    return ticks


def horizon(chosen, goal, bench, objective):
    """Blocks that are enough for an optimum, from the cost of one order found without care."""
    order = lean(some_order(chosen, goal), goal)
    steps, ticks = walked(order, bench)
    if objective == "steps":
        return steps
    least = round(TICK * min(bench.change_seconds, bench.flip_seconds))
    most = 1 + (ticks - forced_ticks(chosen, goal)) // least if least else len(chosen)
    return max(1, min(len(chosen), most))


def walked(order, bench):
    """Steps and ticks of an order done as it stands; at least what it costs, that will do for a horizon."""
    steps, ticks, tools, side, begun = 0, 0, frozenset(), bench.start_face, False
    for action in order:
        swapped = bool(action.tools) and action.tools != tools
        turned = bool(action.side) and action.side != side
        if swapped:
            steps, begun = steps + begun, False
        ticks += action.ticks + round(TICK * (bench.change_seconds * swapped + bench.flip_seconds * turned))
        tools, side = action.tools or tools, action.side or side
        steps += action.extra
        steps, begun = (steps + 1, False) if action.removal else (steps, True)
    return steps + begun, ticks


def cheapest(record, target, objective, bench=None, *, seconds=None, workers=1, blocks=None):
    """Status and value (ticks) of a cheapest way by the constraint solver; `none` where there is no way.

    `objective` is "steps" or "seconds"; `blocks` hands a horizon over.
    """
    if not fits(record):
        raise ValueError("the record is outside the limits of the model")
    bench = bench or Bench()
    goal = goals(record, target)
    chosen = needed(actions(record, bench), goal)
    if some_order(chosen, goal) is None:
        return "none", None
    blocks = blocks or horizon(chosen, goal, bench, objective)
    return Model(chosen, goal, bench, objective, blocks).solve(seconds, workers)
