"""The JSON Schema of every kind of file a maker writes, of records and of an export, as published.

``python -m baitwright.workshop.checks.schema docs/schema`` publishes it anew.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from baitwright.workshop.copies.export_tables import export_schema
from baitwright.workshop.days.several_file import DayFile
from baitwright.workshop.forms.bottle_tables import BottleFile
from baitwright.workshop.forms.readings_file import ReadingsTable
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.factors_tables import FactorsTable
from baitwright.workshop.recipe_files.mix_tables import MixFile, ShelfFile
from baitwright.workshop.recipe_files.recipe_tables import RecipeFile
from baitwright.workshop.records.record_schema import RECORDS, records_schema, with_records
from baitwright.workshop.sweeps.sweep_tables import SweepFile
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.wishes.wishes_tables import WishesFile

EXPORT = "export.schema.json"
DIALECT = "https://json-schema.org/draft/2020-12/schema"
FILES: dict[str, tuple[type[Table], str]] = {
    "recipe.schema.json": (RecipeFile, "Baitwright recipe file"),
    "bench.schema.json": (BenchFile, "Baitwright bench file"),
    "day.schema.json": (DayFile, "Baitwright file of a day with several batches"),
    "sweep.schema.json": (SweepFile, "Baitwright file of a sweep over designs"),
    "readings.schema.json": (ReadingsTable, "Baitwright readings file"),
    "bottle.schema.json": (BottleFile, "Baitwright bottle test file"),
    "mix.schema.json": (MixFile, "Baitwright mix file"),
    "wishes.schema.json": (WishesFile, "Baitwright file of wishes for a mix"),
    "ingredients.schema.json": (ShelfFile, "Baitwright file of ingredients"),
    "factors.schema.json": (FactorsTable, "Baitwright factors file"),
}


class _WithoutNull(GenerateJsonSchema):
    """TOML has no null: what may be left out is simply not required."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """The schema of what is there when it is there."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """The default where there is one to be typed."""
        made = super().default_schema(schema)
        if made.get("default", True) is None:
            del made["default"]
        return made


def schema_of(model: type[Table], title: str) -> dict[str, Any]:
    """The JSON Schema of one kind of file."""
    made = model.model_json_schema(schema_generator=_WithoutNull)
    return {"$schema": DIALECT, **made, "title": title}


def schema_of_export() -> dict[str, Any]:
    """The JSON Schema of the notebook.json of an export, which refers to that of the records."""
    title = "Baitwright export, notebook.json"
    return {"$schema": DIALECT, **with_records(export_schema()), "title": title}


def schema_of_records() -> dict[str, Any]:
    """The JSON Schema of what `record` writes, kind by kind."""
    return {"$schema": DIALECT, **records_schema(), "title": "Baitwright records"}


def publish(folder: Path) -> None:
    """Write the JSON Schema of every kind of file."""
    made = {name: schema_of(model, title) for name, (model, title) in FILES.items()}
    made |= {EXPORT: schema_of_export(), RECORDS: schema_of_records()}
    for name, schema in made.items():
        text = json.dumps(schema, indent=2, ensure_ascii=False) + "\n"
        (folder / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    publish(Path(sys.argv[1]))
