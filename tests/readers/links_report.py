"""Reads a JSON list of planar diagram codes and prints what a topology library says of each link.

Library: Regina (Burton, Budney, Pettersson and others), Debian package regina-normal.
"""

import json
import sys

import regina


def coefficients(polynomial):
    """Exponent (of the square root of t) -> coefficient, zeros left out."""
    if polynomial.isZero():
        return {}
    exponents = range(polynomial.minExp(), polynomial.maxExp() + 1)
    found = {e: int(str(polynomial[e])) for e in exponents}
    return {e: c for e, c in found.items() if c != 0}


def at_i(terms):
    """The value at x = i, exactly: powers of i are 1, i, -1, -i."""
    real = imaginary = 0
    for exponent, coefficient in terms.items():
        turn = exponent % 4
        if turn == 0:
            real += coefficient
        elif turn == 1:
            imaginary += coefficient
        elif turn == 2:
            real -= coefficient
        else:
            imaginary -= coefficient
    return real, imaginary


def report(code):
    link = regina.Link.fromPD([tuple(crossing) for crossing in code])
    jones = coefficients(link.jones())
    real, imaginary = at_i(jones)
    if real and imaginary:
        raise ValueError("the Jones polynomial at i is neither real nor imaginary")
    lowest, highest = min(jones), max(jones)
    return {
        "crossings": link.size(),
        "components": link.countComponents(),
        "alternating": link.isAlternating(),
        "jones": [jones.get(e, 0) for e in range(lowest, highest + 1, 2)],
        "lowestPower": lowest / 2,
        "determinant": str(abs(real + imaginary)),
    }


with open(sys.argv[1], encoding="utf-8") as file:
    print(json.dumps([report(code) for code in json.load(file)]))
