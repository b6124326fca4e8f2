/**
 * The two kinds of error. A `UserError` carries problems that the user can mend and is shown without a stack;
 * anything else that is thrown is a bug.
 */
export interface Problem {
  /** File as the user named it, relative to the session folder where it lies in one. */
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  /** 1-based. */
  readonly column?: number;
  /** Dotted path in a manifest, such as `log.columns.current.unit`. */
  readonly path?: string;
  /** What is wrong: what was found and what is taken, in one or two sentences. */
  readonly message: string;
}

export class UserError extends Error {
  readonly problems: readonly Problem[];

  constructor(problems: readonly Problem[] | string) {
    const list = typeof problems === 'string' ? [{ message: problems }] : problems;
    super(list.map(problemLine).join('\n'));
    this.name = 'UserError';
    this.problems = list;
  }
}

/** A word of the call that is off: the program then ends with 2. */
export class CallError extends UserError {}

/** `session.yaml:12:5 log.columns.current.unit: message`, leaving out what is not known. */
export function problemLine(problem: Problem): string {
  const place = [problem.file, problem.line, problem.column].filter((part) => part !== undefined).join(':');
  return [place, problem.path ? `${problem.path}:` : '', problem.message].filter(Boolean).join(' ');
}
