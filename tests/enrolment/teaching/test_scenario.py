"""The round to practise on is whole: every scene can be met, every answer has its reason, in both languages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import resources

import pytest

from evenhand.enrolment.teaching.playing import play
from evenhand.enrolment.teaching.scenario import Scenario, Scene, parse_scenario
from evenhand.jobs.practice import practice_round
from evenhand.terms.languages import LANGUAGES

TEXT = resources.files("evenhand.enrolment.teaching").joinpath("scenario.toml").read_text(encoding="utf-8")


@pytest.fixture
def scenario() -> Scenario:
    return practice_round()


def rightly(scenario: Scenario, given: tuple[int | str, ...] = ()) -> tuple[int | str, ...]:
    """Go on from some answers and do everything else rightly."""
    while (at := play(scenario, given).at) is not None:
        given += (at.key or [choice.right for choice in at.choices].index(True),)
    return given


def texts(scene: Scene) -> Iterator[str]:
    for text in (scene.say, scene.why, scene.later):
        yield from (text or {}).values()
    for choice in scene.choices:
        for text in (choice.do, choice.why, choice.later):
            yield from (text or {}).values()


def test_done_well_everything_went_well(scenario: Scenario) -> None:
    played = play(scenario, rightly(scenario))
    assert played.at is None
    assert played.well == tuple(scenario.themes)
    assert played.not_well == ()


def test_whoever_takes_off_another_persons_number_has_to_own_up_to_it(scenario: Scenario) -> None:
    given = rightly(scenario)
    place = [answer.scene.id for answer in play(scenario, given).answers].index("taken")
    off = [choice.to for choice in scenario.scenes["taken"].choices].index("own_up")
    assert play(scenario, (*given[:place], off)).at == scenario.scenes["own_up"]
    played = play(scenario, rightly(scenario, (*given[:place], off)))
    assert played.not_well == ("taken",)
    assert [answer.scene.id for answer in played.answers].count("corrected") == 1


def test_a_number_keyed_with_two_digits_the_wrong_way_round_is_not_right(scenario: Scenario) -> None:
    given = rightly(scenario)
    place = [answer.scene.id for answer in play(scenario, given).answers].index("number")
    played = play(scenario, rightly(scenario, (*given[:place], "4182")))
    assert played.not_well == ("number",)
    assert played.answers[place].keyed == "4182"


def test_one_wrong_answer_of_two_is_not_made_good_by_the_other(scenario: Scenario) -> None:
    given = rightly(scenario)
    wrong = [choice.right for choice in scenario.scenes["consent"].choices].index(False)
    assert play(scenario, (given[0], wrong, *given[2:])).not_well == ("consent",)


def test_every_scene_is_met_by_some_answers(scenario: Scenario) -> None:
    met: set[str] = set()
    waiting: list[Scene | None] = [scenario.first()]
    while waiting:
        at = waiting.pop()
        if at is None or at.id in met:
            continue
        met.add(at.id)
        waiting += [scenario.after(at, choice) for choice in at.choices or (None,)]
    assert met == set(scenario.scenes)


@pytest.mark.parametrize("given", [(7,), ("4128",), (0, 0, 0, 0, 0, 1)])
def test_an_answer_that_a_scene_does_not_have_is_refused(scenario: Scenario, given: tuple[int | str, ...]) -> None:
    with pytest.raises(ValueError, match="scene"):
        play(scenario, given)


def test_nothing_is_answered_after_the_end(scenario: Scenario) -> None:
    with pytest.raises(ValueError, match="over"):
        play(scenario, (*rightly(scenario), 0))


@pytest.mark.parametrize(
    ("was", "becomes", "says"),
    [
        ("right = true\n", "", "one right answer"),
        (
            'es = "Dibujo: una mano sobre la placa, con un anillo cuya piedra sobresale a un lado del dedo"',
            'es = ""',
            "said once in each",
        ),
        ('to = "own_up"', 'to = "nowhere"', "leads nowhere"),
        ('theme = "first"', 'theme = "unheard"', "no theme"),
        ('picture = "stone"', 'picture = "foot"', "picture"),
        ('steps = "get_out"', 'steps = "dance"', "steps"),
        ('theme = "reader"\n', 'theme = "refused"\n', "nothing is asked about reader"),
        ('key = "4128"', 'key = ""', "neither keyed nor chosen"),
    ],
)
def test_a_scenario_that_is_not_whole_is_found(was: str, becomes: str, says: str) -> None:
    assert was in TEXT
    with pytest.raises(ValueError, match=says):
        parse_scenario(TEXT.replace(was, becomes, 1))


def test_it_can_be_played_in_ten_minutes(scenario: Scenario) -> None:
    # 238 words a minute is how fast adults read to themselves: Brysbaert (2019), Journal of Memory and Language 109,
    # 104047 (from memory). Fifteen seconds to weigh each answer: common practice, no source.
    read = decided = 0
    for answer in play(scenario, rightly(scenario)).answers:
        scene = answer.scene
        told = [scene.say, *(choice.do for choice in scene.choices), (answer.chosen or scene).why]
        read += sum(len((text or {})["en"].split()) for text in told)
        decided += 1
    assert 6 <= read / 238 + decided * 15 / 60 <= 10


def test_the_right_answer_does_not_always_stand_in_one_place(scenario: Scenario) -> None:
    places = [
        [choice.right for choice in scene.choices].index(True) for scene in scenario.scenes.values() if scene.choices
    ]
    assert max(places.count(place) for place in set(places)) <= len(places) / 2


# Words that make a person masculine, or that one side of the Atlantic alone uses: our own list, no source.
GENDERED = r"supervisor(es)?|inscritos?|rechazados?|listos? para|él|empleados?|trabajador(es)?|todos los que"
ONE_SIDE_ONLY = (
    r"fichar|fiche[ns]?|ficha|checar|móvil|celular|ordenador|computadora|vosotros|vos|escayola\w*|enyesad\w*"
)


def test_spanish_is_one_for_both_sides_and_gives_nobody_a_gender(scenario: Scenario) -> None:
    said = [text["es"] for text in (*scenario.words.values(), *scenario.themes.values(), *scenario.pictures.values())]
    for scene in scenario.scenes.values():
        said += [text for place, text in enumerate(texts(scene)) if place % len(LANGUAGES) == 1]
    assert [text for text in said if re.search(rf"(?i)\b({GENDERED}|{ONE_SIDE_ONLY})\b", text)] == []


def test_every_word_of_the_page_is_used(scenario: Scenario) -> None:
    web = resources.files("evenhand.web")
    said = ("pages/teaching/play.html", "pages/teaching/page.py", "static/practice.js")
    page = "".join(web.joinpath(name).read_text() for name in said)
    assert {word for word in scenario.words if f'"{word}"' not in page} == set()
