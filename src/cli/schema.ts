/** `standstill schema`: what the files of the tool hold, for editors and programs. */
export type SchemaOf = 'session' | 'report' | 'comparison';

/** As JSON Schema, draft 7. */
export async function jsonSchemaOf(of: SchemaOf): Promise<object> {
  switch (of) {
    case 'session':
      return (await import('../manifest/schema.ts')).sessionJsonSchema();
    case 'report':
      return (await import('../report/contract/json-schema.ts')).reportJsonSchema();
    case 'comparison':
      return (await import('../archive/comparison/contract.ts')).comparisonJsonSchema();
  }
}
