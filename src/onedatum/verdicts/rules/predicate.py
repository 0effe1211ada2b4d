"""The language of the rules: names compared with constants, joined by and, or, not. No sums, no name against a name.

    predicate := term { "or" term }        term := factor { "and" factor }
    factor    := "not" factor | "(" predicate ")" | atom | "always"
    atom      := name ("<" | "<=" | ">" | ">=") number [ "/" number ] [ "[" unit "]" ]
               | name ("=" | "!=") word    |    name ["not"] "in" "{" word { "," word } "}"
    word      := yes | no | 'text in quotes'

A predicate is kept without `not`: the operators are turned instead.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from onedatum.foundation.errors import OnedatumError
from onedatum.verdicts.rules.truth import Truth

TURNED = {"<": ">=", "<=": ">", ">": "<=", ">=": "<", "in": "not in", "not in": "in"}
_TOKEN = re.compile(
    r"\s*(?:(?P<sign><=|>=|!=|[<>=(){},/])|\[(?P<unit>[^\]]*)\]|'(?P<quoted>[^']*)'|(?P<word>[^\s<>=!(){},/'\[\]]+))"
)


class PredicateError(OnedatumError):
    """A predicate that cannot be read, or that compares what cannot be compared."""


@dataclass(frozen=True)
class Limit:
    """A constant as it is written: a number with its unit."""

    number: float
    unit: str
    text: str


@dataclass(frozen=True)
class Atom:
    """One comparison of a name with a constant, or with words."""

    name: str
    sign: str
    limit: Limit | None = None
    words: tuple[str, ...] = ()

    @cached_property
    def hash(self) -> int:
        """Worked once: comparisons are keys."""
        return hash((self.name, self.sign, self.limit, self.words))

    def __hash__(self) -> int:
        return self.hash

    def __reduce__(self) -> tuple[type[Atom], tuple[object, ...]]:
        """Without what was worked: texts hash otherwise in every process."""
        return Atom, (self.name, self.sign, self.limit, self.words)

    @cached_property
    def turned(self) -> Atom:
        """Its opposite."""
        return Atom(self.name, TURNED[self.sign], self.limit, self.words)

    def __str__(self) -> str:
        if self.limit is not None:
            return f"{self.name} {self.sign} {self.limit.text}"
        if len(self.words) == 1:
            return f"{self.name} {'=' if self.sign == 'in' else '!='} {_quoted(self.words[0])}"
        return f"{self.name} {self.sign} {{{', '.join(map(_quoted, self.words))}}}"


@dataclass(frozen=True)
class Join:
    """Parts that must hold together ("and"), or of which one is enough ("or"); without parts, always or never."""

    word: str
    parts: tuple[Predicate, ...]

    @cached_property
    def hash(self) -> int:
        """Worked once: predicates are keys."""
        return hash((self.word, self.parts))

    def __hash__(self) -> int:
        return self.hash

    def __reduce__(self) -> tuple[type[Join], tuple[object, ...]]:
        """Without what was worked."""
        return Join, (self.word, self.parts)

    def __str__(self) -> str:
        if not self.parts:
            return "always" if self.word == "and" else "never"
        return f" {self.word} ".join(f"({part})" if isinstance(part, Join) else str(part) for part in self.parts)


Predicate = Atom | Join
ALWAYS, NEVER = Join("and", ()), Join("or", ())


def read_predicate(text: str) -> Predicate:
    """A predicate from its text; whatever does not follow the language is refused with its place."""
    return _Reader(text).whole()


def negated(predicate: Predicate) -> Predicate:
    """Its opposite, with the operators turned."""
    if isinstance(predicate, Atom):
        return predicate.turned
    return Join("or" if predicate.word == "and" else "and", tuple(negated(part) for part in predicate.parts))


def atoms(predicate: Predicate) -> Iterator[Atom]:
    """Every comparison, in the order of the text."""
    if isinstance(predicate, Atom):
        yield predicate
        return
    for part in predicate.parts:
        yield from atoms(part)


def truth_of(predicate: Predicate, of_atom: Callable[[Atom], Truth]) -> Truth:
    """What is known of a predicate, given what is known of its comparisons."""
    if isinstance(predicate, Atom):
        return of_atom(predicate)
    ends = predicate.word == "and"
    stop, best = (Truth.FALSE, Truth.TRUE) if ends else (Truth.TRUE, Truth.FALSE)
    for part in predicate.parts:
        found = of_atom(part) if isinstance(part, Atom) else truth_of(part, of_atom)
        if found is stop:
            return stop
        if found < best if ends else found > best:
            best = found
    return best


def rest_of(predicate: Predicate, truths: Mapping[Atom, Truth]) -> Predicate:
    """What is still open of a predicate: without the parts that are true in an `and`, or false in an `or`."""
    if isinstance(predicate, Atom):
        return {Truth.TRUE: ALWAYS, Truth.FALSE: NEVER}.get(truths[predicate], predicate)
    ends, drops = (NEVER, ALWAYS) if predicate.word == "and" else (ALWAYS, NEVER)
    kept: list[Predicate] = []
    for part in predicate.parts:
        rest = rest_of(part, truths)
        if rest == ends:
            return ends
        if rest != drops:
            kept.extend(rest.parts if isinstance(rest, Join) and rest.word == predicate.word else (rest,))
    return kept[0] if len(kept) == 1 else Join(predicate.word, tuple(dict.fromkeys(kept)))


def together(predicate: Predicate) -> tuple[Predicate, ...]:
    """The parts that must all hold."""
    return predicate.parts if isinstance(predicate, Join) and predicate.word == "and" else (predicate,)


def _quoted(word: str) -> str:
    return word if word in ("yes", "no") else f"'{word}'"


class _Reader:
    """Reads one predicate, from left to right."""

    def __init__(self, text: str) -> None:
        self.text, self.tokens, self.at = text, list(_tokens(text)), 0

    def whole(self) -> Predicate:
        found = self._joined("or", lambda: self._joined("and", self._factor))
        if self.at < len(self.tokens):
            raise self._error(f"nothing more after {self.tokens[self.at - 1][1]!r}")
        return found

    def _joined(self, word: str, part: Callable[[], Predicate]) -> Predicate:
        parts = [part()]
        while self._next_is("word", word):
            parts.append(part())
        return parts[0] if len(parts) == 1 else Join(word, tuple(parts))

    def _factor(self) -> Predicate:
        if self._next_is("word", "not"):
            return negated(self._factor())
        if self._next_is("sign", "("):
            inner = self._joined("or", lambda: self._joined("and", self._factor))
            self._must("sign", ")")
            return inner
        if self._next_is("word", "always"):
            return ALWAYS
        return self._atom()

    def _atom(self) -> Atom:
        name = self._take("word", "a name")
        if self._next_is("word", "not"):
            self._must("word", "in")
            return Atom(name, "not in", words=self._set())
        if self._next_is("word", "in"):
            return Atom(name, "in", words=self._set())
        sign = self._take("sign", "a comparison")
        if sign in ("=", "!="):
            return Atom(name, "in" if sign == "=" else "not in", words=(self._word(),))
        if sign not in ("<", "<=", ">", ">="):
            raise self._error("a comparison")
        return Atom(name, sign, limit=self._limit())

    def _limit(self) -> Limit:
        text = self._take("word", "a number")
        try:
            number = float(text)
            if self._next_is("sign", "/"):
                below = self._take("word", "a number")
                number, text = number / float(below), f"{text}/{below}"
        except (ValueError, ZeroDivisionError):
            raise self._error("a number") from None
        unit = self._take("unit", "") if self._kind() == "unit" else ""
        return Limit(number, unit, f"{text} {unit}".rstrip())

    def _set(self) -> tuple[str, ...]:
        self._must("sign", "{")
        words = [self._word()]
        while self._next_is("sign", ","):
            words.append(self._word())
        self._must("sign", "}")
        return tuple(words)

    def _word(self) -> str:
        if self._kind() == "quoted":
            return self._take("quoted", "a word")
        word = self._take("word", "a word")
        if word not in ("yes", "no"):
            raise self._error("yes, no or a word in quotes")
        return word

    def _kind(self) -> str:
        return self.tokens[self.at][0] if self.at < len(self.tokens) else ""

    def _next_is(self, kind: str, text: str) -> bool:
        found = self.at < len(self.tokens) and self.tokens[self.at] == (kind, text)
        self.at += found
        return found

    def _must(self, kind: str, text: str) -> None:
        if not self._next_is(kind, text):
            raise self._error(repr(text))

    def _take(self, kind: str, wanted: str) -> str:
        if self._kind() != kind:
            raise self._error(wanted)
        self.at += 1
        return self.tokens[self.at - 1][1]

    def _error(self, wanted: str) -> PredicateError:
        got = self.tokens[self.at][1] if self.at < len(self.tokens) else "the end"
        return PredicateError(f"{self.text!r}: wanted {wanted}, got {got!r}")


def _tokens(text: str) -> Iterator[tuple[str, str]]:
    at = 0
    while at < len(text.rstrip()):
        match = _TOKEN.match(text, at)
        if match is None or match.lastgroup is None:
            raise PredicateError(f"{text!r}: cannot read on from {text[at:]!r}")
        yield match.lastgroup, match[match.lastgroup]
        at = match.end()
