"""The schemas that editors use."""

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from diagnose.corpus.load import default_folder
from diagnose.corpus.records import Knowledge
from diagnose.corpus.schema import out_of_date, schemas, write_schemas

SMALL = Path(__file__).parents[2] / "small"
SHIPPED = default_folder()


class _Loader(yaml.SafeLoader):
    """Reads plain scalars as YAML 1.2 does, which is how editors see them: `no` is a word, `true` is a truth."""


_Loader.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("bool", r"(true|false)\Z", "tf"),
    ("int", r"-?(0|[1-9][0-9]*)\Z", "-0123456789"),
    ("float", r"-?((0|[1-9][0-9]*)?\.[0-9]+([eE][-+]?[0-9]+)?|[0-9]+[eE][-+]?[0-9]+)\Z", "-.0123456789"),
):
    _Loader.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(pattern), list(first))


def kind_of(path: Path) -> str:
    if path.parent.name == "tables":
        return f"table-{path.stem}"
    return {"chain": "stage", "signs": "signs", "cases": "case"}.get(path.parent.name, path.stem)


def files(folder: Path) -> list[Path]:
    return [path for path in sorted(folder.rglob("*.yaml")) if path.parent.name != "scorecards"]


def wrong(path: Path, all_schemas: dict[str, dict[str, Any]]) -> list[str]:
    data = _Loader(path.read_text(encoding="utf-8")).get_single_data()
    validator = jsonschema.Draft7Validator(all_schemas[kind_of(path)])
    return [
        f"{path}: {'/'.join(map(str, error.absolute_path))}: {error.message}" for error in validator.iter_errors(data)
    ]


def test_each_schema_is_a_schema(small: Knowledge) -> None:
    """All are valid draft-07, and no kind of file is without one."""
    made = schemas(small.scales)
    wanted = {
        "stage",
        "signs",
        "mechanisms",
        "products",
        "families",
        "scales",
        "cautions",
        "sources",
        "case",
        "changes",
    }
    wanted |= {"limits", "measures", "table-cooling-options"}
    assert wanted <= set(made)
    for schema in made.values():
        jsonschema.Draft7Validator.check_schema(schema)


@pytest.mark.parametrize("path", files(SMALL), ids=lambda path: path.name)
def test_valid_files_pass(path: Path, small: Knowledge) -> None:
    """An editor marks nothing in a file that the checker accepts."""
    assert wrong(path, schemas(small.scales)) == []


@pytest.mark.parametrize(
    "name",
    ["unknown-field", "missing-field", "link-without-basis", "word-off-its-scale", "wrong-kind-of-node", "id-style"],
)
def test_common_slips_are_marked_in_the_editor(name: str, small: Knowledge) -> None:
    """What can be seen in one file is seen while typing."""
    broken = [path for path in files(SMALL.parent / "broken" / name) if wrong(path, schemas(small.scales))]
    assert broken


def test_every_property_explains_itself(small: Knowledge) -> None:
    """The description is the manual that most authors will read."""

    def bare(schema: Any) -> list[str]:
        if isinstance(schema, list):
            return [name for each in schema for name in bare(each)]
        if not isinstance(schema, dict):
            return []
        found = [name for name, below in schema.get("properties", {}).items() if not below.get("description")]
        return found + [name for below in schema.values() for name in bare(below)]

    assert bare(list(schemas(small.scales).values())) == []


def test_what_is_written_is_up_to_date_until_a_word_changes(small: Knowledge, tmp_path: Path) -> None:
    """The comparison by which the shipped schemas are kept current notices a missing and a changed file."""
    assert len(out_of_date(tmp_path, small.scales)) == len(schemas(small.scales))
    paths = write_schemas(tmp_path, small.scales)
    assert out_of_date(tmp_path, small.scales) == []
    schema = json.loads(paths[0].read_text(encoding="utf-8"))
    schema["description"] = "another"
    paths[0].write_text(json.dumps(schema), encoding="utf-8")
    assert out_of_date(tmp_path, small.scales) == [paths[0].stem]
