// Judges SARIF documents by the OASIS schema with ajv. Standard input: [document].
// Standard output: [[place and fault]]. The schema is written in draft 4, of which it
// uses nothing but what later drafts have too, so its two old names are written anew.
import { readFileSync } from 'node:fs'
import Ajv from 'ajv'
import addFormats from 'ajv-formats'

const { id, $schema, ...schema } = JSON.parse(readFileSync(new URL('sarif-schema-2.1.0.json', import.meta.url), 'utf8'))
const ajv = new Ajv.default({ strict: false, allErrors: true, validateFormats: true })
addFormats.default(ajv, { mode: 'full' })
const judge = ajv.compile({ $id: id, ...schema })
const documents = JSON.parse(readFileSync(0, 'utf8'))
process.stdout.write(JSON.stringify(documents.map((document) =>
  judge(document) ? [] : judge.errors.map((error) => error.instancePath + ' ' + error.message))))
