"""The YAML scanner with quicker looks; what it finds is the same.

A key without ``?`` is seen by its colon, so the scanner keeps every place where one may have begun, one for each open
bracket, until the line ends or 1,024 characters have passed. Its own loops look through all of them for each token: a
line of brackets costs a thousand steps a bracket. They stand in the order they began in, so the first tells enough.

Its own loops also go through blanks, comments and plain texts sign by sign, asking the reader for each; here each run
of them is found at once.
"""

from __future__ import annotations

import re
from functools import cached_property
from typing import Any

from ruamel.yaml.parser import Parser
from ruamel.yaml.reader import Reader
from ruamel.yaml.scanner import Scanner, ScannerError
from ruamel.yaml.tokens import ScalarToken

LONGEST_KEY = 1024
"""Characters from the begin of a key to its colon: YAML 1.2.2, 7.4.2 and 8.2.2."""

_END = "\n\0\r\x85\u2028\u2029"
"""What ends a line; a zero ends the text."""
_GAP = {False: re.compile(f" *(?:#[^{_END}]*)?"), True: re.compile(f"[ \t]*(?:#[^{_END}]*)?")}
"""Blanks and a comment between two tokens, outside and inside of brackets."""
_PLAIN = {
    False: re.compile(f"(?:[^ \t{_END}:]+|:(?![ \t{_END}]))*"),
    True: re.compile(f"(?:[^ \t{_END}:,\\[\\]{{}}]+|:(?![ \t{_END}]))*"),
}
"""A plain text up to its first blank: YAML 1.2.2, 7.3.3, as the scanner beneath takes it."""
_COUNTED = re.compile("[\n\r\ufeff]")
"""Signs after which the column is not one more."""


class QuickReader(Reader):
    """The pure reader of characters."""

    def forward(self, length: int = 1) -> None:
        """Pass over so many characters."""
        end = self.pointer + length
        if end + 1 >= len(self.buffer) or _COUNTED.search(self.buffer, self.pointer, end):
            super().forward(length)
            return
        self.pointer = end
        self.index += length
        self.column += length


class QuickScanner(Scanner):
    """The pure scanner."""

    def scan_to_next_token(self) -> None:
        """Pass over blanks, comments and line breaks."""
        reader = self.reader
        if reader.index == 0 and reader.peek() == "\ufeff":
            reader.forward()
        while True:
            self._pass(_GAP[self.flow_level > 0])
            if not self.scan_line_break():
                return
            if not self.flow_level:
                self.allow_simple_key = True

    def scan_plain(self) -> Any:
        """A plain text, its lines folded; of YAML 1.1, which takes a question mark otherwise, by the one beneath."""
        if self.scanner_processing_version == (1, 1):
            return super().scan_plain()
        reader, run = self.reader, _PLAIN[self.flow_level > 0]
        start = end = reader.get_mark()
        indent = self.indent + 1
        chunks: list[str] = []
        spaces: list[str] | None = []
        while spaces is not None and reader.peek() != "#":
            passed = self._pass(run)
            if not passed:
                break
            self.allow_simple_key = False
            chunks += [*spaces, passed]
            end = reader.get_mark()
            spaces = self.scan_plain_spaces(indent, start)
            if not spaces or (not self.flow_level and reader.column < indent):
                break
        return ScalarToken("".join(chunks), True, start, end)

    def _pass(self, run: re.Pattern[str]) -> str:
        """Pass over a run of characters, which may be none."""
        found = run.match(self.reader.buffer, self.reader.pointer)
        passed = found[0] if found is not None else ""
        if passed:
            self.reader.forward(len(passed))
        return passed

    @cached_property
    def reader(self) -> Any:
        """What gives the characters."""
        return self.loader.reader

    def check_token(self, *choices: type) -> bool:
        """Whether there is a next token, and of one of these kinds."""
        while self.need_more_tokens():
            self.fetch_more_tokens()
        return bool(self.tokens) and (not choices or isinstance(self.tokens[0], choices))

    def need_more_tokens(self) -> bool:
        """Whether the next token may yet turn out to begin a key."""
        if self.done or not self.tokens:
            return not self.done
        if not self.possible_simple_keys:
            return False
        self.stale_possible_simple_keys()
        return bool(self.next_possible_simple_key() == self.tokens_taken)

    def next_possible_simple_key(self) -> int | None:
        """The number of the token where the first key may have begun."""
        for key in self.possible_simple_keys.values():
            return int(key.token_number)
        return None

    def stale_possible_simple_keys(self) -> None:
        """Forget the places that are too far back for a key; the first that is not ends the look."""
        while self.possible_simple_keys:
            level = next(iter(self.possible_simple_keys))
            key, reader = self.possible_simple_keys[level], self.reader
            if key.line == reader.line and reader.index - key.index <= LONGEST_KEY:
                return
            if key.required:
                began = "while scanning a simple key"
                raise ScannerError(began, key.mark, "could not find expected ':'", reader.get_mark())
            del self.possible_simple_keys[level]


class QuickParser(Parser):
    """The pure parser, which asks for its scanner once."""

    @cached_property
    def scanner(self) -> Any:
        """What gives the tokens."""
        return self.loader.scanner
