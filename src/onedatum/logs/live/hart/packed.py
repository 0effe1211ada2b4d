"""Packed text: four characters of six bits in three bytes, for tags and descriptors.

A character is one of the 64 from the blank to the low line, capital letters among them. Bits 6 and 7 are left away in
packing; in reading, bit 6 is the opposite of bit 5.

Source: HART common tables, packed ASCII (from memory; a tag recorded from a device reads by it as a tag).
"""

from __future__ import annotations

from onedatum.foundation.errors import QuantityError

_FIRST, _LAST = " ", "_"


def pack(text: str) -> bytes:
    """The bytes of a text. Raises `QuantityError` for a character that has no six bits, and for a broken length."""
    wrong = next((sign for sign in text if not _FIRST <= sign <= _LAST), None)
    if wrong is not None:
        raise QuantityError("of capital letters, digits and signs from the blank to _", repr(wrong), "six bits hold 64")
    if len(text) % 4:
        raise QuantityError("a multiple of four characters long", f"{len(text)}", "", "Fill it up with blanks")
    bits = 0
    for sign in text:
        bits = bits << 6 | ord(sign) & 0x3F
    return bits.to_bytes(len(text) // 4 * 3, "big")


def unpack(sent: bytes) -> str:
    """The text of packed bytes; bytes left over after the last three are not read. Never raises on bytes."""
    whole = sent[: len(sent) // 3 * 3]
    bits = int.from_bytes(whole, "big")
    count = len(whole) // 3 * 4
    codes = (bits >> 6 * (count - 1 - at) & 0x3F for at in range(count))
    return "".join(chr(code if code & 0x20 else code | 0x40) for code in codes)
