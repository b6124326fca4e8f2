/** A contract as JSON Schema (draft 7, which most programs know). */
import { z } from 'zod';
import { ReportContract } from './report.ts';

/** Keys that no version writes yet, and those that older files lack, are not required; keys that are not named may be there. */
export function jsonSchema(contract: z.ZodType, title: string): Record<string, unknown> {
  return { ...z.toJSONSchema(contract, { io: 'input', target: 'draft-7' }), title };
}

export const reportJsonSchema = () => jsonSchema(ReportContract, 'report.json');
