"""A master that only reads: says which bytes to send and when, and makes events of what comes back.

It opens no port and reads no clock: `bytes_to_send(now_s)` is asked again and again, what a port brings goes to
`received(lot, now_s)`, and `events()` hands over what happened since. `now_s` is in seconds of any clock that goes
forward.

First the identity is asked by the polling address, then all else by the long address that it tells. The identity is
asked in no other way: there are devices that answer it to the short frame alone (a maintainer's word in a public
thread). What does not change is asked once, what does is asked in rounds. An answer that is broken, late or busy is
asked for again; after the last try the device counts as silent, and the next round begins with its identity.

Source: HART data link layer, times of a master (from memory). One recorded session tells times: through a bridge the
first bytes of an answer came 184 to 316 ms after the bridge had the request, and lots up to 50 ms apart.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field

from onedatum.foundation.errors import QuantityError
from onedatum.logs.live.hart.answers import Answer, AnswerFault, Identity, read_answer
from onedatum.logs.live.hart.codes import (
    READING_COMMANDS,
    DeviceStatus,
    answer_words,
    communication_errors,
    is_warning,
    table,
    time_s,
)
from onedatum.logs.live.hart.frames import (
    FIRST_POLLED,
    LONGEST,
    Address,
    Frame,
    FrameFault,
    Kind,
    Polling,
    request,
)
from onedatum.logs.live.hart.stream import FrameReader

MOST_EVENTS = 1000
"""Events that are kept until they are taken; of more, the oldest are lost and counted."""

_BUSY, _NOT_THERE = 32, 64


@dataclass(frozen=True)
class Timing:
    """Times of the data link, each with its source in the table of codes; change what a port needs."""

    character_s: float = field(default_factory=lambda: time_s("character_s"))
    answer_s: float = field(default_factory=lambda: time_s("answer_s"))
    port_s: float = field(default_factory=lambda: time_s("port_s"))
    """Delay of the port, added to the wait for an answer."""
    gap_s: float = field(default_factory=lambda: time_s("gap_s"))
    """Silence that ends a frame."""
    other_master_s: float = field(default_factory=lambda: time_s("other_master_s"))
    """Wait after an answer, so that another master comes to speak."""
    way_s: float = 0.0
    """Delay of a network to the modem and back: every wait for an answer, and for its end, is longer by it."""
    tries: int = field(default_factory=lambda: int(table()["tries"]["value"]))

    def __post_init__(self) -> None:
        """Refuse times that are none, and fewer tries than one."""
        for name in ("character_s", "answer_s", "port_s", "gap_s", "other_master_s", "way_s"):
            if not 0 <= getattr(self, name) < math.inf:
                raise QuantityError(f"a {name} of zero or more seconds", repr(getattr(self, name)))
        if self.tries < 1:
            raise QuantityError("at least one try", repr(self.tries))


@dataclass(frozen=True)
class Answered:
    """A reading. `warning` is empty, or says what the device says against it."""

    at_s: float
    command: int
    answer: Answer
    status: DeviceStatus
    warning: str = ""


@dataclass(frozen=True)
class Refused:
    """The device answered that it will not or cannot tell."""

    at_s: float
    command: int
    words: str


@dataclass(frozen=True)
class Silent:
    """No usable answer after the last try, and what was seen instead."""

    at_s: float
    command: int
    tries: int
    words: str


@dataclass(frozen=True)
class Disturbed:
    """Bytes that were no frame, or an answer that nobody asked for."""

    at_s: float
    words: str


@dataclass(frozen=True)
class Overheard:
    """A frame of another master, or one that a device sends of itself."""

    at_s: float
    frame: Frame


Event = Answered | Refused | Silent | Disturbed | Overheard


@dataclass
class _Asked:
    """A request that waits for its answer."""

    command: int
    address: Address
    until_s: float
    seen: str = "no answer"


class Conversation:
    """One device, one master. `once` are asked after the identity, `rounds` again every `every_s`, or once if None."""

    def __init__(
        self,
        polling: Polling = FIRST_POLLED,
        once: Sequence[int] = (13, 20, 15),
        rounds: Sequence[int] = (2, 3, 48),
        every_s: float | None = None,
        primary: bool = True,
        timing: Timing | None = None,
    ) -> None:
        wrong = [command for command in (*once, *rounds) if command not in READING_COMMANDS or command == 0]
        if wrong:
            allowed = ", ".join(str(each) for each in READING_COMMANDS if each)
            raise QuantityError(f"commands out of {allowed}", repr(wrong[0]), "a transmitter is only read here")
        if every_s is not None and not 0 <= every_s < math.inf:
            raise QuantityError("rounds every zero or more seconds, or none", repr(every_s))
        self._polling, self._primary, self._every_s = polling, primary, every_s
        self._once, self._rounds = tuple(once), tuple(rounds)
        self._timing = timing or Timing()
        self._quiet_s = time_s("quiet_primary_s" if primary else "quiet_secondary_s")
        self._reader = FrameReader()
        self._events: deque[Event] = deque(maxlen=MOST_EVENTS)
        self._lost = 0
        self._now_s = self._heard_s = -math.inf
        self._free_s: float | None = None
        self._asked: _Asked | None = None
        self._known: Identity | None = None
        self._absent: set[int] = set()
        self._plan: deque[int] = deque([0])
        self._round_s: float | None = None
        self._tried = 0

    @property
    def finished(self) -> bool:
        """Whether nothing is left to be asked, ever."""
        return self._asked is None and not self._plan and self._every_s is None

    @property
    def lost(self) -> int:
        """Number of events that nobody took in time."""
        return self._lost

    def bytes_to_send(self, now_s: float) -> bytes:
        """What is to be sent now; empty while there is an answer to wait for, the line is in use or nothing is due."""
        self._pass(now_s)
        if self._asked or not self._plan or self._free_s is None or self._now_s < self._free_s:
            return b""
        if self._now_s - self._heard_s < (self._end_s if self._reader.waiting else self._timing.gap_s):
            if self._now_s - self._free_s > 2 * self._longest_s:
                self._tried += 1
                self._again("the line is never quiet")
            return b""
        command = self._plan[0]
        self._tried += 1
        address = self._address(command)
        sent = request(command, address, self._primary, self._preambles(command))
        timing = self._timing
        wait_s = len(sent) * timing.character_s + timing.answer_s + timing.port_s + timing.way_s
        self._asked = _Asked(command, address, self._now_s + wait_s)
        return sent

    def received(self, lot: bytes, now_s: float) -> None:
        """Take what the port brought, at any time and in lots of any size. Never raises on bytes."""
        self._pass(now_s)
        if not lot:
            return
        self._heard_s = self._now_s
        for found in self._reader.feed(lot):
            self._take(found)

    def events(self) -> tuple[Event, ...]:
        """What happened since this was last asked."""
        taken = tuple(self._events)
        self._events.clear()
        return taken

    # ------------------------------------------------------------ time

    def _pass(self, now_s: float) -> None:
        """Let the time go on: a frame ends by silence, an answer comes too late, a round is due."""
        if not math.isfinite(now_s):
            raise QuantityError("a time in seconds", repr(now_s), "a clock that goes forward tells it")
        self._now_s = max(now_s, self._now_s)
        if self._free_s is None:
            self._free_s = self._now_s + self._quiet_s
        silent = self._now_s - self._heard_s >= self._end_s
        if silent and self._reader.waiting:
            for found in self._reader.silence():
                self._take(found)
        asked = self._asked
        if asked and self._now_s >= asked.until_s + (0 if silent else self._longest_s):
            self._again(asked.seen)
        if not self._plan and self._round_s is not None and self._now_s >= self._round_s:
            self._plan.extend(self._of_round() if self._known else (0,))

    @property
    def _end_s(self) -> float:
        """Silence after which no more bytes of a frame are awaited."""
        return self._timing.gap_s + self._timing.way_s

    @property
    def _longest_s(self) -> float:
        """How long the longest frame takes on the line."""
        return LONGEST * self._timing.character_s

    def _address(self, command: int) -> Address:
        """The long address once it is known; devices before revision 5 have none."""
        known = self._known if command else None
        return known.address if known and known.revision >= 5 else self._polling

    def _preambles(self, command: int) -> int:
        bounds = table()["preambles"]
        wanted = self._known.preambles if self._known and command else bounds["most"]
        return int(min(max(wanted, bounds["least"]), bounds["most"]))

    # ------------------------------------------------------------ what comes in

    def _take(self, found: Frame | FrameFault) -> None:
        if isinstance(found, FrameFault):
            self._tell(Disturbed(self._now_s, str(found)))
            if self._asked and found.kind != "no start":
                self._asked.seen = str(found)
            return
        asked = self._asked
        if found.kind is not Kind.REPLY or found.primary is not self._primary:
            if not self._is_echo(found):
                self._overhear(found)
        elif asked is None or found.command != asked.command or found.address != asked.address:
            self._tell(Disturbed(self._now_s, f"an answer to command {found.command} that was not asked for"))
        else:
            self._answer(asked, found)

    def _overhear(self, found: Frame) -> None:
        """Wait until the other master has its answer; after an answer or a burst it is soon this master's turn."""
        asks = found.kind is Kind.REQUEST
        wait_s = self._quiet_s + self._timing.way_s if asks else self._timing.other_master_s
        self._free_s = self._now_s + wait_s
        self._tell(Overheard(self._now_s, found))

    def _is_echo(self, found: Frame) -> bool:
        """Whether this is what was sent, as a modem on one pair hears itself."""
        asked = self._asked
        if asked is None or found.kind is not Kind.REQUEST or found.primary is not self._primary:
            return False
        return found.command == asked.command and found.address == asked.address and not found.data

    def _answer(self, asked: _Asked, found: Frame) -> None:
        """An answer to what was asked: the reading, a refusal, or a reason to ask again."""
        code, status = (found.status or (0, 0))[0], found.device_status
        if status is None:
            return self._again("the device found wrong: " + ", ".join(communication_errors(code)))
        if code == _BUSY:
            return self._again(answer_words(code))
        if code and not is_warning(code):
            if code == _NOT_THERE:
                self._absent.add(asked.command)
            return self._refused(asked, answer_words(code))
        answer = read_answer(asked.command, found.data)
        if isinstance(answer, AnswerFault):
            return self._refused(asked, str(answer))
        self._tell(Answered(self._now_s, asked.command, answer, status, answer_words(code) if code else ""))
        if isinstance(answer, Identity):
            self._meet(answer)
        return self._done(asked)

    def _meet(self, identity: Identity) -> None:
        """The device is known now: what does not change is asked after this, then the first round."""
        self._known = identity
        self._absent.clear()
        self._plan.extend((*self._once, *self._of_round()))

    def _refused(self, asked: _Asked, words: str) -> None:
        self._tell(Refused(self._now_s, asked.command, words))
        if asked.command == 0:
            self._lose()
        self._done(asked)

    def _done(self, asked: _Asked) -> None:
        """Leave this request behind; with the last of a round the time to the next begins."""
        if self._plan and self._plan[0] == asked.command:
            self._plan.popleft()
        self._asked, self._tried = None, 0
        self._free_s = self._now_s + self._timing.other_master_s
        self._plan_round()

    def _again(self, seen: str) -> None:
        """Ask once more, or give the device up until the next round."""
        self._asked = None
        self._free_s = self._now_s + self._timing.other_master_s
        if self._tried < self._timing.tries:
            return
        self._tell(Silent(self._now_s, self._plan[0], self._tried, seen))
        self._tried = 0
        self._lose()
        self._plan_round()

    def _lose(self) -> None:
        self._known = None
        self._plan.clear()

    def _of_round(self) -> tuple[int, ...]:
        return tuple(command for command in self._rounds if command not in self._absent)

    def _plan_round(self) -> None:
        if not self._plan:
            self._round_s = None if self._every_s is None else self._now_s + self._every_s

    def _tell(self, event: Event) -> None:
        self._lost += len(self._events) == MOST_EVENTS
        self._events.append(event)
