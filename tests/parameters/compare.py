"""Compares the checker with python3-jsonschema: compare.py JUDGE SOURCE_FOLDER SEED

Sound files are changed at random and judged under their schema by both; lengths are judged here by exact fractions. Then
random values are judged under random plain draft-07 schemas. Any difference fails, and so does a run in which hardly
anything fits or hardly anything is wrong.
"""

import copy
import json
import random
import re
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import jsonschema

MM = {"mm": Fraction(1), "in": Fraction("25.4"), "thou": Fraction("0.0254")}
NUMBER = re.compile(r"(-?)(?:(\d*\.?\d+)|(\d+)/(\d+)|(\d+)[- ](\d+)/(\d+)) *(mm|in|thou)")
LEAST_STEP_MM = Fraction(1, 1000000)  # a length this near to a limit is not over it


def length_mm(value, units):
    """The length as an exact fraction, or None."""
    if isinstance(value, (int, float)):
        return Fraction(value) * MM[units]
    match = NUMBER.fullmatch(value)
    if not match:
        return None
    sign, decimal, over, under, whole, part_over, part_under, unit = match.groups()
    if decimal:
        number = Fraction(decimal)
    elif over:
        if max(len(over), len(under)) > 6 or int(under) == 0:
            return None
        number = Fraction(int(over), int(under))
    else:
        if max(len(whole), len(part_over), len(part_under)) > 6 or int(part_over) >= int(part_under):
            return None
        number = int(whole) + Fraction(int(part_over), int(part_under))
    return (-number if sign else number) * MM[unit]


def is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def in_range(length, schema):
    return length is not None and not (
        ("x-least-mm" in schema and length < Fraction(schema["x-least-mm"]))
        or ("x-more-than-mm" in schema and length < Fraction(schema["x-more-than-mm"]) + LEAST_STEP_MM)
        or ("x-most-mm" in schema and length > Fraction(schema["x-most-mm"])))


class Ours:
    """A schema of ours under jsonschema, its lengths judged as well."""

    def __init__(self, folder, name):
        self.name = name
        self.schema = json.loads((folder / f"{name}.json").read_text())
        self.units = None
        store = {path.name: json.loads(path.read_text()) for path in folder.glob("*.json")}
        judged = jsonschema.validators.extend(
            jsonschema.Draft7Validator, {"format": self.judge_format, "pattern": self.judge_pattern})
        self.validator = judged(self.schema, resolver=jsonschema.RefResolver(f"{name}.json", self.schema, store))

    def judge_format(self, _validator, name, value, schema):
        if name != "length" or not (is_number(value) or isinstance(value, str)):
            return
        units = [self.units] if self.units else ["mm", "in"]
        if not any(in_range(length_mm(value, one), schema) for one in units):
            yield jsonschema.ValidationError("length")

    def judge_pattern(self, _validator, pattern, value, _schema):
        # Python's $ also matches before a line end at the end; the standard's does not.
        if isinstance(value, str) and not re.search(pattern.replace("$", r"\Z"), value):
            yield jsonschema.ValidationError("pattern")

    def fits(self, value):
        units = value.get("units") if isinstance(value, dict) else None
        self.units = units if units in ("mm", "in") else None
        return self.validator.is_valid(value)


def without_comments(text):
    tokens = re.compile(r'"(?:\\.|[^"\\])*"|//[^\r\n]*|/\*.*?\*/', re.S)
    return json.loads(tokens.sub(lambda match: match[0] if match[0][0] == '"' else " ", text))


def every_word(schema, words):
    """Keys and texts that a schema knows: what a changed file is likely to go right or wrong with."""
    if isinstance(schema, dict):
        for key, value in schema.items():
            if key in ("const", "enum"):
                words.update(w for w in (value if isinstance(value, list) else [value]) if isinstance(w, str))
            if key == "properties":
                words.update(value)
            every_word(value, words)
    elif isinstance(schema, list):
        for value in schema:
            every_word(value, words)


LENGTHS = [0, -0.0, -1, 1, 2, 3.0, 1.5, 12, 0.4995, 118, 400, 2000, 2001, 19999, 20001, 1e-300, 1e300, 2 ** 63,
           "12 mm", "0.4995 in", "3/8 in", "1-1/4 in", "1 1/4 in", "4 thou", "-3/8 in", ".5 in", "5. in", "1/0 in",
           "1-5/4 in", "788 in", "787 in", "12", "12 cm", "nan mm", "1e3 mm", " 1 mm", "1 mm ", "1mm", "99999999999999999 mm"]
OTHERS = [None, True, False, "", "x", "M10", "H7", "a b", "../x", "Ø", [], {}, [0, 0], [1, 2, 3], ["1 in", 2], [1, 1],
          {"diameter": 5}, {"kind": "drilled", "diameter": 5}, "x" * 130, "Ø" * 64]


def containers(value, found):
    if isinstance(value, (dict, list)) and value:
        found.append(value)
        for inner in value.values() if isinstance(value, dict) else value:
            containers(inner, found)
    return found


def change(value, words, rng):
    """Changes a value in place at one random spot."""
    spot = rng.choice(containers(value, []))
    key = rng.choice(list(spot)) if isinstance(spot, dict) else rng.randrange(len(spot))
    action = rng.random()
    if action < 0.15:
        del spot[key]
    elif action < 0.55:
        spot[key] = copy.deepcopy(rng.choice(rng.choice([LENGTHS, OTHERS, words])))
    elif isinstance(spot, dict) and action < 0.7:
        name = rng.choice(words) if rng.random() < 0.7 else str(key) + "s"
        spot[name] = spot.pop(key) if rng.random() < 0.5 else copy.deepcopy(spot[key])
    elif isinstance(spot, dict):
        spot[rng.choice(words)] = copy.deepcopy(rng.choice(LENGTHS + OTHERS))
    else:
        spot.insert(key, copy.deepcopy(rng.choice(spot)))


def our_cases(source, rng, count):
    """(line for the judge, what jsonschema says) for changed files of every kind that has a starter or a sample."""
    cases = []
    samples = [*(source / "generators/parts/starters").glob("*.json"), source / "tests/parameters/whole.json"]
    for path in samples:
        sound = without_comments(path.read_text())
        ours = Ours(source / "schemas", sound.get("part") or sound["calculation"])
        words = set()
        every_word(ours.schema, words)
        words = sorted(words)
        for _ in range(count // len(samples)):
            value = copy.deepcopy(sound)
            for _ in range(rng.choice([0, 1, 1, 1, 2, 3])):
                change(value, words, rng)
                if not containers(value, []):
                    break
            cases.append((f"ours {ours.name}\t{json.dumps(value)}", ours.fits(value)))
    return cases


def random_value(rng, depth=2):
    pool = [None, True, False, 0, 1, 1.0, 2, 3, 2.5, -1, 7, "", "a", "ab", "abc", "Ø"]
    kind = rng.random()
    if depth == 0 or kind < 0.5:
        return rng.choice(pool)
    if kind < 0.75:
        return [random_value(rng, depth - 1) for _ in range(rng.randrange(4))]
    return {rng.choice("abc"): random_value(rng, depth - 1) for _ in range(rng.randrange(4))}


def scalar(rng):
    return rng.choice([None, 0, 1, 2, 2.5, "a", "ab", "Ø"])


def random_schema(rng, depth=3):
    if depth == 0 or rng.random() < 0.1:
        return rng.choice([True, False, {}, {"type": "number"}, {"type": ["string", "null"]}, {"$ref": "#/definitions/a"}])
    inner = lambda: random_schema(rng, depth - 1)
    some = lambda: [inner() for _ in range(rng.randrange(1, 4))]
    named = lambda: {key: inner() for key in rng.sample("abc", rng.randrange(1, 3))}
    keywords = {
        "type": lambda: rng.choice(["null", "boolean", "integer", "number", "string", "array", "object", ["array", "integer"]]),
        "enum": lambda: [scalar(rng) for _ in range(3)], "const": lambda: scalar(rng),
        "multipleOf": lambda: rng.choice([1, 2, 0.5]), "minimum": lambda: rng.randrange(3), "maximum": lambda: rng.randrange(4),
        "exclusiveMinimum": lambda: rng.randrange(3), "exclusiveMaximum": lambda: rng.randrange(4),
        "minLength": lambda: rng.randrange(3), "maxLength": lambda: rng.randrange(3), "pattern": lambda: rng.choice(["a", "^a", "b$", "^[ab]+$"]),
        "items": lambda: rng.choice([inner, some])(), "additionalItems": inner, "minItems": lambda: rng.randrange(3), "maxItems": lambda: rng.randrange(4),
        "uniqueItems": lambda: True, "contains": inner, "minProperties": lambda: rng.randrange(3), "maxProperties": lambda: rng.randrange(3),
        "required": lambda: rng.sample("abc", rng.randrange(1, 3)), "properties": named, "patternProperties": lambda: {rng.choice(["a", "[bc]"]): inner()},
        "additionalProperties": inner, "dependencies": lambda: {rng.choice("abc"): rng.choice([lambda: ["b"], inner])()},
        "propertyNames": lambda: {"enum": ["a", "b"]}, "allOf": some, "anyOf": some, "oneOf": some, "not": inner, "if": inner, "then": inner, "else": inner}
    schema = {name: keywords[name]() for name in rng.sample(sorted(keywords), rng.randrange(1, 5))}
    if not isinstance(schema.get("items"), list):
        schema.pop("additionalItems", None)  # means nothing then, and jsonschema 4.10 stumbles over it
    return schema


def plain_cases(rng, count):
    cases = []
    for _ in range(count // 8):
        schema = random_schema(rng)
        if isinstance(schema, dict):
            schema["definitions"] = {"a": random_schema(rng, 0) if rng.random() < 0.1 else {"type": ["integer", "array"]}}
            if schema["definitions"]["a"] == {"$ref": "#/definitions/a"}:
                continue
        validator = jsonschema.Draft7Validator(schema)
        for _ in range(8):
            value = random_value(rng)
            cases.append((f"plain {json.dumps(schema)}\t{json.dumps(value)}", validator.is_valid(value)))
    return cases


def main():
    judge, source, seed = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])
    rng = random.Random(seed)
    for path in (source / "schemas").glob("*.json"):
        jsonschema.Draft7Validator.check_schema(json.loads(path.read_text()))
    failed = 0
    for name, cases in (("our schemas", our_cases(source, rng, 3000)), ("random schemas", plain_cases(rng, 12000))):
        told = subprocess.run([judge], input="".join(line + "\n" for line, _ in cases), text=True, capture_output=True, check=True)
        answers = [answer == "1" for answer in told.stdout.split()]
        assert len(answers) == len(cases), name
        different = [(line, fits) for (line, fits), answer in zip(cases, answers) if fits != answer]
        for line, fits in different[:5]:
            print(f"{name}: jsonschema says {fits}: {line}")
        share = sum(fits for _, fits in cases) / len(cases)
        print(f"{name}, seed {seed}: {len(cases)} cases, {share:.0%} fit, {len(different)} judged differently")
        failed += len(different) + (not 0.1 < share < 0.9)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
