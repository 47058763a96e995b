"""Play a round to practise on: what follows an answer, and what was done rightly and what not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenhand.enrolment.teaching.scenario import Scenario, Scene, SceneChoice

__all__ = ["Played", "SceneAnswer", "play"]


@dataclass(frozen=True)
class SceneAnswer:
    """One answer: in which scene, what was chosen or keyed, and whether that was right."""

    scene: Scene
    is_right: bool
    chosen: SceneChoice | None = None
    keyed: str = ""


@dataclass(frozen=True)
class Played:
    """A round as it was played: its answers, and what went `well` and `not_well`, by theme in the scenario's order.

    A theme went well where every answer to it was right. `at` is the scene that waits, None once the round is over.
    """

    answers: tuple[SceneAnswer, ...]
    well: tuple[str, ...]
    not_well: tuple[str, ...]
    at: Scene | None


def play(scenario: Scenario, given: Sequence[int | str]) -> Played:
    """Return what comes of the answers given in turn: the place of a choice, from 0, or the number keyed.

    Raises ValueError for an answer that its scene does not have, and for one more than the round asks.
    """
    at: Scene | None = scenario.first()
    answers: list[SceneAnswer] = []
    for one in given:
        if at is None:
            raise ValueError("the round is over")
        answer = _answer(at, one)
        answers.append(answer)
        at = scenario.after(at, answer.chosen)
    wrong = {answer.scene.theme for answer in answers if not answer.is_right}
    met = {answer.scene.theme for answer in answers}
    return Played(
        tuple(answers),
        tuple(theme for theme in scenario.themes if theme in met - wrong),
        tuple(theme for theme in scenario.themes if theme in wrong),
        at,
    )


def _answer(scene: Scene, given: int | str) -> SceneAnswer:
    if scene.key:
        if not isinstance(given, str):
            raise ValueError(f"a number is keyed in scene {scene.id}")
        return SceneAnswer(scene, given == scene.key, keyed=given)
    if not isinstance(given, int) or not 0 <= given < len(scene.choices):
        raise ValueError(f"scene {scene.id} has no answer {given}")
    chosen = scene.choices[given]
    return SceneAnswer(scene, chosen.right, chosen)
