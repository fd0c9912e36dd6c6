"""The best next step: levers tried one by one, in pairs and in threes (rule `search.way`).

Where the combinations are few all of them are tried; else those that what came before promises,
and then steps upwards from combinations drawn by lot. What is tried is run short; what comes out
best of it is measured in full, and the front is that of the full measures.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from enum import Enum
from itertools import combinations, product

from whatif.answers.caveats import Caveat
from whatif.answers.limits import HeldBack
from whatif.answers.money.missing import Missing
from whatif.answers.money.shorter import SHORTENED_BY
from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.moves.trial import AskedAbout, changed_by
from whatif.answers.progress import Told
from whatif.answers.ranks import Range, range_of
from whatif.answers.search.front import (
    Axes,
    axes_of,
    clearly_unbeaten,
    layers,
    unbeaten,
)
from whatif.answers.search.goal import (
    Aim,
    Goal,
    goal_for,
    nearness,
    reaches,
    refuse_unanswerable,
)
from whatif.answers.search.measure import Brought, InFull, TriedInFull, TriedInShort, Variants
from whatif.answers.search.options import (
    Combination,
    Option,
    options_of,
    taken_together,
    unpriced_levers,
)
from whatif.answers.search.proposals import all_levers
from whatif.answers.simulate import Simulate, each_done
from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.levers import SearchLever
from whatif.study.raw import Path, Raw
from whatif.study.resolve import resolve

MOST_LEVERS = 3
"""Levers at once where nobody says how many: more changes at one time nobody makes."""

TRIES = 300
"""Combinations that are tried where there are more of them."""

FEW = 24
"""Combinations of which each is measured in full: then the front of all of them is known."""

_SHARES = (0.30, 0.50)
"""Of the tries beyond single levers: what pairs may use, and what threes and more may."""

_NEEDED = 0.15
"""Of all tries: what pairs may use of which neither promises much without the other."""

_IN_FULL = 15
"""Combinations that are measured in full at least, where not all are."""

_MOST_IN_FULL = 60
"""And at most: the front of the short runs, and each lever alone."""

_BEST = 3
"""Of these the ones that come first by the goal, as it is and as if all were priced."""

_APART = 1.0
"""Points of gain that a short run tells apart."""

_STARTS = 12
"""Pairs from which threes are made."""

_BESIDE = 8
"""Neighbours that are looked at before a step upwards."""


class SearchStage(Enum):
    """How far a search is."""

    SINGLE = "single levers"
    PAIRS = "pairs"
    MORE = "threes"
    LOT = "drawn by lot"
    FULL = "measured in full"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked of a search.

    Attributes:
        goal: None for what is lacking first.
        seed: of what is drawn by lot.
        most: levers at once.
    """

    goal: Goal | None = None
    seed: int = 1
    most: int = MOST_LEVERS


@dataclass(frozen=True, slots=True)
class NextStep:
    """A combination, and what it brings.

    Attributes:
        measure: money is told against the scenario that the search starts from.
        changes: what a scenario made of it enters.
        likely: the likely range of the saleable gain; None until it is measured in full.
        more: how much more saleable output than the scenario itself, in points, and whether
            that is clear.
        reaches: whether it does what the goal asks for.
        held_back: what limits it then.
    """

    options: Combination
    measure: Brought
    changes: tuple[tuple[Path, Raw], ...] = ()
    likely: Range | None = None
    is_clear: bool = False
    reaches: bool = False
    held_back: HeldBack | None = None
    caveats: tuple[Caveat, ...] = ()
    not_priced: tuple[Missing, ...] = ()

    @property
    def unpriced(self) -> tuple[SearchLever, ...]:
        """The levers of it of which nobody has said what they cost (rule `search.priced`)."""
        return tuple(option.lever for option in self.options if not option.is_priced)


@dataclass(frozen=True, slots=True)
class NextSteps:
    """What a search has found, or has found so far.

    Attributes:
        currency: of all money in it.
        levers: all there are, those that change nothing here too.
        unpriced: ids of those of which nobody has said what they cost.
        start: the scenario as it stands.
        front: what is not beaten, the cheapest first.
        others: what else was tried, for a drawing.
        tried, possible: combinations.
        in_full: how many of them were measured in full.
        is_proved: whether every combination was measured in full, so that the front is that of
            all combinations of these levers and values.
        short_weeks: weeks of a short run.
        apart: the best one and another of the front, of other levers, of which both together were
            not tried though they may be had; None where nothing is left to be done.
        passed_over: what nothing beat in the short runs and was not measured in full all the same.
    """

    asked: AskedAbout
    goal: Goal
    seed: int
    most: int
    currency: str
    levers: tuple[SearchLever, ...]
    unpriced: frozenset[str]
    start: NextStep
    front: tuple[NextStep, ...]
    others: tuple[Brought, ...]
    tried: int
    possible: int
    in_full: int
    is_proved: bool
    short_weeks: int
    stage: SearchStage
    apart: tuple[NextStep, NextStep] | None = None
    passed_over: int = 0

    @property
    def best(self) -> NextStep | None:
        """The one of the front that comes first by the goal; None where there is none."""
        return min(self.front, key=lambda each: nearness(self.goal, each.measure), default=None)

    @property
    def best_unpriced(self) -> NextStep | None:
        """What would come before the best one if what is not priced cost nothing; None else."""

        def near(each: NextStep) -> tuple[float, ...]:
            return nearness(self.goal, replace(each.measure, open_levers=0))

        best = self.best
        first = min(self.front, key=near, default=None)
        is_other = best is not None and first is not None and near(first) < near(best)
        return first if is_other else None


def _nobody(found: NextSteps) -> None:
    """Nobody waits for a part of it."""


def search(
    draft: Draft,
    scenario: str,
    simulate: Simulate,
    told: Told,
    wish: Wish | None = None,
    partly: Callable[[NextSteps], None] = _nobody,
) -> NextSteps:
    """Try levers from a scenario on; see the module.

    Raises :class:`~whatif.answers.moves.inputs.Unanswerable` where nothing can be tried.
    """
    return _Search(draft, scenario, simulate, told, wish or Wish(), partly).run()


def combinations_of(options: Sequence[Option], most: int) -> int:
    """Combinations of one to so many levers, each lever at one value."""
    sizes = [1, *[0] * most]
    by_lever: dict[int, int] = {}
    for option in options:
        by_lever[option.place] = by_lever.get(option.place, 0) + 1
    for values in by_lever.values():
        for size in range(most, 0, -1):
            sizes[size] += values * sizes[size - 1]
    return sum(sizes[1:])


def each_combination(options: Sequence[Option], most: int) -> Iterator[Combination]:
    """All combinations, those of few levers first."""
    by_lever: dict[int, list[Option]] = {}
    for option in options:
        by_lever.setdefault(option.place, []).append(option)
    for size in range(1, most + 1):
        for chosen in combinations(by_lever.values(), size):
            yield from product(*chosen)


def _known(options: Combination) -> tuple[tuple[int, str], ...]:
    """By which a combination is known, in whatever order its levers stand."""
    return tuple(sorted((option.place, option.value) for option in options))


class _Search:
    def __init__(
        self,
        draft: Draft,
        scenario: str,
        simulate: Simulate,
        told: Told,
        wish: Wish,
        partly: Callable[[NextSteps], None],
    ) -> None:
        self._trials = Variants(draft, scenario, simulate)
        self._simulate, self._told, self._partly, self._wish = simulate, told, partly, wish
        self._resolved = resolve(draft, scenario)
        start = self._start_answer()
        self._levers = all_levers(draft, scenario, start.held_back)
        self._options = options_of(draft, scenario, self._levers)
        if not self._options:
            raise Unanswerable("no lever", self._trials.asked.title)
        self._possible = combinations_of(self._options, wish.most)
        self._short: dict[tuple[tuple[int, str], ...], Brought | None] = {}
        self._combinations: dict[tuple[tuple[int, str], ...], Combination] = {}
        self._of = min(self._possible, TRIES)
        self._steps = self._of + min(self._possible, _MOST_IN_FULL) + 1
        self._stage = SearchStage.SINGLE
        self._passed_over = 0
        self._start_short = self._of_short(())
        self._start_full = start.measure
        self._start = start
        self._goal = wish.goal or goal_for(start.measure)
        refuse_unanswerable(self._goal, start.measure)

    def _start_answer(self) -> InFull:
        found = self._in_full([()], is_drawn=True)[0]
        if found is None:
            raise Unanswerable("no parts", self._trials.asked.title)
        return found

    # -- the way ---------------------------------------------------------------------------

    def run(self) -> NextSteps:
        """All stages."""
        if self._possible <= FEW:
            return self._all_in_full()
        if self._possible <= TRIES:
            self._try(each_combination(self._options, self._wish.most))
        else:
            self._by_promise()
        chosen = self._chosen()
        self._stage = SearchStage.FULL
        self._tell()
        return self._measured(chosen, is_proved=False)

    def _all_in_full(self) -> NextSteps:
        chosen = [
            each
            for each in each_combination(self._options, self._wish.most)
            if self._is_allowed(each)
        ]
        self._stage = SearchStage.FULL
        for each in each_combination(self._options, self._wish.most):
            self._combinations[_known(each)] = each
        return self._measured(chosen, is_proved=True)

    def _by_promise(self) -> None:
        singles: list[Combination] = [(option,) for option in self._options]
        self._try(singles)
        self._tell()
        order = _each_lever_first([each[0] for each in self._by_rank(singles)])
        if self._wish.most > 1:
            self._stage = SearchStage.PAIRS
            self._try(_first(self._nights_with_pallets(order), int(_NEEDED * TRIES)))
        left = max(0, TRIES - len(self._short))
        if self._wish.most > 1:
            pairs = self._widened([(option,) for option in order], order)
            self._try(_first(pairs, int(_SHARES[0] * left)))
            self._tell()
        for size in range(3, self._wish.most + 1):
            self._stage = SearchStage.MORE
            tried = [each for each in self._combinations.values() if len(each) == size - 1]
            more = self._widened(self._by_rank(tried)[:_STARTS], order)
            share = int(_SHARES[1] * left / (self._wish.most - 2))
            self._try(_first(more, share))
            self._tell()
        self._stage = SearchStage.LOT
        self._by_lot()
        self._tell()

    def _nights_with_pallets(self, order: Sequence[Option]) -> Iterator[Combination]:
        """Hours with nobody there, and what may be cut in them: neither promises much alone."""
        nights, pallets = (
            [option for option in order if any(map(is_of, option.changes))]
            for is_of in (_is_of_nights, _is_of_pallets)
        )
        return (
            (night, load)
            for night, load in product(nights, pallets)
            if night.place != load.place and self._is_allowed((night, load))
        )

    def _widened(
        self, starts: Sequence[Combination], order: Sequence[Option]
    ) -> Iterator[Combination]:
        """Each start with one lever more, what promises most first: by the product of places.

        The place of a pair counts by its square, so that the first ones are tried with all levers:
        what is of no use alone may be what they lack.
        """
        power = max((len(start) for start in starts), default=1)
        places = sorted(
            product(range(len(starts)), range(len(order))),
            key=lambda pair: ((pair[0] + 1) ** power * (pair[1] + 1), pair),
        )
        met = set(self._short)
        for at, other in places:
            found = (*starts[at], order[other])
            known = _known(found)
            if known in met or len({option.place for option in found}) < len(found):
                continue
            met.add(known)
            if self._is_allowed(found):
                yield found

    def _by_lot(self) -> None:
        """Steps upwards from combinations drawn by lot, weighed by weights drawn by lot."""
        luck = random.Random(f"{self._wish.seed} search")
        idle = 0
        while len(self._short) <= TRIES and idle < 20:
            before = len(self._short)
            weights = [luck.random() for _ in self._axes(self._start_short)]
            at = self._drawn(luck)
            self._try([at])
            while len(self._short) <= TRIES:
                near = [self._neighbour(at, luck) for _ in range(_BESIDE)]
                self._try(near)
                best = min([at, *near], key=lambda each: self._weighed(each, weights))
                if self._weighed(best, weights) >= self._weighed(at, weights):
                    break
                at = best
            idle = idle + 1 if len(self._short) == before else 0

    def _drawn(self, luck: random.Random) -> Combination:
        places = sorted({option.place for option in self._options})
        size = min(len(places), luck.randint(1, self._wish.most))
        return tuple(self._any_value(place, luck) for place in sorted(luck.sample(places, size)))

    def _any_value(self, place: int, luck: random.Random) -> Option:
        return luck.choice([option for option in self._options if option.place == place])

    def _neighbour(self, at: Combination, luck: random.Random) -> Combination:
        """One lever more, one less, or another one, or value, in the place of one."""
        option = luck.choice(self._options)
        kept = [each for each in at if each.place != option.place]
        if len(at) > 1 and luck.random() < 0.25:
            kept.pop(luck.randrange(len(kept))) if len(kept) > 1 else None
            return tuple(kept) or at
        while len(kept) >= self._wish.most:
            kept.pop(luck.randrange(len(kept)))
        return tuple(sorted((*kept, option), key=lambda each: each.place))

    def _weighed(self, each: Combination, weights: Sequence[float]) -> float:
        found = self._short.get(_known(each))
        if found is None:
            return float("inf")
        mine = self._axes(found)
        scales = [max(map(abs, column)) or 1.0 for column in zip(*self._all_axes(), strict=True)]
        return sum(w * value / scale for w, value, scale in zip(weights, mine, scales, strict=True))

    def _all_axes(self) -> list[Axes]:
        return [self._axes(found) for found in self._short.values() if found is not None]

    # -- trying ----------------------------------------------------------------------------

    def _is_allowed(self, options: Combination) -> bool:
        return taken_together(options, self._resolved) is not None

    def _of_short(self, options: Combination) -> Brought:
        task = TriedInShort(self._trials, self._changes(options))
        (found,) = each_done(self._simulate, [task], lambda: None)
        if found is None:
            raise Unanswerable("no parts", self._trials.asked.title)
        return found

    def _changes(self, options: Combination) -> tuple[tuple[Path, Raw], ...]:
        return tuple((taken_together(options, self._resolved) or {}).items())

    def _try(self, wanted: Iterable[Combination]) -> None:
        """Run those short that have not been; what cannot be had together counts as looked at."""
        new: dict[tuple[tuple[int, str], ...], Combination] = {}
        for options in wanted:
            known = _known(options)
            if known in self._short or known in new:
                continue
            if self._is_allowed(options):
                new[known] = options
            else:
                self._short[known] = None
        tasks = [TriedInShort(self._trials, self._changes(each)) for each in new.values()]
        done = each_done(self._simulate, tasks, lambda: None)
        for (known, options), found in zip(new.items(), done, strict=True):
            self._combinations[known] = options
            self._short[known] = (
                None if found is None else _of_levers(found, self._start_short, options)
            )
            self._told(min(len(self._short), self._of), self._steps)

    def _in_full(
        self, chosen: Sequence[Combination], *, is_drawn: bool, trials: Variants | None = None
    ) -> list[InFull | None]:
        trials = trials or self._trials
        tasks = [
            TriedInFull(trials, self._changes(each) if each else (), is_drawn) for each in chosen
        ]
        return list(each_done(self._simulate, tasks, lambda: None))

    # -- judging ---------------------------------------------------------------------------

    def _axes(self, found: Brought) -> Axes:
        return axes_of(found, with_orders=self._goal.aim is Aim.ORDERS)

    def _by_rank(self, tried: Sequence[Combination]) -> list[Combination]:
        """Those that were tried, the layer that nothing beats first, by the goal within it."""
        known = [(each, self._short[_known(each)]) for each in tried]
        good = [(each, found) for each, found in known if found is not None]
        return [
            each
            # What promises to be worth trying with more hangs on no price.
            for layer in layers(good, lambda pair: self._axes(replace(pair[1], open_levers=0)))
            for each, _ in sorted(layer, key=lambda pair: self._if_priced(pair[1]))
        ]

    def _if_priced(self, found: Brought) -> tuple[float, ...]:
        """How near it comes if what is not priced costs nothing."""
        return nearness(self._goal, replace(found, open_levers=0))

    def _chosen(self) -> list[Combination]:
        """What is measured in full: what comes first by the goal, the front of the short runs.

        By the goal twice: as it is, and as if what is not priced cost nothing.
        """
        good = [each for each in self._combinations.values() if self._short[_known(each)]]
        # Of what brings and takes the same one is enough.
        alike: dict[Axes, Combination] = {}
        for each in sorted(good, key=lambda each: nearness(self._goal, self._known_short(each))):
            alike.setdefault(self._axes_of(each), each)
        ranked = list(alike.values())
        free = sorted(ranked, key=lambda each: self._if_priced(self._known_short(each)))
        best = [*ranked[:_BEST], *free[:_BEST]]
        # A lever alone is the least that can be done: none is passed over for a short run's sake.
        alone = [each for each in good if len(each) == 1]
        along = sorted(
            clearly_unbeaten(list(alike.values()), self._axes_of, self._stands_beside),
            key=lambda each: self._axes_of(each)[1:],
        )
        found = {_known(each): each for each in (*best, *along, *alone)}
        self._passed_over = 0
        if len(found) > _MOST_IN_FULL:
            # Where that is too many: at even steps along the front, both its ends among them.
            known = {_known(each): each for each in (*best, *alone[: _MOST_IN_FULL // 2])}
            others = [each for each in along if _known(each) not in known]
            room = _MOST_IN_FULL - len(known)
            even = {at * (len(others) - 1) // (room - 1) for at in range(room)}
            self._passed_over = len(others) - len(even)
            found = known | {_known(others[at]): others[at] for at in sorted(even)}
        for each in self._by_rank(good):
            if len(found) >= _IN_FULL:
                break
            found[_known(each)] = each
        return list(found.values())

    def _stands_beside(self, here: Combination, cheaper: Combination) -> bool:
        """Whether a combination shows more in a short run than luck may, or does what is wanted."""
        does_it, does = (reaches(self._goal, self._known_short(each)) for each in (here, cheaper))
        mine, others = self._axes_of(here), self._axes_of(cheaper)
        return (does_it and not does) or mine[0] < others[0] - _APART or mine[4:] < others[4:]

    def _axes_of(self, each: Combination) -> Axes:
        return self._axes(self._known_short(each))

    def _known_short(self, options: Combination) -> Brought:
        found = self._short[_known(options)]
        assert found is not None
        return found

    def _measured(self, chosen: Sequence[Combination], *, is_proved: bool) -> NextSteps:
        """The front of what is measured in full, with the draws of the study."""
        few = [TriedInFull(self._trials, self._changes(each), is_drawn=True) for each in chosen]
        entries: list[tuple[NextStep, InFull]] = []
        done = each_done(self._simulate, few, lambda: None)
        for at, (options, found) in enumerate(zip(chosen, done, strict=True), start=1):
            self._told(self._steps - 1 - len(chosen) + at, self._steps)
            if found is not None:
                entries.append((self._entry(options, found), found))
        # Of what costs and brings the same, fewer levers come first.
        entries.sort(key=lambda pair: (len(pair[0].options), nearness(self._goal, pair[0].measure)))
        start = (self._started(), self._start)
        front = clearly_unbeaten(
            [start, *entries],
            lambda pair: self._axes(pair[0].measure),
            _is_beside,
        )
        wanted = [pair[0] for pair in front if pair[0].options]
        self._stage = SearchStage.DONE
        return self._found(self._ranged(wanted), in_full=len(chosen), is_proved=is_proved)

    def _ranged(self, wanted: Sequence[NextStep]) -> list[NextStep]:
        """The front with likely ranges of all draws of the study."""
        draws = self._trials.asked.of_draws
        if draws <= self._trials.asked.draws:
            return list(wanted)
        full = self._in_full(
            [each.options for each in wanted], is_drawn=True, trials=self._trials.with_draws(draws)
        )
        self._trials.asked = replace(self._trials.asked, draws=draws)
        self._told(self._steps, self._steps)
        return [
            replace(each, likely=None if found is None else _range(found))
            for each, found in zip(wanted, full, strict=True)
        ]

    def _started(self) -> NextStep:
        return replace(
            self._entry((), self._start), measure=self._start_full.less(self._start_full)
        )

    def _entry(self, options: Combination, found: InFull) -> NextStep:
        measure = _of_levers(found.measure, self._start_full, options)
        return NextStep(
            options=options,
            measure=measure,
            changes=self._changes(options) if options else (),
            likely=_range(found),
            is_clear=_clearly_more(found, self._start),
            reaches=reaches(self._goal, measure),
            held_back=found.held_back,
            caveats=found.caveats,
            not_priced=_unpriced(options, found.not_priced),
        )

    def _tell(self) -> None:
        """Hand on what is known so far: the front of the short runs, no ranges yet."""
        tried = [
            NextStep(each, found, self._changes(each), reaches=reaches(self._goal, found))
            for known, each in self._combinations.items()
            if (found := self._short.get(known)) is not None
        ]
        start = NextStep((), self._start_short.less(self._start_short))
        front = unbeaten([start, *tried], lambda each: self._axes(each.measure))
        self._partly(self._found([each for each in front if each.options], 0, is_proved=False))

    def _found(self, front: Sequence[NextStep], in_full: int, *, is_proved: bool) -> NextSteps:
        return NextSteps(
            asked=self._trials.asked,
            goal=self._goal,
            seed=self._wish.seed,
            most=self._wish.most,
            currency=self._start.currency,
            levers=self._levers,
            unpriced=unpriced_levers(self._options),
            start=self._started(),
            front=tuple(sorted(front, key=lambda each: self._axes(each.measure)[1:])),
            others=tuple(found for found in self._short.values() if found is not None),
            tried=len(self._combinations) if is_proved else len(self._short),
            possible=self._possible,
            in_full=in_full,
            is_proved=is_proved,
            short_weeks=self._trials.short_weeks,
            stage=self._stage,
            passed_over=self._passed_over,
            apart=self._apart(front) if self._stage is SearchStage.DONE else None,
        )

    def _apart(self, front: Sequence[NextStep]) -> tuple[NextStep, NextStep] | None:
        """What comes first, and the next one that may be had with it and was not tried with it."""
        near = sorted(front, key=lambda each: nearness(self._goal, each.measure))
        if not near or (near[0].reaches and self._goal.aim is not Aim.MOST):
            return None
        first, *others = near
        for other in others:
            both = (*first.options, *other.options)
            is_other = len({option.place for option in both}) == len(both)
            is_known = _known(both) in self._short or _known(both) in self._combinations
            if is_other and not is_known and self._is_allowed(both):
                return first, other
        return None


def _of_levers(found: Brought, start: Brought, options: Combination) -> Brought:
    """What levers bring against a start."""
    many = sum(not option.is_priced for option in options)
    return found.less(start, levers=len(options), open_levers=many)


def _each_lever_first(order: Sequence[Option]) -> list[Option]:
    """The best value of each lever, then the next best ones: none crowds the others out."""
    before: dict[int, int] = {}
    values: list[tuple[int, Option]] = []
    for option in order:
        values.append((before.setdefault(option.place, 0), option))
        before[option.place] += 1
    return [option for _, option in sorted(values, key=lambda each: each[0])]


def _is_of_nights(path: Path) -> bool:
    return path[0] == "unattended"


def _is_of_pallets(path: Path) -> bool:
    return path[0] == "machine" and path[-1] == "pallets"


def _unpriced(options: Combination, missing: tuple[Missing, ...]) -> tuple[Missing, ...]:
    """What has no price, that of the levers left out, which tell of it themselves."""
    steps = (path for option in options if option.once for path in option.steps)
    paid = {path[1] for path in steps if path[0] == "machine"}
    of_machines = ("machines", "pallets", "systems")
    told = {SHORTENED_BY.get(path[-1]) for option in options for path in option.steps}
    return tuple(
        each
        for each in missing
        if each.what not in told and (each.what not in of_machines or each.of not in paid)
    )


def _range(found: InFull) -> Range | None:
    known = [gain for gain in found.drawn if gain is not None]
    return range_of(known) if known and len(known) == len(found.drawn) else None


def _is_beside(here: tuple[NextStep, InFull], cheaper: tuple[NextStep, InFull]) -> bool:
    """Whether an entry stands beside a cheaper one: it does what is wanted, or sells more."""
    does_it = here[0].reaches and not cheaper[0].reaches
    return does_it or _clearly_more(here[1], cheaper[1])


def _clearly_more(here: InFull, there: InFull) -> bool:
    """Whether one clearly sells more than another, draw by draw."""
    if here.measure.gain is None or there.measure.gain is None:
        return here.measure.saleable > there.measure.saleable
    found = changed_by(
        here.measure.gain, there.measure.gain, lambda: zip(here.drawn, there.drawn, strict=True)
    )
    return found is not None and found.typed > 0 and found.is_clear


def _first(items: Iterable[Combination], many: int) -> list[Combination]:
    found: list[Combination] = []
    for item in items:
        if len(found) >= many:
            break
        found.append(item)
    return found
