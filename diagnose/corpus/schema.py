"""JSON Schemas (draft-07) made from the record classes, for editors that complete and explain while an author types.

The descriptions are the `says` texts of the fields, so an author's manual and the reader's rules cannot drift apart. What a
schema cannot say (ids that must exist, circles, sources never used) is left to the checker.
"""

from __future__ import annotations

import inspect
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, get_args

from diagnose.corpus import files
from diagnose.corpus.case_file import CaseDetail, CaseHead
from diagnose.corpus.checks.ids import LONGEST_ID, SOURCE_STYLE, STYLE
from diagnose.corpus.figures import TABLES, LimitsFile, MeasuresFile
from diagnose.corpus.glossary import GlossaryFile
from diagnose.corpus.reader import COMMON_PRACTICE
from diagnose.corpus.records import Scale, Stage, Verdict
from diagnose.corpus.scorecards import Scorecard
from diagnose.corpus.shape import FieldShape, Wanted, shape_of

Schema = dict[str, Any]

_TOP: Mapping[str, type] = {
    "stage": Stage,
    "changes": files.ChangesFile,
    "signs": files.SignsFile,
    **{kind.name: kind.record for kind in files.SINGLE_FILES.values()},
    "scorecard": Scorecard,
    "glossary": GlossaryFile,
    "limits": LimitsFile,
    "measures": MeasuresFile,
    **{f"table-{name}": record for name, record in TABLES.items()},
}


def write_schemas(folder: Path, scales: Mapping[str, Scale]) -> list[Path]:
    """Write one schema per kind of file into `folder`, with the words of `scales`; returns the paths written."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for name, schema in schemas(scales).items():
        path = folder / f"{name}.json"
        path.write_text(json.dumps(schema, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
        paths.append(path)
    return paths


def schemas(scales: Mapping[str, Scale]) -> dict[str, Schema]:
    """The schema of each kind of file, by its name."""
    maker = _Maker(scales)
    made = {name: maker.whole(record) for name, record in _TOP.items()}

    made["case"] = maker.case()
    return made


class _Maker:
    """Makes one schema after another; each collects the classes it needs under `definitions`."""

    def __init__(self, scales: Mapping[str, Scale]) -> None:
        self.scales = scales
        self.definitions: dict[str, Schema] = {}

    def whole(self, record: type) -> Schema:
        """The schema of a file whose top level is this record."""
        self.definitions = {}
        top = self._object(record)
        return self._headed(top)

    def case(self) -> Schema:
        """The schema of a case file, whose answers and numbers are mappings by id."""
        self.definitions = {}
        top = self._object(CaseHead)
        verdict = {"enum": list(get_args(Verdict))}
        detail = self._reference(CaseDetail)
        top["properties"]["answers"] = {
            "description": "What was seen: for each sign or cause its answer, in the order they were given.",
            "type": "object",
            "propertyNames": self._id(False),
            "additionalProperties": {"anyOf": [verdict, detail]},
        }
        top["properties"]["numbers"] = {
            "description": "What was weighed, measured or read off a chart, by the id of the number.",
            "type": "object",
            "additionalProperties": {"type": ["number", "string"]},
        }
        return self._headed(top)

    def _headed(self, top: Schema) -> Schema:
        definitions = {"definitions": dict(sorted(self.definitions.items()))} if self.definitions else {}
        return {"$schema": "http://json-schema.org/draft-07/schema#", **top, **definitions}

    def _reference(self, record: type) -> Schema:
        name = record.__name__
        if name not in self.definitions:
            self.definitions[name] = {}
            self.definitions[name] = self._object(record)
        return {"$ref": f"#/definitions/{name}"}

    def _object(self, record: type) -> Schema:
        shapes = shape_of(record)
        made: Schema = {
            "description": inspect.cleandoc(record.__doc__ or ""),
            "type": "object",
            "additionalProperties": False,
            "properties": {shape.key: self._field(shape, record) for shape in shapes},
        }
        if required := [shape.key for shape in shapes if shape.required]:
            made["required"] = required
        return made

    def _field(self, shape: FieldShape, record: type) -> Schema:
        one = self._one(shape, record)
        wanted = shape.wanted
        if not wanted.many:
            if "$ref" in one:  # draft-07 ignores what stands beside a reference
                return {"description": shape.says, "allOf": [one]}
            return {"description": shape.says, **one}
        items: Schema = {"type": "array", "items": one}
        if shape.at_least or wanted.basis:
            items["minItems"] = max(1, shape.at_least)
        if wanted.basis:
            return {"description": shape.says, "anyOf": [{"const": COMMON_PRACTICE}, items]}
        return {"description": shape.says, **items}

    def _one(self, shape: FieldShape, record: type) -> Schema:
        wanted: Wanted = shape.wanted
        if wanted.record is not None:
            return self._reference(wanted.record)
        if wanted.kind != "text":
            return _simple(shape)
        if shape.scale is not None and shape.scale in self.scales:
            return self._words(self.scales[shape.scale])
        if shape.refers or shape.key == "id":
            return self._id(shape.refers == ("source",) or record.__name__ == "Source")
        return {"type": "string", "minLength": 1, "maxLength": shape.longest}

    def _words(self, scale: Scale) -> Schema:
        """The words of a scale, each with its own text for the editor to show."""
        return {"oneOf": [{"const": step.word, "description": f"{step.value:g}: {step.says}"} for step in scale.steps]}

    def _id(self, source: bool) -> Schema:
        pattern = SOURCE_STYLE if source else STYLE
        return {"type": "string", "pattern": f"^{pattern}$", "maxLength": LONGEST_ID}


def _simple(shape: FieldShape) -> Schema:
    """A value that is not free text: one of a few words, true or false, or a number."""
    lowest = {} if shape.lowest is None else {"minimum": shape.lowest}
    made: dict[str, Schema] = {
        "choice": {"enum": list(shape.wanted.choices)},
        "truth": {"type": "boolean"},
        "number": {"type": "number"},
        "whole": {"type": "integer", **lowest},
        "row": {"type": "array", "items": {"type": "number"}},
    }
    return made[shape.wanted.kind]


def out_of_date(folder: Path, scales: Mapping[str, Scale]) -> Sequence[str]:
    """Names of schemas in `folder` that are missing or differ from what would be written."""
    wrong = []
    for name, schema in schemas(scales).items():
        path = folder / f"{name}.json"
        try:
            same = json.loads(path.read_text(encoding="utf-8")) == schema
        except (OSError, ValueError):
            same = False
        if not same:
            wrong.append(name)
    return wrong
