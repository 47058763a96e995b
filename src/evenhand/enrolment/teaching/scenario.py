"""The round to practise on, as data: scenes in which something has to be chosen or keyed, each answer with its reason.

What is right at a reader is common practice, no source. A scenario that is not whole is a fault of ours and raises.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from evenhand.enrolment.own_steps import HEADINGS
from evenhand.terms.languages import LANGUAGES

__all__ = ["Scenario", "Scene", "SceneChoice", "Text", "parse_scenario", "sent_along"]

Text = Mapping[str, str]
"""A sentence in each of LANGUAGES."""


@dataclass(frozen=True)
class SceneChoice:
    """Something that could be done: whether it is `right`, and why; `later` says what a wrong one leads to.

    `to` names the scene that follows it, where that is not the next one.
    """

    do: Text
    why: Text
    right: bool = False
    later: Text | None = None
    to: str = ""


@dataclass(frozen=True)
class Scene:
    """One scene: what is seen, and what could be done, or the number to `key`; the first answer is the one judged.

    A `detour` is met only where an answer leads to it; `then` names what follows it. `steps` says which of the
    workplace's own steps at a reader belong here, `sheet` which number stands on the sheet.
    """

    id: str
    theme: str
    say: Text
    choices: tuple[SceneChoice, ...] = ()
    person: str = ""
    picture: str = ""
    sheet: str = ""
    steps: str = ""
    key: str = ""
    why: Text | None = None
    later: Text | None = None
    detour: bool = False
    then: str = ""


@dataclass(frozen=True)
class Scenario:
    """A round to practise on; `edition` grows whenever its themes change, so that results stay readable.

    `words` are said around the scenes, `pictures` say what each drawing shows.
    """

    edition: int
    words: Mapping[str, Text]
    themes: Mapping[str, Text]
    pictures: Mapping[str, Text]
    scenes: Mapping[str, Scene]

    def first(self) -> Scene:
        """Return the scene it begins with."""
        return next(iter(self.scenes.values()))

    def after(self, scene: Scene, choice: SceneChoice | None) -> Scene | None:
        """Return the scene that follows an answer; None where the round is over."""
        named = (choice.to if choice else "") or scene.then
        if named:
            return self.scenes[named]
        order = list(self.scenes.values())
        return next((one for one in order[order.index(scene) + 1 :] if not one.detour), None)


def parse_scenario(text: str) -> Scenario:
    """Return the scenario of a TOML text; raises ValueError where something is missing in it, or leads nowhere."""
    said = tomllib.loads(text)
    scenes = {one["id"]: _scene(one) for one in said["scenes"]}
    words, themes, pictures = (_texts(said[name]) for name in ("words", "themes", "pictures"))
    made = Scenario(said["edition"], words, themes, pictures, scenes)
    for scene in scenes.values():
        _check(made, scene)
    unmet = set(made.themes) - {scene.theme for scene in scenes.values()}
    if unmet:
        raise ValueError(f"nothing is asked about {', '.join(sorted(unmet))}")
    return made


def _scene(said: Mapping[str, Any]) -> Scene:
    choices = tuple(
        SceneChoice(**{**one, **{name: _text(one[name]) for name in ("do", "why", "later") if name in one}})
        for one in said.get("choices", ())
    )
    texts = {name: _text(said[name]) for name in ("say", "why", "later") if name in said}
    return Scene(**{**said, "choices": choices, **texts})


def _texts(said: Mapping[str, Any]) -> dict[str, Text]:
    return {name: _text(text) for name, text in said.items()}


def _text(said: Mapping[str, str]) -> Text:
    lacking = [language for language in LANGUAGES if not said.get(language, "").strip()]
    if lacking or len(said) != len(LANGUAGES):
        raise ValueError(f"{dict(said)} is not said once in each of {', '.join(LANGUAGES)}")
    return dict(said)


def _check(scenario: Scenario, scene: Scene) -> None:
    leads = {scene.then, *(choice.to for choice in scene.choices)} - {""}
    rights = sum(choice.right for choice in scene.choices)
    faults = {
        "is about no theme": scene.theme not in scenario.themes,
        "leads nowhere": not leads <= set(scenario.scenes),
        "is neither keyed nor chosen": bool(scene.key) == bool(scene.choices),
        "has not one right answer": bool(scene.choices) and rights != 1,
        "does not say why": bool(scene.key) and scene.why is None,
        "shows a picture that is none": scene.picture not in ("", *scenario.pictures),
        "names steps that are none": scene.steps not in ("", *HEADINGS),
    }
    for what, is_so in faults.items():
        if is_so:
            raise ValueError(f"scene {scene.id} {what}")


def sent_along(scenario: Scenario) -> dict[str, Any]:
    """Return the scenario as what the browser plays it from: plain values, as JSON holds them."""
    return {
        "edition": scenario.edition,
        "words": {name: dict(text) for name, text in scenario.words.items()},
        "themes": [{"id": name, **text} for name, text in scenario.themes.items()],  # the order is the result's
        "pictures": {name: dict(text) for name, text in scenario.pictures.items()},
        "scenes": [_plain(scene) for scene in scenario.scenes.values()],
    }


def _plain(scene: Scene) -> dict[str, Any]:
    said = {name: value for name, value in vars(scene).items() if value}
    return said | {"choices": [{name: value for name, value in vars(one).items() if value} for one in scene.choices]}
