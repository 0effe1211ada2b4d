"""The working: formulas that carry their own description, and the sheet that joins them.

`formula` tags a pure function with its equation, symbols, validity and source and leaves it a plain function.
`Sheet` calls tagged functions with named entries, so that every number can show where it comes from.
"""

from onedatum.foundation.working.expression import Equation, Expression
from onedatum.foundation.working.formula import (
    Applied,
    Symbol,
    Tag,
    Where,
    apply,
    formula,
    interval_text,
    registry,
    tag_of,
)
from onedatum.foundation.working.interval import Interval
from onedatum.foundation.working.mathml import MathML, math_element, symbol_element
from onedatum.foundation.working.render import Plain, Typst
from onedatum.foundation.working.replay import Replay, replay
from onedatum.foundation.working.sheet import Bounded, Entry, Sheet, State, Uncertainty, beneath
from onedatum.foundation.working.show import entry_method, entry_text, formula_line, numbers_line, tag_line
from onedatum.foundation.working.spell import (
    spell,
    spell_limit,
    spell_si,
    suffix_of_name,
    suffix_of_unit,
    unit_of_suffix,
    usual_unit,
)
from onedatum.foundation.working.trials import Trials
from onedatum.foundation.working.whole import Whole

__all__ = [
    "Applied",
    "Bounded",
    "Entry",
    "Equation",
    "Expression",
    "Interval",
    "MathML",
    "Plain",
    "Replay",
    "Sheet",
    "State",
    "Symbol",
    "Tag",
    "Trials",
    "Typst",
    "Uncertainty",
    "Where",
    "Whole",
    "apply",
    "beneath",
    "entry_method",
    "entry_text",
    "formula",
    "formula_line",
    "interval_text",
    "math_element",
    "numbers_line",
    "registry",
    "replay",
    "spell",
    "spell_limit",
    "spell_si",
    "suffix_of_name",
    "suffix_of_unit",
    "symbol_element",
    "tag_line",
    "tag_of",
    "unit_of_suffix",
    "usual_unit",
]
