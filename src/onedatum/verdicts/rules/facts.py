"""What is known of the quantities that the rules read, as the study hands it over."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cache, cached_property, lru_cache
from math import inf
from operator import ge, gt, le, lt

from onedatum.verdicts.rules.base import BOTH, HIGH, LOW
from onedatum.verdicts.rules.predicate import Atom
from onedatum.verdicts.rules.quantity import PROCESS, quantities
from onedatum.verdicts.rules.truth import Truth
from onedatum.verdicts.verdict import Knowledge

_COMPARE: Mapping[str, Callable[[float, float], bool]] = {"<": lt, "<=": le, ">": gt, ">=": ge}

UNCERTAINTY_NOT_STATED = "uncertainty not stated"


@dataclass(frozen=True)
class Fact:
    """What is known of one quantity: a number with its range and uncertainty, a word, or why it is not known."""

    knowledge: Knowledge = Knowledge.KNOWN
    low: float = 0.0
    high: float = 0.0
    half: float = 0.0
    """Twice its standard uncertainty."""
    word: str = ""
    text: str = ""
    """As people read it."""
    assumed: bool = False
    entry: str = ""
    """Its name on the sheet."""
    waits_for: tuple[str, ...] = ()

    @cached_property
    def key(self) -> int:
        """Worked once: facts are keys."""
        return hash((self.knowledge.name, self.low, self.high, self.half, self.word, self.text, self.waits_for))

    def __hash__(self) -> int:
        return self.key

    def __reduce__(self) -> tuple[type[Fact], tuple[object, ...]]:
        """Without what was worked: texts hash otherwise in every process."""
        return Fact, tuple(getattr(self, each.name) for each in fields(self))

    @property
    def known(self) -> bool:
        """Whether there is a value."""
        return self.knowledge is Knowledge.KNOWN

    @cached_property
    def bare(self) -> Fact:
        """What is known, without where it stands and how it is written."""
        return replace(self, entry="", text="")

    def ends(self, worse: str) -> tuple[Fact, ...]:
        """The values of a range that a rule is judged at."""
        if not self.known or self.word or self.low == self.high:
            return (self,)
        low, high = replace(self, high=self.low), replace(self, low=self.high)
        return {HIGH: (high,), LOW: (low,), BOTH: (low, high)}[worse]

    @property
    def exact(self) -> str:
        """What is said of a number that counts as exact because nobody states its uncertainty."""
        return UNCERTAINTY_NOT_STATED if self.known and not self.word and self.half == 0.0 else ""

    @property
    def span(self) -> tuple[float, float]:
        """Where the number may lie."""
        return (self.low - self.half, self.high + self.half) if self.known else (-inf, inf)

    def truth(self, atom: Atom) -> Truth:
        """What is known of a comparison with it."""
        if not self.known:
            return Truth.UNKNOWN if self.knowledge is Knowledge.ASK else Truth.OURS
        if atom.limit is None:
            return Truth.TRUE if (self.word in atom.words) == (atom.sign == "in") else Truth.FALSE
        compare, limit = _COMPARE[atom.sign], atom.limit.number
        at_low, at_high = compare(self.low - self.half, limit), compare(self.high + self.half, limit)
        return Truth.UNKNOWN if at_low != at_high else Truth.TRUE if at_low else Truth.FALSE


OURS = Fact(Knowledge.OURS)


@lru_cache(maxsize=16384)
def _first(fact: Fact) -> Fact:
    """Of facts that are equal the first."""
    return fact


def _kept(facts: Mapping[str, Fact]) -> dict[str, Fact]:
    return {name: _first(fact) for name, fact in facts.items()}


@lru_cache(maxsize=4096)
def asked(waits_for: tuple[str, ...]) -> Fact:
    """What only the customer can say."""
    return Fact(Knowledge.ASK, waits_for=waits_for)


@cache
def follows_from(name: str) -> frozenset[str]:
    """The names that a fact which is not handed over is asked for by, and those that theirs are."""
    direct = quantities()[name].asks
    return frozenset(direct).union(*(follows_from(each) for each in direct))


@dataclass(frozen=True)
class Facts:
    """What is known in one state; what holds for one principle alone stands under its name."""

    state: str = ""
    stated: Mapping[str, Fact] = field(default_factory=dict)
    of_principle: Mapping[str, Mapping[str, Fact]] = field(default_factory=dict)

    @property
    def content(self) -> frozenset[tuple[str, str, Fact]]:
        """What is known, whatever the state is called and wherever it stands."""
        own = (
            (principle, name, fact) for principle, facts in self.of_principle.items() for name, fact in facts.items()
        )
        every = (*(("", name, fact) for name, fact in self.stated.items()), *own)
        return frozenset((principle, name, fact.bare) for principle, name, fact in every)

    def kept(self) -> Facts:
        """The same with each fact as it was first met: what is alike from study to study is told so at a glance."""
        own = {principle: _kept(facts) for principle, facts in self.of_principle.items()}
        return Facts(self.state, _kept(self.stated), own)

    def of(self, principle: str, name: str) -> Fact:
        """The fact of a name; what is not handed over is asked for, or ours to choose, by its side."""
        own = self.of_principle.get(principle)
        if own is not None and name in own:
            return own[name]
        return self.stated.get(name) or self._missing(principle, name)

    def lacks(self, principle: str, name: str) -> bool:
        """Whether nothing is handed over for a name."""
        return name not in self.stated and name not in self.of_principle.get(principle, {})

    def with_fact(self, name: str, fact: Fact) -> Facts:
        """The same with one quantity known otherwise, everywhere."""
        own = {principle: facts for principle, facts in self.of_principle.items() if name not in facts}
        own |= {principle: {**facts, name: fact} for principle, facts in self.of_principle.items() if name in facts}
        return Facts(self.state, {**self.stated, name: fact}, own)

    def _missing(self, principle: str, name: str) -> Fact:
        """Unknown as soon as one input of the process is; ours to choose once only inputs of the instrument are."""
        quantity = quantities()[name]
        if quantity.asks:
            waits = tuple(dict.fromkeys(self._open(principle, quantity.asks)))
            return asked(waits) if waits else OURS
        return asked((name,)) if quantity.side == PROCESS else OURS

    def _open(self, principle: str, names: tuple[str, ...]) -> Iterator[str]:
        for name in names:
            fact = self.of(principle, name)
            if fact.knowledge is Knowledge.ASK:
                yield from fact.waits_for or (name,)
