// Says of each text whether it is valid under a schema: node tests/generated/validate.mjs SCHEMA <TEXTS
// A line holds one text as a JSON string; a line of the answer is 1 or 0. By ajv, a general validator of JSON Schema.

import { readFile } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import Ajv from 'ajv/dist/2020.js';

const [file] = process.argv.slice(2);
const validate = new Ajv({ strict: true, allowUnionTypes: true }).compile(JSON.parse(await readFile(file, 'utf8')));

function isValid(text) {
  try {
    return validate(JSON.parse(text));
  } catch (error) {
    if (error instanceof SyntaxError) return false;
    throw error;
  }
}

for await (const line of createInterface({ input: process.stdin })) console.log(isValid(JSON.parse(line)) ? 1 : 0);
