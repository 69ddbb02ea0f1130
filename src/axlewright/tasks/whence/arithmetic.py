"""Formulas worked out and written down with their values: plain arithmetic over named numbers, nothing else."""

from __future__ import annotations

import ast
import math
import operator
from collections.abc import Callable, Mapping

_BINARY: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_SIGNS: dict[type[ast.operator], tuple[str, int]] = {
    ast.Add: (" + ", 1),
    ast.Sub: (" − ", 1),
    ast.Mult: (" × ", 2),
    ast.Div: (" ÷ ", 2),
}
_CALLS: dict[str, tuple[str, Callable[..., float]]] = {
    "sqrt": ("√", math.sqrt),
    "max": ("the greater of ", max),
    "min": ("the smaller of ", min),
    "abs": ("size of ", abs),
}
_POWERS = {2.0: "²", 3.0: "³", 0.5: "^½"}
_NAMED = {"pi": math.pi}
_WHOLE = 4


def worked_out(formula: str, values: Mapping[str, float]) -> float:
    """The value of a formula.

    Args:
        formula: e.g. "k * U * I / v".
        values: the number behind each name; "pi" is known.

    Raises:
        ValueError: it holds something other than + - * / ** sqrt max min abs pi, numbers and the names.
        ZeroDivisionError: it divides by nought.
    """
    return _value(_parsed(formula), {**_NAMED, **values})


def names_in(formula: str) -> set[str]:
    """The names a formula needs values for."""
    calls = {node.func for node in ast.walk(_parsed(formula)) if isinstance(node, ast.Call)}
    found = {n.id for n in ast.walk(_parsed(formula)) if isinstance(n, ast.Name) and n not in calls}
    return found - set(_NAMED) - set(_CALLS)


def written_out(formula: str, words: Mapping[str, str]) -> str:
    """The formula with what is written for each name in its place, e.g. "0.8 × 20.5 V × 165 A ÷ 4.5 mm/s".

    Raises:
        ValueError: as for `worked_out`.
    """
    return _words(_parsed(formula), {"pi": "π", **words})[0]


def _parsed(formula: str) -> ast.expr:
    return ast.parse(formula, mode="eval").body


def _value(node: ast.expr, values: Mapping[str, float]) -> float:
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return float(node.value)
    if isinstance(node, ast.Name) and node.id in values:
        return values[node.id]
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_value(node.operand, values)
    if isinstance(node, ast.BinOp) and type(node.op) in _BINARY:
        return _BINARY[type(node.op)](_value(node.left, values), _value(node.right, values))
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _CALLS:
        return _CALLS[node.func.id][1](*(_value(argument, values) for argument in node.args))
    raise ValueError(f"{ast.unparse(node)} is no plain arithmetic over {', '.join(values)}")


def _words(node: ast.expr, words: Mapping[str, str]) -> tuple[str, int]:
    """Text of a part, and how tightly it holds together: 1 a sum, 2 a product, 3 a power, 4 whole."""
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return f"{node.value:g}", _WHOLE
    if isinstance(node, ast.Name) and node.id in words:
        text = words[node.id]
        return (text, 1) if text.startswith("−") else (text, 3 if " " in text else _WHOLE)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return f"−{_held(node.operand, 3, words)}", 1
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _CALLS:
        return _call(node.func.id, [_words(argument, words)[0] for argument in node.args]), _WHOLE
    if isinstance(node, ast.BinOp):
        return _operation(node, words)
    raise ValueError(f"{ast.unparse(node)} is no plain arithmetic over {', '.join(words)}")


def _operation(node: ast.BinOp, words: Mapping[str, str]) -> tuple[str, int]:
    if isinstance(node.op, ast.Pow):
        power = node.right.value if isinstance(node.right, ast.Constant) else None
        mark = _POWERS.get(float(power), f"^{power:g}") if isinstance(power, int | float) else "^?"
        return _held(node.left, _WHOLE, words) + mark, 3
    sign, tight = _SIGNS[type(node.op)]
    # What is taken away or divided by must hold together more tightly than what stands before it.
    least = tight + (1 if isinstance(node.op, ast.Sub | ast.Div) else 0)
    return _held(node.left, tight, words) + sign + _held(node.right, least, words), tight


def _held(node: ast.expr, least: int, words: Mapping[str, str]) -> str:
    text, tight = _words(node, words)
    return text if tight >= least else f"({text})"


def _call(name: str, arguments: list[str]) -> str:
    return f"{_CALLS[name][0]}({'; '.join(arguments)})"
