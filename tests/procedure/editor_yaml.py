"""YAML as an editor reads it before it holds a schema against it.

Source: YAML 1.2.2 §10.3 (core schema) for the first; PyYAML's safe loader follows YAML 1.1.
"""

from __future__ import annotations

import datetime
import re
from typing import Any

import yaml

from assistant.procedure.located import Located, MappingNode, ScalarNode, read_yaml

_NULL = re.compile(r"null|Null|NULL|~|")
_TRUE = re.compile(r"true|True|TRUE")
_FALSE = re.compile(r"false|False|FALSE")
_INTEGER = re.compile(r"[-+]?[0-9]+")
_OTHER_INTEGER = re.compile(r"0o[0-7]+|0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")


def by_yaml_1_2(text: str) -> Any:
    """What YAML 1.2 makes of a text."""
    return _value(read_yaml(text, "f.yaml"))


def by_yaml_1_1(text: str) -> Any:
    """What YAML 1.1 makes of a text; keys are kept as they are written, for those of JSON are text.

    Raises:
        yaml.YAMLError: it is no YAML.
    """
    loader = yaml.SafeLoader(text)
    return _constructed(loader.get_single_node(), loader)


def _constructed(node: yaml.Node | None, loader: yaml.SafeLoader) -> Any:
    if isinstance(node, yaml.MappingNode):
        return {key.value: _constructed(item, loader) for key, item in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [_constructed(item, loader) for item in node.value]
    value = loader.construct_object(node)
    return str(value) if isinstance(value, datetime.date) else value


def _value(node: Located) -> Any:
    if isinstance(node, MappingNode):
        return {key.text: _value(item) for key, item in node.entries}
    if isinstance(node, ScalarNode):
        quoted = node.written[:1] in ("'", '"', "|", ">")
        return node.text if quoted else _plain(node.text)
    return [_value(item) for item in node.items]


def _plain(text: str) -> Any:
    if _NULL.fullmatch(text):
        return None
    if _TRUE.fullmatch(text) or _FALSE.fullmatch(text):
        return bool(_TRUE.fullmatch(text))
    if _INTEGER.fullmatch(text):
        return int(text)
    if _OTHER_INTEGER.fullmatch(text):
        return int(text.replace("0o", "0"), 16 if "x" in text else 8)
    return float(text) if _FLOAT.fullmatch(text) else text
