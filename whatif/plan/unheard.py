"""What a file may say but no answer heeds yet: told, never silently dropped."""

from __future__ import annotations

from whatif.study.models import Scenario


def unheard(scenario: Scenario) -> list[str]:
    """A warning for each such thing that the scenario says."""
    said = []
    stops = [id_ for id_, stop in scenario.stop.items() if stop.every.seconds]
    if stops:
        said.append(f"Stops are not simulated yet: {', '.join(stops)}; the hours are too good.")
    rush = [id_ for id_, one in scenario.rush.items() if one.pieces]
    if rush:
        said.append(f"Rush orders are not answered yet: {', '.join(rush)}.")
    orders = [id_ for id_, one in scenario.order.items() if one.pieces]
    if orders:
        said.append(f"Real orders are not simulated yet: {', '.join(orders)}.")
    if _speaks_of_money(scenario):
        said.append("Prices and wages are not answered yet: no payback is worked out.")
    meters = scenario.hour_meters
    if meters.gap != "show":
        said.append(f'The hour meters\' gap "{meters.gap}" is not worked in yet; it is only shown.')
    return said


def _speaks_of_money(scenario: Scenario) -> bool:
    money = scenario.money
    return bool(
        money.wage
        or money.floor_price
        or money.one_off
        or any(one.price or one.pallet_price for one in scenario.machine.values())
    )
