"""Rush orders tried out, scenario by scenario, and put to answers."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from whatif.answers.answer import Answer, Comparison
from whatif.answers.orders.rush import RushArrival, likely_rush, trials_of, try_rush, trying
from whatif.answers.progress import Told
from whatif.answers.simulate import Pause, Simulate, run_anew, tasks_ahead


def with_rush(
    found: Comparison,
    pause: Pause,
    simulate: Simulate = run_anew,
    only: Collection[str] | None = None,
    told: Told = lambda done, of: None,
) -> Comparison:
    """The same comparison with every rush order tried out (rule `rush.trial`), and its range."""

    def tell(done: int, of: int) -> None:
        pause()
        told(done, of)

    for more in rush_one_by_one(found, tell, simulate, only):
        found = more
    return found


def rush_one_by_one(
    found: Comparison,
    told: Told,
    simulate: Simulate = run_anew,
    only: Collection[str] | None = None,
) -> Iterator[Comparison]:
    """The same comparison with every rush order as typed, then with one scenario's ranges more.

    Of ``only`` some scenarios where these are given.
    """
    wanted = [plan for id_, plan in found.plans.items() if only is None or id_ in only]
    of = sum(trials_of(plan, order) for plan in wanted for order in plan.rush)
    done = 0

    def tried(trials: int) -> None:
        nonlocal done
        done += trials
        pause()

    def pause() -> None:
        told(done, of)

    def typed(id_: str, answer: Answer) -> Answer:
        plan = answer.plan
        if only is not None and id_ not in only:
            return answer
        return replace(
            answer,
            rush={order.id: try_rush(plan, order, pause, tried, simulate) for order in plan.rush},
        )

    tasks_ahead(
        simulate,
        (task for plan in wanted for order in plan.rush for task in trying(plan, order, simulate)),
    )
    found = found.with_each(typed)
    yield found
    for id_, answer in found.answers.items():
        rush = dict(answer.rush)
        for order in answer.plan.rush:
            arrival = rush.get(order.id)
            if isinstance(arrival, RushArrival):
                likely = likely_rush(answer.plan, order, pause, tried, simulate)
                rush[order.id] = replace(arrival, likely=likely)
        if rush:
            found = replace(found, answers={**found.answers, id_: replace(answer, rush=rush)})
            yield found
