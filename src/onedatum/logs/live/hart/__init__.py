"""A transmitter read digitally over its current loop (HART), without input or output of its own, and never changed.

`request` makes the bytes that ask for a reading, `FrameReader` finds frames in a stream, `read_answer` reads the data
of an answer. `Conversation` does all this in order and in time for one device. `doubts` compares what was told.
Frames, identity, commands 1, 2, 3, 13 and 15 agree with frames recorded from devices, command 20 with a published
table; times and most codes are from memory of the standard, and their table says which.

Caution: a modem becomes part of the loop. In a hazardous area its certificate and the permit of the plant decide
whether it may be connected, and a reading from here takes the place of no alarm and no overfill protection.
"""

from onedatum.logs.live.hart.answers import (
    AdditionalStatus,
    Answer,
    AnswerFault,
    Identity,
    Label,
    LongTag,
    LoopReading,
    OutputRange,
    PrimaryVariable,
    Variables,
    read_answer,
)
from onedatum.logs.live.hart.codes import READING_COMMANDS, DeviceStatus, Unit, Value
from onedatum.logs.live.hart.conversation import (
    Answered,
    Conversation,
    Disturbed,
    Event,
    Overheard,
    Refused,
    Silent,
    Timing,
)
from onedatum.logs.live.hart.frames import Frame, FrameFault, Kind, Polling, Unique, decode, encode, request
from onedatum.logs.live.hart.plausible import Doubt, Told, doubts
from onedatum.logs.live.hart.stream import FrameReader

__all__ = [
    "READING_COMMANDS",
    "AdditionalStatus",
    "Answer",
    "AnswerFault",
    "Answered",
    "Conversation",
    "DeviceStatus",
    "Disturbed",
    "Doubt",
    "Event",
    "Frame",
    "FrameFault",
    "FrameReader",
    "Identity",
    "Kind",
    "Label",
    "LongTag",
    "LoopReading",
    "OutputRange",
    "Overheard",
    "Polling",
    "PrimaryVariable",
    "Refused",
    "Silent",
    "Timing",
    "Told",
    "Unique",
    "Unit",
    "Value",
    "Variables",
    "decode",
    "doubts",
    "encode",
    "read_answer",
    "request",
]
