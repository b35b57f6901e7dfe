"""The hooks that a plugin may implement, each with when it is called and what None means."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from typing import TYPE_CHECKING, Any

import pluggy

from afield.core.facts.declarations import Fact, Kind
from afield.core.facts.subjects import Subject
from afield.core.frozen import frozen

if TYPE_CHECKING:
    from afield.core.documents import Document

hookspec = pluggy.HookspecMarker("afield")
hookimpl = pluggy.HookimplMarker("afield")


@frozen
class Fragment:
    """Properties that a plugin adds to a named object of what a person writes.

    Attributes:
        document: "plan" or "references" (an entry of a pack's `references:`).
        at: the object, "/" or a path such as "claims[]", "station", "station.parts[]".
        properties: JSON Schema of each property; leaves marked `x-fact` become stated facts, arrays marked `x-kind`
            and `x-key` become subjects.
        required: which of them must be there if the object is.

    """

    document: str
    at: str
    properties: Mapping[str, Any]
    required: tuple[str, ...] = ()


@frozen
class Solution:
    """What a solver found for a section of the briefing.

    Attributes:
        found: the answer, as JSON by the solver's schema.
        crashes: in words, who failed on the way, at what, so that the answer may be worse for it; since 0.2.

    """

    found: Mapping[str, Any]
    crashes: Sequence[str] = ()


@frozen
class Solver:
    """What has to be searched for before a section can be made, and so is done only where the section is asked for.

    Attributes:
        function: address, `package.module:function`, imported when the section is asked for: (trip, engine, settings)
            -> Solution, as of `core.api`; `settings` are texts by name. It may take as long as it likes. It raises
            UsageError where the trip, or a setting, leaves nothing to be solved: no briefing is written then.
        command: the command of the plugin that gives the same answer alone.
        schema: JSON Schema of what is found.
        settings: names of the settings that it takes; since 0.2.

    """

    function: str
    command: str
    schema: Mapping[str, Any]
    settings: tuple[str, ...] = ()


@frozen
class Section:
    """A section of the briefing.

    Attributes:
        name: lower-case word, also the name of its schema and template.
        title: heading.
        order: where it stands; lower is earlier.
        wants: names of facts; `data` gets {fact: {subject key: record as in the report}}.
        data: facts -> JSON by `schema`; run once when the report is built for a briefing. None = leave it out.
        schema: JSON Schema of that JSON.
        template: the jinja2 template's file name in the plugin's `templates` package folder.
        package: dotted package that holds `templates/`.
        figures: name -> function of that JSON giving SVG text, for the template.
        text: JSON -> plain text, for the text briefing.
        files: file name -> function of that JSON giving the text of a file that `afield brief` writes beside the page;
            None = no such file this time. A plain name that no other section has; since 0.2.
        solver: the section is made only where `afield brief --with NAME` asks for it. What is found is kept under
            `solutions` in the report; `data` gets it as `solution` beside the facts, and figures, template, text and
            files as `data.solution`; the section's own data does not hold it. None = made in every briefing; since 0.2.

    """

    name: str
    title: str
    order: int
    wants: tuple[str, ...]
    data: Callable[[Mapping[str, Mapping[str, Any]]], Mapping[str, Any] | None]
    schema: Mapping[str, Any]
    template: str
    package: str
    figures: Mapping[str, Callable[[Mapping[str, Any]], str]] = field(default_factory=dict)
    text: Callable[[Mapping[str, Any]], str] | None = None
    files: Mapping[str, Callable[[Mapping[str, Any]], str | None]] = field(default_factory=dict)
    solver: Solver | None = None


@frozen
class Comparison:
    """A fact of the trip that `afield compare` sets side by side.

    Records are those of the report, as JSON (`value`, `low`, `high`, `uncertainty`, `unit`, `parts`, `detail`, ...).

    Attributes:
        fact: its name; a fact of the trip itself.
        title: heading, such as "Mass of the kit".
        order: where it stands; lower is earlier. It says nothing of how much the fact matters.
        difference: (base's record, variant's record), both known -> more words on how they differ ("13 dB"); None = no
            more.
        words: a known record -> how it is printed, further lines below the first; left out, a number is printed with
            its uncertainty, truth as yes or no, a list as its length and entries.

    """

    fact: str
    title: str
    order: int
    difference: Callable[[Mapping[str, Any], Mapping[str, Any]], str | None] | None = None
    words: Callable[[Mapping[str, Any]], str] | None = None


@frozen
class Command:
    """A command that a plugin brings.

    Attributes:
        name: it is registered under this.
        function: with typer annotations, or its address, `package.module:function`, imported when a command of a
            plugin is asked for; its result is the exit status.
        help: one sentence.

    """

    name: str
    function: Callable[..., Any] | str
    help: str


@frozen
class Question:
    """A question that `afield new` asks, if the rules in play rest on what it answers.

    Attributes:
        name: also the flag, `--NAME`.
        ask: the question, in plain words.
        example: an answer, shown with it.
        facts: it is asked only if a rule in play rests on one of these facts.
        lines: answer -> lines of the plan (YAML, commented); raises ValueError(what is wrong, what to do).
        order: where it is asked; lower is earlier.

    """

    name: str
    ask: str
    example: str
    facts: tuple[str, ...]
    lines: Callable[[str], Sequence[str]]
    order: int = 100


RESULTS: Mapping[str, type] = {
    "afield_kinds": Kind,
    "afield_fragments": Fragment,
    "afield_facts": Fact,
    "afield_computations": str,
    "afield_subjects": Subject,
    "afield_sections": Section,
    "afield_comparisons": Comparison,
    "afield_questions": Question,
    "afield_commands": Command,
}
"""Hook -> what each item of its result is."""


class Hooks:
    """The hook specifications; none is ever called twice in one run."""

    @hookspec
    def afield_kinds(self) -> Sequence[Kind] | None:
        """Kinds of subject that the plugin adds.

        When: once, while the plugins are loaded. Order: of no matter. None: it adds no kind. Since: 0.1.
        """

    @hookspec
    def afield_fragments(self) -> Sequence[Fragment] | None:
        """Properties that the plugin adds to the plan or to a pack's references.

        When: once, while the plugins are loaded. Order: of no matter; a property added twice is an error.
        None: it adds none. Since: 0.1.
        """

    @hookspec
    def afield_facts(self) -> Sequence[Fact] | None:
        """Facts that the plugin finds.

        When: once, while the plugins are loaded; nothing heavy may be imported. Order: of no matter; a name
        declared twice is an error. None: it finds none. Since: 0.1.
        """

    @hookspec
    def afield_computations(self) -> Sequence[str] | None:
        """Computations as "package.module:function", imported when first used.

        When: when a command needs them. Order: of no matter; a name given twice is an error. None: none. Since: 0.1.
        """

    @hookspec
    def afield_subjects(self, plan: Document) -> Sequence[Subject] | None:
        """Subjects derived from the plan, beyond those that its arrays state.

        When: once a plan, after its own subjects. Order: of no matter; a key used twice is an error.
        None: it derives none. A failure makes every rule for the plugin's kinds one cannot tell. Since: 0.1.
        """

    @hookspec
    def afield_sections(self) -> Sequence[Section] | None:
        """Sections of the briefing.

        When: when a briefing is made. Order: by `Section.order`, then name. None: it has none. Since: 0.1.
        """

    @hookspec
    def afield_comparisons(self) -> Sequence[Comparison] | None:
        """Facts of the trip that `afield compare` sets side by side.

        When: when variants are compared. Order: by `Comparison.order`, then title; a fact named twice, or one that is
        not the trip's, is an error. None: it has none. Since: 0.2.
        """

    @hookspec
    def afield_questions(self) -> Sequence[Question] | None:
        """Questions of `afield new`, beyond the trip's name, date and claims.

        When: when a new plan is made. Order: by `Question.order`, then name. None: it has none. Since: 0.1.
        """

    @hookspec
    def afield_commands(self) -> Sequence[Command] | None:
        """Commands of its own.

        When: when the command line is read. Order: by name. None: it has none. Since: 0.1.
        """
