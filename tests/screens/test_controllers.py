"""What the desk does, without a screen: each controller by what it asks for and what it changes."""

from __future__ import annotations

from inspect import isawaitable
from pathlib import Path

import pytest
from desk_host import NotingHost, host_of
from small_study import CYCLE, PALLETS, STUDY

from whatif.answers.progress import Progress
from whatif.screens.desk.commands import BY_NAME, COMMANDS, KEYED
from whatif.screens.desk.controllers import Controllers
from whatif.screens.dialogs.ask import Ask, AskLine, AskShortName
from whatif.screens.dialogs.forms import BACK, TYPE, DaysForm
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.dialogs.texts import WeighText, WriteNotes
from whatif.screens.views.all import VIEWS, Listed
from whatif.session.calculate.requests import ANY_REVISION, Question, Reply
from whatif.study.edits import AddThing
from whatif.study.file.reading import read_file
from whatif.telling.sheet_cell import ATTENDED

DAYS = ("shift", "day", "days")


@pytest.fixture
def desk(tmp_path: Path) -> NotingHost:
    return host_of(tmp_path, STUDY)


@pytest.fixture
def does(desk: NotingHost) -> Controllers:
    return desk.controllers


def entered(desk: NotingHost, scenario: str, path: tuple[str, ...]) -> object:
    return desk.state.draft.scenario(scenario).entered.get(path)


# -- values ------------------------------------------------------------------------------


def test_what_is_typed_is_shown_and_asked_for_before_it_is_kept(desk: NotingHost) -> None:
    desk.put_on(CYCLE, "now")
    desk.type("4 min")
    assert desk.state.shown.scenario("now").entered[CYCLE] == "4 min"
    assert entered(desk, "now", CYCLE) == "9 min"
    revisions = [request.revision for request in desk.program.asked]
    assert revisions[-1] == desk.state.session.revision
    assert revisions == sorted(revisions)
    desk.enter()
    assert entered(desk, "now", CYCLE) == "4 min"
    assert desk.program.kept_safe[-1] is desk.state.draft
    assert desk.focus == "sheet"
    assert ", the reference; " in desk.state.notice
    assert desk.state.notice.endswith(" follows.  (u undoes it; a tries beside it)")


def test_in_another_scenario_than_the_reference_nothing_else_moves(desk: NotingHost) -> None:
    desk.put_on(PALLETS, "pool")
    desk.type("6")
    desk.enter()
    assert desk.state.notice == "Pallets each 4 -> 6 in Pool.  (u undoes it)"


def test_enter_keeps_and_goes_down_to_the_next_value(desk: NotingHost) -> None:
    desk.put_on(CYCLE, "now")
    desk.type("6")
    desk.enter()
    assert desk.state.line is not None
    assert desk.state.line.path == ("part", "plate", "in_cut")
    assert desk.notice.startswith("Cycle 9 min -> 6 min in Now"), "of the value above"
    # Over the heading of the machine, which has nothing to be typed.
    desk.put_on(("unattended", "after_shift"), "now")
    desk.type("2")
    desk.enter()
    assert desk.state.line is not None
    assert desk.state.line.place == ("machine", "mill")


def test_what_stands_there_is_marked_and_what_is_typed_goes_on(desk: NotingHost) -> None:
    desk.put_on(CYCLE, "now")
    desk.controllers.entering.press_enter()
    assert (desk.typed, desk.focus) == ("9 min", "editor, all selected")
    desk.escape()
    desk.controllers.entering.type_over("7")
    assert (desk.typed, desk.focus) == ("7", "editor")


def test_what_a_scenario_lacks_is_refused_before_anything_is_typed(desk: NotingHost) -> None:
    desk.controllers.changes.do(AddThing("pool", "machine", "router"))
    desk.put_on(("machine", "router", "pallets"), "pool")
    desk.state.choose("now")
    for text in ("7", None):
        desk.state.notice = ""
        desk.controllers.entering.type_over(text)
        assert desk.state.typing is None
        assert desk.state.notice.endswith(
            "Now has no machine router. n adds one; or go to a column that has it."
        )


def test_enter_twice_confirms_what_is_assumed(desk: NotingHost, does: Controllers) -> None:
    change = ("machine", "mill", "pallet_change")
    desk.put_on(change, "now")
    does.entering.press_enter()
    does.values.end(True, 1, 0)
    assert entered(desk, "now", change) is None, "an arrow only goes on"
    desk.put_on(change, "now")
    does.entering.press_enter()
    desk.enter()
    assert entered(desk, "now", change) == "0.5 min"
    assert "confirmed in Now" in desk.notice
    # What is inherited is known already: it is left to the parent.
    desk.put_on(CYCLE, "pool")
    does.entering.press_enter()
    desk.enter()
    assert entered(desk, "pool", CYCLE) is None


def test_undoing_goes_to_what_it_changes_and_counts_down(
    desk: NotingHost, does: Controllers
) -> None:
    for path, scenario in ((PALLETS, "pool"), (CYCLE, "now"), (("money", "wage"), "now")):
        desk.put_on(path, scenario)
        desk.type("5")
        desk.enter()
    counted = []
    for path, scenario in ((("money", "wage"), "now"), (CYCLE, "now"), (PALLETS, "pool")):
        desk.put_on(("part", "plate", "weekly"), "now")
        counted.append(desk.state.session.unsaved)
        does.changes.undo()
        desk.repaint()
        assert desk.state.line is not None
        assert (desk.state.line.path, desk.state.chosen) == (path, scenario)
    assert [*counted, desk.state.session.unsaved] == [3, 2, 1, 0]
    desk.put_on(CYCLE, "now")
    does.changes.redo()
    desk.repaint()
    assert desk.state.line is not None
    assert (desk.state.line.path, desk.state.chosen) == (PALLETS, "pool")


def test_what_is_wrong_is_told_and_not_kept(desk: NotingHost) -> None:
    desk.put_on(CYCLE, "now")
    desk.type("7,5 min")
    assert desk.state.typing is not None
    assert desk.state.typing.wrong
    desk.enter()
    assert desk.state.typing is not None, "it stays to be mended"
    assert desk.focus == "editor, all selected"
    assert desk.rung == 1
    desk.escape()
    assert desk.state.typing is None
    assert desk.state.session.is_saved


def test_escape_sets_aside_what_redo_takes_up(desk: NotingHost, does: Controllers) -> None:
    desk.put_on(PALLETS, "pool")
    desk.type("6")
    desk.escape()
    assert entered(desk, "pool", PALLETS) == 4
    assert desk.state.notice == "Back to the old value. r takes 6 up again."
    does.changes.redo()
    assert entered(desk, "pool", PALLETS) == 6


def test_looking_at_an_inherited_value_does_not_enter_it(desk: NotingHost) -> None:
    desk.put_on(CYCLE, "pool")
    desk.controllers.entering.press_enter()
    assert desk.typed == "9 min"
    desk.enter()
    assert desk.state.session.is_saved
    assert entered(desk, "pool", CYCLE) is None


def test_down_keeps_and_moves_on(desk: NotingHost) -> None:
    desk.put_on(PALLETS, "pool")
    row = desk.state.row
    desk.type("5")
    desk.controllers.values.end(True, 1, 0)
    assert entered(desk, "pool", PALLETS) == 5
    assert desk.state.row == row + 1


def test_a_value_is_given_back_where_one_was_entered(desk: NotingHost, does: Controllers) -> None:
    desk.put_on(PALLETS, "pool")
    does.values.give_back()
    assert entered(desk, "pool", PALLETS) is None
    does.values.give_back()
    assert "not entered" in desk.state.notice
    desk.put_on(ATTENDED, "now")
    does.values.give_back()
    assert "follow from the shifts" in desk.state.notice


def test_a_value_for_all_is_entered_where_it_holds_and_then_one_is_back(
    desk: NotingHost, does: Controllers
) -> None:
    desk.state.choose("pool")
    desk.repaint()
    does.entering.edit_for_all(("handling", "walk"))
    assert desk.state.typing is not None
    assert desk.state.typing.scenario == desk.state.chosen == "now"
    assert desk.state.notice == ("For the whole shop: entered in Now; Another shop has its own.")
    desk.typed = "2 min"
    does.values.end(True, 0, 0)
    assert entered(desk, "now", ("handling", "walk")) == "2 min"
    assert desk.state.chosen == "pool"


# -- changes -----------------------------------------------------------------------------


def test_undo_and_redo_say_what_they_did(desk: NotingHost, does: Controllers) -> None:
    does.changes.undo()
    assert desk.state.notice == "Nothing to undo."
    desk.put_on(PALLETS, "pool")
    desk.type("6")
    desk.enter()
    does.changes.undo()
    assert desk.state.notice.startswith("Undone: pallets each 4 -> 6")
    assert desk.program.kept_safe[-1] is None, "the file has everything again"
    does.changes.redo()
    assert desk.state.notice.startswith("Done again: ")


def test_the_list_of_changes_goes_back_to_any_and_forward(
    desk: NotingHost, does: Controllers
) -> None:
    desk.put_on(PALLETS, "pool")
    for number in "567":
        desk.put_on(PALLETS, "pool")
        desk.type(number)
        desk.enter()
    does.changes.offer_all()
    assert isinstance(desk.asked, ChooseOne)
    desk.answer("1")
    assert entered(desk, "pool", PALLETS) == 5
    assert desk.state.notice.startswith("2 changes undone. Now after: ")
    does.changes.offer_all()
    desk.answer("3")
    assert entered(desk, "pool", PALLETS) == 7
    does.changes.offer_all()
    desk.answer("0")
    assert desk.state.session.is_saved


def test_a_command_keeps_what_is_being_typed(desk: NotingHost, does: Controllers) -> None:
    desk.put_on(PALLETS, "pool")
    desk.type("6")
    does.changes.offer_all()
    assert entered(desk, "pool", PALLETS) == 6


# -- forms and lists ---------------------------------------------------------------------


def test_each_value_has_the_form_that_fits(desk: NotingHost, does: Controllers) -> None:
    for path, dialog in (
        (DAYS, DaysForm),
        (("machine", "mill", "unattended"), ChooseOne),
    ):
        desk.put_on(path, "now")
        desk.asked = None
        does.entering.press_enter()
        assert isinstance(desk.asked, dialog), path
        assert desk.state.typing is None
    desk.state.put_on(("scenario",), ("notes",))
    desk.repaint()
    does.entering.press_enter()
    assert isinstance(desk.asked, WriteNotes)


def test_the_word_that_is_assumed_is_confirmed_and_then_no_change(
    desk: NotingHost, does: Controllers
) -> None:
    path = ("machine", "mill", "unattended")
    desk.put_on(path, "now")
    does.entering.press_enter()
    desk.answer("yes")
    assert entered(desk, "now", path) is True
    assert desk.state.line is not None
    assert desk.state.line.path == ("machine", "mill", "table"), "the next value"
    desk.put_on(path, "now")
    does.entering.press_enter()
    desk.answer("yes")
    assert desk.state.session.unsaved == 1
    desk.put_on(path, "now")
    does.entering.press_enter()
    desk.answer("no")
    assert entered(desk, "now", path) is False


def test_a_form_can_be_left_or_gone_on_with_in_a_line(desk: NotingHost, does: Controllers) -> None:
    desk.put_on(DAYS, "now")
    does.entering.press_enter()
    desk.answer(BACK)
    assert desk.state.session.is_saved
    does.entering.press_enter()
    desk.answer(TYPE)
    assert desk.state.typing is not None
    assert desk.typed == "mon-fri"


# -- scenarios ---------------------------------------------------------------------------


def test_scenarios_are_added_copied_named_and_removed(desk: NotingHost, does: Controllers) -> None:
    desk.state.choose("pool")
    does.scenarios.add()
    assert isinstance(desk.asked, AskLine)
    desk.answer("Six pallets")
    assert desk.state.chosen == "six_pallets"
    assert desk.state.draft.scenario("six_pallets").parent == "pool"
    does.scenarios.duplicate()
    desk.answer("Eight")
    does.scenarios.rename()
    desk.answer("Ten")
    assert desk.state.title("eight") == "Ten"
    does.scenarios.rename_id()
    desk.answer("ten")
    assert desk.state.chosen == "ten"
    does.scenarios.measure_against()
    assert desk.state.shown.reference_id == "ten"
    does.scenarios.add_root()
    desk.answer("Apart")
    assert desk.state.draft.scenario("apart").parent is None
    desk.state.choose("now")
    does.scenarios.remove()
    assert isinstance(desk.asked, Ask)
    desk.answer("n")
    assert desk.state.draft.has("pool")
    does.scenarios.remove()
    desk.answer("y")
    assert not desk.state.draft.has("pool")


def test_all_that_is_done_with_a_scenario_is_offered_by_letter(
    desk: NotingHost, does: Controllers
) -> None:
    for letter, dialog in {
        "a": AskLine,
        "r": AskLine,
        "n": WriteNotes,
        "d": AskLine,
        "x": Ask,
    }.items():
        does.scenarios.offer_all()
        assert isinstance(desk.asked, ChooseOne)
        desk.answer(letter)
        assert isinstance(desk.asked, dialog), letter


def test_a_scenario_is_based_on_another_after_weighing(desk: NotingHost, does: Controllers) -> None:
    desk.state.choose("other")
    does.scenarios.base_on_another()
    desk.answer("now")
    assert isinstance(desk.asked, WeighText)
    assert desk.state.draft.scenario("other").parent is None
    desk.answer("y")
    assert desk.state.draft.scenario("other").parent == "now"


def test_notes_are_kept_where_they_say_something_else(desk: NotingHost, does: Controllers) -> None:
    does.scenarios.notes()
    desk.answer("")
    assert desk.state.session.is_saved
    does.scenarios.notes()
    desk.answer("from the book")
    assert entered(desk, "now", ("notes",)) == "from the book"


# -- things ------------------------------------------------------------------------------


def test_the_cursor_goes_along_with_a_new_thing(desk: NotingHost, does: Controllers) -> None:
    does.things.add("machine")
    assert isinstance(desk.asked, AskShortName)
    desk.answer("lathe")
    assert desk.state.line is not None
    assert desk.state.line.path[:2] == ("machine", "lathe")
    does.things.duplicate()
    desk.answer("lathe_2")
    assert desk.state.line.path[:2] == ("machine", "lathe_2")
    does.things.rename()
    desk.answer("turning")
    assert desk.state.line.path[:2] == ("machine", "turning")
    does.things.take_out()
    desk.answer("y")
    assert "turning" not in desk.state.draft.scenario("now").ids("machine")


def test_a_thing_that_is_inherited_is_taken_out_and_brought_back(
    desk: NotingHost, does: Controllers
) -> None:
    desk.put_on(PALLETS, "pool")
    does.things.bring_back()
    assert desk.state.notice == "Pool: machine mill is not removed."
    does.things.take_out()
    desk.answer("y")
    assert entered(desk, "pool", ("machine", "mill", "count")) == 0
    does.things.bring_back()
    assert entered(desk, "pool", ("machine", "mill", "count")) != 0


def test_where_no_thing_is_it_is_said_how_to_come_by_one(
    desk: NotingHost, does: Controllers
) -> None:
    desk.put_on(ATTENDED, "now")
    for act in (does.things.duplicate, does.things.rename, does.things.take_out):
        act()
        assert desk.state.notice.startswith("Go to a machine, shift, part, stop or order first")


# -- the file ----------------------------------------------------------------------------


def change(desk: NotingHost) -> None:
    desk.put_on(PALLETS, "pool")
    desk.type("6")
    desk.enter()


def test_saving_tells_the_program_what_the_file_is_now(desk: NotingHost, does: Controllers) -> None:
    change(desk)
    does.file.save()
    assert desk.state.notice == "Saved study.toml."
    assert desk.program.bases == [desk.state.session.base]
    assert read_file(desk.state.session.path).draft == desk.state.draft


def test_leaving_asks_where_something_is_not_saved(desk: NotingHost, does: Controllers) -> None:
    does.file.leave()
    assert desk.program.went == "away"
    desk.program.went = ""
    change(desk)
    does.file.open_another()
    assert isinstance(desk.asked, Ask)
    desk.answer("n")
    assert desk.program.went == ""
    does.file.open_another()
    desk.answer("s")
    assert desk.state.session.is_saved
    assert desk.program.went == "start"


def test_going_without_saving_leaves_nothing_to_be_recovered(
    desk: NotingHost, does: Controllers
) -> None:
    change(desk)
    does.file.leave()
    desk.answer("l")
    assert desk.program.kept_safe[-1] is None
    assert desk.program.went == "away"
    assert "pallets = 4" in desk.state.session.path.read_text("utf-8")


def test_a_file_that_somebody_else_changed_is_marked_and_asked_about(
    desk: NotingHost, does: Controllers
) -> None:
    does.file.look()
    assert does.file.mark == ""
    path = desk.state.session.path
    path.write_text(STUDY.replace("weekly = 300", "weekly = 3100"), "utf-8")
    painted = desk.painted
    does.file.look()
    assert does.file.mark == "  ! file changed: f"
    does.file.look()
    assert desk.painted == painted + 1, "told once"
    change(desk)
    does.file.save()
    assert isinstance(desk.asked, Ask)
    desk.answer("r")
    assert entered(desk, "now", ("part", "plate", "weekly")) == 3100
    assert does.file.mark == ""
    path.unlink()
    does.file.look()
    assert does.file.mark == "  ! file gone: w"


def test_saving_under_a_name_that_is_taken_asks_first(
    desk: NotingHost, does: Controllers, tmp_path: Path
) -> None:
    other = tmp_path / "other.toml"
    other.write_text("kept", "utf-8")
    does.file.save_as()
    desk.answer(str(tmp_path / "other"))
    assert isinstance(desk.asked, Ask)
    assert other.read_text("utf-8") == "kept"
    desk.answer("o")
    assert desk.state.session.path == other
    assert read_file(other).draft == desk.state.draft


# -- what is seen ------------------------------------------------------------------------


def test_columns_are_hidden_shown_kept_and_moved(desk: NotingHost, does: Controllers) -> None:
    desk.state.choose("pool")
    does.arranging.hide()
    assert desk.state.ids == ("now", "other")
    does.arranging.show_hidden()
    assert desk.state.chosen == "pool"
    does.arranging.move_column(1)
    assert desk.state.ids == ("now", "other", "pool")
    does.arranging.move_column(1)
    assert desk.state.notice.startswith("It cannot go further")
    does.arranging.keep()
    assert desk.state.ids == ("now", "pool", "other")
    for _ in range(2):
        does.arranging.hide()
    does.arranging.hide()
    assert desk.state.notice == "This is the last column; one stays."
    does.arranging.show_hidden()
    assert isinstance(desk.asked, ChooseOne)
    desk.answer("*")
    assert len(desk.state.ids) == 3
    assert desk.state.session.is_saved


def test_one_column_stands_alone_beside_the_reference_by_one_key(
    desk: NotingHost, does: Controllers
) -> None:
    desk.state.choose("now")
    does.arranging.beside_reference()
    assert desk.state.notice.startswith("This is the reference")
    desk.state.choose("pool")
    does.arranging.hide()
    desk.state.choose("other")
    does.arranging.beside_reference()
    assert (desk.state.ids, desk.state.chosen) == (("now", "other"), "other")
    desk.state.choose("now")
    does.arranging.beside_reference()
    # What was hidden before is so again.
    assert (desk.state.ids, desk.state.chosen) == (("now", "other"), "now")
    does.arranging.show_hidden()
    desk.state.choose("other")
    does.arranging.beside_reference()
    assert desk.state.ids == ("now", "other")
    does.arranging.beside_reference()
    assert (len(desk.state.ids), desk.state.chosen) == (3, "other")
    does.arranging.beside_reference()
    does.arranging.hide()
    does.arranging.show_hidden()
    desk.answer("*")
    # Shown otherwise, there is nothing to go back to.
    assert len(desk.state.ids) == 3
    desk.state.choose("pool")
    does.arranging.beside_reference()
    assert desk.state.ids == ("now", "pool")


def test_times_units_and_widths_are_only_looked_at(desk: NotingHost, does: Controllers) -> None:
    before = desk.state.arrangement
    does.arranging.next_time()
    does.arranging.next_units()
    does.arranging.widen(2)
    now = desk.state.arrangement
    assert (now.per, now.units, now.width) != (before.per, before.units, before.width)
    does.arranging.fit()
    assert desk.state.arrangement.width is None
    assert desk.program.asked == [], "nothing is worked out again"


def test_a_search_goes_along_and_back(desk: NotingHost, does: Controllers) -> None:
    before = desk.state.line
    does.search.begin()
    assert does.search.find("walk", 0, False).startswith("1 of ")
    assert desk.state.line is not None
    assert "walk" in desk.state.line.label
    assert does.search.find("no such thing", 0, False) == "no such row"
    does.search.end(stay=False)
    assert desk.state.line == before
    does.search.begin()
    does.search.find("cycle", 0, False)
    does.search.end(stay=True)
    assert desk.state.line.label == "cycle"


def test_rows_of_a_name_are_counted_from_the_top_of_the_sheet(
    desk: NotingHost, does: Controllers
) -> None:
    """Wherever the search begins, the second of some rows is called the second."""
    does.search.begin()
    ways = [does.search.find("price", step, False) for step in range(3)]
    does.search.end(stay=False)
    many = int(ways[0].split()[2].strip(","))
    assert many > 2
    assert [way.split()[0] for way in ways] == ["1", "2", "3"]
    # Begun on another one of just that name, the search stays there and says so.
    does.search.begin()
    does.search.find("price", 2, False)
    does.search.end(stay=True)
    does.search.begin()
    assert does.search.find("price", 0, False).startswith(f"3 of {many}")
    assert does.search.find("price", many - 2, False).startswith(f"1 of {many}")
    does.search.end(stay=True)


def test_a_row_that_only_others_have_is_said_not_to_be_here(
    desk: NotingHost, does: Controllers
) -> None:
    desk.put_on(PALLETS, "now")
    does.search.begin()
    assert does.search.find("borer: pallets each", 0, False) == "1 of 1, not in Now"
    assert does.search.find("mill: pallets each", 0, False) == "1 of 1"
    does.search.end(stay=True)


def test_to_stay_on_what_is_not_there_is_refused(desk: NotingHost, does: Controllers) -> None:
    desk.put_on(PALLETS, "now")
    does.search.begin()
    does.search.find("pool pallets", 0, False)
    does.search.end(stay=True)
    assert desk.notice == '! No row is called "pool pallets"; the cursor stays where it was.'
    assert desk.rung == 1
    assert desk.state.line is not None
    assert desk.state.line.path == PALLETS


# -- text in and out ---------------------------------------------------------------------


def test_a_column_is_copied_and_the_second_time_written(
    desk: NotingHost, does: Controllers, tmp_path: Path
) -> None:
    does.copying.copy()
    assert "plate" in desk.program.clipboard
    does.copying.copy()
    assert isinstance(desk.asked, AskLine)
    desk.answer(str(tmp_path / "column.txt"))
    assert (tmp_path / "column.txt").read_text("utf-8") == desk.program.clipboard


def test_one_value_is_typed_over_and_more_go_downwards(desk: NotingHost, does: Controllers) -> None:
    desk.put_on(PALLETS, "pool")
    does.copying.paste("12\n")
    assert desk.typed == "12"
    does.copying.paste("3")
    assert desk.typed == "123", "into the line that is open"
    desk.escape()
    does.copying.paste("pallets each\t5\n\t\n")
    assert isinstance(desk.asked, Ask)
    desk.answer("y")
    assert entered(desk, "pool", PALLETS) == 5
    does.copying.paste("x\ty\n")
    assert isinstance(desk.asked, ReadText)


# -- problems ----------------------------------------------------------------------------

WRONG = STUDY.replace('cycle = "9 min"', 'cycle = "9 mim"\ncolour = "red"')


def test_a_problem_is_gone_to(tmp_path: Path) -> None:
    desk = host_of(tmp_path, WRONG)
    problems = desk.state.session.checked.problems
    assert {problem.key for problem in problems} == {"part.plate.cycle", "part.plate.colour"}
    for i, problem in enumerate(problems):
        desk.controllers.mending.offer_all()
        desk.answer(str(i))
        assert desk.state.line is not None
        assert ".".join(desk.state.line.path) == problem.key


def test_a_key_that_is_not_known_is_taken_out(tmp_path: Path) -> None:
    desk = host_of(tmp_path, WRONG)
    path = ("part", "plate", "colour")
    desk.put_on(path, "now")
    desk.controllers.entering.press_enter()
    assert isinstance(desk.asked, Ask)
    desk.answer("t")
    assert entered(desk, "now", path) is None


# -- views and their questions -----------------------------------------------------------


def test_views_take_turns_and_the_account_goes_back(desk: NotingHost, does: Controllers) -> None:
    does.views.open("night")
    night = desk.state.view
    assert desk.focus == "view"
    does.views.open("account")
    does.views.close_view()
    assert desk.state.view is night
    does.views.open("night")
    assert desk.state.view is None
    assert desk.focus == "sheet"


def question_of(desk: NotingHost) -> Question:
    question = desk.program.asked[-1].question
    assert question is not None
    return question


def test_a_result_is_shown_only_of_what_is_on_the_screen(
    desk: NotingHost, does: Controllers
) -> None:
    does.views.open("night")
    now, question = desk.state.session.revision, question_of(desk)
    does.calculation.take(Reply(now - 5, question=question, result="old"))
    assert does.views.look().result is None
    does.calculation.take(Reply(now, question=question, result="new"))
    assert does.views.look().result == "new"
    asked = len(desk.program.asked)
    desk.repaint()
    assert len(desk.program.asked) == asked, "what is known is not asked again"
    change(desk)
    assert does.views.look().result is None


def test_work_on_a_view_is_stopped_and_gone_on_with(desk: NotingHost, does: Controllers) -> None:
    does.calculation.stop_or_go_on()
    assert "could be stopped" in desk.state.notice
    does.views.open("night")
    question = question_of(desk)
    does.calculation.take(
        Reply(desk.state.session.revision, question=question, progress=Progress(1, 4, left=2.6))
    )
    assert does.views.look().waiting == "Being worked out: 1 of 4, about 3 s left. s stops it."
    does.calculation.stop_or_go_on()
    assert desk.program.asked[-1].question is None
    assert does.views.look().waiting == "Stopped; s goes on with it."
    does.calculation.stop_or_go_on()
    assert question_of(desk) == question


def test_what_ends_the_calculation_is_told_whatever_was_asked(
    desk: NotingHost, does: Controllers
) -> None:
    does.views.open("night")
    does.calculation.take(Reply(ANY_REVISION, final=True, fault="it ended"))
    assert desk.state.notice == "The calculation failed: it ended"
    assert does.views.look().fault == "it ended"
    assert does.calculation.status == ""


def test_progress_is_told_until_the_last_word(desk: NotingHost, does: Controllers) -> None:
    desk.ask()
    assert does.calculation.status == "working out"
    does.calculation.take(Reply(desk.state.session.revision, progress=Progress(1, 3)))
    assert does.calculation.status == "working out 33 %"
    does.calculation.take(Reply(desk.state.session.revision, final=True))
    assert does.calculation.status == ""


# -- reading -----------------------------------------------------------------------------


def test_help_tells_of_the_value_and_of_the_view(desk: NotingHost, does: Controllers) -> None:
    desk.put_on(CYCLE, "now")
    does.help.read()
    assert isinstance(desk.asked, ReadText)
    assert "part.<id>.cycle" in desk.asked.text
    does.views.open("night")
    does.help.read()
    assert isinstance(desk.asked, ReadText)
    assert desk.asked.text.startswith("The night: ")
    does.help.read_scenario()
    assert desk.state.notice == "Its answer is being worked out."


# -- commands ----------------------------------------------------------------------------


def test_each_command_has_a_name_and_each_key_one_command() -> None:
    assert len(BY_NAME) == len(KEYED)
    assert len({command.title for command in COMMANDS}) == len(COMMANDS)
    keys = [key for command in KEYED for key in command.keys.split(",") if key]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("study", [STUDY, "format = 1\n"], ids=["a study", "an empty one"])
@pytest.mark.parametrize("view", [None, *(view.name for view in VIEWS)])
async def test_every_command_can_be_run_wherever_one_is(
    view: str | None, study: str, tmp_path: Path
) -> None:
    desk = host_of(tmp_path, study)
    if view is not None:
        desk.controllers.views.open(view)
    for command in KEYED:
        does = command.run(desk.controllers)
        if isawaitable(does):
            await does
        desk.settle()
        # Wherever it has led, the cursor stands on a scenario that is there, or on none.
        assert desk.state.chosen in (None, *desk.state.session.shown.ids), command.name


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.name)
def test_a_view_follows_when_scenarios_go(
    view: Listed, desk: NotingHost, does: Controllers
) -> None:
    does.views.open(view.name)
    does.scenarios.remove()
    desk.answer("y")
    assert desk.state.ids == ("other",)


def test_the_line_of_keys_offers_what_makes_sense(desk: NotingHost, does: Controllers) -> None:
    def offered() -> set[str]:
        return {command.name for command in KEYED if command.offered(desk.state)}

    everything = set(BY_NAME)
    assert offered() == everything - {"close_view"}
    does.views.open("night")
    # In a view there is neither row nor column to do it with.
    of_sheet = {"edit", "find", "things", "fold", "tree", "hide", "keep", "paste", "give_back"}
    assert of_sheet <= everything - offered()
    assert {"close_view", "undo", "save", "leave", "views", "help", "units"} <= offered()
