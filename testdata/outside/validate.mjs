// Judges JSON Schemas and rows by ajv, strictly. Standard input: {vocabulary: [names],
// schemas: [schema], rows: [{schema: $id, row}], parts: [{schema: $ref, value}]}.
// Standard output: {schemas: [fault or null], rows: [[place of a fault]], parts: likewise}.
import { readFileSync } from 'node:fs'
import Ajv from 'ajv/dist/2020.js'
import addFormats from 'ajv-formats'

const input = JSON.parse(readFileSync(0, 'utf8'))
const ajv = new Ajv.default({ strict: true, allErrors: true, validateFormats: true, logger: false })
addFormats.default(ajv, { mode: 'full' })
ajv.addVocabulary(input.vocabulary)

const faultOf = (work) => {
  try {
    work()
    return null
  } catch (error) {
    return error.message
  }
}
const added = input.schemas.map((schema) => faultOf(() => ajv.addSchema(schema)))
const schemas = input.schemas.map((schema, i) => added[i] ?? faultOf(() => ajv.getSchema(schema.$id)))

const places = (id, value) => {
  const judge = ajv.getSchema(id)
  if (judge === undefined) return ['no schema ' + id]
  return judge(value) ? [] : judge.errors.map((error) => error.instancePath)
}
process.stdout.write(JSON.stringify({
  schemas,
  rows: input.rows.map((sample) => places(sample.schema, sample.row)),
  parts: input.parts.map((part) => places(part.schema, part.value)),
}))
