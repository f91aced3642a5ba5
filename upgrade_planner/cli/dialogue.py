"""The questions of `describe`, asked one by one in the terminal."""

from collections.abc import Callable
from textwrap import fill

import typer

from upgrade_planner.cli.saying import say
from upgrade_planner.documents.terminal.proposals import PROPOSALS_SHOWN, print_proposals
from upgrade_planner.documents.terminal.spoken import said
from upgrade_planner.jobs.describe import (
    Answer,
    AnswerError,
    Answers,
    Proposal,
    Question,
    completed,
    is_unknown,
    questions,
    read_answer,
)

WIDTH = 78
HELP, BACK = "?", "back"

GREETING = """\
About your vehicle: go and look, answer in words or by number. Empty = not known (it is kept as a
doubt), ? = more help, back = the question before, Ctrl-C = stop, nothing written.
Hints are common practice; the maker's manual comes first. Looking needs no ignition: key off."""


class Dialogue:
    """
    Asks, checks, goes back and forth; holds the answers so far.

    Args:
        propose: Finds proposals for answers, the nearest first.
        english: `us` or `uk`; "" as it is written.
    """

    def __init__(
        self, propose: Callable[[Answers], tuple[Proposal, ...]], english: str = ""
    ) -> None:
        self._propose = propose
        self._english = english
        self._answers: dict[str, Answer] = {}

    def hold(self) -> tuple[Answers, Proposal, tuple[Proposal, ...]]:
        """
        The answers, the proposal that was chosen, and all proposals.

        Raises:
            typer.Abort: the input ended, or the person broke off.
        """
        self._tell(GREETING)
        index, step = 0, 1
        while True:
            while index < len(questions()):
                question = questions()[index]
                step = self._step(question, index) if question.is_of(self._answers) else step
                index += step
            answers = completed(self._answers)
            found = self._propose(answers)
            chosen = self._choice(found)
            if chosen is not None:
                return answers, chosen, found
            index = len(questions()) - 1

    def _step(self, question: Question, index: int) -> int:
        """Asks one question; 1 to go on, -1 to go back, 0 to stay at the first."""
        self._show(question, index)
        while True:
            text = _typed()
            if text == HELP:
                self._show_more(question)
            elif text.lower() == BACK:
                if not index:
                    say("  This is the first question.")
                return -1 if index else 0
            elif self._is_taken(question, text):
                return 1

    def _is_taken(self, question: Question, text: str) -> bool:
        """Keeps an answer; False, with a message, if it is none."""
        if is_unknown(text):
            self._answers.pop(question.key, None)
            say("  not known")
            return True
        try:
            answer = read_answer(question, text)
        except AnswerError as error:
            self._tell_in(f"{error}. Again, please; ? shows more.")
            return False
        self._answers[question.key] = answer
        if answer.is_vague:
            meant = [choice.words for choice in question.choices if choice.id in answer.ids]
            self._tell_in(f"understood: one of these, not known which: {'; '.join(meant)}")
        elif answer.words != text:
            self._tell_in(f"understood: {answer.words}")
        return True

    def _choice(self, found: tuple[Proposal, ...]) -> Proposal | None:
        """The proposal that the person wants; None to go back."""
        print_proposals(found, self._english)
        count = min(PROPOSALS_SHOWN, len(found))
        say(f"Which one shall your file start from? 1 to {count}, empty = 1")
        while True:
            text = _typed().lower()
            if text == BACK:
                return None
            if text == HELP:
                self._tell_in(
                    "The file starts from all parts and wires of it; you then put right what "
                    "differs. Choose the one whose ground and voltage are yours."
                )
                continue
            if not text:
                return found[0]
            if text.isascii() and text.isdigit() and 1 <= int(text) <= count:
                return found[int(text) - 1]
            named = [one for one in found if one.name == text]
            if named:
                return named[0]
            self._tell_in(
                f'found "{text[:40]}"; expected a number from 1 to {count}, or a name. Again.'
            )

    def _show(self, question: Question, index: int) -> None:
        say()
        self._tell(f"{index + 1} of {len(questions())}: {question.ask}")
        self._tell_in(question.see)
        for number, choice in enumerate(question.choices, start=1):
            self._tell(f"  {number:2} {choice.words}")
        if question.choices and question.subject.none:
            self._tell(f"   0 {question.subject.none}")

    def _show_more(self, question: Question) -> None:
        self._tell_in(question.more)
        for number, choice in enumerate(question.choices, start=1):
            self._tell_in(f"{number:2} {choice.words}: {choice.see}", further="   ")

    def _tell(self, text: str) -> None:
        say(text, english=self._english)

    def _tell_in(self, text: str, *, further: str = "") -> None:
        """A paragraph further in, its lines broken; its second line may stand in still further."""
        words = said(text, self._english)
        say(fill(words, WIDTH, initial_indent="  ", subsequent_indent=f"  {further}"))


def _typed() -> str:
    text: str = typer.prompt(">", default="", show_default=False, prompt_suffix=" ")
    return " ".join(text.split())
