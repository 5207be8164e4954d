"""Conditions of items: a small expression language with three-valued logic.

Allowed are feature names, texts, whole numbers, lists of texts, ``and``, ``or``,
``not``, ``==``, ``!=``, ``<``, ``<=``, ``>``, ``>=``, ``in``, ``not in`` and
``is None`` / ``is not None``. Everything else is refused when the data is loaded;
nothing is ever passed to ``eval``. A feature that is unknown (None) makes the
result unknown unless the rest decides it (Kleene's strong logic).
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cardgen.checklist.schema import FeatureDef

Value = str | bool | int | None
ORDER: dict[type[ast.cmpop], Callable[[int, int], bool]] = {
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
}


class ConditionError(ValueError):
    """A condition that the small language does not allow or that names no feature."""


@dataclass(frozen=True, slots=True)
class Condition:
    """A checked condition; an empty text holds for every rig."""

    text: str
    tree: ast.expr | None
    names: frozenset[str]

    def holds(self, features: Mapping[str, Value], assumed: Mapping[str, Value] | None = None) -> bool | None:
        """True, False, or None when an unknown feature leaves it open.

        Args:
            features: every feature as the rig file tells it.
            assumed: the same with assumptions in place of unknowns; ``is None``
                always looks at ``features``.
        """
        if self.tree is None:
            return True
        return _truth(self.tree, features if assumed is None else assumed, features)


def compile_condition(text: str, defs: Mapping[str, FeatureDef]) -> Condition:
    """Parse and check a condition against the known features; raises ConditionError."""
    if not text.strip():
        return Condition("", None, frozenset())
    try:
        tree = ast.parse(text, mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError) as fault:
        raise ConditionError(f"'{text}' is not a condition") from fault
    names: set[str] = set()
    _check(tree, defs, names)
    return Condition(text, tree, frozenset(names))


def _check(node: ast.expr, defs: Mapping[str, FeatureDef], names: set[str]) -> None:
    if isinstance(node, ast.BoolOp):
        for part in node.values:
            _check(part, defs, names)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        _check(node.operand, defs, names)
    elif isinstance(node, ast.Name):
        if _feature(node, defs, names).kind == "choice":
            raise ConditionError(f"'{node.id}' is a choice: compare it with one of its words")
    elif isinstance(node, ast.Compare) and len(node.ops) == 1 and isinstance(node.left, ast.Name):
        feature = _feature(node.left, defs, names)
        _check_comparison(node.left.id, feature, node.ops[0], node.comparators[0])
    else:
        raise ConditionError(f"'{ast.unparse(node)}' is not allowed in a condition")


def _feature(node: ast.Name, defs: Mapping[str, FeatureDef], names: set[str]) -> FeatureDef:
    if node.id not in defs:
        raise ConditionError(f"'{node.id}' is not a feature")
    names.add(node.id)
    return defs[node.id]


def _check_comparison(name: str, feature: FeatureDef, op: ast.cmpop, right: ast.expr) -> None:
    value = _constant(right)
    if isinstance(op, ast.Is | ast.IsNot):
        if value is not None:
            raise ConditionError(f"'{name} is' takes None only")
        return
    if feature.kind == "flag":
        raise ConditionError(f"'{name}' is a flag: write '{name}' or 'not {name}'")
    if feature.kind == "count":
        if type(value) is not int or isinstance(op, ast.In | ast.NotIn):
            raise ConditionError(f"'{name}' is a count: compare it with a whole number")
        return
    several = isinstance(op, ast.In | ast.NotIn)
    if isinstance(value, tuple) != several or type(op) in ORDER or not value:
        raise ConditionError(f"'{name}' is a choice: use ==, !=, in or not in with its words")
    for word in value if isinstance(value, tuple) else (value,):
        if word not in feature.choices:
            raise ConditionError(f"'{word}' is not a choice of '{name}'")


def _constant(node: ast.expr) -> Value | tuple[Value, ...]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str | int | None):
        return node.value
    if isinstance(node, ast.Tuple):
        parts = [_constant(part) for part in node.elts]
        if all(isinstance(part, str) for part in parts):
            return tuple(part for part in parts if isinstance(part, str))
    raise ConditionError(f"'{ast.unparse(node)}' is not allowed in a condition")


def _truth(node: ast.expr, features: Mapping[str, Value], told: Mapping[str, Value]) -> bool | None:
    if isinstance(node, ast.BoolOp):
        parts = [_truth(part, features, told) for part in node.values]
        decides = isinstance(node.op, ast.Or)
        if decides in parts:
            return decides
        return None if None in parts else not decides
    if isinstance(node, ast.UnaryOp):
        inner = _truth(node.operand, features, told)
        return None if inner is None else not inner
    if isinstance(node, ast.Name):
        value = features[node.id]
        return None if value is None else bool(value)
    if not isinstance(node, ast.Compare) or not isinstance(node.left, ast.Name):
        raise ConditionError(f"'{ast.unparse(node)}' was not checked")
    op, name = node.ops[0], node.left.id
    if isinstance(op, ast.Is | ast.IsNot):
        return (told[name] is None) == isinstance(op, ast.Is)
    return _compare(features[name], op, _constant(node.comparators[0]))


def _compare(value: Value, op: ast.cmpop, right: Value | tuple[Value, ...]) -> bool | None:
    if value is None:
        return None
    if isinstance(op, ast.Eq | ast.NotEq):
        return (value == right) == isinstance(op, ast.Eq)
    if isinstance(op, ast.In | ast.NotIn) and isinstance(right, tuple):
        return (value in right) == isinstance(op, ast.In)
    if isinstance(value, int) and isinstance(right, int):
        return ORDER[type(op)](value, right)
    raise ConditionError(f"'{value}' cannot be compared with '{right}'")
