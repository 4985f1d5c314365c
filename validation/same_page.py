"""Whether two generated text pages (Markdown, HTML, SVG) are the same up to the last printed digit.

Usage: same_page.py COMMITTED NEW
       same_page.py --self-test

All text must be identical. A number may differ by one unit of its last printed place, because machines
round differently; whole numbers of one or two digits must be identical, for they count and name things.
Prints each difference with its line in both pages. Exit code 0: the same; 1: not.
"""

import re
import sys
from decimal import Decimal
from itertools import zip_longest
from pathlib import Path

# A sign belongs to a number unless something stands before it that it may join or subtract from.
NUMBER = re.compile(r"(?:(?<![\w)])[-+\u2212])?\d+(?:\.\d+)?(?:[eE][-+\u2212]?\d{1,3}(?!\w))?")
COUNT = re.compile(r"[-+\u2212]?\d{1,2}")


def read(token):
    """The number's value and the unit of its last printed place."""
    plain = Decimal(token.replace("\u2212", "-"))
    return plain, Decimal((0, (1,), plain.as_tuple().exponent))


def differs(old, new):
    """Why two number tokens are not the same, or None."""
    if old == new:
        return None
    if COUNT.fullmatch(old) or COUNT.fullmatch(new):
        return f"{old} became {new}: whole numbers of one or two digits must be equal"
    (a, unit), (b, other) = read(old), read(new)
    if abs(a - b) <= min(unit, other):
        return None
    return f"{old} became {new}: more than one unit of the last place"


def differences(old, new):
    """All differences of two texts, as lines to print."""
    found = []
    for number, (a, b) in enumerate(zip_longest(old.split("\n"), new.split("\n")), 1):
        if a is None or b is None:
            found.append(f"line {number}: only in the {'new' if a is None else 'committed'} page: {a or b}")
        elif NUMBER.split(a) != NUMBER.split(b):
            found.append(f"line {number}: the text differs\n  committed: {a}\n  new:       {b}")
        else:
            pairs = zip(NUMBER.findall(a), NUMBER.findall(b))
            found.extend(f"line {number}: {why}" for pair in pairs if (why := differs(*pair)))
    return found


SAME = (
    ("a 12.34 b", "a 12.35 b"),
    ("-0.00 MPa", "0.01 MPa"),
    ("| -0.001 |", "| 0.000 |"),
    ("9.99", "10.00"),
    ("8941 N", "8942 N"),
    ("< 1e-9", "< 9e-10"),
    ("1.25e-5", "1.26e-5"),
    ("\u22123.10", "\u22123.09"),
    ('<path d="M12.50,3.1L-4.0,7.2"/>', '<path d="M12.51,3.1L-4.1,7.2"/>'),
)
OTHER = (
    ("a 12.34 b", "a 12.36 b"),
    ("0.01 MPa", "-0.01 MPa"),
    ("a -5.0", "a 5.0"),
    ("seat 1", "seat 2"),
    ("1e-9", "1e-10"),
    ("1.25e-5", "1.25e-6"),
    ("1.25e-5", "1.27e-5"),
    ("< 1e-9", "> 1e-9"),
    ("8941 N", "8943 N"),
    ("12.3 N", "12.3 kN"),
    ("nan", "1.0"),
    ("one\ntwo", "one"),
    ("1.0 2.0", "1.0"),
)


def self_test():
    faults = [f"not the same: {pair}" for pair in SAME if differences(*pair) or differences(*pair[::-1])]
    faults += [f"the same: {pair}" for pair in OTHER if not differences(*pair) or not differences(*pair[::-1])]
    print("\n".join(faults) or f"{len(SAME) + len(OTHER)} pairs of lines judged rightly.")
    return 1 if faults else 0


def main():
    if sys.argv[1:] == ["--self-test"]:
        sys.exit(self_test())
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    found = differences(*(Path(name).read_text(encoding="utf-8") for name in sys.argv[1:]))
    print("\n".join(found) or f"{sys.argv[2]} says what {sys.argv[1]} says.")
    sys.exit(1 if found else 0)


if __name__ == "__main__":
    main()
