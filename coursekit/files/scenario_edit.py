"""Changes to the text of a scenario file that leave every other byte as it was.

A change is spliced into the text where its field stands, so comments, order,
quotes and indents of the rest survive exactly.  What may not stand in a file
(see `yaml_tree`) is refused before, and after each change the text is read
again: it must hold what it held, and the change, and nothing else.

What goes with a change: the comment on the lines of a field that is taken out,
and the quotes and folds of a value that is given another.
"""

from __future__ import annotations

import copy
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.nodes import CollectionNode, MappingNode, Node, ScalarNode, SequenceNode

from coursekit.files.scenario_spec import ScenarioSpec
from coursekit.files.schema import keys_of, spec_at
from coursekit.files.yaml_tree import FieldPath, Tree, parse_yaml
from coursekit.files.yaml_write import after_dash, after_key, flow, folded, scalar
from coursekit.problems import Problem, Problems

_STEP = 2
_LAST = frozenset({"points", "winch"})
"""What a vehicle holds; its own figures stand before."""


def with_value(text: str, path: FieldPath, value: Any, name: str = "draft") -> str:
    r"""Return the text with a field set; what holds it is made where it is missing.

    `value` is plain data: texts, mappings and lists, None for a value that is
    still to be given.  A new key stands after those that the format writes
    before it.

    >>> with_value("mass: 2650 kg  # laden\nat: [0, 0]\n", ("mass",), "2700 kg")
    'mass: 2700 kg  # laden\nat: [0, 0]\n'
    """
    page = _page(text, name)
    wanted = copy.deepcopy(page.tree.data)
    path, value = _nearest(wanted, path, value)
    _put(wanted, path, value)
    parent = page.node(path[:-1])
    index = _index(parent, path[-1])
    if index is not None:
        change = page.replaced(parent, index, path, value)
    elif isinstance(parent, SequenceNode):
        change = page.appended(parent, value)
    else:
        change = page.entered(parent, path, value)
    return page.checked(change, wanted, path)


def with_item(text: str, path: FieldPath, value: Any, name: str = "draft") -> str:
    r"""Return the text with one more item at the end of a list.

    >>> with_item("condition: [cut]\n", ("condition",), "worn")
    'condition: [cut, worn]\n'
    """
    held = _at(_page(text, name).tree.data, path)
    if not isinstance(held, list) or not held:
        return with_value(text, path, [value], name=name)
    return with_value(text, (*path, len(held)), value, name=name)


def without(text: str, path: FieldPath, name: str = "draft") -> str:
    r"""Return the text without a field or an item; a text without it stays as it is.

    >>> without("bow-1: {kind: hook, wll: 3 t}\n", ("bow-1", "kind"))
    'bow-1: {wll: 3 t}\n'
    """
    page = _page(text, name)
    parent = page.node(path[:-1])
    index = _index(parent, path[-1])
    if index is None:
        return text
    wanted = copy.deepcopy(page.tree.data)
    del _at(wanted, path[:-1])[path[-1]]
    return page.checked(page.removed(parent, index, path), wanted, path)


def renamed(text: str, path: FieldPath, key: str, name: str = "draft") -> str:
    r"""Return the text with another key for a field, in its place.

    >>> renamed("bow-1: {kind: hook}\n", ("bow-1",), "hook-1")
    'hook-1: {kind: hook}\n'
    """
    page = _page(text, name)
    parent = page.node(path[:-1])
    index = _index(parent, path[-1])
    if index is None or not isinstance(parent, MappingNode):
        return text
    wanted = copy.deepcopy(page.tree.data)
    holder = _at(wanted, path[:-1])
    if key in holder:
        raise _refusal(page.tree, (*path[:-1], key), "It is there already", "Take another name")
    holder[key] = holder.pop(path[-1])
    mark = parent.value[index][0]
    written = scalar(key, in_flow=_is_flow(parent))
    change = (mark.start_mark.index, mark.end_mark.index, written)
    return page.checked(change, wanted, path)


_Change = tuple[int, int, str]
"""From where to where of the text, and what stands there instead."""


@dataclass(frozen=True)
class _Page:
    """A text with its data and the places of its nodes."""

    text: str
    tree: Tree
    root: Node

    def node(self, path: FieldPath) -> Node:
        """Return the node at a path that is there."""
        found = self.root
        for part in path:
            index = _index(found, part)
            if index is None:
                raise KeyError(part)
            found = _value_node(found, index)
        return found

    def replaced(self, parent: Node, index: int, path: FieldPath, value: Any) -> _Change:
        """Change the value of an entry that is there."""
        old = _value_node(parent, index)
        start, end = self._before(parent, index), self._end(old, parent, index)
        if _is_flow(parent):
            return self._within_brackets(start, end, old, value)
        column = self._column(parent, index)
        if self._is_empty(old):
            return start, end, self._written(parent, value, column, path)
        if isinstance(old, ScalarNode) and old.style == ">" and isinstance(value, str):
            header = self.text[old.start_mark.index : end].split("\n", 1)[0].strip()
            kept = folded(value, column, header if header in {">", ">-"} else ">-")
            if kept is not None:
                return old.start_mark.index, end, kept
        written = self._written(parent, value, column, path)
        is_inline = _is_flow(old) or isinstance(old, ScalarNode)
        if is_inline and not written.startswith("\n"):
            return old.start_mark.index, end, written.removeprefix(" ")
        return self._colon(parent, index), end, written

    def _within_brackets(self, start: int, end: int, old: Node, value: Any) -> _Change:
        if not self._is_empty(old):
            return start, end, flow(value)
        gap = 1 if self.text[end : end + 1] == " " else 0
        return start, end + gap, f" {flow(value)}"

    def entered(self, parent: Node, path: FieldPath, value: Any) -> _Change:
        """Put a new key into a mapping, after those that the format writes before it."""
        key = str(path[-1])
        after = _place(parent, key, self._order(path[:-1]))
        if _is_flow(parent):
            written = f"{scalar(key, in_flow=True)}: {flow(value)}"
            if after < 0:
                at = parent.value[0][0].start_mark.index
                return at, at, f"{written}, "
            at = self._end(_value_node(parent, after), parent, after)
            return at, at, f", {written}"
        column = parent.start_mark.column
        spread = len(path) == 1
        entry = f"{scalar(key)}:{after_key(value, column + _STEP, spread=spread)}"
        if after < 0:
            at = parent.value[0][0].start_mark.index
            return at, at, f"{entry}\n{' ' * column}"
        at = self._line_end(self._end(_value_node(parent, after), parent, after))
        return at, at, f"\n{' ' * column}{entry}"

    def appended(self, parent: Node, value: Any) -> _Change:
        """Put a new item at the end of a list."""
        last = len(parent.value) - 1
        end = self._end(parent.value[last], parent, last)
        if _is_flow(parent):
            return end, end, f", {flow(value)}"
        column = self._dash(parent, last) - self._line_start(self._dash(parent, last))
        at = self._line_end(end)
        return at, at, f"\n{' ' * column}-{after_dash(value, column + _STEP)}"

    def removed(self, parent: Node, index: int, path: FieldPath) -> _Change:
        """Take an entry out; of an only one an empty mapping or list stays."""
        count = len(parent.value)
        end = self._end(_value_node(parent, index), parent, index)
        if count == 1:
            return self._emptied(parent, path)
        if _is_flow(parent):
            if index:
                before = self._end(_value_node(parent, index - 1), parent, index - 1)
                return before, end, ""
            return self._start(parent, 0), self._start(parent, 1), ""
        start = self._start(parent, index)
        line = self._line_start(start)
        if self.text[line:start].strip():  # it stands after the dash of a list
            return start, self._start(parent, index + 1), ""
        after = self._line_end(end)
        if after < len(self.text):
            return line, after + 1, ""
        return max(line - 1, 0), after, ""

    def checked(self, change: _Change, wanted: Any, path: FieldPath) -> str:
        """Return the changed text once it is known to hold what it should."""
        start, end, written = change
        ends = "\r\n" if "\r\n" in self.text else "\n"
        text = self.text[:start] + written.replace("\n", ends) + self.text[end:]
        try:
            is_meant = _same(parse_yaml(text, "draft").data, wanted)
        except Problems:
            is_meant = False
        if not is_meant:
            what = "It stands here in a way that can't be changed from outside"
            raise _refusal(self.tree, path, what, "Change it in the text of the file")
        return text

    def _order(self, path: FieldPath) -> Sequence[str]:
        spec = spec_at(ScenarioSpec, self.tree.data, path)
        return () if spec is None else sorted(keys_of(spec), key=_LAST.__contains__)

    def _emptied(self, parent: Node, path: FieldPath) -> _Change:
        empty = "{}" if isinstance(parent, MappingNode) else "[]"
        if _is_flow(parent):
            return parent.start_mark.index, parent.end_mark.index, empty
        end = self._end(_value_node(parent, 0), parent, 0)
        if len(path) == 1:
            return self._start(parent, 0), end, empty
        holder = self.node(path[:-2])
        index = _index(holder, path[-2])
        at = self._colon(holder, index or 0)
        return at, end, f" {empty}"

    def _written(self, parent: Node, value: Any, column: int, path: FieldPath) -> str:
        if isinstance(parent, SequenceNode):
            return after_dash(value, column)
        return after_key(value, column, spread=len(path) == 1)

    def _column(self, parent: Node, index: int) -> int:
        """Return the column at which what an entry holds would stand."""
        if isinstance(parent, MappingNode):
            return int(parent.start_mark.column) + _STEP
        dash = self._dash(parent, index)
        return dash - self._line_start(dash) + _STEP

    def _start(self, parent: Node, index: int) -> int:
        """Return where an entry begins: its key, its dash, or itself within brackets."""
        if isinstance(parent, MappingNode):
            return int(parent.value[index][0].start_mark.index)
        return (
            parent.value[index].start_mark.index if _is_flow(parent) else self._dash(parent, index)
        )

    def _before(self, parent: Node, index: int) -> int:
        """Return where the value of an entry begins, an empty one right after its sign."""
        node = _value_node(parent, index)
        return self._colon(parent, index) if self._is_empty(node) else int(node.start_mark.index)

    def _colon(self, parent: Node, index: int) -> int:
        """Return the place after the colon of a key, or after the dash of an item."""
        if isinstance(parent, MappingNode):
            return self.text.index(":", parent.value[index][0].end_mark.index) + 1
        return self._dash(parent, index) + 1

    def _dash(self, parent: Node, index: int) -> int:
        node = parent.value[index]
        if not self._is_empty(node):
            return self.text.rindex("-", 0, node.start_mark.index)
        return (
            self.text.index("-", self._dash(parent, index - 1) + 1)
            if index
            else int(parent.start_mark.index)
        )

    def _end(self, node: Node, parent: Node, index: int) -> int:
        """Return where a node ends, without the comments and blank lines after it."""
        if self._is_empty(node):
            return self._colon(parent, index)
        if isinstance(node, ScalarNode) and node.style in {">", "|"}:
            return len(self.text[: node.end_mark.index].rstrip())
        if isinstance(node, ScalarNode) or _is_flow(node):
            return int(node.end_mark.index)
        last = len(node.value) - 1
        return self._end(_value_node(node, last), node, last)

    def _is_empty(self, node: Node) -> bool:
        is_nothing = bool(node.start_mark.index == node.end_mark.index)
        return isinstance(node, ScalarNode) and is_nothing and not node.style

    def _line_start(self, at: int) -> int:
        return self.text.rfind("\n", 0, at) + 1

    def _line_end(self, at: int) -> int:
        end = self.text.find("\n", at)
        end = len(self.text) if end < 0 else end
        return end - 1 if self.text[at:end].endswith("\r") else end


def _page(text: str, name: str) -> _Page:
    """Return a text that may be changed, or raise what may not stand in it."""
    tree = parse_yaml(text, name)
    if tree.problems:
        raise Problems(tree.problems)
    return _Page(text, tree, YAML(typ="safe", pure=True).compose(text))


def _index(node: Node, part: str | int) -> int | None:
    if isinstance(node, MappingNode):
        keys = [key.value for key, _ in node.value]
        return keys.index(part) if part in keys else None
    is_there = isinstance(node, SequenceNode) and isinstance(part, int) and part < len(node.value)
    return int(part) if is_there else None


def _value_node(node: Node, index: int) -> Node:
    found: Node = node.value[index][1] if isinstance(node, MappingNode) else node.value[index]
    return found


def _is_flow(node: Node) -> bool:
    return isinstance(node, CollectionNode) and bool(node.flow_style)


def _place(parent: Node, key: str, order: Sequence[str]) -> int:
    """Return the entry after which a new key stands, -1 for before the first."""
    keys = [entry.value for entry, _ in parent.value]
    if key not in order:
        return len(keys) - 1
    before = set(order[: order.index(key)])
    places = [place for place, known in enumerate(keys) if known in before]
    return places[-1] if places else -1


def _nearest(data: Any, path: FieldPath, value: Any) -> tuple[FieldPath, Any]:
    """Return the field to set so that one within what is missing or empty gets its value."""
    for length in range(1, len(path)):
        if not _at(data, path[:length]):
            inner = value
            for part in reversed(path[length:]):
                inner = [inner] if isinstance(part, int) else {part: inner}
            return path[:length], inner
    return path, value


def _at(data: Any, path: FieldPath) -> Any:
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def _put(data: Any, path: FieldPath, value: Any) -> None:
    holder = _at(data, path[:-1])
    if isinstance(holder, list) and path[-1] == len(holder):
        holder.append(value)
    else:
        holder[path[-1]] = value


def _same(one: Any, other: Any) -> bool:
    """Whether two documents say the same: blanks around a text mean nothing."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    if isinstance(one, str) and isinstance(other, str):
        return one.strip() == other.strip()
    return one is None and other is None


def _refusal(tree: Tree, path: FieldPath, what: str, mend: str) -> Problems:
    return Problems([Problem(tree.where(path), what, mend)])
