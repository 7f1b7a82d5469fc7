"""Changing what the register says of an item and of a type, on their forms."""

from coursekit.services import accounting, amending, kit, register
from coursekit.services.actor import Role
from coursekit.services.pulls import DeclaredPull, record_declared_pull
from coursekit.store.unit import Unit
from coursekit.wear.policy import ClassesPolicy, PowerPolicy
from tests.cast import NOW, TODAY, Cast
from tests.web.visitor import Visitor


def type_id_of(unit: Unit, cast: Cast, mark: str) -> int:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], TODAY).item.type.id


def type_of(unit: Unit, cast: Cast, mark: str) -> register.TypeRow:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], TODAY).item.type


def test_an_item_is_put_in_another_place_and_its_page_tells_the_old_one(
    storekeeper: Visitor, cast: Cast
) -> None:
    page = f"/kit/items/{cast.items['Bow 1']}"
    assert f'href="{page}/change"' in storekeeper.open(page).html
    storekeeper.open(f"{page}/change")
    assert storekeeper.heading == "What is the register to say of Bow 1?"
    assert storekeeper.value("made") == "2026-01-15"
    storekeeper.send(place="North shed", serial="FB-444", reason="Misread")

    assert storekeeper.path == page
    assert "<dt>place</dt><dd>North shed</dd>" in storekeeper.html
    assert "<dt>serial</dt><dd><del>FB-004</del> → FB-444</dd>" in storekeeper.html
    assert "Tobin Hale<br>Misread" in storekeeper.html


def test_a_label_that_can_be_read_again_needs_its_reason_and_keeps_what_was_typed(
    storekeeper: Visitor, cast: Cast
) -> None:
    storekeeper.open(f"/kit/items/{cast.items['Bow 1']}/change")
    storekeeper.send(unlabelled="y", place="Bench")

    assert storekeeper.status == 422
    assert storekeeper.errors == ["▲ It is empty. Fill it in."]
    assert storekeeper.value("place") == "Bench"
    storekeeper.send(reason="Rust over the rating")
    assert storekeeper.heading == "Bow 1: no legible rating"


def test_a_date_of_make_long_ago_is_asked_about(storekeeper: Visitor, cast: Cast) -> None:
    path = f"/kit/items/{cast.items['Bow 1']}/change"
    assert "Its label says so" not in storekeeper.open(path).html
    storekeeper.send(made="1899-01-01", reason="Read with a glass")

    assert "Was it really made in 1899?" in " ".join(storekeeper.errors)
    assert "Its label says so" in storekeeper.html
    storekeeper.send(is_so_old="y")
    assert "<dt>made</dt><dd>Jan 1, 1899</dd>" in storekeeper.html


def test_an_item_that_has_moved_on_meanwhile_is_not_overwritten(
    storekeeper: Visitor, instructor: Visitor, cast: Cast
) -> None:
    path = f"/kit/items/{cast.items['Bow 1']}"
    storekeeper.open(f"{path}/change")
    instructor.open(f"{path}/quarantine").send(reason="A doubt")
    storekeeper.send(place="Bench")

    assert storekeeper.notices == [
        "The item has changed since this form was opened. Look at it again, then decide."
    ]
    assert storekeeper.value("place") == "Bench"


def test_a_rating_is_raised_with_a_reason_and_a_word_that_it_is_marked(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    page = f"/kit/types/{type_id_of(unit, cast, 'Rope 1')}"
    assert storekeeper.open(f"/kit/items/{cast.items['Rope 1']}").html.count(f'"{page}"') == 1
    assert storekeeper.open(page).heading == "kinetic-rope of Rope 1: 1 item"
    storekeeper.open(f"{page}/change")
    assert "The maker's rating governs." in storekeeper.html
    storekeeper.send(mbs="150 kN", reason="Second line of the label")

    assert "It is raised from 125 kN to 150 kN, and the maker's rating governs" in " ".join(
        storekeeper.errors
    )
    storekeeper.send(is_marked="y")
    assert storekeeper.path == page
    assert "<dt>MBS</dt><dd><del>125 kN</del> → 150 kN</dd>" in storekeeper.html


def test_a_rule_that_is_changed_counts_the_items_anew(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    pull = DeclaredPull(
        cast.class_id, cast.items["Rope 1"], "kinetic", "heavy", "came-free", "pull-1-of-rope"
    )
    record_declared_pull(unit, cast.instructor.actor, pull, NOW)
    storekeeper.open(f"/kit/types/{type_id_of(unit, cast, 'Rope 1')}/change")
    assert (storekeeper.value("rule"), storekeeper.value("use_limit")) == ("classes", "30")
    storekeeper.send(use_limit="12", heavy="5", reason="Our own trials")

    counted = kit.item_life(unit, cast.storekeeper.actor, cast.items["Rope 1"], TODAY).item
    assert (counted.use, counted.use_limit) == (5.0, 12.0)
    assert counted.type.policy.counting == ClassesPolicy(limit=12.0, heavy=5.0)
    assert accounting.verify(unit, cast.storekeeper.actor).holds
    assert "Retires at a use count of 30." in storekeeper.html
    assert "Source: the school&#39;s own rule." in storekeeper.html


def test_a_type_may_count_by_power_with_all_its_numbers(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    path = f"/kit/types/{type_id_of(unit, cast, 'Rope 1')}/change"
    storekeeper.open(path).send(rule="power", reference="39 kN", reason="Our own trials")
    # Each number that the rule needs is asked for; what was typed stays.
    assert storekeeper.errors == ["▲ It is empty. Fill it in."] * 3
    assert storekeeper.value("reference") == "39 kN"
    numbers = {"exponent": "5", "life": "20711", "safety": "60"}
    storekeeper.send(**numbers, rest_minutes="15", look_over="y", heavy_from="30")

    rule = type_of(unit, cast, "Rope 1").policy
    assert rule.counting == PowerPolicy(39_000.0, 5.0, 20_711.0, 60.0, heavy_from=0.3)
    assert (rule.rest_minutes, rule.look_over_each_day) == (15, True)
    assert storekeeper.open(path).value("reference") == "39 kN"
    assert storekeeper.value("life") == "20711.0"
    storekeeper.send(rule="none", use_limit="", reason="No more counting")
    assert "No use count: inspection and age decide." in storekeeper.html


def test_a_use_count_is_not_passed_over_where_nothing_is_counted(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    path = f"/kit/types/{type_id_of(unit, cast, 'Bow 1')}/change"
    storekeeper.open(path).send(use_limit="30", reason="Our own rule")

    assert storekeeper.errors == ["▲ A use count is given below. Choose, or empty it."]


def test_what_can_not_be_about_a_rule_stands_beside_its_field(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    path = f"/kit/types/{type_id_of(unit, cast, 'Rope 1')}/change"
    storekeeper.open(path).send(light="5", heavy="2", rest_minutes="-1", reason="x")

    assert storekeeper.errors == [
        "▲ It counts less than a light pull. Let a heavy pull count more.",
        "▲ -1 can't be. Give a whole number from 0 to 1440.",
    ]


def test_an_instructor_sees_a_type_and_changes_nothing(
    unit: Unit, cast: Cast, instructor: Visitor
) -> None:
    page = f"/kit/types/{type_id_of(unit, cast, 'Rope 1')}"
    may_change = cast.instructor.actor.has(Role.STOREKEEPER)
    assert (f'href="{page}/change"' in instructor.open(page).html) is may_change
    assert amending.type_with_past(unit, cast.instructor.actor, 1).changes == ()


def test_a_sling_shows_its_rating_in_each_hitch_and_its_temperatures(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    page = f"/kit/types/{type_id_of(unit, cast, 'Sling 1')}"
    storekeeper.open(f"{page}/change").send(
        choker="2400 kg", basket="6 t", hottest="180 °F", length="3 m",
        reason="Its label", is_marked="y",
    )  # fmt: skip

    told = storekeeper.open(f"/kit/items/{cast.items['Sling 1']}").html
    assert "<dt>WLL in a choker hitch</dt><dd>2400 kg</dd>" in told
    assert "<dt>WLL in a basket, legs upright</dt><dd>6 t</dd>" in told
    assert "<dt>not to be used above</dt><dd>180 °F</dd>" in told
    assert "<dt>length</dt><dd>3 m</dd>" in told
    bow = f"/kit/types/{type_id_of(unit, cast, 'Bow 1')}/change"
    assert "choker" not in storekeeper.open(bow).html


def test_the_use_before_is_told_later_and_the_form_has_it_the_next_time(
    storekeeper: Visitor, cast: Cast
) -> None:
    path = f"/kit/items/{cast.items['Rope 1']}"
    storekeeper.open(f"{path}/change").send(
        first_used="2026-01-20", used_before="2 light 1 heavy", reason="The old book came"
    )

    assert "<dt>first used</dt><dd><del>not stated</del> → Jan 20, 2026</dd>" in storekeeper.html
    assert "use count 5 of 30" in storekeeper.html
    storekeeper.open(f"{path}/change")
    assert storekeeper.value("first_used") == "2026-01-20"
    assert storekeeper.value("used_before") == "2 light 1 heavy"
