"""In which language the commands speak, and what says their sentences in it.

A command says English patterns of the catalogue; whatever else is told in another language (its help, what the command
line itself refuses) is told here, once for all commands. English costs no catalogue.
"""

from __future__ import annotations

import inspect
import os
import re
import tomllib
import unicodedata
from collections.abc import Iterable, Mapping
from contextvars import ContextVar
from dataclasses import replace
from functools import cache
from pathlib import Path

import click

from evenhand.terms.languages import ENGLISH, NAMES, Sentence, Speech, sentence, told

__all__ = [
    "Context",
    "ask",
    "chosen",
    "folder_asked",
    "name_zones",
    "paragraphs",
    "show_error",
    "speak_help",
    "speech",
    "tell",
    "word",
]

CHOSEN: ContextVar[str] = ContextVar("the language that was asked for by --speak", default="")
NAMES_ZONES: ContextVar[bool] = ContextVar(
    "whether the workspace that was opened has clocks of two zones", default=False
)
FOLDER: ContextVar[str] = ContextVar("the folder that was named by --workspace", default="")

YES, NO = sentence("yes"), sentence("no")
"""What is answered to a question, or its first letter."""

OF_THE_COMMAND_LINE = (
    sentence("No such option {name}."),
    sentence("No such option {name}. Did you mean {one}?"),
    sentence("No such option {name}. (Did you mean one of: {several}?)"),
    sentence("No such command {name}."),
    sentence("No such command {name}. Did you mean {one}?"),
    sentence("No such command {name}. (Did you mean one of: {several}?)"),
    sentence("Missing argument {name}."),
    sentence("Missing argument {name}. Choose from:{choices}"),
    sentence("Missing option {name}."),
    sentence("Missing option {name}. Choose from:{choices}"),
    sentence("Missing command."),
    sentence("{value} is not in the range {range}."),
    sentence("{value} is not a valid integer."),
    sentence("{value} is not a valid integer range."),
    sentence("{value} is not a valid float."),
    sentence("{value} is not a valid float range."),
    sentence("{value} is not one of {choices}."),
    sentence("Option {name} requires an argument."),
    sentence("Option {name} does not take a value."),
    sentence("Got unexpected extra argument ({value})"),
    sentence("Got unexpected extra arguments ({value})"),
    sentence("File {name} does not exist."),
    sentence("File {name} is a directory."),
    sentence("Directory {name} is a file."),
    sentence("Path {name} does not exist."),
)
"""What the library that reads the command line says in English, which is told again by these patterns."""
OF_HELP = (
    sentence("Options"),
    sentence("Commands"),
    sentence("Positional arguments"),
    sentence("Show this message and exit."),
    sentence("Show the version and exit."),
)
"""What that library writes into each help."""
EXTRA = re.compile(r"(?:(?<=  \[)|(?<=^\[))default: |(?<=[\[ ])required(?=\]$)")
"""What it writes in brackets behind an option's help, beside a value or a range."""
EXTRAS = {"default: ": sentence("default: "), "required": sentence("required")}


def speech() -> Speech:
    """Return what says sentences in the language of this command.

    It is the one that `--speak` or EVENHAND_SPEAK chooses; else the workplace's, as on the pages; else the locale's,
    where evenhand speaks it; else English. Once a workspace is open that has clocks of two zones, times name theirs.
    """
    return _speech(CHOSEN.get(), FOLDER.get(), Path.cwd(), NAMES_ZONES.get())


def name_zones(are_several: bool) -> None:
    """Have times name their zone from now on, where the workplace goes by clocks of several."""
    NAMES_ZONES.set(are_several)


@cache
def _speech(chosen: str, folder: str, here: Path, names_zones: bool) -> Speech:
    # before anything is done: a command that makes or mends a workspace speaks one language all the way
    language = chosen or _of_workplace(folder_asked(folder, here)) or _of_locale(os.environ) or "en"
    if language == "en":
        return replace(ENGLISH, names_zones=True) if names_zones else ENGLISH
    from evenhand.jobs.languages import say_in

    return say_in(language, names_zones=names_zones)


def folder_asked(named: str | None, here: Path) -> Path | None:
    """Return the folder of the workspace that is named, or of the nearest one at or above `here`; None for none."""
    if named:
        return Path(named)
    return next((folder for folder in (here, *here.parents) if (folder / "evenhand.toml").is_file()), None)


def _of_workplace(folder: Path | None) -> str:
    """Return the language that the settings name; '' for none, and where they cannot be read, which is told later."""
    if folder is None:
        return ""
    try:
        with (folder / "evenhand.toml").open("rb") as file:
            language = tomllib.load(file)["workplace"]["language"]
    except (OSError, ValueError, KeyError, TypeError):
        return ""
    return language if language in NAMES else ""


def _of_locale(environment: Mapping[str, str]) -> str:
    """Return the language of messages, where evenhand speaks it; '' otherwise.

    Source: POSIX.1-2024, Base Definitions, 8.2: LC_ALL, else LC_MESSAGES, else LANG; one that is empty counts as unset.
    A value is language[_territory][.codeset][@modifier].
    """
    value = next(filter(None, (environment.get(name) for name in ("LC_ALL", "LC_MESSAGES", "LANG"))), "")
    language = re.split(r"[_.@]", value, maxsplit=1)[0]
    return language if language in NAMES else ""


def chosen(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Keep what an option before the command says, as soon as it is read: help may follow at once."""
    (FOLDER if param.name == "workspace" else CHOSEN).set(value or "")
    return value


# ---- sentences


def tell(text: str) -> str:
    """Return a Sentence in the command's language, and any other text as it is."""
    if not isinstance(text, Sentence):
        return text
    # whoever searches what a command printed for a figure types a plain space
    return speech().written(text).replace("\u00a0", " ")


def word(text: str) -> str:
    """Return a word of a table in the command's language, and one that no catalogue has as it is."""
    return tell(text) if isinstance(text, Sentence) else speech().said(text)


def ask(question: str, *, default: bool | None) -> bool:
    """Ask a yes/no question on standard error until it is answered, in the command's language; nothing is `default`."""
    yes, no = (_unaccented(speech()(word)) for word in (YES, NO))
    answers = {yes: True, yes[:1]: True, no: False, no[:1]: False}
    shown = f"{yes[:1]}/{no[:1] if default is None else no[:1].upper()}"
    while True:
        said = _unaccented(
            click.prompt(f"{tell(question)} [{shown}]", default="", show_default=False, err=True).strip()
        )
        if said in answers:
            return answers[said]
        if not said and default is not None:
            return default
        click.echo(tell(told("Error: invalid input")), err=True)


def _unaccented(word: str) -> str:
    """Return a word in small letters without accents, which not every keyboard has."""
    return "".join(one for one in unicodedata.normalize("NFD", word.lower()) if not unicodedata.combining(one))


def show_error(error: click.ClickException) -> None:
    """Print how a command is used and what of it could not be read, on standard error."""
    if speech().language == ENGLISH.language:
        error.show()
        return
    if isinstance(error, click.UsageError) and error.ctx is not None:
        click.echo(error.ctx.get_usage(), err=True)
        name = max(error.ctx.command.get_help_option_names(error.ctx), key=len)
        says = told("Try '{command} {option}' for help.", command=error.ctx.command_path, option=name)
        click.echo(f"{tell(says)}\n", err=True)
    click.echo(tell(told("Error: {says:again}", says=_reason(error))), err=True)


def _reason(error: click.ClickException) -> str:
    if isinstance(error, click.BadParameter) and error.param is not None and error.message:
        name = error.param.get_error_hint(error.ctx)
        return told("Invalid value for {name}: {why:again}", name=name, why=error.message)
    return error.format_message()


# ---- help


def paragraphs(text: str) -> list[str]:
    """Return the paragraphs of a help text, each in one line, as the catalogue has them."""
    return [" ".join(part.split()) for part in inspect.cleandoc(text).split("\n\n")]


def speak_help(command: click.Command) -> None:
    """Put a command's help, and that of its parts and options, into the language that is spoken."""
    command.context_class = Context
    if speech().language == ENGLISH.language:
        return
    say = speech().said
    command.help = "\n\n".join(map(say, paragraphs(command.help or "")))
    for option in command.params:
        if isinstance(option, click.Option) and option.help:
            option.help = say(" ".join(option.help.split()))
    if isinstance(command, click.Group):
        for part in command.commands.values():
            speak_help(part)


class _Formatter(click.HelpFormatter):
    """Writes help under headings of the language that is spoken."""

    def write_usage(self, prog: str, args: str = "", prefix: str | None = None) -> None:
        """Write how a command is called."""
        super().write_usage(prog, args, prefix or tell(told("Usage:")) + " ")

    def write_heading(self, heading: str) -> None:
        """Write a heading."""
        super().write_heading(speech().said(heading))

    def write_dl(self, rows: Iterable[tuple[str, str]], col_max: int = 30, col_spacing: int = 2) -> None:
        """Write options or commands with their help, and what is said of them in brackets."""
        say = speech().said
        super().write_dl(
            [(name, EXTRA.sub(lambda found: say(EXTRAS[found[0]]), say(text))) for name, text in rows],
            col_max,
            col_spacing,
        )


class Context(click.Context):
    """What is known of a command that is called, whose help is written in the language that is spoken."""

    formatter_class = _Formatter
