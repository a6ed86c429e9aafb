"""Everything that is said is said in German too: whole sentences, the same facts, the same things to type."""

import ast
import inspect
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from string import Formatter
from typing import Any, get_args

import click
import pytest
from babel.messages.catalog import Message
from babel.messages.pofile import read_po

from steelyard.catalogue import catalogue
from steelyard.cli.group import COMMANDS, steelyard
from steelyard.cli.tongue import in_tongue
from steelyard.engine.exercises import Implement
from steelyard.engine.health import Condition
from steelyard.engine.log import Missed, OverruleBody, Phase, SetBody, SetKind, Technique
from steelyard.engine.policy import Mark
from steelyard.engine.quantities import Unit
from steelyard.wording import code_words, labels
from steelyard.wording.code_words import code_word
from steelyard.wording.message import LOCALES, speak, tell

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "steelyard"
PO = LOCALES / "de" / "LC_MESSAGES" / "steelyard.po"

# Messages that are the same in both languages, and why.
EQUAL = {
    "{file}: {counts}; {lifters}.": "parts that are said elsewhere",
    "{text!r} {problem}": "parts that are said elsewhere",
    "--{key} {problem}": "parts that are said elsewhere",
    "{name}: {entries} in {file}.": "parts that are said elsewhere",
    "Name": "the same word",
    "Lloyd et al. 2014": "a citation",
    "Riebe et al. 2015, Med Sci Sports Exerc 47:2473-2479": "a citation",
    "Stricker et al. 2020, Pediatrics 145:e20201011; Lloyd et al. 2014, Br J Sports Med 48:498-505": "citations",
}

# Calls whose arguments people read, and which of them are for programs.
SAYING: dict[str, set[object]] = {
    "Refused": set(),
    "CellRefused": set(),
    "PlaceRefused": set(),
    "BackupRefused": set(),
    "PersonFileRefused": set(),
    "UsageError": set(),
    "BadParameter": set(),
    "ClickException": set(),
    "fail": {"param", "ctx"},
    "echo": set(),
    "prompt": {"default"},
    "confirm": set(),
    "refuse": set(),
    "refusal": {"column", "value", "sheet"},
    "Problem": {"column", "value", "sheet"},
    "Choice": {0, "answer"},
    "Question": {"key"},
    "Held": {0},
}
TELLING = {"tell", "told_later", "tell_count", "tell_refused", "label", "code_word", "long_date"}
# What is told by a name instead of as it stands: docs/messages/make collects it by other means.
TOLD_BY_NAME = {
    "services/policies.py": {"setting.source", "setting.meaning"},
    "services/sheets.py": {"reason.source"},
    "services/demo.py": {"file.about", "member.story", "members[IN_FULL].story"},
    "cli/group.py": {"line"},
    "cli/tongue.py": {"inspect.cleandoc(command.help)", "inspect.cleandoc(command.epilog)", "parameter.help"},
}
# Sentences in the code that nobody is told as they stand: file, beginning, and why.
UNTOLD = {
    ("services/demo_club/", ""): "what invented people write into their logs, in their own language",
    ("exchange/headers.py", ""): "words that people write above columns",
    ("exchange/training_days.py", ""): "answers that are typed",
    ("exchange/titles.py", "^"): "a pattern",
    ("exchange/packed_rows.py", "no cell of a file"): "a fault of ours, never of a file",
    ("services/demo.py", "body mass {}"): "a line as it is typed",
    ("exchange/set_order.py", "{} sets {}"): "a cell as it is read on",
    ("services/file_changes.py", "not in {} any more"): "content of the log, the same whoever reads it",
}


def messages() -> list[Message]:
    """Every message of the German catalogue."""
    with PO.open("rb") as file:
        return [message for message in read_po(file, locale="de") if message.id]


def pairs(message: Message) -> list[tuple[str, str]]:
    """English and German of a message; of one that counts, one thing and many."""
    one_or_many = [(t,) if isinstance(t, str) else tuple(t or ()) for t in (message.id, message.string)]
    return list(zip(*one_or_many, strict=True))


def placeholders(text: str) -> set[tuple[str, str]]:
    """What is filled in: {name} with its conversion, and %(name)s."""
    braces = {(name, conversion or "") for _, name, _, conversion in Formatter().parse(text) if name is not None}
    return braces | {(name, "%") for name in re.findall(r"%\((\w+)\)s", text)}


def test_the_catalogue_is_what_the_code_says(tmp_path: Path) -> None:
    made = [sys.executable, str(ROOT / "docs" / "messages" / "make"), str(tmp_path)]
    subprocess.run(made, check=True, capture_output=True, timeout=120)
    for name in ("steelyard.po", "steelyard.mo"):
        written = (tmp_path / "de" / "LC_MESSAGES" / name).read_bytes()
        assert written == (PO.parent / name).read_bytes(), f"run docs/messages/make: {name} is not up to date"


def test_every_message_is_translated() -> None:
    found = messages()
    assert len(found) > 500
    untranslated = [m.id for m in found if m.fuzzy or not all(german.strip() for _, german in pairs(m))]
    assert untranslated == []
    same = {english for m in found for english, german in pairs(m) if english == german}
    assert same - EQUAL.keys() == set()


def test_every_translation_keeps_the_facts_and_what_is_typed() -> None:
    for message in messages():
        for english, german in pairs(message):
            assert placeholders(german) == placeholders(english), english
            for edge in (r"^\s*", r"\s*$"):
                assert re.search(edge, german)[0] == re.search(edge, english)[0], english  # type: ignore[index] # always found
            for typed in (r"--[a-z][a-z-]+", r"`[^`]+`", r"\bSTEELYARD_\w+"):
                assert set(re.findall(typed, german)) == set(re.findall(typed, english)), english


def test_nobody_is_spoken_to_with_exclamation_marks() -> None:
    assert [g for m in messages() for _, g in pairs(m) if "!" in re.sub(r"![rs][:}]", "}", g)] == []


# --- The code ---------------------------------------------------------------------------------------------------------


def trees() -> Iterator[tuple[str, ast.Module]]:
    """Every module that has something to say to people."""
    for floor in ("services", "exchange", "site", "cli", "store"):
        for path in sorted((SOURCE / floor).rglob("*.py")):
            name = str(path.relative_to(SOURCE))
            yield name, ast.parse(path.read_text(encoding="utf-8"))


def called(node: ast.AST) -> str:
    """The bare name of what is called; nothing where the node is no call."""
    if not isinstance(node, ast.Call):
        return ""
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def untold(node: ast.AST) -> Iterator[str]:
    """Literal text below a node that goes through none of the functions that know German."""
    if called(node) in TELLING:
        return
    if isinstance(node, ast.JoinedStr):
        yield "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif not isinstance(node, ast.Subscript | ast.Compare):  # keys and comparisons are not said
        for child in ast.iter_child_nodes(node):
            yield from untold(child)


def said_arguments(call: ast.Call, for_programs: set[object]) -> Iterator[ast.AST]:
    """The arguments of a call that people read."""
    yield from (a for i, a in enumerate(call.args) if i not in for_programs)
    yield from (k.value for k in call.keywords if k.arg not in for_programs)


def test_nothing_is_refused_asked_or_printed_in_english_only() -> None:
    found = []
    seen = 0
    for file, tree in trees():
        for node in ast.walk(tree):
            name = called(node)
            if name in SAYING and isinstance(node, ast.Call):
                seen += 1
                words = [t for a in said_arguments(node, SAYING[name]) for t in untold(a)]
                found += [(file, node.lineno, name, t) for t in words if re.search(r"[A-Za-z]{2}", t)]
    assert seen > 200
    wrong = [f for f in found if not is_typed(f[3])]
    assert wrong == [], "\n".join(map(str, wrong))


def test_what_is_told_stands_where_it_is_collected() -> None:
    found = {
        (file, ast.unparse(argument))
        for file, tree in trees()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and called(node) in {"tell", "tell_count"}
        for argument in node.args[: 1 if called(node) == "tell" else 2]
        if not isinstance(argument, ast.Constant)
    }
    assert found == {(file, text) for file, texts in TOLD_BY_NAME.items() for text in texts}


def test_what_the_engine_refuses_is_said_by_its_template() -> None:
    wrong = []
    for file, tree in trees():
        for node in ast.walk(tree):
            if isinstance(node, ast.ExceptHandler) and node.type is not None:
                caught = ast.unparse(node.type)
                if re.search("QuantityRefused|EffortRefused|PolicyRefused|ValueRefused", caught):
                    wrong += [(file, node.lineno) for n in ast.walk(node) if called(n) == "str"]
    assert wrong == []


def is_typed(text: str) -> bool:
    """What a person types or a program reads: options, commands, names of files."""
    return re.fullmatch(r"\s*(?:steelyard |--)[^.;]*|[\w{}.-]+\.(?:csv|gz)|\{\} \{\}|\w+ \{\}", text) is not None


def test_no_sentence_stands_in_the_code_untold() -> None:
    found = []
    for file, tree in trees():
        skipped = set(passed_by(tree))
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant | ast.JoinedStr) and node not in skipped:
                text = next(untold(node), "")
                if re.search(r"(?:(?:[A-Za-z']{2,}|\{\})[,;:.)]* [(]?){2}(?:[A-Za-z']{2,}|\{\})", text) and has_word(
                    text
                ):
                    found.append((file, text))
    wrong = [f for f in found if not any(f[0].startswith(file) and f[1].startswith(begins) for file, begins in UNTOLD)]
    assert wrong == [], "\n".join(map(str, wrong))


def has_word(text: str) -> bool:
    """Whether any word stands between what is filled in."""
    return re.search(r"[A-Za-z]{2}", text) is not None


def passed_by(tree: ast.Module) -> Iterator[ast.AST]:
    """Text that is no message, or is told by other means: docstrings, help, patterns, what is told."""
    told_elsewhere = {"option", "argument", "group", "command", "version_option", "compile", "fullmatch", "execute"}
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield node.value
        elif called(node) in TELLING | told_elsewhere or ast.unparse(node).startswith("COMMANDS:"):
            yield from ast.walk(node)
        elif isinstance(node, ast.FunctionDef) and node.returns is not None:
            yield from ast.walk(node.returns)
        elif isinstance(node, ast.JoinedStr):
            yield from node.values


# --- Help -------------------------------------------------------------------------------------------------------------


def commands() -> Iterator[tuple[str, click.Command]]:
    """Every command with its path, those below groups too."""
    yield "steelyard", steelyard
    waiting = [
        (f"steelyard {name}", import_module(f"steelyard.cli.commands.{m}").command) for name, (m, _) in COMMANDS.items()
    ]
    while waiting:
        path, command = waiting.pop()
        yield path, command
        if isinstance(command, click.Group):
            waiting += [(f"{path} {name}", inner) for name, inner in command.commands.items()]


ALL_COMMANDS = dict(commands())


@pytest.fixture
def german() -> Iterator[None]:
    """German, for one test."""
    speak("de")
    yield
    speak("en")


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize("path", ALL_COMMANDS)
def test_help_is_german(path: str) -> None:
    command = ALL_COMMANDS[path]
    spoken = in_tongue(command)
    assert command.help is not None
    assert spoken.help is not None
    english = [inspect.cleandoc(command.help), inspect.cleandoc(command.epilog or "")]
    english += [p.help or "" for p in command.params if isinstance(p, click.Option)]
    said = " ".join(spoken.get_help(click.Context(spoken, info_name=path)).split())
    for text in english:
        for sentence in re.split(r"(?<=[.:;])\s|\n\n", text.partition("\n\b")[0]):
            assert len(sentence.split()) < 3 or " ".join(sentence.split()) not in said, sentence
    for inner in command.commands.values() if isinstance(command, click.Group) else ():
        assert inner.get_short_help_str(40).removesuffix("...") not in said


@pytest.mark.usefixtures("german")
def test_the_list_of_commands_is_german() -> None:
    said = " ".join(steelyard.get_help(click.Context(steelyard)).split())
    assert [line for _, line in COMMANDS.values() if line in said or tell(line) not in said] == []


def examples(text: str) -> list[str]:
    """The commands that a help shows."""
    return [line.strip() for line in text.splitlines() if line.startswith("  steelyard ")]


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize("path", [p for p in ALL_COMMANDS if p != "steelyard"])
def test_examples_are_the_same_commands_in_german(path: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    command = ALL_COMMANDS[path]
    shown = examples(in_tongue(command).help or "")
    assert shown == examples(inspect.cleandoc(command.help or ""))
    if not isinstance(command, click.Group):
        assert shown
    for line in shown:
        words = shlex.split(line.partition(" > ")[0])
        for word in words:
            if re.fullmatch(r"\w[\w./-]*\.(csv|xlsx|gz|jsonl|txt)", word):
                (tmp_path / word).parent.mkdir(exist_ok=True)
                (tmp_path / word).touch()
        found: Any = steelyard
        context = click.Context(steelyard)
        while isinstance(found, click.Group) and len(words) > 1:
            words = words[1:]
            found = found.get_command(context, words[0])
            assert found is not None, line
        found.make_context(words[0], words[1:], parent=context)


# --- Names and short words --------------------------------------------------------------------------------------------


def test_every_exercise_has_a_name_in_each_language() -> None:
    for exercise in catalogue().exercises:
        assert set(exercise.name) == {"en", "de"}, exercise.code
        assert all(name.strip() == name and name for name in exercise.name.values()), exercise.code


def test_every_short_word_stands_in_both_languages() -> None:
    short: dict[str, tuple[str, str]] = labels._WORDS | {
        f"{kind} {code}": words for kind, codes in code_words._WORDS.items() for code, words in codes.items()
    }
    for key, words in short.items():
        assert len(words) == 2, key
        assert all(word.strip() for word in words), key
    for names in (labels._DAYS, labels._MONTHS):
        assert len(names[0]) == len(names[1])
        assert not set(names[0]) & set(names[1]) - {"April", "August", "September", "November"}


CODES: list[tuple[str, tuple[str, ...]]] = [
    ("kind", get_args(SetKind)),
    ("condition", get_args(Condition)),
    ("joint", tuple(sorted({at.joint for exercise in catalogue().exercises for at in exercise.joints}))),
    ("missed", get_args(Missed)),
    ("technique", get_args(Technique)),
    ("phase", get_args(Phase)),
    ("unit", get_args(Unit)),
    ("implement", get_args(Implement)),
    ("mark", get_args(Mark)),
    ("side", tuple(code for part in get_args(SetBody.__annotations__["side"]) for code in get_args(part))),
    ("limit", get_args(OverruleBody.__annotations__["limit"])),
    ("pattern", tuple(sorted({exercise.pattern for exercise in catalogue().exercises}))),
]


@pytest.mark.parametrize(("kind", "codes"), CODES, ids=[kind for kind, _ in CODES])
def test_every_code_has_a_word(kind: str, codes: tuple[str, ...]) -> None:
    assert codes
    assert set(codes) == code_words._WORDS[kind].keys()
    assert [code for code in codes if not code_word(kind, code, "de")] == []
    assert code_word(kind, "no such code", "de") == "no such code"
