"""What the format knows at one field of a document: its keys, an example, its kind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from coursekit.files.spec import Spec
from coursekit.files.yaml_tree import FieldPath
from coursekit.quantities.units import Kind

_UNIONS = (Union, UnionType)


def spec_at(root: type[Spec], document: Any, path: FieldPath) -> type[Spec] | None:
    """Return the format of the mapping at a path, None where it knows none there."""
    annotation = _annotation_at(root, document, path)
    return annotation if _is_spec(annotation) else None


def field_at(root: type[Spec], document: Any, path: FieldPath) -> FieldInfo | None:
    """Return the field at a path, None where the format knows none there."""
    spec = spec_at(root, document, path[:-1]) if path else None
    return None if spec is None else _fields(spec).get(str(path[-1]))


def default_at(root: type[Spec], document: Any, path: FieldPath) -> Any:
    """Return what counts where the field at a path is left out, None where nothing does."""
    info = field_at(root, document, path)
    return None if info is None or info.is_required() else info.default


def examples_of(spec: type[Spec]) -> dict[str, str]:
    """Return an example of each field that a mapping needs."""
    return {
        key: str((info.examples or ["…"])[0])
        for key, info in _fields(spec).items()
        if info.is_required()
    }


def keys_of(spec: type[Spec]) -> tuple[str, ...]:
    """Return the keys that a mapping may have, as a document writes them."""
    return tuple(_fields(spec))


def kind_at(root: type[Spec], document: Any, path: FieldPath) -> Kind | None:
    """Return the kind of quantity at a path, None where there is none."""
    info = field_at(root, document, path)
    if info is None:
        return None
    return next((mark for mark in _marks(info) if isinstance(mark, Kind)), None)


def type_at(root: type[Spec], document: Any, path: FieldPath) -> Any:
    """Return the type of the field at a path with the marks that read it, None if unknown."""
    info = field_at(root, document, path)
    if info is None or not info.metadata:
        return None if info is None else info.annotation
    return Annotated[(info.annotation, *info.metadata)]


def _fields(spec: type[Spec]) -> Mapping[str, FieldInfo]:
    return {info.alias or name: info for name, info in spec.model_fields.items()}


def _marks(info: FieldInfo) -> Iterator[Any]:
    yield from info.metadata
    for part in get_args(info.annotation):
        yield from getattr(part, "__metadata__", ())


def _is_spec(annotation: Any) -> bool:
    return isinstance(annotation, type) and issubclass(annotation, Spec)


def _annotation_at(annotation: Any, value: Any, path: FieldPath) -> Any:
    annotation = _bare(annotation, value)
    if not path:
        return annotation
    key, rest = path[0], path[1:]
    inner = _inner(annotation, key)
    return None if inner is None else _annotation_at(inner, _value(value, key), rest)


def _inner(annotation: Any, key: str | int) -> Any:
    if _is_spec(annotation):
        info = _fields(annotation).get(str(key))
        return None if info is None else info.annotation
    arguments = get_args(annotation)
    if get_origin(annotation) is dict:
        return arguments[1]
    return arguments[0] if get_origin(annotation) is tuple else None


def _value(value: Any, key: str | int) -> Any:
    try:
        return value[key]
    except (KeyError, IndexError, TypeError):
        return None


def _bare(annotation: Any, value: Any) -> Any:
    """Return an annotation without its marks; of several formats the one the value asks for."""
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    if get_origin(annotation) not in _UNIONS:
        return annotation
    members = [_bare(member, value) for member in get_args(annotation)]
    asked = value.get("ask") if isinstance(value, Mapping) else None
    known = [member for member in members if member is not type(None)]
    return known[0] if len(known) == 1 else next((m for m in known if _asks(m, asked)), None)


def _asks(spec: Any, asked: Any) -> bool:
    info = _fields(spec).get("ask") if _is_spec(spec) else None
    literal = None if info is None else info.annotation
    return get_origin(literal) is Literal and asked in get_args(literal)
